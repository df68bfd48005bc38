"""Pictures of the manual's pages as a reader sees them, for a talk, a lesson or a look at what a change did.

They are made on request and not kept: a picture in the repository would be old after the next change.
"""

from __future__ import annotations

import html
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from playwright.sync_api import Browser, sync_playwright


class GalleryFault(Exception):
    """The gallery cannot be made; the text says what to do."""


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture: the file's name, the page, words under it, the width of the window; `paper` as it prints."""

    name: str
    page: str
    words: str
    width: int = 1366
    paper: bool = False


_HEIGHT: Final = 900
_PLACES: Final = (
    ("front", "index.html", "The front page: search first, then symptoms by system"),
    ("search", "search.html#q=wont start", "A search in the customer's words"),
    ("symptom", "symptoms/{symptom}.html#machine={machine}", "A symptom: warnings, the next test, causes by chance"),
    ("procedure", "procedures/{procedure}.html#machine={machine}", "A procedure with a machine chosen"),
    ("machine", "machines/{machine}.html", "A machine: two plates, values, service"),
    ("values", "values/index.html", "Values over all machines"),
    ("job", "job.html#machine={machine}&procedures={procedure}", "A job of one procedure"),
    ("calculators", "calculators.html", "Bench calculators"),
    ("coverage", "coverage.html", "What the book still lacks"),
    ("card", "technician-card.html", "The card for the bench"),
)  # fmt: skip


def pictures(site: Path) -> tuple[Picture, ...]:
    """Return what is to be shown of a built manual, by its first machine."""
    if not (site / "index.html").is_file():
        raise GalleryFault(f"there is no manual in {site}; run `shearpin build` first")
    machine = next(
        (
            p.stem
            for p in sorted((site / "machines").glob("*.html"))
            if "." not in p.stem and p.stem != "index"
        ),
        None,
    )
    if machine is None:
        raise GalleryFault("the manual has no machine")
    ids = {"machine": machine, **_work_on(site / "machines" / f"{machine}.html")}
    shown = [Picture(name, page.format(**ids), words) for name, page, words in _PLACES]
    procedure = next(picture for picture in shown if picture.name == "procedure")
    phone = Picture("procedure-phone", procedure.page, "The same on a telephone", width=390)
    paper = Picture("procedure-paper", procedure.page, "The same on paper", width=794, paper=True)
    return (*shown, phone, paper)


def _work_on(machine_page: Path) -> dict[str, str]:
    """Return a symptom and a procedure that the machine's page leads to, telling ones before what every book has."""
    text = machine_page.read_text(encoding="utf-8")
    found = {}
    for kind, telling in (("symptom", "engine-"), ("procedure", "replace-")):
        names = re.findall(rf'data-ref="{kind}:([a-z0-9-]+)"', text)
        if not names:
            raise GalleryFault(f"{machine_page.name} leads to no {kind}")
        found[kind] = min(names, key=lambda name: not name.startswith(telling))
    return found


def take_pictures(site: Path, folder: Path, browser_path: str | None) -> Sequence[Path]:
    """Write one PNG for each picture and a page that shows them all; return the files."""
    shown = pictures(site)
    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=browser_path, args=["--disable-gpu"])
        files = [_take(browser, site, folder, picture) for picture in shown]
        browser.close()
    index = folder / "index.html"
    index.write_text(_page(shown), encoding="utf-8")
    return (*files, index)


def _take(browser: Browser, site: Path, folder: Path, picture: Picture) -> Path:
    path, _, state = picture.page.partition("#")
    page = browser.new_page(viewport={"width": picture.width, "height": _HEIGHT})
    page.emulate_media(media="print" if picture.paper else "screen")
    page.goto((site / path).resolve().as_uri() + (f"#{state}" if state else ""))
    page.wait_for_load_state("load")
    target = folder / f"{picture.name}.png"
    page.screenshot(path=str(target))
    page.close()
    return target


def _page(shown: Sequence[Picture]) -> str:
    figures = "\n".join(
        f'<figure><img src="{p.name}.png" alt="{html.escape(p.words)}" style="max-width:100%">'
        f"<figcaption>{html.escape(p.words)}</figcaption></figure>"
        for p in shown
    )
    return (
        f'<!doctype html>\n<html lang="en"><meta charset="utf-8"><title>Gallery</title>\n{figures}\n</html>\n'
    )
