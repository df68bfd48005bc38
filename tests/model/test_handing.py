"""What a process hands over is there when it has ended, as it was put in."""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any

import pytest

from shearpin.model.handing import Handing

PARTS: list[tuple[Any, ...]] = [("a",), (), (1, {"b": (b"c", 2**70)}), ([b"\0" * 300_000, "µ\ud800"],)]


@pytest.fixture
def handing() -> Iterator[Handing]:
    handing = Handing()
    yield handing
    handing.close()


def test_parts_are_taken_in_order_as_they_were_put_in(handing: Handing) -> None:
    for part in PARTS:
        handing.put(*part)
    handing.done()
    assert list(handing.take()) == PARTS


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")
def test_another_process_need_not_wait_until_somebody_reads(handing: Handing) -> None:
    child = os.fork()
    if not child:
        code = 1
        try:
            for _ in range(50):  # more than any pipe holds
                for part in PARTS:
                    handing.put(*part)
            handing.done()
            code = 0
        finally:
            os._exit(code)
    assert os.waitpid(child, 0)[1] == 0
    assert list(handing.take()) == PARTS * 50


def test_nothing_is_taken_where_nothing_was_put(handing: Handing) -> None:
    assert list(handing.take()) == []
