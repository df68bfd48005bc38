"""The bytes of a record's file: how many are read, and the digest by which they are known again."""

from __future__ import annotations

import hashlib
from typing import Final

MAX_BYTES: Final = 1_000_000
"""No record is larger."""


def content_of(place: str) -> bytes | OSError:
    """Return the beginning of a file, one byte more than a record may have, or why it cannot be read."""
    try:
        with open(place, "rb") as stream:
            return stream.read(MAX_BYTES + 1)
    except OSError as error:
        return error


def digest_of(content: bytes) -> bytes:
    """Return the digest by which the content of a file is known again."""
    return hashlib.blake2b(content, digest_size=16).digest()
