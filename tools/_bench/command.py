"""Owns the command: its options, the environment it runs in, the order of the measurements, what is shown meanwhile."""

from __future__ import annotations

import argparse
import importlib.util
import json
import shutil
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from _bench.markdown import summary
from _bench.measures import BASELINE_UP_TO, GROUPS, USUAL, SizeReport
from _bench.plan import SMALLEST
from _bench.project import MeasuringFault, NotHere, Project, make_project
from _bench.report import as_json, growth_table, table
from _bench.rounds import ROUNDS, largest_page
from _setup.console import say_anything
from _setup.environment import python_of
from _setup.process import run_through

ROOT = Path(__file__).resolve().parents[2]
DEFAULT_SIZES = "300,3000,10000"


@dataclass(frozen=True, slots=True)
class Options:
    """What is to be measured."""

    sizes: tuple[int, ...]
    runs: int
    groups: tuple[str, ...]
    checkouts: tuple[Path, ...]
    seed: int
    json: Path | None
    markdown: Path | None
    whole_baseline: bool
    keep: Path | None


class Progress:
    """Says on a terminal what is going on; says nothing in a pipe."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._began = time.monotonic()

    def show(self, text: str) -> None:
        """Overwrite the line with what is going on now; with nothing at the end."""
        if self._stream.isatty():
            width = shutil.get_terminal_size().columns - 1
            line = f"  {time.monotonic() - self._began:5.0f} s  {text}" if text else ""
            self._stream.write("\r" + line[:width].ljust(width) + ("" if text else "\r"))
            self._stream.flush()


def bench(arguments: Sequence[str]) -> int:
    """Measure; returns 0, or 1 when a command failed, 2 for wrong usage, 130 when stopped."""
    say_anything(sys.stdout, sys.stderr)
    options = _options(arguments)
    python = python_of(ROOT / ".venv")
    if python.is_file() and Path(sys.prefix).resolve() != (ROOT / ".venv").resolve():
        return run_through([python, ROOT / "tools" / "bench.py", *arguments], Path.cwd())
    if importlib.util.find_spec("shearpin") is None:
        sys.stderr.write("Shearpin is not set up here: run tools/start.py first\n")
        return 2
    progress = Progress(sys.stderr)
    try:
        reports, failed = _measure_all(options, progress)
    except MeasuringFault as fault:
        progress.show("")
        sys.stderr.write(f"{fault}\n")
        return 1
    except KeyboardInterrupt:
        progress.show("")
        return 130
    if options.json is not None:
        checkouts = [str(checkout) for checkout in options.checkouts]
        found = as_json(reports, options.groups, options.seed, options.runs, checkouts)
        options.json.write_text(json.dumps(found, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
    if options.markdown is not None:
        options.markdown.write_text(summary(reports, options.groups, options.runs), encoding="utf-8")
    return 1 if failed else 0


def _options(arguments: Sequence[str]) -> Options:
    parser = argparse.ArgumentParser(prog="bench.py", description="Time Shearpin on synthetic books.")
    parser.add_argument(
        "--sizes", default=DEFAULT_SIZES, help=f"numbers of records (default: {DEFAULT_SIZES})"
    )
    parser.add_argument(
        "--runs", type=int, default=3, help="measurements of each, of which the median counts (default: 3)"
    )
    parser.add_argument(
        "--only",
        help=f"some of {', '.join(GROUPS)}, joined by commas (default: all but editions and print, "
        f"and baseline up to {BASELINE_UP_TO:,} records only)",
    )
    parser.add_argument(
        "--against", type=Path, metavar="CHECKOUT", help="measure another checkout in turn with this one"
    )
    parser.add_argument("--json", type=Path, metavar="FILE", help="also write everything measured as JSON")
    parser.add_argument("--markdown", type=Path, metavar="FILE", help="also write a summary in Markdown")
    parser.add_argument("--seed", type=int, default=1, help="another seed makes other books (default: 1)")
    parser.add_argument(
        "--keep", type=Path, metavar="DIR", help="leave the synthetic projects in this new folder"
    )
    given = parser.parse_args(arguments)
    try:
        sizes = tuple(int(size) for size in given.sizes.split(","))
    except ValueError:
        parser.error(f"--sizes: `{given.sizes}` is no list of numbers joined by commas")
    groups = tuple(dict.fromkeys(given.only.split(","))) if given.only else USUAL
    unknown = [group for group in groups if group not in GROUPS]
    if unknown:
        parser.error(f"--only: there is no `{unknown[0]}`; there are {', '.join(GROUPS)}")
    if min(sizes) < SMALLEST:
        parser.error(f"--sizes: a book with every kind of record has at least {SMALLEST}")
    if given.runs < 1:
        parser.error("--runs: at least 1")
    if given.keep is not None and given.keep.exists():
        parser.error(f"--keep: {given.keep} is there already")
    checkouts = (ROOT, given.against.resolve()) if given.against is not None else (ROOT,)
    ordered = tuple(group for group in GROUPS if group in groups)
    return Options(
        sizes, given.runs, ordered, checkouts, given.seed, given.json, given.markdown, bool(given.only), given.keep
    )  # fmt: skip


def _measure_all(options: Options, progress: Progress) -> tuple[list[SizeReport], bool]:
    """Return what was measured at each size, and whether a command failed, which costs the figures of its group only."""
    reports, failed = [], False
    # Nothing is removed between sizes: see `put_aside`.
    with tempfile.TemporaryDirectory(prefix="shearpin-bench-") as temporary:
        top = options.keep.resolve() if options.keep is not None else Path(temporary)
        for size in options.sizes:
            report, faults = _measure_size(options, size, top / str(size), progress)
            reports.append(report)
            progress.show("")
            sys.stderr.write("".join(f"{fault}\n" for fault in faults))
            failed = failed or bool(faults)
            sys.stdout.write("\n".join(table(report, options.groups, options.runs)) + "\n\n")
            sys.stdout.flush()
    growth = "\n".join(growth_table(reports, options.groups))
    sys.stdout.write(f"{growth}\n\n" if growth else "")
    return reports, failed


def _measure_size(
    options: Options, size: int, top: Path, progress: Progress
) -> tuple[SizeReport, list[MeasuringFault]]:
    progress.show(f"{size:,} records: writing the book")
    projects = [
        make_project(checkout, top / name, size, options.seed)
        for checkout, name in zip(options.checkouts, ("here", "against"), strict=False)
    ]
    report = SizeReport(projects[0].book, len(projects))
    faults = []
    for group in options.groups:
        if group == "baseline" and size > BASELINE_UP_TO and not options.whole_baseline:
            for side in range(len(projects)):
                report.excuse(side, group, "takes minutes at this size: ask for it with --only baseline")
            continue
        try:
            _measure_group(group, projects, report, options.runs, progress)
        except MeasuringFault as fault:
            faults.append(fault)
            for side in range(len(projects)):
                report.excuse(side, group, "a command failed")
    report.largest_page = largest_page(projects[0])
    return report, faults


def _measure_group(
    group: str, projects: Sequence[Project], report: SizeReport, runs: int, progress: Progress
) -> None:
    """Measure both projects in turn, run by run, so that what else the computer does meets both alike."""
    for measure in ROUNDS[group]:
        out = set()
        for run in range(runs):
            for side, project in enumerate(projects):
                if side in out:
                    continue
                whose = f" in {project.checkout}" if len(projects) > 1 else ""
                progress.show(
                    f"{report.records:,} records: {measure.__name__}{whose}, run {run + 1} of {runs}"
                )
                try:
                    report.add(side, measure(project))
                except NotHere as reason:
                    report.excuse(side, group, str(reason))
                    out.add(side)
