"""Books that nobody wrote this for: one machine or none, thirty messages, endless words, long units; pages stay whole."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from tests.browser.harness import DESKTOP, PHONE
from tests.browser.test_pictures import SETTINGS
from tests.sound_book import lay_over, sound, swap

BOLT = "procedures/replace-auger-shear-bolt"
MESSAGES = 30
STEPS = 60
LONG_WORD = "Schneckenantriebsscherbolzensicherungsmutterunterlegscheibe" * 2
OVER = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
CAUTION = """title: Hazard {number} with a name of its own
signal_word: {word}
hazard: Hazard number {number} turns under power and does not stop for a hand that reaches in.
consequence: It cuts off fingers.
avoidance: [Stop the engine., Take the key out., Wait until all motion has stopped.]
severity: {severity}
likelihood: {likelihood}
sources: [bench-notes]
"""
KINDS = (("DANGER", "serious", "will"), ("WARNING", "serious", "could"), ("CAUTION", "minor", "could"))


def thirty_messages() -> dict[str, str]:
    """Return files with thirty cautions and a procedure of sixty steps that needs all of them."""
    files = {}
    for number in range(MESSAGES):
        word, severity, likelihood = KINDS[number % 3]
        files[f"cautions/hazard-{number}.yaml"] = CAUTION.format(
            number=number, word=word, severity=severity, likelihood=likelihood
        )
    lines = "".join(
        f"  - do: Turn bolt {n} of {LONG_WORD} until it is tight.\n    caution: hazard-{n % MESSAGES}\n"
        for n in range(STEPS)
    )
    text = sound(f"{BOLT}.yaml").replace("finish:\n", f"{lines}finish:\n")
    title = f"Replace an auger shear bolt, {'and another one, ' * 8}{LONG_WORD}"
    return {
        **files,
        f"{BOLT}.yaml": text.replace("title: Replace an auger shear bolt", f"title: {title}"),
    }


def long_units() -> dict[str, str]:
    """Return the sound book's torque as long as a figure gets."""
    return swap(
        "machines/brook-t28.yaml", "is: 9 ± 1 N·m", "is: 80.25–88.75 lbf·in, note: " + "wet and dry " * 30
    )


BOOKS: dict[str, Callable[[], dict[str, str | None]]] = {
    "thirty messages": lambda: dict(thirty_messages()),
    "long units": lambda: dict(long_units()),
    "one machine": lambda: {"machines/brook-t28.yaml": None},
    "no machine": lambda: {"machines/brook-t28.yaml": None, "machines/brook-d24.yaml": None},
    "no drawing": lambda: {"figures/shear-bolt.yaml": None, "figures/shear-bolt.svg": None},
}


@pytest.fixture(scope="module")
def odd_sites(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The site of each odd book; what the rules find in them does not keep pages from being made."""
    sites = {}
    for name, files in BOOKS.items():
        folder = tmp_path_factory.mktemp("odd")
        lay_over(folder, {**files(), "pages/writing-records.md": "# Writing records\n"})
        (folder / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
        command = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
        subprocess.run(command, cwd=folder, check=True, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"})
        sites[name] = folder / "site"
    return sites


def pages_of(site: Path) -> list[Path]:
    """Return the pages of the shear bolt, the front page and the lists."""
    return [
        path
        for path in sorted(site.rglob("*.html"))
        if path.parent.name != "rules" and ("bolt" in path.name or path.name == "index.html")
    ]


@pytest.mark.parametrize("book", BOOKS)
def test_nothing_runs_over_the_edge(
    open_page: Callable[..., Page], odd_sites: dict[str, Path], book: str
) -> None:
    page = open_page(size=(320, 844))  # WCAG 2.2, 1.4.10
    over = {}
    for path in pages_of(odd_sites[book]):
        page.goto(f"{path.as_uri()}#machine=brook-t28", wait_until="domcontentloaded")
        if (excess := page.evaluate(OVER)) > 0:
            over[path.name] = excess
    assert over == {}


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_thirty_messages_all_show_and_the_work_is_one_tap_away(
    open_page: Callable[..., Page], odd_sites: dict[str, Path], size: tuple[int, int]
) -> None:
    page = open_page(size=size)
    page.goto((odd_sites["thirty messages"] / f"{BOLT}.html").as_uri() + "#machine=brook-d24")
    messages = page.locator(".safety .safety-message")
    assert messages.count() == messages.locator("visible=true").count() >= MESSAGES
    words = messages.evaluate_all("all => all.map(e => e.dataset.signalWord)")
    assert words == sorted(words, key=["DANGER", "WARNING", "CAUTION", "NOTICE"].index)
    page.locator(".jumps a").get_by_text("Steps", exact=True).click()
    page.wait_for_function(
        "() => document.getElementById('step-1').getBoundingClientRect().top < innerHeight"
    )


def test_a_long_figure_and_its_note_stand_whole_on_paper(page: Page, odd_sites: dict[str, Path]) -> None:
    page.goto((odd_sites["long units"] / f"{BOLT}.html").as_uri() + "#machine=brook-t28")
    pdf = PdfReader(io.BytesIO(page.pdf(format="A4")))
    assert len(pdf.pages) == 1
    assert "80.25–88.75 lbf·in" in pdf.pages[0].extract_text()
    page.emulate_media(media="print")
    assert page.evaluate(OVER) <= 0
