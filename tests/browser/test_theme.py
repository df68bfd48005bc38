"""The dark theme for those who ask, and the pages opened last: both are wishes of one reader, never a need of a page."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.kinds_of_page import PROCEDURE

OLD_BROWSER_TOO = True
SWITCH = "Dark theme"
PAPER = "getComputedStyle(document.body).backgroundColor"
SIGNALS = "Array.from(document.querySelectorAll('.signal'), e => getComputedStyle(e).backgroundColor)"
KEEPS = "() => { try { localStorage.setItem('probe', '1'); return true; } catch (error) { return false; } }"
DARK = re.compile(r"[#&]theme=dark")


@pytest.fixture
def address(built_site: Path) -> str:
    return (built_site / PROCEDURE).as_uri()


class TestTheme:
    def test_light_is_what_nobody_asked_for(self, open_page: Callable[..., Page], address: str) -> None:
        page = open_page(color_scheme="dark")
        page.goto(address)
        assert page.evaluate(PAPER) == "rgb(255, 255, 255)"
        assert not DARK.search(page.url)

    def test_a_tap_asks_for_it_and_it_follows_every_link(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_role("button", name=SWITCH).click()
        expect(page.get_by_role("button", name=SWITCH)).to_have_attribute("aria-pressed", "true")
        assert DARK.search(page.url)
        assert "machine=osmere-d24" in page.url
        page.evaluate("try { localStorage.clear() } catch (error) { /* nothing kept */ }")
        page.locator(".lists a:visible").first.click()
        expect(page.locator("html")).to_have_attribute("data-theme", "dark")
        page.get_by_role("button", name=SWITCH).click()
        assert not DARK.search(page.url)
        assert page.evaluate(PAPER) == "rgb(255, 255, 255)"

    def test_it_is_remembered_where_a_browser_remembers(self, page: Page, address: str) -> None:
        page.goto(address)
        if not page.evaluate(KEEPS):
            pytest.skip("this browser keeps nothing for pages from a folder")
        page.get_by_role("button", name=SWITCH).click()
        page.goto("about:blank")
        page.goto(address)
        expect(page.locator("html")).to_have_attribute("data-theme", "dark")

    def test_safety_messages_keep_their_hues_and_paper_stays_white(self, page: Page, address: str) -> None:
        page.goto(address)
        light = page.evaluate(SIGNALS)
        page.goto(f"{address}#theme=dark")
        expect(page.locator("html")).to_have_attribute("data-theme", "dark")
        assert page.evaluate(SIGNALS) == light
        page.emulate_media(media="print")
        assert page.evaluate("getComputedStyle(document.querySelector('.do')).color") == "rgb(0, 0, 0)"
        assert page.evaluate(PAPER) == "rgba(0, 0, 0, 0)"

    def test_nothing_moves(self, page: Page, address: str) -> None:
        page.goto(address)
        moving = page.evaluate(
            """Array.from(document.querySelectorAll('*')).filter(e => { const s = getComputedStyle(e);
                return s.animationName !== 'none' || s.transitionDuration.split(', ').some(d => parseFloat(d) > 0)
                    || s.scrollBehavior === 'smooth'; }).filter(e => !e.matches('[class^=md-], [class^=md-] *'))
               .map(e => e.outerHTML.slice(0, 80))"""
        )
        assert moving == []


class TestOpened:
    def test_the_front_page_lists_pages_opened_last_and_forgets_them(
        self, page: Page, built_site: Path
    ) -> None:
        front = (built_site / "index.html").as_uri()
        page.goto(front)
        assert not page.is_visible("#opened")
        if not page.evaluate(KEEPS):
            pytest.skip("this browser keeps nothing for pages from a folder")
        for path in (PROCEDURE, "values/spark-plug.gap.html", PROCEDURE):
            page.goto((built_site / path).as_uri())
        page.goto(f"{front}#machine=osmere-d24")
        links = page.locator("#opened li a")
        assert links.all_inner_texts() == ["Replace an auger shear bolt", "Spark plug, gap"]
        links.first.click()
        assert page.url.endswith(f"{PROCEDURE}#machine=osmere-d24")
        page.goto(front)
        page.get_by_role("button", name="Clear this list").click()
        assert not page.is_visible("#opened")
        page.reload()
        assert not page.is_visible("#opened")

    def test_what_another_program_kept_there_breaks_nothing(self, page: Page, built_site: Path) -> None:
        page.goto((built_site / "index.html").as_uri())
        if not page.evaluate(KEEPS):
            pytest.skip("this browser keeps nothing for pages from a folder")
        page.goto((built_site / PROCEDURE).as_uri())
        page.evaluate(
            """() => { const key = Object.keys(localStorage).find(name => name.startsWith('shearpin.opened'));
                localStorage.setItem(key, '[{"url": "javascript:alert(1)", "title": "x"}, null, 7]'); }"""
        )
        page.goto((built_site / "index.html").as_uri())
        assert not page.is_visible("#opened")


class TestChart:
    def test_it_draws_what_the_table_says(self, page: Page, built_site: Path) -> None:
        page.goto((built_site / "values/auger-shear-bolt.torque.html").as_uri() + "#machine=osmere-d28")
        rows = page.locator(".chart g")
        names = page.locator("#by-machine tbody th").all_inner_texts()
        assert rows.locator("text").all_text_contents() == names
        figures = [
            tuple(float(part) for part in re.findall(r"[\d.]+", text)[:2])
            for text in page.locator("#by-machine td.value b").all_inner_texts()
        ]  # nominal and tolerance
        lowest = min(nominal - tolerance for nominal, tolerance in figures)
        highest = max(nominal + tolerance for nominal, tolerance in figures)
        for row, (nominal, tolerance) in zip(rows.locator("rect").all(), figures, strict=True):
            start = 2 + 96 * (nominal - tolerance - lowest) / (highest - lowest)
            width = 96 * 2 * tolerance / (highest - lowest)
            assert float((row.get_attribute("x") or "").rstrip("%")) == pytest.approx(start, abs=0.05)
            assert float((row.get_attribute("width") or "").rstrip("%")) == pytest.approx(width, abs=0.05)
        assert page.locator(".chart .your-machine text").text_content() == "Osmere D28"

    def test_alike_figures_and_names_have_none(self, page: Page, built_site: Path) -> None:
        page.goto((built_site / "values/spark-plug.type.html").as_uri())
        assert page.locator(".chart").count() == 0
