"""The bytes of a record's file: how many are read, and the digest by which they are known again."""

from __future__ import annotations

import hashlib
import os
from typing import Final

MAX_BYTES: Final = 1_000_000
"""No record is larger."""

_TO_READ: Final = os.O_RDONLY | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_USUAL: Final = 32_768
"""Bytes that nearly every record fits in. Room for `MAX_BYTES` would be a mapping of memory for each file, which the
system runs out of at some 65,000 files."""


def content_of(place: str) -> bytes | OSError:
    """Return the beginning of a file, one byte more than a record may have, or why it cannot be read."""
    try:
        file = os.open(place, _TO_READ)  # a stream takes twice the time, and there are many files
        try:
            content = os.read(file, _USUAL)
            while len(content) <= MAX_BYTES and (more := os.read(file, _USUAL)):
                content += more
            return content[: MAX_BYTES + 1]
        finally:
            os.close(file)
    except OSError as error:
        return error


def digest_of(content: bytes) -> bytes:
    """Return the digest by which the content of a file is known again."""
    return hashlib.blake2b(content, digest_size=16).digest()
