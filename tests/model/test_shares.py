"""Work in several processes comes out as in one."""

from __future__ import annotations

import gc
import os
import threading
import time
from pathlib import Path

import pytest

from shearpin.model.shares import WORTH_SHARING, Elsewhere, collector_at_rest, share_out, shares_for

# Newer Pythons warn of a fork beside threads, which a parallel run of the tests has; shares_for() avoids it.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes cannot be forked here")


@pytest.mark.parametrize("shares", [1, 2, 5])
def test_results_come_in_their_order(shares: int) -> None:
    assert share_out(lambda share: list(range(share, 20, shares)), shares) == [
        list(range(share, 20, shares)) for share in range(shares)
    ]


@needs_fork
def test_each_share_but_the_first_has_a_process_of_its_own() -> None:
    first, *others = share_out(lambda share: os.getpid(), 3)
    assert first == os.getpid()
    assert len({first, *others}) == 3


@needs_fork
def test_what_a_child_cannot_deliver_is_worked_out_here() -> None:
    here = os.getpid()

    def work(share: int) -> int:
        if os.getpid() != here:
            os._exit(9)
        return share

    assert share_out(work, 3) == [0, 1, 2]


@needs_fork
def test_what_a_child_delivers_in_part_is_worked_out_here() -> None:
    def work(share: int) -> list[object]:
        here = os.getpid() != parent
        return [b"x" * 1_000_000, (lambda: share) if here else share]  # a function cannot be sent

    parent = os.getpid()
    assert [result[1] for result in share_out(work, 2)] == [0, 1]


def test_an_exception_is_that_of_one_process() -> None:
    def work(share: int) -> None:
        if share == 1:
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        share_out(work, 2)


def test_little_work_is_not_shared_out() -> None:
    assert shares_for(WORTH_SHARING - 1) == 1


@needs_fork
def test_the_number_of_processes_can_be_set(monkeypatch: pytest.MonkeyPatch) -> None:
    if threading.active_count() == 1:
        monkeypatch.setenv("SHEARPIN_JOBS", "3")
        assert shares_for(WORTH_SHARING) == 3
        monkeypatch.setenv("SHEARPIN_JOBS", "0")
        assert shares_for(WORTH_SHARING) == 1


def test_nothing_is_forked_beside_other_threads(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHEARPIN_JOBS", "3")
    ended = threading.Event()
    thread = threading.Thread(target=ended.wait)
    thread.start()
    try:
        assert shares_for(WORTH_SHARING) == 1
    finally:
        ended.set()
        thread.join()


def test_the_collector_works_again_afterwards() -> None:
    def fail() -> None:
        with collector_at_rest():
            assert not gc.isenabled()
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    assert gc.isenabled()


@needs_fork
@pytest.mark.parametrize("shares", [1, 2])
def test_a_result_is_there_before_what_is_done_afterwards(shares: int, tmp_path: Path) -> None:
    may_go_on, done = tmp_path / "may go on", tmp_path / "done"
    if shares == 1:
        may_go_on.touch()

    def afterwards() -> None:
        while not may_go_on.exists():
            time.sleep(0.001)
        done.touch()

    work = Elsewhere(os.getpid, shares, afterwards)
    assert (work.result() == os.getpid()) == (shares == 1)
    assert done.exists() == (shares == 1)
    may_go_on.touch()
    work.finish()
    assert done.exists()
    work.finish()  # nothing more to wait for


@needs_fork
def test_what_another_process_cannot_deliver_is_worked_out_with_what_is_done_afterwards() -> None:
    here, done = os.getpid(), []

    def work() -> int:
        if os.getpid() != here:
            os._exit(9)
        return 7

    elsewhere = Elsewhere(work, 2, lambda: done.append("afterwards"))
    assert elsewhere.result() == 7
    assert done == ["afterwards"]
    elsewhere.finish()


@needs_fork
def test_who_dies_afterwards_has_delivered() -> None:
    elsewhere = Elsewhere(lambda: 7, 2, lambda: os._exit(9))
    assert elsewhere.result() == 7
    elsewhere.finish()
    elsewhere.stop()


@needs_fork
def test_nothing_is_done_afterwards_where_nobody_asks_for_the_result(tmp_path: Path) -> None:
    ready, done = tmp_path / "ready", tmp_path / "done"
    elsewhere = Elsewhere(lambda: 7, 2, done.touch, ready.touch)
    while not ready.exists():  # what is done anyway
        time.sleep(0.001)
    time.sleep(0.05)
    elsewhere.stop()
    assert not done.exists()


@needs_fork
@pytest.mark.parametrize("shares", [1, 2])
def test_what_is_done_anyway_comes_before_what_is_done_afterwards(shares: int, tmp_path: Path) -> None:
    done = tmp_path / "done"

    def add(word: str) -> None:
        with open(done, "a") as stream:
            stream.write(word)

    elsewhere = Elsewhere(lambda: 7, shares, lambda: add("afterwards"), lambda: add("anyway "))
    assert elsewhere.result() == 7
    elsewhere.finish()
    assert done.read_text() == "anyway afterwards"
