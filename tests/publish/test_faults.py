"""Every fault of a disk says what happened, that what was published before is whole, and what to do."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest

from shearpin.publish.faults import explain_oserror


@pytest.mark.parametrize(
    ("code", "told"),
    [
        (errno.ENOSPC, "no room left"),
        (errno.EFBIG, "FAT32"),
        (errno.EROFS, "can only be read"),
        (errno.EACCES, "may not write"),
        (errno.EIO, "was the stick pulled"),
        (errno.ENODEV, "was the stick pulled"),
        (errno.EINVAL, "cannot be written"),
    ],
)
def test_the_message_fits_the_fault(code: int, told: str) -> None:
    message = explain_oserror(OSError(code, "x"), Path("stick"))
    assert told in message
    assert "What was published there before is as it was." in message
    assert "--out" in message or "Put it back" in message
