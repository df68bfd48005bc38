"""The standard series: which pitch belongs to which nominal size, metric and unified."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

# ISO 261, first and second choice sizes, from memory.
METRIC_COARSE_PITCH_MM: Mapping[float, float] = MappingProxyType(
    {
        1.6: 0.35, 2: 0.4, 2.5: 0.45, 3: 0.5, 3.5: 0.6, 4: 0.7, 5: 0.8, 6: 1, 7: 1, 8: 1.25, 10: 1.5,
        12: 1.75, 14: 2, 16: 2, 18: 2.5, 20: 2.5, 22: 2.5, 24: 3, 27: 3, 30: 3.5, 33: 3.5, 36: 4, 39: 4,
    }
)  # fmt: skip

METRIC_FINE_PITCHES_MM: Mapping[float, tuple[float, ...]] = MappingProxyType(
    {
        3: (0.35,), 3.5: (0.35,), 4: (0.5,), 5: (0.5,), 6: (0.75,), 7: (0.75,), 8: (1, 0.75),
        10: (1.25, 1, 0.75), 12: (1.5, 1.25, 1), 14: (1.5, 1.25, 1), 16: (1.5, 1), 18: (2, 1.5, 1),
        20: (2, 1.5, 1), 22: (2, 1.5, 1), 24: (2, 1.5, 1), 27: (2, 1.5, 1), 30: (3, 2, 1.5, 1),
        33: (3, 2, 1.5), 36: (3, 2, 1.5), 39: (3, 2, 1.5),
    }
)  # fmt: skip

# Threads per inch, ASME B1.1. Sizes No. 8 to 3/4 as in Shigley 9th ed. Table 8-2; the others from memory.
UNIFIED_SERIES: Mapping[str, Mapping[str, int]] = MappingProxyType(
    {
        "UNC": MappingProxyType(
            {
                "No. 1": 64, "No. 2": 56, "No. 3": 48, "No. 4": 40, "No. 5": 40, "No. 6": 32,
                "No. 8": 32, "No. 10": 24, "No. 12": 24, "1/4": 20, "5/16": 18, "3/8": 16, "7/16": 14,
                "1/2": 13, "9/16": 12, "5/8": 11, "3/4": 10, "7/8": 9, "1": 8, "1 1/8": 7, "1 1/4": 7,
                "1 3/8": 6, "1 1/2": 6,
            }
        ),
        "UNF": MappingProxyType(
            {
                "No. 0": 80, "No. 1": 72, "No. 2": 64, "No. 3": 56, "No. 4": 48, "No. 5": 44,
                "No. 6": 40, "No. 8": 36, "No. 10": 32, "No. 12": 28, "1/4": 28, "5/16": 24,
                "3/8": 24, "7/16": 20, "1/2": 20, "9/16": 18, "5/8": 18, "3/4": 16, "7/8": 14,
                "1": 12, "1 1/8": 12, "1 1/4": 12, "1 3/8": 12, "1 1/2": 12,
            }
        ),
        "UNEF": MappingProxyType(
            {
                "No. 12": 32, "1/4": 32, "5/16": 32, "3/8": 32, "7/16": 28, "1/2": 28, "9/16": 24, "5/8": 24,
                "3/4": 20, "7/8": 20, "1": 20,
            }
        ),
        "UNS": MappingProxyType({"1": 14}),
    }
)  # fmt: skip


def numbered_diameter_in(number: int) -> float:
    """Major diameter of a numbered machine-screw size.

    Formula: D = 0.060 + 0.013·number.
    Symbols: number 0 to 12; D in inches.
    Valid: unified sizes No. 0 to No. 12.
    Errors: ValueError outside 0 to 12.
    Source: ASME B1.1, from memory; No. 8 and No. 10 as in Shigley 9th ed. Table 8-2.
    """
    if not 0 <= number <= 12:
        raise ValueError(f"numbered sizes run from 0 to 12, and {number} does not lie there")
    return round(0.060 + 0.013 * number, 3)
