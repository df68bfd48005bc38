"""The guide on symptoms' pages: the same chances and the same next test as Python, for hands, keyboard and ear."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.diagnosis.model import DiagnosisModel, alike, as_numbers, build_model
from shearpin.diagnosis.plan import make_plan, posterior
from shearpin.diagnosis.repair import Repair
from shearpin.diagnosis.repair_csv import read_csv
from tests.browser.harness import PHONE, Firefox

KB = Path(__file__).resolve().parents[2] / "kb"
SYMPTOM = "symptoms/one-side-of-auger-does-not-turn.html"
START = "symptoms/engine-cranks-but-will-not-start.html"
OUT_OF_USE = "symptoms/engine-will-not-stop.html"
STATES = 1000
TOUCH = 48

ASK = """jobs => jobs.map(([number, answers, skipped]) => {
  const numbers = window.prepared[number];
  const step = window.shearpinPlan.next(numbers, answers, skipped);
  return [step.test, step.proven, step.method, Array.from(window.shearpinPlan.posterior(numbers, answers))];
})"""


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB)


@pytest.fixture(scope="module")
def models(linked: LinkedBook) -> list[DiagnosisModel]:
    """Every symptom on every machine of the demo book, those alike once."""
    found = []
    for symptom_id, symptom in linked.book.symptoms.items():
        machines = sorted(linked.applicability.machines_for(symptom.applies_to))
        found += [build_model(linked, symptom_id, group[0]) for group in alike(linked, symptom_id, machines)]
    return found


def _states(models: list[DiagnosisModel]) -> list[tuple[int, list[tuple[str, str]], list[str]]]:
    """Random states: up to six tests done or out of reach, with results as a true cause would show them."""
    chance = random.Random(20261128)
    jobs: list[tuple[int, list[tuple[str, str]], list[str]]] = [(n, [], []) for n in range(len(models))]
    while len(jobs) < STATES:
        number = chance.randrange(len(models))
        tests = list(models[number].tests)
        chance.shuffle(tests)
        answers, skipped = [], []
        truth = chance.choice(list(models[number].priors))
        for test in tests[: chance.randrange(min(len(tests), 6) + 1)]:
            if chance.random() < 0.25:
                skipped.append(test.id)
            else:
                answers.append((test.id, chance.choices(test.results, test.likelihood[truth])[0]))
        jobs.append((number, answers, skipped))
    return jobs


def test_a_thousand_random_states_have_pythons_chances_and_next_test(
    page: Page, built_site: Path, models: list[DiagnosisModel]
) -> None:
    page.goto((built_site / SYMPTOM).as_uri())
    page.evaluate(
        "models => { window.prepared = models.map(window.shearpinPlan.prepare) }",
        list(map(as_numbers, models)),
    )
    jobs = _states(models)
    for (number, answers, skipped), (test, proven, method, chances) in zip(
        jobs, page.evaluate(ASK, jobs), strict=True
    ):
        seen = dict(answers)
        plan = make_plan(models[number], seen, skipped)
        place = (models[number].symptom, models[number].machine, answers, skipped)
        assert (test, proven, method) == (plan.tree.test if plan.tree else None, plan.proven, plan.method), (
            place
        )
        expected = posterior(models[number], seen)
        assert dict(chances) == pytest.approx(expected, abs=1e-9), place


def test_more_causes_than_one_number_can_hold_are_planned_alike(page: Page, built_site: Path) -> None:
    """Forty causes and forty tests: sets of the script then need more than one word of bits."""
    page.goto((built_site / SYMPTOM).as_uri())
    causes = [f"cause-{number:02}" for number in range(40)]
    priors = dict.fromkeys(causes, 0.9 / 40) | {"something-else": 0.1}
    from shearpin.diagnosis.model import TestModel

    tests = tuple(
        TestModel(
            f"test-{cause}",
            float(3 + place % 7),
            ("cover",) if place % 3 else (),
            False,
            ("yes", "no"),
            {other: (0.95, 0.05) if other == cause else (0.02, 0.98) for other in priors},
        )
        for place, cause in enumerate(causes)
    )
    model = DiagnosisModel("many", None, priors, tests, {"cover": 4.0})
    page.evaluate("m => { window.prepared = [window.shearpinPlan.prepare(m)] }", as_numbers(model))
    for answers in ([], [("test-cause-33", "yes")], [("test-cause-02", "no"), ("test-cause-35", "no")]):
        ((test, proven, method, _),) = page.evaluate(ASK, [(0, answers, ["test-cause-07"])])
        plan = make_plan(model, dict(answers), ["test-cause-07"])
        assert (test, proven, method) == (plan.tree.test if plan.tree else None, plan.proven, plan.method)


def test_the_numbers_beside_every_page_are_pythons(
    page: Page, built_site: Path, models: list[DiagnosisModel]
) -> None:
    page.goto((built_site / SYMPTOM).as_uri())
    shown = ""
    for model in models:
        if model.symptom != shown:
            shown = model.symptom
            page.evaluate((built_site / "symptoms" / f"{shown}.js").read_text(encoding="utf-8"))
        found: dict[str, Any] = page.evaluate(
            """machine => {
              const data = window.shearpinDiagnosisData;
              return window.shearpinWords.unpack(data, data.groups.find(group => group.machines.includes(machine)));
            }""",
            model.machine,
        )
        expected = as_numbers(model)
        for name in ("priors", "access_minutes", "start", "opened", "terms"):
            assert found[name] == expected[name], (model.symptom, name)
        keys = (
            "id",
            "minutes",
            "access",
            "classes",
            "likelihood",
            "results",
            "live",
            "runs",
            "as_found",
            "trial",
        )
        assert found["tests"] == [{key: test[key] for key in keys} for test in expected["tests"]]  # type: ignore[attr-defined]


@pytest.fixture
def guide(page: Page, built_site: Path) -> Page:
    page.goto((built_site / SYMPTOM).as_uri() + "#machine=osmere-d24")
    return page


def _next(page: Page) -> str | None:
    return page.locator("[data-next-test]").get_attribute("data-next-test")


def test_answers_lead_to_a_proof_with_cure_parts_and_job(guide: Page) -> None:
    guide.goto(guide.url + "&answers=shear-bolt-inspection*auger-bolt-broken")
    proven = guide.locator("[data-proven]")
    expect(proven).to_have_attribute("data-proven", "auger-shear-bolt-sheared")
    expect(proven).to_contain_text("OS-4471-20")
    expect(proven).to_contain_text("18 min with what is done before it")
    proven.get_by_role("link", name="Put it in the job").click()
    expect(guide.locator("[data-procedure]")).to_have_count(2)
    assert "machine=osmere-d24" in guide.url


def test_the_address_keeps_answers_for_a_colleague(guide: Page, open_page: Callable[..., Page]) -> None:
    guide.locator(".guide-answers button").nth(0).click()
    first = guide.locator(".guide-given li").all_inner_texts()
    assert len(first) == 1
    other = open_page()
    other.goto(guide.url)
    assert other.locator(".guide-given li").all_inner_texts() == first
    assert (
        other.locator(".guide-chances li").all_inner_texts()
        == guide.locator(".guide-chances li").all_inner_texts()
    )


def test_an_answer_can_be_undone_and_a_test_passed_over(guide: Page) -> None:
    before = _next(guide)
    chances = guide.locator(".guide-chances li").all_inner_texts()
    guide.get_by_role("button", name="I could not check this").click()
    assert _next(guide) != before
    assert guide.locator(".guide-chances li").all_inner_texts() == chances  # nothing was learned
    guide.get_by_role("button", name="Undo the last answer").click()
    assert _next(guide) == before
    assert "answers" not in guide.url


def test_cautions_stand_before_what_to_do_and_out_of_use_before_all(page: Page, built_site: Path) -> None:
    page.goto((built_site / OUT_OF_USE).as_uri() + "#machine=osmere-d24")
    order = page.locator("#guide").evaluate(
        """guide => Array.from(guide.querySelectorAll('.out-of-use, .guide-card > .step-caution, .guide-steps'),
             element => element.className)"""
    )
    assert order[0] == "out-of-use"
    assert order.index("guide-steps") > order.index("step-caution")
    assert "step-caution" not in order[order.index("guide-steps") :]
    words = page.locator(".guide-card > .step-caution .signal-word").all_inner_texts()
    assert words == sorted(words, key=["DANGER", "WARNING", "CAUTION", "NOTICE"].index)


def test_without_a_machine_the_guide_asks_for_it(page: Page, built_site: Path) -> None:
    page.goto((built_site / START).as_uri())
    page.locator("#guide").get_by_role("button", name="Osmere D24").click()
    expect(page.locator("[data-next-test]")).to_be_visible()
    assert page.locator("[data-machine-choice]").input_value() == "osmere-d24"


def test_a_machine_the_symptom_is_not_for_has_no_guide(page: Page, built_site: Path) -> None:
    page.goto((built_site / SYMPTOM).as_uri() + "#machine=osmere-r18")
    expect(page.locator("#guide")).to_be_hidden()


def test_answers_nobody_knows_are_told_and_left_out(guide: Page) -> None:
    guide.goto(
        guide.url + "&answers=no-such-test*yes_shear-bolt-inspection*purple_*_shear-bolt-inspection*all-whole"
    )
    expect(guide.locator(".guide-problem")).to_contain_text("no-such-test")
    expect(guide.locator(".guide-given li")).to_have_count(1)


def test_the_keyboard_alone_answers_and_the_change_is_told(guide: Page) -> None:
    first = guide.locator(".guide-answers button").nth(0)
    label = first.locator(".guide-seen").inner_text()
    first.focus()
    guide.keyboard.press("Enter")
    expect(guide.locator("#guide-ask")).to_be_focused()
    status = guide.locator("#guide > [role=status]")
    expect(status).to_contain_text(f"Kept: {label}")


def test_what_was_found_becomes_a_file_for_the_log(guide: Page) -> None:
    guide.goto(guide.url + "&answers=auger-free-turn-check*_shear-bolt-inspection*auger-bolt-broken")
    guide.get_by_text("Keep what was found").click()
    guide.fill("#kept-date", "2026-11-28")
    guide.fill("#kept-minutes", "9")
    with guide.expect_download() as download:
        guide.get_by_role("button", name="Save what was found").click()
    content = Path(download.value.path()).read_bytes()
    (repair,) = read_csv(content)
    assert isinstance(repair, Repair)
    assert (repair.date, repair.machine, repair.minutes) == ("2026-11-28", "osmere-d24", 9)
    assert [str(done) for done in repair.tests] == ["shear-bolt-inspection=auger-bolt-broken"]
    assert repair.cause == "auger-shear-bolt-sheared"


@pytest.mark.parametrize("state", ["", "&answers=shear-bolt-inspection*auger-bolt-broken"])
@pytest.mark.parametrize("size", [None, PHONE])
def test_the_guide_breaks_no_accessibility_rule(
    state: str,
    size: tuple[int, int] | None,
    open_page: Callable[..., Page],
    built_site: Path,
    violations: Callable[[Page], dict[str, list[str]]],
) -> None:
    page = open_page(size=size) if size else open_page()
    page.goto((built_site / SYMPTOM).as_uri() + "#machine=osmere-d24" + state)
    expect(page.locator(".guide-chances")).to_be_visible()
    page.wait_for_load_state("networkidle")
    assert violations(page) == {}
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    small = page.locator("#guide button:visible, #guide summary:visible").evaluate_all(
        "(all, touch) => all.filter(e => e.getBoundingClientRect().height < touch).map(e => e.textContent)",
        TOUCH,
    )
    assert small == []


def test_without_scripts_and_on_paper_the_chart_says_all(
    open_page: Callable[..., Page], built_site: Path
) -> None:
    page = open_page(javascript=False)
    page.goto((built_site / START).as_uri())
    expect(page.locator("#guide")).to_be_hidden()
    rows = page.locator("#plan tr[data-test]:visible")
    assert rows.count() > 5
    targets = page.locator("#plan .ways a").evaluate_all(
        "all => all.map(a => a.getAttribute('href').slice(1))"
    )
    assert targets
    assert page.evaluate("ids => ids.filter(id => !document.getElementById(id))", targets) == []
    page.emulate_media(media="print")
    expect(page.locator("#guide")).to_be_hidden()
    assert rows.first.is_visible()


def test_firefox_answers_alike(firefox: Firefox, built_site: Path) -> None:
    state = "#machine=osmere-d24&answers=shear-bolt-inspection*auger-bolt-broken"
    _, proven, parts = firefox.play(
        {"goto": (built_site / SYMPTOM).as_uri() + state},
        {"evaluate": "document.querySelector('[data-proven]').getAttribute('data-proven')"},
        {
            "evaluate": "new Promise(done => { const look = () => { const number = document.querySelector('#guide b.number');"
            " if (number) done(number.textContent); else setTimeout(look, 50); }; look(); })"
        },
    )
    assert (proven, parts) == ("auger-shear-bolt-sheared", "OS-4471-20")


def test_the_page_knows_the_first_test_of_every_group(
    page: Page, built_site: Path, models: list[DiagnosisModel]
) -> None:
    """Built in, so that an old PC need not work it out; the script alone comes to the same."""
    without = "number => window.shearpinPlan.next(window.prepared[number], []).test"
    given = "([number, first]) => window.shearpinPlan.next(window.prepared[number], [], [], first)"
    page.goto((built_site / SYMPTOM).as_uri())
    page.evaluate(
        "models => { window.prepared = models.map(window.shearpinPlan.prepare) }",
        list(map(as_numbers, models)),
    )
    firsts: dict[str, list[str]] = {}
    for number, model in enumerate(models):
        assert model.symptom is not None
        if model.symptom not in firsts:
            html = (built_site / f"symptoms/{model.symptom}.html").read_text(encoding="utf-8")
            found = re.search(r'data-first="([^"]*)"', html)
            assert found is not None, model.symptom
            firsts[model.symptom] = found[1].split()
        first = firsts[model.symptom].pop(0).removeprefix("-")
        assert (page.evaluate(without, number) or "") == first, (model.symptom, model.machine)
        step = page.evaluate(given, [number, first])
        assert (step["test"] or "") == first
    assert not any(firsts.values())


def test_the_steps_after_each_answer_are_worked_out_while_the_test_is_done(
    page: Page, built_site: Path
) -> None:
    page.goto((built_site / START).as_uri() + "#machine=osmere-d24")
    page.evaluate("""() => {
      const plan = window.shearpinPlan;
      const next = plan.next;
      window.asked = 0;
      plan.next = (...args) => { window.asked += 1; return next(...args); };
    }""")
    answers = page.locator(".guide-answers button")
    expect(answers.first).to_be_visible()
    # One more than the answers that prove nothing, at most: what is left is the test that could not be done.
    page.wait_for_function("count => window.asked >= count", arg=2)
    page.wait_for_timeout(2500)
    unproving = page.locator(".guide-answers button:not(:has-text('would prove'))").first
    assert unproving.evaluate("button => { window.asked = 0; button.click(); return window.asked; }") == 0
    expect(page.locator(".guide-given li")).to_have_count(1)
