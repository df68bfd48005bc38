"""The diagnosis on symptoms' pages: the chart is the plan, and chances show what the shop counted."""

from __future__ import annotations

from pathlib import Path

import pytest
from bs4 import BeautifulSoup, Tag

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.diagnosis.history import History
from shearpin.diagnosis.model import build_model
from shearpin.diagnosis.plan import Branch, PlanNode, make_plan
from shearpin.diagnosis.repair import Repair
from shearpin.site.bodies.chart import result_words
from shearpin.site.bodies.knowledge import symptom
from shearpin.site.diagnosis_data import data_script
from shearpin.site.view import View

KB = Path(__file__).resolve().parents[2] / "kb"
SYMPTOM = "one-side-of-auger-does-not-turn"
BOLT = "auger-shear-bolt-sheared"
HTML_LIMIT = 64_000  # bytes of a page without its shell, scripts and pictures


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB)


def page(linked: LinkedBook, symptom_id: str, *repairs: Repair) -> BeautifulSoup:
    view = View(linked, "../", History(linked, repairs))
    return BeautifulSoup(symptom(view, symptom_id), "lxml")


def test_the_chart_follows_the_plan_from_box_to_box(linked: LinkedBook) -> None:
    """Walk both from the first test: every arrow leads to the test, or to the proof, that the plan has there."""
    rows = {row["id"]: row for row in page(linked, SYMPTOM).select("#plan tr[data-test]")}
    plan = make_plan(build_model(linked, SYMPTOM, "osmere-d24"))
    assert plan.tree is not None
    assert _walk(linked, rows, next(iter(rows.values())), plan.tree) > 5


def _walk(linked: LinkedBook, rows: dict[str, Tag], row: Tag, node: PlanNode) -> int:
    assert row["data-test"] == node.test
    assert row.select_one("td.minutes").get_text() == f"{node.minutes:.0f} min"
    ways = {item.b.get_text(): item for item in row.select(".ways li")}
    count = 0
    for branch in node.branches:
        way = next(item for words, item in ways.items() if _names(words, branch))
        arrow = way.select_one("a")
        if branch.cause is not None:
            assert linked.book.causes[branch.cause].title in way.get_text()
        elif arrow is not None:
            assert branch.then is not None
            count += _walk(linked, rows, rows[arrow["href"].removeprefix("#")], branch.then)
        else:
            assert "?" in way.get_text()  # a suspect, and what to do about it
        count += 1
    return count


def _names(words: str, branch: Branch) -> bool:
    return all(result_words(result) in words.split(" / ") for result in branch.results)


def test_pages_stay_light(linked: LinkedBook) -> None:
    view = View(linked, "../")
    sizes = {symptom_id: len(symptom(view, symptom_id).encode()) for symptom_id in linked.book.symptoms}
    assert {name: size for name, size in sizes.items() if size > HTML_LIMIT} == {}


def test_what_the_shop_counted_stands_beside_the_chance(linked: LinkedBook) -> None:
    repairs = [Repair("2026-11-28", "osmere-d24", SYMPTOM, (), BOLT)] * 17
    repairs += [Repair("2026-11-28", "osmere-d28", SYMPTOM, (), "auger-shaft-broken")] * 6
    found = page(linked, SYMPTOM, *repairs)
    cell = found.select_one(f'tr[data-cause="{BOLT}"] td.chance')
    words = cell.get_text(" ", strip=True)
    prior = build_model(linked, SYMPTOM, "osmere-d24").priors[BOLT]
    assert f"{(10 * prior + 17) / 33 * 100:.0f} %" in words
    assert "17 of 23 here" in words
    assert "95 % probability" in found.select_one("#causes").get_text()
    assert "17 of 23 here" in data_script(View(linked, "../", History(linked, repairs)), SYMPTOM)


def test_without_a_log_nothing_is_said_of_one(linked: LinkedBook) -> None:
    assert page(linked, SYMPTOM).select(".learned") == []
    assert "learned" not in data_script(View(linked, "../"), SYMPTOM)


def test_the_guide_is_hidden_until_a_script_fills_it(linked: LinkedBook) -> None:
    guide = page(linked, SYMPTOM).select_one("#guide")
    assert guide.has_attr("hidden")
    assert page(linked, SYMPTOM).select('.jumps a[href="#guide"]') == []
