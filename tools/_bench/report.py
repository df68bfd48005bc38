"""Owns what is shown of a measurement: the table for people, and the documented JSON for other programs.

The JSON is one object:

- `python`, `system`, `processors`: where it was measured
- `seed`, `runs`, `checkout`, `against` (null without `--against`)
- `sizes`: one object for each size, with `records`, `source_bytes`, `kinds` (records by kind), `queries`,
  `largest_page` (null when nothing was built) and `measures`: one object for each measure, with
  - `group`, `name`, `label`, `unit`
  - `budget` at this size and `within` (both null without a budget)
  - `median`, `samples`, `cpu_median` (processor seconds; null where they are not known)
  - `missing`: null, or why there are no samples; then the figures are null and the lists empty
  - `against`: null, or `median`, `samples`, `cpu_median` and `missing` of the other checkout, and `ratio`, which is
    this checkout's median divided by the other's
  and `plain`: one object for each figure that is compared with the same records as plain Markdown (none unless that was
  measured), with `name`, `unit`, the medians `ours` and `markdown`, and `ratio`, ours divided by the other
- `growth`: one object for each time, memory and size in bytes, with its `name` and `steps`, one from each size to the next
  larger one: `from`, `to` (records), `exponent` (log ratio of the medians by log ratio of the records; null where one is
  not known) and `over` (whether it is a time that grows faster than N^1.1)
"""

from __future__ import annotations

import os
import platform
from collections.abc import Iterator, Sequence
from typing import Any

from _bench.measures import GROUPS, PAIRS, Measure, Pair, Samples, SizeReport
from _bench.scaling import LIMIT, growths

_LABEL, _FIGURE = 38, 9


def as_json(
    reports: Sequence[SizeReport], groups: Sequence[str], seed: int, runs: int, checkouts: Sequence[str]
) -> dict[str, Any]:
    """Return everything measured as the documented object."""
    return {
        "python": platform.python_version(),
        "system": platform.platform(),
        "processors": os.cpu_count(),
        "seed": seed,
        "runs": runs,
        "checkout": checkouts[0],
        "against": checkouts[1] if len(checkouts) > 1 else None,
        "sizes": [_size_as_json(report, groups) for report in reports],
        "growth": [
            {
                "name": measure.name,
                "steps": [
                    {"from": step.smaller, "to": step.larger, "exponent": step.exponent, "over": step.is_over}
                    for step in steps
                ],
            }
            for measure, steps in growths(reports, groups)
        ],
    }


def _size_as_json(report: SizeReport, groups: Sequence[str]) -> dict[str, Any]:
    return {
        "records": report.records,
        "source_bytes": report.source_bytes,
        "kinds": dict(report.kinds),
        "queries": list(report.queries),
        "largest_page": report.largest_page or None,
        "measures": [
            _measure_as_json(report, group, measure) for group in groups for measure in GROUPS[group]
        ],
        "plain": [_pair_as_json(report, pair) for pair in PAIRS] if "baseline" in groups else [],
    }


def _pair_as_json(report: SizeReport, pair: Pair) -> dict[str, Any]:
    ours, plain, ratio = report.pair(pair)
    return {"name": pair.name, "unit": pair.unit, "ours": ours, "markdown": plain, "ratio": ratio}


def _measure_as_json(report: SizeReport, group: str, measure: Measure) -> dict[str, Any]:
    budget = measure.budget(report.records)
    here = report.samples(measure.name)
    found = _samples_as_json(report, measure.name, 0)
    return {
        "group": group, "name": measure.name, "label": measure.label, "unit": measure.unit,
        "budget": budget,
        "within": here.median <= budget if here is not None and budget is not None else None,
        **found,
        "against": {**_samples_as_json(report, measure.name, 1), "ratio": report.ratio(measure.name)}
        if report.is_comparison else None,
    }  # fmt: skip


def _samples_as_json(report: SizeReport, name: str, side: int) -> dict[str, Any]:
    samples = report.samples(name, side)
    return {
        "median": samples.median if samples else None,
        "samples": samples.values if samples else [],
        "cpu_median": samples.cpu_median if samples else None,
        "missing": None if samples else report.reason(name, side),
    }


def table(report: SizeReport, groups: Sequence[str], runs: int) -> Iterator[str]:
    """Yield the lines of the table for one size."""
    of_runs = f"medians of {runs} runs" if runs > 1 else "one run"
    yield f"{report.records:,} records, {report.source_bytes / 1e6:.1f} MB of YAML, {of_runs}"
    columns = ("here", "against", "ratio") if report.is_comparison else ("median", "least", "most")
    heads = "".join(f"{column:>{_FIGURE}}" for column in (*columns, "cpu s", "budget"))
    yield f"  {'':<{_LABEL}}{'':<6}{heads}".rstrip()
    for group in groups:
        for measure in GROUPS[group]:
            yield _line(report, measure)
    if "baseline" in groups and report.samples("plain-build") is not None:
        yield from _against_plain(report)
    if report.largest_page:
        yield f"  the heaviest page is {report.largest_page}"


def _against_plain(report: SizeReport) -> Iterator[str]:
    heads = "".join(f"{column:>{_FIGURE}}" for column in ("ours", "plain", "ratio"))
    yield f"  {'beside the same records as Markdown':<{_LABEL}}{'':<6}{heads}"
    for pair in PAIRS:
        ours, plain, ratio = report.pair(pair)
        shown = [figure(ours, pair.unit), figure(plain, pair.unit), "–" if ratio is None else f"{ratio:.3g}"]
        yield f"  {pair.label:<{_LABEL}}{pair.unit:<6}" + "".join(f"{text:>{_FIGURE}}" for text in shown)


def growth_table(reports: Sequence[SizeReport], groups: Sequence[str]) -> Iterator[str]:
    """Yield the lines of the table of growth; none for a single size."""
    for index, (measure, steps) in enumerate(growths(reports, groups)):
        if not steps:
            return
        if not index:
            yield f"growth: exponent of the number of records; FAST: a time above N^{LIMIT}"
            between = (f"{step.smaller:,}–{step.larger:,}" for step in steps)
            yield f"  {'':<{_LABEL}}{'':<6}" + "".join(f"{text:>{2 * _FIGURE}}" for text in between)
        shown = (
            "–" if step.exponent is None else f"{step.exponent:.2f}{' FAST' if step.is_over else '     '}"
            for step in steps
        )
        yield f"  {measure.label:<{_LABEL}}{measure.unit:<6}{''.join(f'{text:>{2 * _FIGURE}}' for text in shown)}".rstrip()


def _line(report: SizeReport, measure: Measure) -> str:
    budget = measure.budget(report.records)
    samples = report.samples(measure.name)
    if samples is None:
        shown = f"{'–':>{_FIGURE}}  {report.reason(measure.name).splitlines()[0]:.100}"
        return f"  {measure.label:<{_LABEL}}{measure.unit:<6}{shown}"
    if report.is_comparison:
        other, ratio = report.samples(measure.name, 1), report.ratio(measure.name)
        figures = [
            figure(samples.median, measure.unit),
            figure(other.median if other else None, measure.unit),
            f"{ratio:.2f}" if ratio is not None else "–",
        ]
    else:
        figures = [figure(value, measure.unit) for value in _spread(samples)]
    verdict = "" if budget is None else "  ok" if samples.median <= budget else "  OVER"
    figures += [figure(samples.cpu_median, "s", ""), figure(budget, measure.unit, "")]
    columns = "".join(f"{figure:>{_FIGURE}}" for figure in figures)
    return f"  {measure.label:<{_LABEL}}{measure.unit:<6}{columns}{verdict}".rstrip()


def _spread(samples: Samples) -> tuple[float, float, float]:
    return samples.median, min(samples.values), max(samples.values)


def figure(value: float | None, unit: str, none: str = "–") -> str:
    """Return a figure as the tables show it."""
    if value is None:
        return none
    if unit in ("files", "words", "of 3"):
        return f"{value:,.0f}"
    return f"{value:.2f}" if unit in ("s", "MB") and value < 100 else f"{value:,.1f}"
