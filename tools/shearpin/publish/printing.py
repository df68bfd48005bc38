"""Setting the volumes of a printed edition: laid out to learn on which page everything stands, then these numbers are put in."""

from __future__ import annotations

import contextlib
import functools
import gc
import logging
import multiprocessing
import os
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from shearpin.model.shares import JOBS, jobs
from shearpin.publish.faults import PublishError
from shearpin.publish.issue import Issue
from shearpin.publish.pagenumbers import put_in
from shearpin.publish.paper import Paper, papers_of

_MEMORY_OF_A_VOLUME: Final = 1_200_000_000
"""Bytes that the largest volume takes while it is set, with some to spare."""

Progress = Callable[[str], None]


Places = Mapping[str, int]
"""Page of each anchor."""


@dataclass(frozen=True, slots=True)
class _Task:
    """A volume to be set. With the `places` of what it names in other volumes it is written to `target`, else only laid out."""

    paper: Paper
    base: str
    target: Path
    places: Places | None


def make_pdf(issue: Issue, folder: Path, progress: Progress) -> tuple[Path, ...]:
    """Write the edition as PDF files into a folder; raises `PublishError` where WeasyPrint, or what it needs, is missing.

    An edition in one volume is one file, laid out once. Each volume of a larger one is set in a process of its own, which
    gives its memory back: once to learn its pages, and once more to be written when those of all are known.
    """
    _require_weasyprint()
    papers = papers_of(issue)
    base = (issue.packed.book.kb / "figures").resolve().as_uri() + "/"
    if len(papers) == 1:
        target = folder / f"{issue.name}.pdf"
        with _heard(functools.partial(_tell_page, progress)):
            _set(_Task(papers[0], base, target, {}))
        return (target,)
    targets = tuple(folder / f"{issue.name}-volume-{paper.volume}.pdf" for paper in papers)
    tasks = [_Task(paper, base, target, None) for paper, target in zip(papers, targets, strict=True)]
    counted = _all_set(tasks, progress, "counting pages")
    places = {
        anchor: page
        for paper, found in zip(papers, counted, strict=True)
        for anchor, page in found.items()
        if anchor not in paper.repeated
    }
    written = _all_set([replace(task, places=places) for task in tasks], progress, "writing")
    if written != counted:
        raise RuntimeError(f"the page numbers of {issue.name} changed between two rounds")
    return targets


def _tell_page(progress: Progress, page: int) -> None:
    progress(f"PDF: page {page}")


def _require_weasyprint() -> None:
    if find_spec("weasyprint") is None:
        raise PublishError(
            "a PDF needs WeasyPrint: `pip install weasyprint` in Shearpin's environment, then publish again"
        )
    try:
        import weasyprint  # noqa: F401  # what it rests on is only missed now
    except OSError as error:
        raise PublishError(
            f"WeasyPrint lacks a library that sets type ({error}). On Debian, as root: "
            "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
        ) from error


def _all_set(tasks: Sequence[_Task], progress: Progress, doing: str) -> list[Places]:
    context = multiprocessing.get_context("spawn")
    found = []
    with ProcessPoolExecutor(
        _workers(), mp_context=context, initializer=_end_with_parent, max_tasks_per_child=1
    ) as pool:
        for places in pool.map(_set, tasks):
            found.append(places)
            progress(f"PDF: {doing}, {len(found)} of {len(tasks)} volumes")
    return found


def _workers() -> int:
    """Return how many volumes to set at once: as many as asked for, else as memory and processors allow."""
    if os.environ.get(JOBS, "").isdecimal():
        return jobs()
    return max(1, min(jobs(), _free_memory() // _MEMORY_OF_A_VOLUME))


def _free_memory() -> int:
    """Return how many bytes of memory programs can still take; 0 where the system does not say."""
    try:
        lines = Path("/proc/meminfo").read_text(encoding="ascii").splitlines()
        return next(int(line.split()[1]) * 1024 for line in lines if line.startswith("MemAvailable:"))
    except (OSError, StopIteration, ValueError):
        return 0


def _end_with_parent() -> None:
    """Let a process that sets a volume not outlive the program that asked for it, however that ends."""
    parent = multiprocessing.parent_process()

    def wait() -> None:
        if parent is not None:
            parent.join()
            os._exit(1)

    threading.Thread(target=wait, daemon=True).start()


def _set(task: _Task) -> Places:
    """Set a volume with WeasyPrint, and return on which page each of its anchors stands."""
    from weasyprint import HTML

    options = {"pdf_tags": True, "pdf_variant": "pdf/ua-1"}
    gc.disable()  # what it makes lives until the volume is written
    try:
        document = HTML(string=task.paper.markup, base_url=task.base).render(**options)
        own: dict[str, int] = {}
        known = frozenset(task.paper.anchors)
        for number, page in enumerate(document.pages, 1):
            for anchor in page.anchors:
                if anchor in known:
                    own.setdefault(anchor, number)
        if task.places is not None:
            put_in(document, {anchor: str(page) for anchor, page in {**task.places, **own}.items()})
            document.write_pdf(task.target, pdf_identifier=task.target.stem.encode(), **options)
        return own
    finally:
        gc.enable()


@contextlib.contextmanager
def _heard(at_page: Callable[[int], None]) -> Iterator[None]:
    """Pass on which page is being set, as WeasyPrint logs it."""

    class Ear(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            if isinstance(record.args, tuple) and record.args and "Page %d" in str(record.msg):
                at_page(int(str(record.args[0])))

    logger = logging.getLogger("weasyprint.progress")
    ear, level = Ear(logging.INFO), logger.level
    logger.addHandler(ear)
    logger.setLevel(logging.INFO)
    try:
        yield
    finally:
        logger.removeHandler(ear)
        logger.setLevel(level)
