"""Drawings as a small screen shows them: words large enough, none over another, none cut off."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from shearpin.book.drawing_rules import LEAST_TEXT, SHOWN_WIDTH
from tests.browser.harness import PHONE

OLD_BROWSER_TOO = True
FIGURES = Path(__file__).resolve().parents[2] / "kb" / "figures"

WORDS = """() => Array.from(document.querySelectorAll('svg'), (svg) => {
    const frame = svg.getBoundingClientRect();
    return {id: svg.id, words: Array.from(svg.querySelectorAll('text'), (word) => {
        const box = word.getBoundingClientRect(), scale = frame.width / svg.viewBox.baseVal.width;
        return {text: word.textContent, size: parseFloat(getComputedStyle(word).fontSize) * scale,
            left: box.left - frame.left, right: frame.right - box.right, top: box.top - frame.top, bottom: frame.bottom - box.bottom,
            box: [box.left, box.top, box.right, box.bottom]};
    })};
})"""


@pytest.fixture
def drawings(page: Page) -> list[dict[str, Any]]:
    """All drawings at the width of a small screen, as they were measured."""
    body = "".join(
        f'<div style="width:{SHOWN_WIDTH}px">{path.read_text(encoding="utf-8").replace("<svg ", f"<svg id={path.stem!r} ", 1)}</div>'
        for path in sorted(FIGURES.glob("*.svg"))
    )
    page.set_content(f"<!doctype html><meta charset='utf-8'><body>{body}")
    measured: list[dict[str, Any]] = page.evaluate(WORDS)
    assert len(measured) >= 24
    return measured


def test_words_can_be_read(drawings: list[dict[str, Any]]) -> None:
    small = [(d["id"], w["text"]) for d in drawings for w in d["words"] if w["size"] < LEAST_TEXT]
    assert small == []


def test_no_word_is_cut_off(drawings: list[dict[str, Any]]) -> None:
    sides = ("left", "right", "top", "bottom")
    cut = [(d["id"], w["text"]) for d in drawings for w in d["words"] if min(w[side] for side in sides) < 0]
    assert cut == []


def test_no_word_stands_over_another(drawings: list[dict[str, Any]]) -> None:
    over = [
        (drawing["id"], one["text"], other["text"])
        for drawing in drawings
        for number, one in enumerate(drawing["words"])
        for other in drawing["words"][:number]
        if _common(one["box"], other["box"])
    ]
    assert over == []


def _common(one: list[float], other: list[float]) -> bool:
    """Tell whether two boxes share ground; line boxes touch by a little white above and below their letters."""
    left, top = max(one[0], other[0]), max(one[1], other[1])
    right, bottom = min(one[2], other[2]), min(one[3], other[3])
    return right - left > 1 and bottom - top > 4


def test_pages_show_drawings_as_wide_as_the_rule_takes_them(page: Page, built_site: Path) -> None:
    page.set_viewport_size({"width": 390, "height": PHONE[1]})
    page.goto((built_site / "systems" / "auger-drive.html").as_uri())
    widths = page.evaluate(
        "Array.from(document.querySelectorAll('figure img'), (image) => image.clientWidth)"
    )
    assert widths
    assert min(widths) >= SHOWN_WIDTH - 2  # its border
