"""Owns what is measured: names, units, and the budgets of the design at 300 and at 10,000 records."""

from __future__ import annotations

import statistics
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from _bench.book import SyntheticBook
from _bench.edits import EDITS

EDITED: Final = (1.0, 2.0)
"""The budget of a build after one record was edited, whatever the edit."""
BUDGET_SIZES: Final = (300, 10_000)
KB: Final = 1000.0
MB: Final = 1_000_000.0


@dataclass(frozen=True, slots=True)
class Measure:
    """One figure: its stable name, what the table calls it, its unit, and its budget at both sizes if it has one."""

    name: str
    label: str
    unit: str
    budgets: tuple[float, float] | None = None

    def budget(self, records: int) -> float | None:
        """Return the budget for a size: on the straight line through both, and never less than the smaller book's."""
        if self.budgets is None:
            return None
        small, large = BUDGET_SIZES
        low, high = self.budgets
        return low + (high - low) * max(0.0, (records - small) / (large - small))


@dataclass(frozen=True, slots=True)
class Reading:
    """One measurement, with the processor seconds it took where they are known."""

    value: float
    cpu: float | None = None


Readings = Mapping[str, Reading]
"""Readings by name of measure."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A figure of our site and the same figure of the same records as plain Markdown."""

    name: str
    label: str
    unit: str

    @property
    def measures(self) -> tuple[Measure, Measure]:
        """Both, ours first."""
        ours = Measure(f"ours-{self.name}", f"{self.label}, ours", self.unit)
        return ours, Measure(f"plain-{self.name}", f"{self.label}, plain", self.unit)


PAIRS: Final = (
    Pair("build", "build from nothing", "s"),
    Pair("cpu", "build, processor seconds", "s"),
    Pair("memory", "build, peak memory", "MB"),
    Pair("size", "site", "MB"),
    Pair("words", "words of a page", "words"),
    Pair("bytes", "index read by a cold query", "KB"),
    Pair("hit", "first hit over http", "s"),
    Pair("hit-slow", "first hit over http, 4×", "s"),
    Pair("found", "queries with a hit", "of 3"),
)
"""What is compared with plain Markdown through MkDocs and the theme's own search."""

GROUPS: Final[Mapping[str, tuple[Measure, ...]]] = MappingProxyType(
    {
        "check": (
            Measure("check-cold", "check, caches dropped", "s", (0.6, 4.0)),
            Measure("check-again", "check, nothing changed", "s", (0.4, 0.8)),
            Measure("check-memory", "check, peak memory", "MB"),
            Measure("check-faulty", "check, 1 % of files faulty", "s"),
        ),
        "build": (
            Measure("build-first", "build, no site and no caches", "s", (3.0, 15.0)),
            Measure("build-again", "build, nothing changed", "s", (3.0, 6.0)),
            Measure("build-edited", "build, one record edited", "s", EDITED),
            Measure("preview-edited", "preview, one record edited", "s", (0.5, 1.0)),
            Measure("preview-whole", "preview, whole site after the edit", "s"),
            Measure("build-memory", "build, peak memory", "MB", (200.0, 300.0)),
            Measure("site-size", "site", "MB"),
            Measure("site-files", "files of the site", "files"),
            Measure("page-median", "page weight, median", "KB", (60.0, 60.0)),
            Measure("page-p95", "page weight, 95 of 100 are below", "KB", (60.0, 60.0)),
            Measure("page-greatest", "page weight, greatest", "KB", (60.0, 60.0)),
            Measure("index-size", "search index of the site", "MB", (0.4, 6.0)),
        ),
        "edits": tuple(
            Measure(f"edit-{edit.name}", f"build, edited: {edit.label}", "s", EDITED) for edit in EDITS
        ),
        "find": (
            Measure("find-first", "find, index still to be built", "s"),
            Measure("find", "find, cold process", "s", (0.35, 0.5)),
        ),
        "browser": (
            Measure("hit", "navigation to first hit", "s", (0.3, 0.4)),
            Measure("hit-slow", "navigation to first hit, 4× slow-down", "s", (1.0, 1.5)),
            Measure("hit-bytes", "index bytes read by a cold query", "KB", (100.0, 160.0)),
            Measure("hit-heap", "heap of the search page's scripts", "MB", (10.0, 10.0)),
            Measure("hit-blocked", "longest task of a search, 6× slow-down", "s", (0.2, 0.2)),
            Measure("load-search", "load of the search page", "s"),
            Measure("load-search-slow", "load of the search page, 4× slow-down", "s"),
            Measure("load-page", "load of a procedure", "s"),
            Measure("load-page-slow", "load of a procedure, 4× slow-down", "s"),
        ),
        "editions": (
            Measure("publish-site", "publish, site", "s"),
            Measure("publish-site-size", "published site", "MB"),
            Measure("publish-zip", "publish, zip", "s"),
            Measure("publish-zip-size", "published zip", "MB"),
            Measure("publish-epub", "publish, e-book", "s"),
            Measure("publish-epub-size", "published e-book", "MB"),
            Measure("publish-scorm", "publish, SCORM package", "s"),
            Measure("publish-scorm-size", "published SCORM package", "MB"),
            Measure("verify", "verify the site", "s"),
        ),
        "print": (
            Measure("publish-pdf", "publish, PDF", "s"),
            Measure("publish-pdf-size", "published PDF, all volumes", "MB"),
            Measure("publish-pdf-volumes", "volumes of the PDF", "files"),
            Measure("publish-pdf-memory", "PDF, peak memory of a process", "MB"),
        ),
        "baseline": tuple(measure for pair in PAIRS for measure in pair.measures),
    }
)
"""Measures by the group that `--only` names, in the order of the table."""

BASELINE_UP_TO: Final = 3_000
"""The largest book that is compared with plain Markdown unasked: larger ones take minutes."""

USUAL: Final = tuple(group for group in GROUPS if group not in ("editions", "print"))
"""What is measured unless `--only` says otherwise: publishing is done once a term, and a large PDF takes longer than all the rest."""


@dataclass(slots=True)
class Samples:
    """Readings of one measure on one side, in the order taken."""

    values: list[float] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)

    def add(self, reading: Reading) -> None:
        """Take one more."""
        self.values.append(reading.value)
        if reading.cpu is not None:
            self.cpu.append(reading.cpu)

    @property
    def median(self) -> float:
        """The middle of the values."""
        return statistics.median(self.values)

    @property
    def cpu_median(self) -> float | None:
        """The middle of the processor seconds, where they are known."""
        return statistics.median(self.cpu) if self.cpu else None


class SizeReport:
    """What was measured on books of one size, for one checkout or for two."""

    def __init__(self, book: SyntheticBook, sides: int) -> None:
        self.records = book.records
        self.source_bytes = book.source_bytes
        self.kinds = book.kinds
        self.queries = book.queries
        self.largest_page = ""
        self._sides: tuple[dict[str, Samples], ...] = tuple({} for _ in range(sides))
        self._reasons: tuple[dict[str, str], ...] = tuple({} for _ in range(sides))

    @property
    def is_comparison(self) -> bool:
        """Whether a second checkout was measured as well."""
        return len(self._sides) > 1

    def add(self, side: int, readings: Readings) -> None:
        """Take the readings of one round."""
        for name, reading in readings.items():
            self._sides[side].setdefault(name, Samples()).add(reading)

    def excuse(self, side: int, group: str, reason: str) -> None:
        """Say why measures of a group have no samples."""
        for measure in GROUPS[group]:
            self._reasons[side].setdefault(measure.name, reason)

    def samples(self, name: str, side: int = 0) -> Samples | None:
        """Return what was measured, or None."""
        return self._sides[side].get(name)

    def reason(self, name: str, side: int = 0) -> str:
        """Return why a measure has no samples."""
        return self._reasons[side].get(name, "not to be had here")

    def pair(self, pair: Pair) -> tuple[float | None, float | None, float | None]:
        """Return the median of ours, that of plain Markdown, and their ratio, each where it is known."""
        ours, plain = (self.samples(measure.name) for measure in pair.measures)
        ratio = ours.median / plain.median if ours and plain and plain.median else None
        return ours.median if ours else None, plain.median if plain else None, ratio

    def ratio(self, name: str) -> float | None:
        """Return the median of the first checkout divided by that of the second, where both are known."""
        first, second = self.samples(name), self.samples(name, 1)
        return first.median / second.median if first and second and second.median else None
