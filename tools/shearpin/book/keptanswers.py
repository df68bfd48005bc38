"""Answers that are kept whole, as bytes: a large book has twenty megabytes of them, most of which say the same again and again."""

from __future__ import annotations

import pickle
import zlib
from typing import Any, Final

_WORTH_DEFLATING: Final = 1_000  # bytes
_LEVEL: Final = 1  # a third of the bytes, in a fifth of the time of the usual level

_DEFLATED: Final = zlib.compress(b"")[:1]
"""Begins what is deflated; a pickle begins otherwise."""


def packed_answer(answer: Any) -> bytes:
    """Return an answer as bytes."""
    packed = pickle.dumps(answer, pickle.HIGHEST_PROTOCOL)
    return zlib.compress(packed, _LEVEL) if len(packed) > _WORTH_DEFLATING else packed


def unpacked_answer(packed: bytes) -> Any:
    """Return the answer that `packed_answer` packed."""
    return pickle.loads(zlib.decompress(packed) if packed[:1] == _DEFLATED else packed)
