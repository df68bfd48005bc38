"""Pieces of work come out as from one process, whoever took them and whatever became of it."""

from __future__ import annotations

import os
import time

import pytest

from shearpin.model.pieces import MAX_PIECES, Claims, Passage, share_pieces
from shearpin.model.shares import Elsewhere

# Newer Pythons warn of a fork beside threads, which a parallel run of the tests has.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")
needs_fork = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes cannot be forked here")


@pytest.mark.parametrize("shares", [1, 2, 5] if hasattr(os, "fork") else [1])
@pytest.mark.parametrize("pieces", [0, 1, 3, 40])
def test_results_come_in_their_order(shares: int, pieces: int) -> None:
    assert share_pieces(lambda piece: piece * piece, pieces, shares) == [n * n for n in range(pieces)]


@needs_fork
def test_a_process_that_is_free_takes_the_next_piece() -> None:
    here = os.getpid()

    def work(piece: int) -> int:
        if os.getpid() == here:
            time.sleep(0.3)  # the other has taken all the rest by then
        return os.getpid()

    workers = share_pieces(work, 20, 2)
    assert set(workers) > {here}
    assert workers.count(here) < 10


@needs_fork
def test_results_larger_than_a_pipe_arrive_whole() -> None:
    assert share_pieces(lambda piece: bytes([piece]) * 3_000_000, 6, 3) == [
        bytes([piece]) * 3_000_000 for piece in range(6)
    ]


@needs_fork
def test_what_a_child_cannot_deliver_is_worked_out_here() -> None:
    here = os.getpid()

    def work(piece: int) -> int:
        if os.getpid() != here and piece > 2:
            os._exit(9)
        time.sleep(0.01)
        return piece

    assert share_pieces(work, 12, 3) == list(range(12))


@needs_fork
def test_an_exception_is_that_of_one_process() -> None:
    here = os.getpid()

    def work(piece: int) -> None:
        time.sleep(0.01)
        if os.getpid() != here:
            raise ZeroDivisionError

        if piece == 5:
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        share_pieces(work, 6, 2)


@needs_fork
def test_only_what_another_process_did_travels() -> None:
    class Text(Passage[int]):
        def pack(self, result: int) -> bytes:
            return f"{result} by {os.getpid()}".encode()

        def unpack(self, piece: int, packed: bytes | bytearray) -> int:
            number, process = packed.split(b" by ")
            assert int(process) != os.getpid()
            return int(number)

    assert share_pieces(lambda piece: piece, 30, 2, Text()) == list(range(30))


@needs_fork
def test_a_result_without_a_byte_arrives() -> None:
    class Nothing(Passage[str]):
        def pack(self, result: str) -> bytes:
            return b""

        def unpack(self, piece: int, packed: bytes | bytearray) -> str:
            return "nothing" if packed == b"" else "something"

    here = os.getpid()

    def work(piece: int) -> str:
        if os.getpid() == here:
            time.sleep(0.1)  # the other has done all the rest by then
        return "done"

    assert set(share_pieces(work, 6, 2, Nothing())) == {"nothing", "done"}


def test_each_piece_taken_here_is_told_of() -> None:
    told: list[int] = []
    share_pieces(lambda piece: piece, 4, 1, taken=told.append)
    assert told == [0, 1, 2, 3]


def test_too_many_pieces_for_a_pipe_are_done_by_one_process() -> None:
    here = os.getpid()
    assert set(share_pieces(lambda piece: os.getpid(), MAX_PIECES + 1, 2)) == {here}


@needs_fork
def test_each_claim_is_for_one_process() -> None:
    claims = Claims(200)
    child = Elsewhere(lambda: list(claims), 2)
    here = list(claims)
    there = child.result()
    claims.close()
    assert sorted(here + there) == list(range(200))


@needs_fork
def test_held_claims_wait_until_they_may_begin() -> None:
    claims = Claims(5, held=True)
    child = Elsewhere(lambda: list(claims), 2)
    claims.drop([1, 3])  # before the child has asked for the first
    claims.begin()
    assert child.result() == [0, 2, 4]
    claims.close()


def test_claims_that_nobody_held_back_begin_at_once() -> None:
    claims = Claims(2, held=True)
    claims.begin()
    assert list(claims) == [0, 1]
    claims.close()


def test_without_a_pipe_each_process_has_every_claim(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "pipe", _refused)
    assert list(Claims(3)) == [0, 1, 2]
    assert list(Claims(3, held=True)) == [0, 1, 2]


def _refused() -> None:
    raise OSError
