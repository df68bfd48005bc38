"""Questions of a course pack: right by the records, the same from the same seed, from reviewed records only."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.plaintext import plain_text
from shearpin.book.values import ResolvedValue
from shearpin.diagnosis.model import build_model
from shearpin.diagnosis.plan import value_beginning_with
from shearpin.model.editions import Quiz
from shearpin.model.fields import Plate, Review
from shearpin.model.quantity import dual_text, parse_quantity
from shearpin.publish.issue import prepare_issue
from shearpin.publish.questions import also_right
from shearpin.publish.quiz import Question, questions_of
from shearpin.publish.teaching import paper_copy, quiz_page

ROOT = Path(__file__).resolve().parents[2]
ALL = Quiz.model_validate({"questions": "150", "seed": "autumn"})


@pytest.fixture(scope="module")
def demo() -> LinkedBook:
    return load_linked(ROOT / "kb", "kb")


@pytest.fixture(scope="module")
def questions(demo: LinkedBook) -> tuple[Question, ...]:
    return questions_of(demo, ALL)


def test_every_family_is_asked(questions: tuple[Question, ...]) -> None:
    counts = Counter(question.family for question in questions)
    assert set(counts) == {"value", "order", "caution", "plate", "test"}
    assert min(counts.values()) >= 10


def test_options_are_different_and_one_is_the_answer(questions: tuple[Question, ...]) -> None:
    for question in questions:
        assert len(set(question.options)) == len(question.options) >= 3
        assert 0 <= question.answer < len(question.options) <= 4


def test_steps_of_the_same_words_are_one_option(demo: LinkedBook) -> None:
    work = demo.book.procedures["replace-auger-shear-bolt"]
    same = tuple(step.model_copy(update={"do": work.steps[-1].do}) for step in work.steps[6:])
    files = tuple(
        type(f)(f.path, f.kind, f.id, work.model_copy(update={"steps": (*work.steps[:6], *same)}))
        if f.record is work
        else f
        for f in demo.book.files
    )
    few = Quiz.model_validate({"questions": "10", "seed": "autumn"})
    about = frozenset({("procedure", "replace-auger-shear-bolt")})
    asked = questions_of(LinkedBook(Book(demo.book.kb, "kb", files)), few, about)
    assert [q for q in asked if q.id.startswith("order-replace-auger-shear-bolt")]
    assert [q.id for q in asked if len(set(q.options)) < len(q.options)] == []


def test_answers_are_what_the_records_say(demo: LinkedBook, questions: tuple[Question, ...]) -> None:
    machines = sorted(demo.book.machines, key=len, reverse=True)
    for question in questions:
        right = question.options[question.answer]
        rest = question.id.removeprefix(f"{question.family}-")
        if question.family == "value":
            machine = next(m for m in machines if rest.endswith(m))
            found = demo.values.resolve(rest.removesuffix(f"-{machine}"), machine)
            assert isinstance(found, ResolvedValue)
            assert dual_text(found.quantity) == right
        elif question.family == "plate":
            plate = demo.book.parts[rest].plate
            assert ("engine" in right) == (plate is Plate.ENGINE)
        elif question.family in ("order", "caution"):
            name, _, number = rest.rpartition("-")
            work = demo.book.procedures.get(name) or demo.book.tests[name]
            if question.family == "order":
                assert plain_text(demo, work.steps[int(number)].do) == right
            else:
                step = (*work.steps, *work.finish)[int(number) - 1]
                first = demo.book.cautions[demo.safety.of_step(step)[0]]
                assert right == f"{first.signal_word.value}: {plain_text(demo, first.hazard)}"


def test_no_wrong_option_of_a_warning_is_needed_on_that_page(
    demo: LinkedBook, questions: tuple[Question, ...]
) -> None:
    for question in questions:
        if question.family == "caution":
            name = question.id.removeprefix("caution-").rpartition("-")[0]
            kind = "procedure" if name in demo.book.procedures else "test"
            needed = {
                plain_text(demo, demo.book.cautions[c.id].hazard) for c in demo.safety.required(kind, name)
            }
            for index, option in enumerate(question.options):
                if index != question.answer:
                    assert option.partition(": ")[2] not in needed


def test_a_figure_that_reads_the_same_or_allows_as_much_is_no_wrong_one() -> None:
    right = parse_quantity("2 in")
    assert also_right(parse_quantity("50 mm"), right), "both are shown as 50 mm"
    assert also_right(parse_quantity("0.65 ± 0.05 mm"), parse_quantity("0.60–0.70 mm"))
    assert also_right(parse_quantity("4–5 mm"), parse_quantity("3–6 mm"))
    assert not also_right(parse_quantity("0.70–0.80 mm"), parse_quantity("0.60–0.70 mm"))
    assert not also_right(parse_quantity("60 mm"), right)


def test_no_question_tells_the_answer_of_another(questions: tuple[Question, ...]) -> None:
    orders = [question for question in questions if question.family == "order"]
    for one in orders:
        for other in orders:
            assert one.url != other.url or f"“{other.options[other.answer]}”" not in one.prompt


def test_the_first_questions_are_about_different_things(questions: tuple[Question, ...]) -> None:
    asked = {
        family: [q for q in questions if q.family == family][:6] for family in ("value", "order", "test")
    }
    for family, first in asked.items():
        assert len({question.url for question in first}) == 6, family
    cautions = [q.options[q.answer] for q in questions if q.family == "caution"][:6]
    assert len(set(cautions)) == 6
    plates = [q.options[q.answer] for q in questions if q.family == "plate"][:6]
    assert Counter(plates).most_common(1)[0][1] == 3


def test_a_test_with_which_a_plan_may_as_well_begin_is_no_wrong_answer(
    demo: LinkedBook, questions: tuple[Question, ...]
) -> None:
    asked = next(question for question in questions if question.family == "test")
    symptom, machine = next(
        (symptom, machine)
        for symptom in demo.book.symptoms
        for machine in demo.book.machines
        if asked.id == f"test-{symptom}-{machine}"
    )
    model = build_model(demo, symptom, machine)
    titles = {
        demo.book.title("test" if t.id in demo.book.tests else "procedure", t.id): t.id for t in model.tests
    }
    minutes = [value_beginning_with(model, titles[option]) for option in asked.options]
    best = minutes.pop(asked.answer)
    assert min(minutes) > 1.1 * best


def test_steps_on_a_condition_or_in_other_work_are_not_asked_about(questions: tuple[Question, ...]) -> None:
    for question in questions:
        if question.family in ("order", "caution"):
            quoted = question.prompt.partition("“")[2]
            assert not quoted.startswith(("If ", "When ", "Where ", "Unless ", "Follow "))


def test_the_seed_decides(demo: LinkedBook, questions: tuple[Question, ...]) -> None:
    few = Quiz.model_validate({"questions": "12", "seed": "autumn"})
    assert questions_of(demo, few) == questions[:12]
    other = Quiz.model_validate({"questions": "12", "seed": "spring"})
    assert questions_of(demo, other) != questions_of(demo, few)


def test_records_that_nobody_has_reviewed_are_not_asked_about(demo: LinkedBook) -> None:
    draft = Review(state="draft")
    files = tuple(
        type(f)(f.path, f.kind, f.id, f.record.model_copy(update={"review": draft}))
        for f in demo.book.files
        if f.record is not None
    )
    assert questions_of(LinkedBook(Book(demo.book.kb, "kb", files)), ALL) == ()


def test_the_learner_gets_blanks_and_the_instructor_figures(project: Path) -> None:
    issue = prepare_issue(load_linked(project / "kb"), "shear-bolts", project / "mkdocs.yml", None)
    learner, instructor = (BeautifulSoup(paper_copy(issue, answers), "lxml") for answers in (False, True))
    assert "8 N·m" in instructor.table.text
    assert "8 N·m" not in learner.table.text
    assert learner.select("td.blank")
    assert not instructor.select("td.blank")
    assert len(instructor.select(".answer")) == len(instructor.select(".questions > li")) > 0
    assert not learner.select(".answer, .right")
    assert [p.text for p in learner.select(".questions > li > p")] == [
        p.text for p in instructor.select(".questions > li > p:first-child")
    ]


def test_questions_link_to_pages_of_the_manual(project: Path, published: Path) -> None:
    issue = prepare_issue(load_linked(project / "kb"), "shear-bolts", project / "mkdocs.yml", None)
    soup = BeautifulSoup(quiz_page(issue, "data/"), "lxml")
    links = [str(a["href"]) for a in soup.select("[data-page] a")]
    assert links
    for link in links:
        assert (published / "shear-bolts-1" / link).is_file(), link
    letters = [str(q["data-answer"]) for q in soup.select("[data-question]")]
    assert all(re.fullmatch("[ABCD]", letter) for letter in letters)


def test_what_the_course_is_about_is_asked_first(demo: LinkedBook) -> None:
    about = frozenset({("value", "auger-shear-bolt.torque"), ("part", "auger-shear-bolt")})
    few = Quiz.model_validate({"questions": "5", "seed": "autumn"})
    asked = {question.family: question.url for question in questions_of(demo, few, about)}
    assert asked["plate"] == "parts/auger-shear-bolt.html"
    assert asked["value"] == "values/auger-shear-bolt.torque.html"
