"""The page of bench calculators in real browsers: the same figures as Python, and usable by hand and by ear."""

from __future__ import annotations

import json
import math
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from shearpin.mechanics.calculation import CalculationError, Input, Result
from shearpin.mechanics.calculations import CALCULATIONS, compute
from shearpin.model.quantity import QuantityKind, units_of
from tests.browser.harness import Firefox

OLD_BROWSER_TOO = True

TABLE: dict[str, Any] = json.loads(
    (Path(__file__).resolve().parents[1] / "mechanics" / "cases.json").read_text(encoding="utf-8")
)
TOUCH = 48
NUMBERS = (
    "0", "7", "24", "0.35", "12.625", ".5", "1 1/2", "3/8", "1½", "¾", "3,600", "1 200", "2,5", "-4", "−4", "1e3", "7.5.3", "20-24"
)  # fmt: skip
THREADS = (
    "M6",
    "M8x1",
    "m10 × 1.25",
    "1/4-20",
    "5/16-18 UNC",
    "#10-32",
    "3/8-16 UNC-2A",
    "1-1/4-7",
    "M6x20",
    "M7.5",
    "1/4",
    "x",
)

RUN = """jobs => jobs.map(([name, texts]) => {
  try { return window.shearpinBench.compute(name, texts) }
  catch (error) { if (!error.refusal) throw error; return { refusal: error.refusal } }
})"""


@pytest.fixture
def bench(page: Page, built_site: Path) -> Page:
    page.goto((built_site / "calculators.html").as_uri())
    return page


def _run(bench: Page, jobs: list[tuple[str, dict[str, str]]]) -> list[dict[str, Any]]:
    answers: list[dict[str, Any]] = bench.evaluate(RUN, jobs)
    return answers


def test_the_page_has_every_calculation(bench: Page) -> None:
    assert bench.evaluate("window.shearpinBench.names()") == [
        calculation.name for calculation in CALCULATIONS
    ]


def test_published_figures_come_out(bench: Page) -> None:
    cases = TABLE["cases"]
    for case, answer in zip(
        cases, _run(bench, [(case["name"], case["inputs"]) for case in cases]), strict=True
    ):
        values = {value["key"]: value for value in answer["values"]}
        for name, expected in case["outputs"].items():
            assert values[name]["unit"] == expected["unit"]
            if "within" in expected:
                assert values[name]["value"] == pytest.approx(
                    expected["value"], rel=0, abs=expected["within"]
                ), case
            else:
                assert values[name]["value"] == expected["value"], case
        assert answer["worked"] == case["worked"]
        assert answer["notes"] == case["notes"]


def test_refusals_say_the_same_as_on_a_terminal(bench: Page) -> None:
    refusals = TABLE["refusals"]
    for case, answer in zip(
        refusals, _run(bench, [(case["name"], case["inputs"]) for case in refusals]), strict=True
    ):
        assert answer["refusal"]["key"] == case["key"], case
        if case["name"] != "no-such-thing":
            _same(case["name"], case["inputs"], answer)


def _expected(name: str, texts: dict[str, str]) -> Result | dict[str, str]:
    """What Python makes of it: a result, or the refusal as the page gives it."""
    try:
        return compute(name, texts)
    except CalculationError as error:
        return {"key": error.key, "message": error.message, "hint": error.hint}


def _same(name: str, texts: dict[str, str], answer: dict[str, Any]) -> bool:
    """Check one answer of the page against Python's; return whether a result came out."""
    expected = _expected(name, texts)
    if not isinstance(expected, Result):
        assert answer.get("refusal") == expected, (name, texts)
        return False
    assert "refusal" not in answer, (name, texts, answer)
    assert answer["worked"] == expected.worked, (name, texts)
    assert answer["notes"] == list(expected.notes), (name, texts)
    for value, found in zip(expected.values, answer["values"], strict=True):
        assert (found["key"], found["unit"]) == (value.name, value.unit)
        if isinstance(value.value, str):
            assert found["value"] == value.value
        else:
            assert math.isclose(found["value"], value.value, rel_tol=1e-12, abs_tol=1e-12), (name, texts)
    return True


def _typed(item: Input, chance: random.Random) -> str:
    """A text that someone may type into a field, right or wrong."""
    if item.kind == "choice":
        return chance.choice([choice.name for choice in item.choices] + ["Grade 5", "8.8", "none"])
    if item.kind == "thread":
        return chance.choice(THREADS)
    kind = QuantityKind.RATIO if item.kind == "number" else QuantityKind(item.kind)
    unit = chance.choice(units_of(kind))
    strange = chance.choice(
        units_of(chance.choice([QuantityKind.MASS, QuantityKind.TORQUE, QuantityKind.LENGTH]))
    )
    spelt = chance.choice((unit.symbol, *unit.spellings))
    number, other = chance.choice(NUMBERS), chance.choice(NUMBERS)
    return chance.choice(
        [number, number, f"{number} {unit.symbol}", f"{number}{spelt}", f"{number} {spelt.upper()}", f"{number} ± {other} {unit.symbol}",
         f"≤ {number} {spelt}", f"{number} {strange.symbol}", f"about {number} {spelt}", f"{number} to {other} {spelt}", f"{number} ft 6 in",
         f"{number} zz", f"{number} {spelt} {other}", f" {number}  {spelt}. "]
    )  # fmt: skip


def test_anything_typed_gives_the_same_result_or_the_same_refusal(bench: Page) -> None:
    chance = random.Random(20261002)
    by_name: dict[str, list[dict[str, str]]] = {}
    for case in TABLE["cases"]:
        by_name.setdefault(case["name"], []).append(case["inputs"])
    jobs = []
    for _ in range(30):
        for calculation in CALCULATIONS:
            texts = dict(chance.choice(by_name[calculation.name]))
            for item in calculation.inputs:
                if chance.random() < 0.4:
                    texts[item.name] = _typed(item, chance)
            jobs.append((calculation.name, texts))
    results = sum(_same(*job, answer) for job, answer in zip(jobs, _run(bench, jobs), strict=True))
    assert 0.2 < results / len(jobs) < 0.8


def test_every_form_works_while_one_types(bench: Page) -> None:
    for calculation in CALCULATIONS:
        case = next(case for case in TABLE["cases"] if case["name"] == calculation.name)
        section = bench.locator(f"#{calculation.name}")
        section.locator("summary").click()
        status = section.get_by_role("status")
        expect(status).to_contain_text("Still needed: ")
        for item in calculation.inputs:
            text = case["inputs"].get(item.name)
            control = section.locator(f"#in-{calculation.name}-{item.name}")
            if text is not None and item.kind == "choice":
                names = (c.name for c in item.choices if text in (c.name, c.title, c.name.split()[-1]))
                control.select_option(next(names))
            elif text is not None:
                control.fill(text)
        expect(section.locator("[data-worked]")).to_have_text(case["worked"])
        assert section.locator(".calc-result dd").count() == len(calculation.outputs)
        assert status.get_attribute("aria-live") == "polite"
        assert section.locator(".calc-problem:visible").count() == 0
        section.locator("summary").click()


def test_a_wrong_text_is_marked_at_its_field_and_can_be_mended(bench: Page) -> None:
    section = bench.locator("#adapter-setting")
    section.locator("summary").click()
    torque, lever, adapter = (
        section.get_by_label(name)
        for name in ("torque at the fastener", "lever of the wrench", "length of the adapter")
    )
    torque.fill("20 lb")
    lever.fill("12 in")
    adapter.fill("2 in")
    problem = section.locator(".calc-problem:visible")
    expect(problem).to_have_text(
        "`lb` is a unit of mass, not of torque. A torque needs a distance too: write lbf·ft or lbf·in.".replace(
            "`", ""
        )
    )
    expect(torque).to_have_attribute("aria-invalid", "true")
    assert problem.get_attribute("id") in (torque.get_attribute("aria-describedby") or "").split()
    expect(section.get_by_role("status")).to_have_text("No result: see the field marked above.")
    torque.fill("20 lb-ft")
    expect(problem).to_have_count(0)
    assert torque.get_attribute("aria-invalid") is None
    expect(section.locator("[data-output='setting'] b")).to_have_text("23.24 N·m")
    expect(section.locator("[data-output='setting']")).to_contain_text("(17.1 lbf·ft)")


def test_a_half_typed_text_is_not_called_wrong_at_once(bench: Page) -> None:
    section = bench.locator("#torque-units")
    section.locator("summary").click()
    section.get_by_label("torque").fill("18 lbf")
    assert section.locator(".calc-problem:visible").count() == 0
    section.get_by_label("torque").fill("18 lbf·ft")
    bench.wait_for_timeout(900)
    assert section.locator(".calc-problem:visible").count() == 0
    expect(section.locator("[data-output='newton-metres'] b")).to_have_text("24.4 N·m")


def test_clearing_brings_the_form_back_to_its_start(bench: Page) -> None:
    section = bench.locator("#oil-mix")
    section.locator("summary").click()
    section.get_by_label("gasoline").fill("1 US gal")
    section.get_by_label("mix ratio").fill("50:1")
    expect(section.locator("[data-worked]")).to_have_count(1)
    section.get_by_role("button", name="Clear").click()
    expect(section.get_by_role("status")).to_have_text("Still needed: gasoline, mix ratio.")


def test_a_form_is_there_as_soon_as_its_calculation_is_opened(bench: Page) -> None:
    fields = bench.evaluate(
        """() => {
            document.querySelector('#belt-length summary').click();
            return document.querySelectorAll('#belt-length input').length;  // before any event of the opening
        }"""
    )
    assert fields == 3


def test_the_keyboard_alone_is_enough(bench: Page) -> None:
    bench.locator("#belt-length summary").focus()
    bench.keyboard.press("Enter")
    for text in ("150", "100", "300"):
        bench.keyboard.press("Tab")
        bench.keyboard.type(text)
    bench.keyboard.press("Enter")  # as people end a form
    expect(bench.locator("#belt-length [data-worked]")).to_have_text(
        "994.8 mm: pulleys 150 and 100 mm, centres 300 mm apart"
    )
    assert bench.url.endswith("calculators.html")


def test_a_worked_line_opens_its_calculator_filled_in(page: Page, built_site: Path) -> None:
    page.goto((built_site / "values" / "auger-shear-bolt.torque.html").as_uri() + "#machine=osmere-t28")
    line = page.locator("#worked a.worked:visible")
    expect(line).to_have_count(1)
    words = line.inner_text()
    line.click()
    page.wait_for_url("**/calculators.html**")
    expect(page.locator("#bolt-preload")).to_have_attribute("open", "")
    expect(page.locator("#bolt-preload [data-worked]")).to_have_text(words)
    assert page.evaluate("window.shearpinMachine.get()") == "osmere-t28"
    box = page.locator("#bolt-preload").bounding_box()
    assert box is not None
    assert 0 <= box["y"] < 200


def test_what_is_touched_is_large_enough_for_a_glove(phone_page: Page, built_site: Path) -> None:
    phone_page.goto((built_site / "calculators.html").as_uri())
    for name in ("bolt-preload", "leak-down", "torque-units"):
        phone_page.locator(f"#{name} summary").tap()
    controls = phone_page.locator(
        "details summary, details[open] input, details[open] select, details[open] button"
    )
    for control in controls.all():
        box = control.bounding_box()
        assert box is not None
        assert box["height"] >= TOUCH - 0.5, control.inner_text()
    width = phone_page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert width[0] <= width[1]


def test_open_calculators_break_no_rule_of_accessibility(
    bench: Page, violations: Callable[[Page], dict[str, list[str]]]
) -> None:
    for name in ("bolt-preload", "leak-down", "torque-units"):
        bench.locator(f"#{name} summary").click()
    bench.locator("#in-leak-down-cylinder-pressure").fill("90 psi")
    bench.locator("#in-leak-down-cylinder-pressure").blur()
    bench.locator("#in-torque-units-torque").fill("24")
    assert violations(bench) == {}


def test_without_scripts_the_formulas_stand_there(open_page: Callable[..., Page], built_site: Path) -> None:
    page = open_page(javascript=False)
    page.goto((built_site / "calculators.html").as_uri())
    expect(page.get_by_text("this browser runs no scripts")).to_be_visible()
    page.locator("#leak-down summary").click()
    expect(page.locator("#leak-down .facts")).to_contain_text("FAA AC 43.13-1B paragraphs 8-14 and 8-15")
    assert page.locator("form:not([role])").count() == 0


def test_it_works_below_an_awkward_path(page: Page, awkward_site: Path) -> None:
    page.goto(
        (awkward_site / "calculators.html").as_uri()
        + "?large=6%20in&small=4%20in&centre-distance=19%20in#belt-length"
    )
    expect(page.locator("#belt-length [data-worked]")).to_have_text(
        "1366 mm: pulleys 152.4 and 101.6 mm, centres 482.6 mm apart"
    )


def test_firefox_computes_and_refuses_the_same(firefox: Firefox, built_site: Path) -> None:
    jobs = [(case["name"], case["inputs"]) for case in (*TABLE["cases"], *TABLE["refusals"][:-1])]
    _, answers, _, _, worked = firefox.play(
        {"goto": (built_site / "calculators.html").as_uri() + "#oil-mix"},
        {"evaluate": f"({RUN})({json.dumps(jobs)})"},
        {"type": {"into": "#in-oil-mix-fuel", "text": "1 US gal"}},
        {"type": {"into": "#in-oil-mix-ratio", "text": "50"}},
        {"evaluate": "document.querySelector('#oil-mix [data-worked]').textContent"},
    )
    for job, answer in zip(jobs, answers, strict=True):
        _same(*job, answer)
    assert worked == "75.71 mL oil: 3.785 L gasoline at 50:1"
