"""How pages look and what a hand can do with them: safety first, contrast, reach, narrow screens, paper."""

from __future__ import annotations

import colorsys
import io
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from tests.browser.harness import DESKTOP, PHONE
from tests.kinds_of_page import KINDS_OF_PAGE, PROCEDURE

ROOT = Path(__file__).resolve().parents[2]
STYLES = ROOT / "site_overrides" / "look" / "shearpin.css"

# ANSI Z535.1 gives Munsell colours, not numbers for screens: the hue's name is checked, in degrees of the colour circle.
HUES = {"DANGER": (345, 375), "WARNING": (20, 38), "CAUTION": (42, 60), "NOTICE": (200, 230)}
BLACK_WORDS = {"WARNING", "CAUTION"}

COLOURS = """selector => Array.from(document.querySelectorAll(selector)).filter(e => e.offsetWidth > 0).map(e => {
    const style = getComputedStyle(e);
    let behind = e;
    while (behind && getComputedStyle(behind).backgroundColor === 'rgba(0, 0, 0, 0)') behind = behind.parentElement;
    return {text: e.textContent, color: style.color,
            behind: behind ? getComputedStyle(behind).backgroundColor : 'rgb(255, 255, 255)'};
})"""
FOCUSED = """() => { const e = document.activeElement, box = e.getBoundingClientRect();
    const at = (x, y) => { const hit = document.elementFromPoint(x, y); return hit !== null
        && (e.contains(hit) || hit.contains(e) || (hit.closest('label') || hit).contains(e)); };
    return [at(box.left + box.width / 2, box.top + box.height / 2) || at(box.left + 3, box.top + 3)
        || at(box.right - 3, box.bottom - 3), e.textContent + e.tagName + e.getAttribute('href')]; }"""
LINES = """selector => Array.from(document.querySelectorAll(selector)).filter(e => e.offsetWidth > 0).map(e => {
    const range = document.createRange();
    range.selectNodeContents(e);
    return new Set(Array.from(range.getClientRects(), box => Math.round(box.top))).size;
})"""
SIDEWAYS = """() => Array.from(document.querySelectorAll('html, .table-scroll, pre, nav'))
    .filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.tagName + (e.getAttribute('aria-label') || ''))"""
MOVING = """() => Array.from(document.querySelectorAll('*')).flatMap(e => [null, '::before', '::after'].map(part => {
    const style = getComputedStyle(e, part);
    const still = list => list.split(', ').every(time => parseFloat(time) === 0);
    return still(style.transitionDuration) && style.animationName === 'none' && style.scrollBehavior === 'auto'
        ? '' : e.tagName + '.' + e.className + (part || ''); })).filter(Boolean)"""
SCREEN_COLOURS = """() => Array.from(document.querySelectorAll('body, body *'))
    .filter(e => e.getClientRects().length > 0 && !e.closest('[data-signal-word]'))
    .flatMap(e => { const s = getComputedStyle(e);
        return [s.color, s.backgroundColor, s.borderTopColor, s.borderLeftColor, s.outlineColor]
            .map(c => [c, e.tagName + '.' + e.getAttribute('class')]); })"""


def rgb(colour: str) -> tuple[float, float, float]:
    red, green, blue = (float(part) / 255 for part in re.findall(r"[\d.]+", colour)[:3])
    return red, green, blue


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in rgb(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def hue(colour: str) -> tuple[float, float]:
    """Hue in degrees and saturation from 0 to 1 (HSV)."""
    around, saturation, _ = colorsys.rgb_to_hsv(*rgb(colour))
    return around * 360, saturation


def within(degrees: float, limits: tuple[float, float]) -> bool:
    return limits[0] <= degrees <= limits[1] or limits[0] <= degrees + 360 <= limits[1]


def address(site: Path, path: str) -> str:
    assert (site / path).is_file(), path
    return (site / path).as_uri()


def worked_from(site: Path) -> Iterator[Path]:
    """Every symptom page, and those procedures and tests whose head is the tallest: long titles, banners."""
    yield from (p for p in sorted((site / "symptoms").glob("*.html")) if p.name != "index.html")
    for folder in ("procedures", "tests"):
        pages = [
            p for p in (site / folder).glob("*.html") if 'class="safety-message"' in p.read_text("utf-8")
        ]
        heads = {p: re.search(r"<h1>(.*?)</h1>", p.read_text("utf-8")) for p in pages}
        yield from sorted(pages, key=lambda p: len(heads[p][1]) if heads[p] else 0)[-4:]
        yield from [p for p in pages if 'class="draft"' in p.read_text("utf-8")][:1]


LONG_WORK = {
    "fit-auger-assembly",
    "fit-engine",
    "pre-season-service",
    "prepare-for-storage",
    "rebuild-auger-gearbox",
    "replace-auger-belt-two-stage",
    "replace-auger-gearbox-seals",
    "replace-auger-paddles",
    "replace-chain-case-chain",
    "replace-crankcase-cover-gasket",
    "replace-crankshaft-oil-seal",
    "replace-paddle-auger",
}
"""Long work, mostly of thirty steps or with seventeen messages, which takes a third page; A4 holds two of them on two."""


def procedures_of(site: Path) -> list[Path]:
    return [path for path in sorted((site / "procedures").glob("*.html")) if "index" not in path.name]


def open_on_its_machine(page: Page, path: Path) -> bool:
    """Open a procedure with the first machine chosen that it is for; tell whether it is a page of a procedure."""
    fits = re.search(r'data-kind="procedure"[^>]* data-fits="([^" ]+)', path.read_text("utf-8"))
    if fits is None:
        return False
    page.goto("about:blank")
    page.goto(f"{path.as_uri()}#machine={fits[1]}")
    return True


def sheets(page: Page, paper: str) -> int:
    """Return how many pages of paper a page prints on."""
    return len(PdfReader(io.BytesIO(page.pdf(format=paper))).pages)


SIGNAL_HEIGHT = 48  # of a signal word with the first line beside or below it


class TestSafetyFirst:
    @pytest.mark.parametrize("size", [DESKTOP, PHONE])
    def test_the_first_message_stands_whole_on_the_first_screen(
        self, open_page: Callable[..., Page], built_site: Path, size: tuple[int, int]
    ) -> None:
        page = open_page(size=size)
        below = {}
        for path in worked_from(built_site):
            page.goto(path.as_uri())
            # Where the machine must be taken out of use, that is said first, and the first message begins below it.
            box = page.locator(".out-of-use, .safety-message").first.bounding_box()
            begins = page.locator(".safety-message").first.bounding_box()
            assert box is not None
            assert begins is not None
            if box["y"] + box["height"] > size[1] or begins["y"] + SIGNAL_HEIGHT > size[1]:
                below[path.name] = box
        assert below == {}

    def test_nothing_but_title_and_banners_stands_before_it(self, page: Page, built_site: Path) -> None:
        page.goto(address(built_site, PROCEDURE))
        before = page.evaluate(
            "Array.from(document.querySelector('article').children).filter(e => e.offsetHeight > 0).map(e => e.className)"
        )
        assert set(before[: before.index("safety")]) <= {"page-head", "draft", "out-of-use", "misfit"}

    def test_ten_messages_leave_room_for_the_work(self, page: Page, built_site: Path) -> None:
        page.goto(address(built_site, PROCEDURE))
        heights = [
            box["height"] for m in page.locator(".safety-message:visible").all() if (box := m.bounding_box())
        ]
        assert len(heights) >= 10
        assert sum(sorted(heights)[-10:]) < 1.5 * DESKTOP[1]

    @pytest.mark.parametrize("size", [DESKTOP, PHONE])
    def test_step_1_is_one_tap_away_and_no_message_is_hidden_for_it(
        self, open_page: Callable[..., Page], built_site: Path, size: tuple[int, int]
    ) -> None:
        page = open_page(size=size)
        page.goto(address(built_site, PROCEDURE) + "#machine=osmere-d24")
        messages = page.locator(".safety .safety-message")
        assert messages.count() == messages.locator("visible=true").count() >= 15
        way = page.locator(".jumps a", has_text=re.compile("^Steps$"))
        box = way.bounding_box()
        assert box is not None
        assert 0 < box["y"] < size[1] - 40  # on the first screen, below the first messages
        way.click()
        page.wait_for_function(
            "() => document.getElementById('step-1').getBoundingClientRect().top < innerHeight - 100"
        )
        assert page.evaluate("document.getElementById('steps').getBoundingClientRect().top") >= 0

    def test_every_danger_stands_on_the_first_screen(self, page: Page, built_site: Path) -> None:
        page.goto(address(built_site, PROCEDURE) + "#machine=osmere-d24")
        for message in page.locator('.safety .safety-message[data-signal-word="DANGER"]').all():
            box = message.bounding_box()
            assert box is not None
            assert box["y"] + box["height"] < DESKTOP[1] - 60

    def test_words_have_their_hues_and_their_contrast(self, page: Page, built_site: Path) -> None:
        seen = set()
        for path in (PROCEDURE, "symptoms/auger-does-not-turn.html"):
            page.goto(address(built_site, path))
            for word in HUES:
                for found in page.evaluate(COLOURS, f'[data-signal-word="{word}"] .signal-word'):
                    seen.add(word)
                    assert within(hue(found["behind"])[0], HUES[word]), found
                    assert found["color"] == ("rgb(0, 0, 0)" if word in BLACK_WORDS else "rgb(255, 255, 255)")
                    assert contrast(found["color"], found["behind"]) >= 4.5  # WCAG 2.2, 1.4.3
                    assert word in found["text"]
        assert seen == set(HUES)

    def test_meaning_never_rests_on_colour(self, page: Page, built_site: Path) -> None:
        page.goto(address(built_site, PROCEDURE))
        for message in page.locator("[data-signal-word]:visible").all():
            word = message.get_attribute("data-signal-word")
            assert message.locator(".signal-word").inner_text().strip() == word
            assert message.locator(".signal-word svg:visible").count() == (0 if word == "NOTICE" else 1)
            frame = message.evaluate(
                "e => [getComputedStyle(e).borderTopWidth, getComputedStyle(e).borderTopColor]"
            )
            assert float(frame[0].removesuffix("px")) >= 2
            assert contrast(frame[1], "rgb(255, 255, 255)") >= 3  # WCAG 2.2, 1.4.11

    @pytest.mark.parametrize(
        "path", [PROCEDURE, "symptoms/auger-does-not-turn.html", "index.html", "machines/osmere-d24.html"]
    )
    def test_the_hues_of_safety_are_used_for_nothing_else(
        self, page: Page, built_site: Path, path: str
    ) -> None:
        page.goto(address(built_site, path) + "#machine=osmere-d24")
        strays = {
            (colour, element)
            for colour, element in page.evaluate(SCREEN_COLOURS)
            if hue(colour)[1] > 0.35
            and any(within(hue(colour)[0], limits) for limits in HUES.values())
            and not colour.startswith("rgba(0, 0, 0, 0)")
        }
        # ink and petrol are too dark to have a hue that an eye names
        assert {s for s in strays if luminance(s[0]) > 0.02} == set()


class TestReading:
    def test_text_is_18_pixels_and_values_are_larger(self, page: Page, built_site: Path) -> None:
        page.goto(address(built_site, PROCEDURE) + "#machine=osmere-d24")
        size = "e => parseFloat(getComputedStyle(e).fontSize)"
        assert page.locator("body").evaluate(size) >= 18
        for step in page.locator(".do").all():
            assert step.evaluate(size) >= 18
        for value in page.locator(".value b:visible").all():
            assert value.evaluate(size) >= 20

    @pytest.mark.parametrize("path", [PROCEDURE, "values/auger-shear-bolt.torque.html", "parts/index.html"])
    def test_values_and_part_numbers_stand_at_7_to_1(self, page: Page, built_site: Path, path: str) -> None:
        page.goto(address(built_site, path))
        shown = page.evaluate(COLOURS, ".value b, .value small, b.number")
        assert shown
        assert [s for s in shown if contrast(s["color"], s["behind"]) < 7] == []

    def test_a_figure_is_never_parted_from_its_unit(self, phone_page: Page, built_site: Path) -> None:
        phone_page.goto(address(built_site, PROCEDURE))
        lines = phone_page.evaluate(LINES, ".value b, .value small, b.number")
        assert lines
        assert max(lines) == 1

    @pytest.mark.parametrize("path", KINDS_OF_PAGE)
    def test_axe_finds_nothing_to_object_to(
        self, page: Page, violations: Callable[[Page], dict[str, list[str]]], built_site: Path, path: str
    ) -> None:
        page.goto(address(built_site, path))
        assert violations(page) == {}
        page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
        assert violations(page) == {}
        page.evaluate("location.hash = '#theme=dark'")
        page.locator("html[data-theme=dark]").wait_for()
        assert violations(page) == {}
        page.set_viewport_size({"width": DESKTOP[0], "height": DESKTOP[1]})
        assert violations(page) == {}

    def test_axe_finds_nothing_with_a_machine_chosen(
        self, page: Page, violations: Callable[[Page], dict[str, list[str]]], built_site: Path
    ) -> None:
        for machine in ("osmere-d24", "tarnbrook-s20"):
            page.goto("about:blank")
            page.goto(address(built_site, PROCEDURE) + f"#machine={machine}")
            assert violations(page) == {}

    @pytest.mark.parametrize("size", [DESKTOP, (683, 384), PHONE])  # the second: 1366 by 768 at 200 %
    def test_the_keyboard_reaches_everything_and_nothing_covers_it(
        self, open_page: Callable[..., Page], built_site: Path, size: tuple[int, int]
    ) -> None:
        page = open_page(size=size)
        for path in (PROCEDURE, "symptoms/auger-does-not-turn.html"):
            page.goto(address(built_site, path) + "#machine=osmere-d24")
            seen = []
            for _ in range(90):
                page.keyboard.press("Tab")
                seen.append(page.evaluate(FOCUSED))
            assert len({words for _, words in seen}) > 40
            assert [words for visible, words in seen if not visible] == []  # WCAG 2.2, 2.4.11

    def test_the_keyboard_reaches_the_page_past_the_bar(self, page: Page, built_site: Path) -> None:
        page.goto(address(built_site, PROCEDURE))
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.className") == "skip"
        box = page.locator(".skip").bounding_box()
        assert box is not None
        assert box["y"] >= 0
        page.keyboard.press("Enter")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.closest('article') !== null")


class TestReach:
    @pytest.mark.parametrize("size", [DESKTOP, PHONE])
    @pytest.mark.parametrize(
        "path", [PROCEDURE, "index.html", "symptoms/index.html", "machines/osmere-d24.html"]
    )
    def test_a_gloved_finger_hits_what_it_aims_at(
        self, open_page: Callable[..., Page], built_site: Path, path: str, size: tuple[int, int]
    ) -> None:
        page = open_page(size=size)
        page.goto(address(built_site, path))
        small = page.evaluate(
            """() => Array.from(document.querySelectorAll(
                   'nav a, button, select, input, .tools a, .listing > li > a, .card li > a, .everything a, .before a, '
                   + '#symptoms li > a, #procedures li > a'))
               .filter(e => e.getClientRects().length > 0 && !e.classList.contains('md-toggle'))
               .map(e => [e.textContent, (e.closest('label') || e).getBoundingClientRect().height]).filter(([, height]) => height < 46)"""
        )
        assert small == []  # 48 px with the space between lines; WCAG 2.2, 2.5.8 asks for 24


LONG_FIGURES = ("procedures/replace-chain-case-chain.html", "causes/starter-lead-damaged-or-too-thin.html")


class TestNarrow:
    @pytest.mark.parametrize("width", [390, 320, 683])  # a phone; WCAG 2.2, 1.4.10; 1366 px at 200 %
    def test_nothing_has_to_be_moved_sideways(
        self, open_page: Callable[..., Page], built_site: Path, width: int
    ) -> None:
        page = open_page(size=(width, 844))
        over = {}
        for path in (*KINDS_OF_PAGE, *LONG_FIGURES):
            for hash_ in ("", "#machine=tarnbrook-s22e"):
                page.goto("about:blank")
                page.goto(address(built_site, path) + hash_)
                if excess := page.evaluate(SIDEWAYS):
                    over[path + hash_] = excess
        assert over == {}

    def test_the_head_of_a_phone_page_is_two_rows(self, phone_page: Page, built_site: Path) -> None:
        phone_page.goto(address(built_site, PROCEDURE))
        box = phone_page.locator(".site-find").bounding_box()
        assert box is not None
        assert box["y"] + box["height"] <= 130

    def test_the_chosen_machine_stays_in_sight(self, phone_page: Page, built_site: Path) -> None:
        phone_page.goto(address(built_site, PROCEDURE) + "#machine=osmere-d24&at=step-13")
        box = phone_page.locator("[data-machine-choice]").bounding_box()
        assert box is not None
        assert 0 <= box["y"] < 60
        shown = phone_page.evaluate("document.getElementById('step-13').getBoundingClientRect().top")
        assert shown >= box["y"] + box["height"]  # WCAG 2.2, 2.4.11: the bar does not cover it


class TestPaper:
    @pytest.fixture
    def sheet(self, open_page: Callable[..., Page], built_site: Path) -> Page:
        """A procedure as a printer gets it: A4 less its margins, 96 px to the inch."""
        page = open_page(size=(688, 1010))
        page.goto(address(built_site, PROCEDURE) + "#machine=osmere-d24")
        page.emulate_media(media="print")
        return page

    def test_what_only_a_screen_can_do_is_left_out(self, sheet: Page) -> None:
        for selector in (".site-bar", ".site-find", ".site-foot", ".jumps", ".skip", "button", "form"):
            assert sheet.locator(f"{selector}:visible").count() == 0, selector

    def test_machine_edition_and_title_head_each_sheet(self, sheet: Page) -> None:
        head = sheet.locator(".print-head")
        assert "Osmere D24: Replace an auger shear bolt" in head.inner_text()
        assert "edition" in head.inner_text()
        assert (
            head.evaluate("e => getComputedStyle(e).display") == "table-header-group"
        )  # repeated by browsers

    def test_safety_messages_are_whole_and_black_on_white(self, sheet: Page) -> None:
        messages = sheet.locator(".safety-message, .step-caution")
        assert messages.count() == messages.locator("visible=true").count() > 0
        for style in messages.evaluate_all(
            "all => all.map(e => { const s = getComputedStyle(e), w = getComputedStyle(e.querySelector('.signal-word'));"
            "return [s.breakInside, parseFloat(s.borderTopWidth) > 0, w.color, w.backgroundColor]; })"
        ):
            assert style == ["avoid", True, "rgb(0, 0, 0)", "rgba(0, 0, 0, 0)"]
        panels = sheet.locator(".signal").evaluate_all(
            "all => all.map(e => getComputedStyle(e).backgroundColor)"
        )
        assert set(panels) == {"rgba(0, 0, 0, 0)"}

    def test_steps_have_a_square_to_tick_and_stay_whole(self, sheet: Page) -> None:
        steps = sheet.locator("[data-step]:visible").evaluate_all(
            "all => all.map(e => { const box = getComputedStyle(e, '::after');"
            "return [getComputedStyle(e).breakInside, box.content, parseFloat(box.borderTopWidth) > 0]; })"
        )
        assert steps
        assert [s for s in steps if s != ["avoid", '""', True]] == []

    def test_values_have_two_framed_boxes_to_write_in(self, sheet: Page) -> None:
        boxes = sheet.locator("#values td:empty:visible").evaluate_all(
            "all => all.flatMap(e => ['::before', '::after'].map(p => { const s = getComputedStyle(e, p);"
            "return [parseFloat(s.width), parseFloat(s.height), parseFloat(s.borderTopWidth)]; }))"
        )
        assert boxes
        assert [b for b in boxes if b[0] < 75 or b[1] < 26 or b[2] <= 0] == []  # 20 mm by 7 mm

    def test_there_is_a_place_to_sign(self, sheet: Page) -> None:
        assert sheet.locator(".sign-off span:visible").count() == 5
        sheet.emulate_media(media="screen")
        assert not sheet.is_visible(".sign-off")

    def test_addresses_of_links_are_not_printed(self, sheet: Page) -> None:
        printed = sheet.locator("a:visible").evaluate_all(
            "all => all.map(e => getComputedStyle(e, '::after').content)"
        )
        assert set(printed) <= {"none", "normal"}

    @pytest.mark.parametrize("paper", ["A4", "Letter"])
    def test_a_bench_sheet_is_one_sheet_of_paper(self, sheet: Page, paper: str) -> None:
        assert sheets(sheet, paper) <= 2  # fifteen messages and twenty-one steps: longer than most

    @pytest.mark.parametrize("paper", ["A4", "Letter"])
    def test_normal_bench_sheets_are_two_pages_at_most(
        self, page: Page, built_site: Path, paper: str
    ) -> None:
        """Every sixth procedure here; `python -m tests.browser.sheets SITE` prints all of them."""
        counts = {
            path.stem: sheets(page, paper)
            for path in procedures_of(built_site)[::6]
            if open_on_its_machine(page, path)
        }
        assert len(counts) > 20
        assert {name for name, count in counts.items() if count > 2} <= LONG_WORK
        assert max(counts.values()) <= 3

    def test_further_sheets_bear_machine_edition_and_dangers(self, sheet: Page) -> None:
        """In the margin, where the browser can write there; Chromium of Debian can."""
        (rule,) = sheet.evaluate(
            "document.adoptedStyleSheets.map(s => Array.from(s.cssRules, r => r.cssText).join(' '))"
        )
        for said in (
            "Osmere D24: Replace an auger shear bolt",
            "edition",
            "DANGER: The auger and the impeller",
        ):
            assert said in rule
        second = PdfReader(io.BytesIO(sheet.pdf(format="A4"))).pages[1].extract_text()
        assert "Osmere D24: Replace an auger shear bolt" in second
        assert "DANGER: The auger and the impeller" in second

    def test_messages_keep_hazard_consequence_and_avoidance_on_paper(self, sheet: Page) -> None:
        for part in (".hazard", ".consequence", ".avoidance li"):
            shown = sheet.locator(f".safety .safety-message:visible {part}")
            assert shown.count() == shown.locator("visible=true").count() > 0
        # A step names what it repeats; what a DANGER asks for stands at its step too.
        told = sheet.locator(".step-caution:visible b[data-name]").first
        name = told.get_attribute("data-name")
        assert told.evaluate("e => getComputedStyle(e, '::after').content") in (
            f'"{name}"',
            "attr(data-name)",
        )
        full = sheet.locator('.step-caution[data-signal-word="DANGER"]:visible p > span:not(.signal-word)')
        assert full.count() == full.locator("visible=true").count() > 0

    def test_the_whole_procedure_prints_too(self, sheet: Page) -> None:
        sheet.evaluate("window.print = () => { window.printed = document.documentElement.dataset.print; }")
        sheet.emulate_media(media="screen")
        sheet.get_by_role("button", name="Print all of it").click()
        assert sheet.evaluate("window.printed") == "whole"
        sheet.emulate_media(media="print")
        avoid = sheet.locator(".step-caution:visible p > span:not(.signal-word)")
        assert avoid.count() == avoid.locator("visible=true").count() > 5
        assert sheet.locator("#why-safety").is_visible()
        size = "e => parseFloat(getComputedStyle(e).fontSize)"
        assert sheet.locator(".do").first.evaluate(size) >= 15  # 11.5 pt

    @pytest.mark.parametrize("paper", ["A4", "Letter"])
    def test_a_data_sheet_is_one_sheet_of_paper(self, page: Page, built_site: Path, paper: str) -> None:
        paths = sorted((built_site / "machines").glob("*.data-sheet.html"))
        counts = {}
        for path in paths:
            page.goto(path.as_uri())
            counts[path.stem] = sheets(page, paper)
        assert len(counts) > 3
        assert max(counts.values()) <= 2, counts

    def test_nothing_runs_over_the_edge_of_the_sheet(self, sheet: Page) -> None:
        assert (
            sheet.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
        )


@pytest.mark.parametrize("motion", ["reduce", "no-preference"])
def test_nothing_moves_by_itself(page: Page, built_site: Path, motion: Any) -> None:
    page.emulate_media(reduced_motion=motion)
    moving = {}
    for path in KINDS_OF_PAGE:
        page.goto(address(built_site, path) + "#machine=osmere-d24")
        if found := page.evaluate(MOVING):
            moving[path] = found[:5]
    assert moving == {}


def test_forced_colours_keep_words_and_frames(page: Page, built_site: Path) -> None:
    page.emulate_media(forced_colors="active")
    page.goto(address(built_site, PROCEDURE))
    frames: list[Any] = page.locator(".safety-message").evaluate_all(
        "all => all.map(e => [getComputedStyle(e).borderTopStyle, getComputedStyle(e.querySelector('.signal')).borderTopStyle])"
    )
    assert frames
    assert [f for f in frames if f != ["solid", "solid"]] == []
    for word in page.locator(".safety .signal-word").all():
        box = word.bounding_box()
        assert box is not None
        assert box["height"] < 32, word.inner_text()  # on one line


def test_styles_need_nothing_that_the_oldest_browsers_lack() -> None:
    text = re.sub(r"/\*.*?\*/", "", STYLES.read_text(encoding="utf-8"), flags=re.DOTALL)
    # Chromium 109 and Firefox 115, from the tables of MDN (from memory)
    for lacking in (
        ":has(",
        "color-mix(",
        "subgrid",
        "@layer",
        "@container",
        "text-wrap",
        "light-dark(",
        "&",
    ):
        assert lacking not in text, lacking
    assert "prefers-color-scheme" not in text  # light for everybody: glare and print decide


def test_pages_forbid_the_network_and_inline_scripts(built_site: Path) -> None:
    for path in ("index.html", PROCEDURE, "using-this-manual.html", "404.html"):
        text = (built_site / path).read_text(encoding="utf-8")
        policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]+)"', text)
        assert policy is not None, path
        assert "default-src 'none'" in policy[1]
        assert "unsafe-inline" not in policy[1]
        # a block of data is run by no browser
        assert re.findall(r'<script(?![^>]*\bsrc=|[^>]*\btype="application/ld\+json")', text) == []
        assert re.findall(r"<style\b|\sstyle=|\son[a-z]+=", text) == []
        assert re.findall(r"<title>.*</title>", text) == re.findall(r"<title>[^<]+</title>", text)
