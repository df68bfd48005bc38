"""Course packs as a school hands them out, in the browser of an old shop computer too: search, diagnosis, calculators."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from shearpin.book.linked import load_linked
from shearpin.publish.issue import prepare_issue
from shearpin.publish.website import build_site

OLD_BROWSER_TOO = True

ROOT = Path(__file__).resolve().parents[2]
SHEAR_BOLT = "procedures/replace-auger-shear-bolt.html"


def _pack(folder: Path, edition: str) -> Path:
    settings = ROOT / "mkdocs.yml"
    issue = prepare_issue(load_linked(ROOT / "kb"), edition, settings, None)
    build_site(settings, issue.packed, issue.pages(), issue.edition.title, folder)
    return folder


@pytest.fixture(scope="module")
def spanish(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The course pack in Spanish."""
    return _pack(tmp_path_factory.mktemp("spanish") / "data", "course-shear-bolt-es")


@pytest.fixture(scope="module")
def auger(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A course pack with symptoms."""
    return _pack(tmp_path_factory.mktemp("auger") / "data", "course-auger-and-shear-bolts")


def test_a_page_in_spanish_breaks_no_rule_of_accessibility(
    page: Page, spanish: Path, violations: Callable[[Page], dict[str, list[str]]]
) -> None:
    for url in (SHEAR_BOLT, "procedures/set-controls-and-start-engine.html"):
        page.goto((spanish / url).as_uri())
        assert violations(page) == {}


@pytest.mark.parametrize("print_media", [False, True])
def test_no_signal_word_in_spanish_is_wider_than_its_place(
    page: Page, spanish: Path, print_media: bool
) -> None:
    page.goto((spanish / SHEAR_BOLT).as_uri())
    if print_media:
        page.emulate_media(media="print")
    too_wide = page.evaluate(
        """() => Array.from(document.querySelectorAll('.step-caution .signal-word, .safety-message .signal'))
            .filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.textContent)"""
    )
    assert too_wide == []


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("perno fusible", "Perno fusible del sinfín"),
        ("cambiar el perno", "Cambiar un perno"),
        ("monoxido de carbono", "Monóxido"),
        ("bujías", "Tensión de encendido"),
    ],
)
def test_the_search_finds_spanish_words_with_and_without_accents(
    page: Page, spanish: Path, words: str, found: str
) -> None:
    page.goto((spanish / "index.html").as_uri())
    page.fill("#q", words)
    page.press("#q", "Enter")
    page.wait_for_selector("[data-search-results] a")
    titles = page.locator("[data-search-results] a").all_inner_texts()
    assert any(title.startswith(found) for title in titles[:2]), titles[:5]


def test_a_pack_searches_diagnoses_and_computes(page: Page, auger: Path) -> None:
    page.goto((auger / "index.html").as_uri())
    page.fill("#q", "one side of auger does not turn")
    page.press("#q", "Enter")
    page.locator("[data-search-results] a").first.click()
    page.wait_for_url("**/symptoms/one-side-of-auger-does-not-turn.html*")
    page.select_option("[data-machine-choice]", "osmere-d24")
    expect(page.locator(".guide-card").first).to_be_visible()
    page.goto((auger / "calculators.html").as_uri())
    result = page.evaluate("() => window.shearpinBench !== undefined")
    assert result


def test_what_scripts_say_is_spanish_in_the_spanish_pack(page: Page, spanish: Path) -> None:
    page.goto((spanish / SHEAR_BOLT).as_uri())
    expect(page.get_by_role("button", name="Un paso a la vez")).to_be_visible()
    page.locator("[data-add-to-job]").first.click()
    page.wait_for_url("**/job.html*")
    page.select_option("[data-machine-choice]", "osmere-d24")
    expect(page.get_by_role("button", name="Imprimir el trabajo")).to_be_visible()
    sheet = page.locator("[data-job-sheet]").inner_text()
    for words in ("Trabajo, en este orden", "Herramientas", "de trabajo.", "Cuánto cuesta la hora"):
        assert words in sheet
    page.goto((spanish / "search.html").as_uri() + "#q=perno")
    expect(page.locator("[data-search-results]")).to_contain_text("páginas")
    page.goto((spanish / "search.html").as_uri() + "#q=zzzzqqqq")
    expect(page.locator("[data-search-results]")).to_contain_text("No se encontró nada para «zzzzqqqq»")


def test_a_page_that_nobody_translated_is_marked_and_says_so(page: Page, spanish: Path) -> None:
    page.goto((spanish / "calculators.html").as_uri())
    assert page.locator("article").get_attribute("lang") == "en"
    expect(page.locator("p.note[data-untranslated]")).to_have_text("Esta página está en inglés.")
    page.goto((spanish / "using-this-manual.html").as_uri())
    expect(page.locator("article h1")).to_have_text("Cómo usar este manual")
    assert page.locator("article").get_attribute("lang") is None
