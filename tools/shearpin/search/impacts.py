"""BM25F as published, and the whole numbers it is rounded to so that Python and the browser agree exactly.

Robertson & Zaragoza, *The Probabilistic Relevance Framework: BM25 and Beyond*, Foundations and Trends in Information
Retrieval 3(4), 2009: term frequencies are weighted by field and divided by the length norm of their field, summed over
the fields, and only then saturated once. The formula is quoted from memory.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache


@dataclass(frozen=True, slots=True)
class FieldWeight:
    """Weight of a field and `b`, how far its length counts (0 not at all, 1 fully)."""

    name: str
    weight: float
    b: float


FIELDS = (
    FieldWeight("title", 8.0, 0.5),
    FieldWeight("said", 6.0, 0.3),
    FieldWeight("also", 4.0, 0.3),
    FieldWeight("numbers", 6.0, 0.0),
    FieldWeight("plates", 4.0, 0.0),
    FieldWeight("figures", 6.0, 0.0),
    FieldWeight("summary", 2.5, 0.5),
    FieldWeight("body", 1.0, 0.75),
)
BODY = len(FIELDS) - 1

# Saturation: with weights up to 8 a k1 of 1.2 would make one hit in a title as good as full.
K1 = 6.0

# Saturated frequencies are rounded to 46 levels. A match in the body alone needs fewer: the levels below each bound share
# one code, and each code counts as much as a level from their middle. Codes from STRONG_CODE on are levels of matches
# in titles, spoken phrases, other names and numbers. POINTS says what each code counts.
LEVELS = 46
_WEAK_BOUNDS = (7, 9, 12, 14, 17, 21, 26)
_WEAK_POINTS = (6, 9, 11, 14, 16, 20, 24, 30)
STRONG_CODE = len(_WEAK_POINTS)
POINTS = (*_WEAK_POINTS, *range(1, LEVELS + 1))

# A posting is one number: record number · 128 + code.
CODE_BITS = 7
CODE_MASK = (1 << CODE_BITS) - 1

# The rounded idf: sixteenths, small enough that a whole query stays exact in a double. A word that the book hardly has is
# as often a by-word ("garage") as the matter, so the idf above IDF_PIVOT counts for less than it says: its power is below 1.
IDF_STEPS = 16
MAX_IDF = 255
IDF_POWER = 0.7
IDF_PIVOT = 3.75


def field_shares(
    lengths: Sequence[float], means: Sequence[float], fields: Sequence[FieldWeight]
) -> tuple[float, ...]:
    """What one occurrence in each field adds to tf': w / ((1 - b) + b·length/mean length)."""
    # What divides the weight, the length norm, is 1 where no record has the field.
    return tuple(
        [
            field.weight / (1.0 - field.b + field.b * length / mean if mean else 1.0)
            for length, mean, field in zip(lengths, means, fields, strict=True)
        ]
    )


def saturate(frequency: float, k1: float) -> float:
    """tf' / (k1 + tf'), from 0 towards 1."""
    return frequency / (k1 + frequency)


def inverse_document_frequency(documents: int, containing: int) -> float:
    """ln(1 + (N - n + 0.5)/(n + 0.5)): never negative, unlike the form without the 1."""
    return math.log(1 + (documents - containing + 0.5) / (containing + 0.5))


def level(frequency: float) -> int:
    """The saturated frequency (`saturate` with K1) as a whole number from 0 to 45."""
    return int(frequency / (K1 + frequency) * LEVELS)


# The code of each level, for matches in the body alone and for strong ones.
WEAK_CODES = tuple(bisect_right(_WEAK_BOUNDS, found) for found in range(LEVELS))
STRONG_CODES = tuple(range(STRONG_CODE, STRONG_CODE + LEVELS))


@cache
def rounded_idf(documents: int, containing: int) -> int:
    """The damped idf in sixteenths, from 1 to 255: the idf itself where it is IDF_PIVOT."""
    idf = inverse_document_frequency(documents, containing)
    damped: float = IDF_PIVOT * (idf / IDF_PIVOT) ** IDF_POWER
    return max(1, min(MAX_IDF, round(IDF_STEPS * damped)))


def rounded_mean(total: int, count: int) -> float:
    """Mean length to two significant digits, so that one changed record leaves the levels of all others alone."""
    return float(f"{total / count:.1e}") if count else 0.0
