"""Setting the volumes of a printed edition: first to learn on which page everything stands, then with these numbers."""

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
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from shearpin.publish.faults import PublishError
from shearpin.publish.issue import Issue
from shearpin.publish.paper import Paper, Place, filled, papers_of

_ROUNDS: Final = (
    5  # page numbers keep their width, so the second round is the last; a book of 1,000 pages has a third
)

Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class _Task:
    """A volume to be set; written to `target` if its anchors stand where `expected` says."""

    markup: str
    base: str
    target: Path
    identifier: bytes
    expected: Mapping[str, int]
    pages: int


@dataclass(frozen=True, slots=True)
class _Set:
    """Where the anchors of a volume stand, and how many pages it has."""

    anchors: Mapping[str, int]
    pages: int


def make_pdf(issue: Issue, folder: Path, progress: Progress) -> tuple[Path, ...]:
    """Write the edition as PDF files into a folder; raises `PublishError` where WeasyPrint, or what it needs, is missing.

    An edition in one volume is one file; each volume of a larger one is set in a process of its own, which gives its
    memory back.
    """
    _require_weasyprint()
    papers = papers_of(issue)
    names = [issue.name if len(papers) == 1 else f"{issue.name}-volume-{paper.volume}" for paper in papers]
    targets = tuple(folder / f"{name}.pdf" for name in names)
    base = (issue.packed.book.kb / "figures").resolve().as_uri() + "/"
    known = [_Set(dict.fromkeys(paper.anchors, 0), 0) for paper in papers]
    for round_ in range(_ROUNDS):
        places = _places(papers, known)
        tasks = (
            _Task(
                filled(issue, paper, {**places, **_own(paper, k)}, k.pages),
                base,
                target,
                target.stem.encode(),
                k.anchors,
                k.pages,
            )
            for paper, target, k in zip(papers, targets, known, strict=True)
        )
        doing = f"PDF: {'writing' if round_ else 'counting pages'}, "
        found = []
        for done in _all_set(tasks, len(papers), functools.partial(_tell_page, progress, doing)):
            found.append(done)
            if len(papers) > 1:
                progress(f"{doing}{len(found)} of {len(papers)} volumes")
        if found == known:
            return targets
        known = found
    raise RuntimeError(f"the page numbers of {issue.name} do not settle")


def _tell_page(progress: Progress, doing: str, page: int) -> None:
    progress(f"{doing}page {page}")


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


def _places(papers: Sequence[Paper], known: Sequence[_Set]) -> dict[str, Place]:
    return {
        anchor: (paper.volume, page)
        for paper, found in zip(papers, known, strict=True)
        for anchor, page in found.anchors.items()
        if anchor not in paper.repeated
    }


def _own(paper: Paper, found: _Set) -> dict[str, Place]:
    """Return the places in a volume itself: what is repeated in it need not be looked up elsewhere."""
    return {anchor: (paper.volume, page) for anchor, page in found.anchors.items()}


def _all_set(tasks: Iterator[_Task], count: int, at_page: Callable[[int], None]) -> Iterator[_Set]:
    if count == 1:
        with _heard(at_page):
            yield from map(_set, tasks)
        return
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(
        _workers(), mp_context=context, initializer=_end_with_parent, max_tasks_per_child=1
    ) as pool:
        yield from pool.map(_set, tasks)


def _workers() -> int:
    """Return how many volumes to set at once: one, for each takes up to 1 GB of memory; SHEARPIN_JOBS sets another number."""
    wanted = os.environ.get("SHEARPIN_JOBS", "")
    return max(1, int(wanted)) if wanted.isdecimal() else 1


def _end_with_parent() -> None:
    """Let a process that sets a volume not outlive the program that asked for it, however that ends."""
    parent = multiprocessing.parent_process()

    def wait() -> None:
        if parent is not None:
            parent.join()
            os._exit(1)

    threading.Thread(target=wait, daemon=True).start()


def _set(task: _Task) -> _Set:
    """Set a volume with WeasyPrint; the file is written if its page numbers are those that stand in its links."""
    from weasyprint import HTML

    gc.disable()  # what it makes lives until the volume is written
    try:
        document = HTML(string=task.markup, base_url=task.base).render(pdf_tags=True, pdf_variant="pdf/ua-1")
        anchors: dict[str, int] = {}
        for number, page in enumerate(document.pages, 1):
            for anchor in page.anchors:
                if anchor in task.expected:
                    anchors.setdefault(anchor, number)
        found = _Set(anchors, len(document.pages))
        if (found.anchors, found.pages) == (task.expected, task.pages):
            document.write_pdf(
                task.target, pdf_tags=True, pdf_variant="pdf/ua-1", pdf_identifier=task.identifier
            )
        return found
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
