"""Owns how figures grow from one size of book to the next: exponents, and which times grow faster than agreed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from _bench.measures import GROUPS, Measure, SizeReport

LIMIT: Final = 1.1
"""Exponent that no time may exceed: time grows at most with N^1.1."""

_GROWING: Final = ("s", "MB", "KB")


@dataclass(frozen=True, slots=True)
class Growth:
    """How one figure grew between two sizes: log ratio of its medians by log ratio of the records."""

    smaller: int
    larger: int
    exponent: float | None  # None where either median is not known, or is zero
    is_time: bool

    @property
    def is_over(self) -> bool:
        """Whether it is a time that grew faster than agreed."""
        return self.is_time and self.exponent is not None and self.exponent > LIMIT


def growths(
    reports: Sequence[SizeReport], groups: Sequence[str]
) -> Iterator[tuple[Measure, tuple[Growth, ...]]]:
    """Yield every time, memory and size in bytes with its growth from each size to the next larger one."""
    ordered = sorted(
        {report.records: report for report in reports}.values(), key=lambda report: report.records
    )
    for group in groups:
        for measure in GROUPS[group]:
            if measure.unit in _GROWING:
                steps = pairwise(ordered)
                yield measure, tuple(_growth(measure, smaller, larger) for smaller, larger in steps)


def _growth(measure: Measure, smaller: SizeReport, larger: SizeReport) -> Growth:
    low, high = smaller.samples(measure.name), larger.samples(measure.name)
    known = low is not None and high is not None and low.median > 0 and high.median > 0
    exponent = (
        math.log(high.median / low.median) / math.log(larger.records / smaller.records)
        if known and low is not None and high is not None
        else None
    )
    return Growth(smaller.records, larger.records, exponent, measure.unit == "s")
