"""The bytes of a record's file: how many are read, and the digest by which they are known again."""

from __future__ import annotations

import hashlib
from typing import Final

MAX_BYTES: Final = 1_000_000
"""No record is larger."""

_USUAL: Final = 32_768
"""Bytes that nearly every record fits in. Room for `MAX_BYTES` would be a mapping of memory for each file, which the
system runs out of at some 65,000 files."""


def content_of(place: str) -> bytes | OSError:
    """Return the beginning of a file, one byte more than a record may have, or why it cannot be read."""
    try:
        with open(place, "rb") as stream:
            begun = stream.read(_USUAL)
            return begun if len(begun) < _USUAL else begun + stream.read(MAX_BYTES + 1 - _USUAL)
    except OSError as error:
        return error


def digest_of(content: bytes) -> bytes:
    """Return the digest by which the content of a file is known again."""
    return hashlib.blake2b(content, digest_size=16).digest()
