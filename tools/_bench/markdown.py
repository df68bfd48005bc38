"""Owns the summary in Markdown: all sizes side by side, budgets, comparison and growth, for a note or a document."""

from __future__ import annotations

import os
import platform
from collections.abc import Iterator, Sequence

from _bench.measures import GROUPS, PAIRS, Measure, SizeReport
from _bench.report import figure
from _bench.scaling import LIMIT, growths


def summary(reports: Sequence[SizeReport], groups: Sequence[str], runs: int) -> str:
    """Return the summary of a measurement, the first checkout's figures only."""
    processors = os.cpu_count() or 1
    cores = f"{processors} core{'s' if processors != 1 else ''}"
    of_runs = f"medians of {runs} runs" if runs > 1 else "one run"
    lines = [
        f"Measured on {cores}, {platform.system()}, Python {'.'.join(platform.python_version_tuple()[:2])}; {of_runs}.",
        "",
        *_figures(reports, groups),
    ]
    if "baseline" in groups:
        lines += ["", *_comparison(reports)]
    if len(reports) > 1:
        lines += ["", *_growth(reports, groups)]
    return "\n".join(lines) + "\n"


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def _head(first: Sequence[str], columns: Sequence[str]) -> Iterator[str]:
    yield _row([*first, *columns])
    yield _row(["---"] * len(first) + ["---:"] * len(columns))


def _sizes(reports: Sequence[SizeReport]) -> list[str]:
    return [f"{report.records:,} records" for report in reports]


def _figures(reports: Sequence[SizeReport], groups: Sequence[str]) -> Iterator[str]:
    yield from _head(("what", "unit"), _sizes(reports))
    for group in groups:
        if group != "baseline":
            for measure in GROUPS[group]:
                cells = [_with_budget(report, measure) for report in reports]
                yield _row([measure.label, measure.unit, *cells])


def _with_budget(report: SizeReport, measure: Measure) -> str:
    samples, budget = report.samples(measure.name), measure.budget(report.records)
    if samples is None:
        return "–"
    shown = figure(samples.median, measure.unit)
    if budget is None:
        return shown
    verdict = "ok" if samples.median <= budget else "**OVER**"
    return f"{shown} of {figure(budget, measure.unit)} {verdict}"


def _comparison(reports: Sequence[SizeReport]) -> Iterator[str]:
    yield "Beside it the same records as plain Markdown, through MkDocs with the theme's own search: ours / plain = ratio."
    yield ""
    yield from _head(("what", "unit"), _sizes(reports))
    for pair in PAIRS:
        cells = []
        for report in reports:
            ours, plain, ratio = report.pair(pair)
            shown = [figure(value, pair.unit) for value in (ours, plain)]
            cells.append(f"{' / '.join(shown)} = {ratio:.3g}" if ratio is not None else " / ".join(shown))
        yield _row([pair.label, pair.unit, *cells])


def _growth(reports: Sequence[SizeReport], groups: Sequence[str]) -> Iterator[str]:
    yield f"Growth as an exponent of the number of records; **bold**: a time that grows faster than N^{LIMIT}."
    yield ""
    for index, (measure, steps) in enumerate(growths(reports, groups)):
        if not index:
            yield from _head(("what",), [f"{step.smaller:,} to {step.larger:,}" for step in steps])
        shown = ["–" if step.exponent is None else f"{step.exponent:.2f}" for step in steps]
        yield _row(
            [
                measure.label,
                *(f"**{text}**" if step.is_over else text for text, step in zip(shown, steps, strict=True)),
            ]
        )
