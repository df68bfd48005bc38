"""Owns one round of each sort of measurement on one project; rounds on two projects can take turns."""

from __future__ import annotations

import json
import shutil
import statistics
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Any, Final

from _bench.baseline import build_both, search_both
from _bench.book import spoil
from _bench.browser import load_pages, opened_browser, search_pages
from _bench.edits import EDITS, make_edit
from _bench.measures import KB, MB, Reading, Readings
from _bench.preview import seconds_to_show
from _bench.project import BUILD, CHECK, FIND, PUBLISH, VERIFY, MeasuringFault, NotHere, Project, Took

Round = Callable[[Project], Readings]


def _clock(took: Took) -> Reading:
    return Reading(took.seconds, took.cpu)


CLEAN_OR_WARNED: Final = (0, 1)
"""Exit codes of a check of a measured book: chances are drawn by lot, and some cause has no test that proves it."""


def _peak(name: str, took: Took) -> dict[str, Reading]:
    return {name: Reading(took.peak / MB)} if took.peak is not None else {}


def check(project: Project) -> Readings:
    """Time `shearpin check`, and what findings cost: on a copy of the records of which some have faults."""
    faulty = project.root / "faulty"
    if not faulty.is_dir():
        shutil.copytree(project.root / "kb", faulty, ignore=shutil.ignore_patterns("pages"))
        spoil(faulty)
    project.drop_caches()
    cold = project.run(CHECK, CLEAN_OR_WARNED)
    again = project.run(CHECK, CLEAN_OR_WARNED)
    spoilt = project.run((*CHECK, "--kb", faulty.name), expected=(1,))
    clocks = {"check-cold": _clock(cold), "check-again": _clock(again), "check-faulty": _clock(spoilt)}
    return {**clocks, **_peak("check-memory", cold)}


def build(project: Project) -> Readings:
    """Time `mkdocs build --strict` from nothing, again, and after an edit; weigh the site."""
    project.drop_caches()
    project.drop_site()
    first = project.run(BUILD)
    weights = weigh_site(project)
    again = project.run(BUILD)
    words = project.edit()
    edited = project.run(BUILD)
    if words not in (project.site / project.book.edited_page).read_text(encoding="utf-8"):
        raise MeasuringFault(f"the build did not show the edited record on {project.book.edited_page}")
    clocks = {"build-first": _clock(first), "build-again": _clock(again), "build-edited": _clock(edited)}
    return {**clocks, **_peak("build-memory", first), **weights}


def edits(project: Project) -> Readings:
    """Time `mkdocs build --strict` after edits of many sorts, each in a site that shows the one before."""
    _have_site(project)
    readings = {}
    for edit in EDITS:
        changed = make_edit(project.root / "kb", edit)
        readings[f"edit-{edit.name}"] = _clock(project.run(BUILD))
        if edit.new_id:
            changed.unlink()
            project.run(BUILD)
    return readings


def weigh_site(project: Project) -> Readings:
    """Return the sizes of a finished site; a page's weight is its file alone, without what all pages share."""
    sizes = {path: path.stat().st_size for path in project.site.rglob("*") if path.is_file()}
    pages = sorted(size for path, size in sizes.items() if path.suffix == ".html")
    weights = {
        "site-size": Reading(sum(sizes.values()) / MB),
        "site-files": Reading(len(sizes)),
        "page-median": Reading(statistics.median(pages) / KB),
        "page-p95": Reading(statistics.quantiles(pages, n=20)[-1] / KB),
        "page-greatest": Reading(pages[-1] / KB),
    }
    index = [size for path, size in sizes.items() if project.site / "index" in path.parents]
    return {**weights, "index-size": Reading(sum(index) / MB)} if index else weights


def largest_page(project: Project) -> str:
    """Return the heaviest page of a finished site, from its root; nothing where there is no site."""
    pages = sorted(project.site.rglob("*.html"), key=lambda path: path.stat().st_size)
    return pages[-1].relative_to(project.site).as_posix() if pages else ""


def preview(project: Project) -> Readings:
    """Time the live preview."""
    shown, whole = seconds_to_show(project)
    return {"preview-edited": Reading(shown), "preview-whole": Reading(whole)}


def find(project: Project) -> Readings:
    """Time `shearpin find` without its index, then once for each query with it."""
    project.drop_caches()
    first = _find(project, project.book.queries[0])
    took = [_find(project, query) for query in project.book.queries]
    cpu = [one.cpu for one in took if one.cpu is not None]
    again = Reading(statistics.median(one.seconds for one in took), statistics.median(cpu) if cpu else None)
    return {"find-first": _clock(first), "find": again}


def _find(project: Project, query: str) -> Took:
    try:
        took = project.run((*FIND, query))
        hits = json.loads(took.output)["hits"]
    except (MeasuringFault, ValueError, KeyError) as fault:
        raise NotHere(f"`shearpin find` gives no answer here: {fault}") from fault
    if not hits:
        raise MeasuringFault(f"`shearpin find` found nothing for “{query}”, which the book holds")
    return took


def visit(project: Project) -> Readings:
    """Time loading a page of the finished site in a browser."""
    _have_site(project)
    with opened_browser(project.site) as browser:
        return load_pages(browser, project.site, project.book)


def search(project: Project) -> Readings:
    """Time searching in the finished site in a browser."""
    _have_site(project)
    with opened_browser(project.site) as browser:
        return search_pages(browser, project.site, project.book)


def editions(project: Project) -> Readings:
    """Time publishing a whole book in each format but print, after a check; weigh the files."""
    project.run(CHECK, CLEAN_OR_WARNED)
    readings: dict[str, Reading] = {}
    for name in ("site", "zip", "epub", "scorm"):
        took, files = _published(project, name)
        readings |= _publication(name, took, files)
        if name == "site":
            readings["verify"] = _clock(project.run((*VERIFY, files[0]["path"])))
    return readings


def printed(project: Project) -> Readings:
    """Time publishing a whole book as PDF, after a check; weigh its volumes."""
    project.run(CHECK, CLEAN_OR_WARNED)
    took, files = _published(project, "pdf")
    volumes = {"publish-pdf-volumes": Reading(len(files))}
    return {**_publication("pdf", took, files), **volumes, **_peak("publish-pdf-memory", took)}


def _published(project: Project, name: str) -> tuple[Took, list[dict[str, Any]]]:
    shutil.rmtree(project.root / "dist", ignore_errors=True)
    took = project.run((*PUBLISH, "--format", name))
    return took, json.loads(took.output)["files"]


def _publication(name: str, took: Took, files: list[dict[str, Any]]) -> dict[str, Reading]:
    size = Reading(sum(file["bytes"] for file in files) / MB)
    return {f"publish-{name}": _clock(took), f"publish-{name}-size": size}


def _have_site(project: Project) -> None:
    if not (project.site / "index.html").is_file():
        project.run(BUILD)


ROUNDS: Final[Mapping[str, tuple[Round, ...]]] = MappingProxyType(
    {
        "check": (check,),
        "build": (build, preview),
        "edits": (edits,),
        "find": (find,),
        "browser": (visit, search),
        "editions": (editions,),
        "print": (printed,),
        "baseline": (build_both, search_both),
    }
)
"""What measures each group; one that cannot be measured here leaves the others of its group alone."""
