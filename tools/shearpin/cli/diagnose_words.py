"""What a diagnosis says to people: titles, minutes, safety, what a result would mean, why a test comes next."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.diagnosis.model import CURED, ENGINE_COLD, DiagnosisModel, TestModel
from shearpin.diagnosis.plan import Plan, PlanNode
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.model.steps import Procedure, Step, Test

WIDTH = 96


def wrapped(text: str, indent: str = "", hanging: str | None = None) -> str:
    """Return text in lines that fit a terminal; `hanging` indents the second line and those after it."""
    rest = indent if hanging is None else hanging
    return textwrap.fill(text, WIDTH, initial_indent=indent, subsequent_indent=rest, break_on_hyphens=False)


def cause_title(linked: LinkedBook, cause_id: str) -> str:
    """Return what a cause is called."""
    if cause_id == SOMETHING_ELSE:
        return "something not in this book"
    cause = linked.book.causes.get(cause_id)
    return cause.title if cause is not None else cause_id


def work_of(linked: LinkedBook, test: TestModel) -> Test | Procedure:
    """Return the record of a test, or of the repair that is done as a trial."""
    return linked.book.procedures[test.id] if test.trial else linked.book.tests[test.id]


def test_title(linked: LinkedBook, test: TestModel) -> str:
    """Return what a test is called; a repair done as a trial says so."""
    title = work_of(linked, test).title
    return f"Trial repair: {title}" if test.trial else title


def opened_titles(linked: LinkedBook, names: Iterable[str]) -> str:
    """Return preparations and states in words."""
    words = []
    for name in names:
        procedure = linked.book.procedures.get(name)
        if procedure is not None:
            words.append(f"“{procedure.title}”")
        elif name == ENGINE_COLD:
            words.append("let the engine cool")
        else:
            words.append(name.replace("-", " "))
    return ", ".join(words)


def percent(chance: float) -> str:
    """Return a chance in whole percent, never 0 or 100."""
    return "under 1 %" if chance < 0.01 else f"{min(99, round(chance * 100))} %"


def safety_lines(linked: LinkedBook, kind: str, record_id: str, machine: str | None) -> Iterator[str]:
    """Yield the cautions a page requires that hold for the machine, the gravest first."""
    for item in linked.safety.required(kind, record_id):
        caution = linked.book.cautions[item.id]
        if linked.applicability.occurs((caution.applies_to,), machine):
            message = " ".join((caution.hazard, caution.consequence, *caution.avoidance))
            yield wrapped(f"{item.signal_word.value}: {plain_text(linked, message, machine)}", "  ", "    ")


def step_lines(linked: LinkedBook, steps: Sequence[Step], machine: str | None) -> Iterator[str]:
    """Yield numbered steps for a machine, each with its cautions before it."""
    number = 0
    for step in steps:
        if not linked.applicability.occurs((step.applies_to,), machine):
            continue
        number += 1
        for caution_id in linked.safety.of_step(step):
            caution = linked.book.cautions[caution_id]
            if linked.applicability.occurs((caution.applies_to,), machine):
                message = " ".join((caution.hazard, caution.avoidance[0]))
                yield wrapped(f"{caution.signal_word.value}: {plain_text(linked, message, machine)}", "     ")
        yield wrapped(f"{number:3}. {plain_text(linked, step.do, machine)}", "", "     ")
        for more in (step.confirm, step.note):
            if more is not None:
                yield wrapped(plain_text(linked, more, machine), "     ")


def result_texts(
    linked: LinkedBook, test: TestModel, machine: str | None
) -> list[tuple[str, str, str | None]]:
    """Return id, what is seen, and what to do then, for each result of a test."""
    record = work_of(linked, test)
    if isinstance(record, Test):
        return [
            (
                r.id,
                plain_text(linked, r.seen, machine),
                plain_text(linked, r.then, machine) if r.then else None,
            )
            for r in record.results
        ]
    return [
        (result, "The complaint is gone." if result == CURED else "The complaint is still there.", None)
        for result in test.results
    ]


def meaning(
    linked: LinkedBook, before: Mapping[str, float], after: Mapping[str, float], proven: str | None
) -> str:
    """Return what a result would make of the causes, in a line."""
    if proven is not None:
        return f"proves: {cause_title(linked, proven)} ({percent(after[proven])})"
    if max(abs(after[cause] - before[cause]) for cause in after) < 0.005:
        return "says nothing about the causes of this symptom"
    most = sorted(after, key=lambda cause: (-after[cause], cause))[:2]
    parts = [
        f"{cause_title(linked, cause)} {percent(before[cause])} → {percent(after[cause])}" for cause in most
    ]
    return "then " + "; ".join(parts)


def why_next(linked: LinkedBook, model: DiagnosisModel, plan: Plan, node: PlanNode) -> Iterator[str]:
    """Yield the reasons for the next test, each computed from the plan."""
    test = next(test for test in model.tests if test.id == node.test)
    item = next(item for item in plan.tests if item.test == node.test)
    proves = sum(branch.chance for branch in node.branches if branch.cause is not None)
    if test.as_found:
        yield "It can only be done while nobody has touched the machine."
    if proves >= 0.01:
        yield f"It proves a cause in {round(proves * 100)} of 100 cases like this one, and takes {item.minutes:.0f} min."
    else:
        yield f"It proves nothing by itself, but it tells what to look at after it; it takes {item.minutes:.0f} min."
    later = [other for other in plan.tests if other.test != node.test]
    shared = {name for name in node.opens if name in linked.book.procedures}
    users = [t for t in model.tests if t.id in {o.test for o in later} and shared & set(t.access)]
    if users:
        count = "one more test" if len(users) == 1 else f"{len(users)} more tests"
        yield f"What is opened for it ({opened_titles(linked, [n for n in node.opens if n in shared])}) serves {count} of the plan."
    quiet = [t for t in model.tests if not t.live and t.id in {o.test for o in later}]
    if test.live:
        rest = "quiet tests of like value went before it" if quiet else "no quiet test of like value is left"
        yield f"It puts energy into the machine; {rest}."
    if later:
        minutes = ", ".join(
            f"{test_title(linked, _of(model, o.test))} {o.minutes:.0f} min" for o in later[:2]
        )
        yield f"If it leaves the matter open, these may come next: {minutes}."


def _of(model: DiagnosisModel, test_id: str) -> TestModel:
    return next(test for test in model.tests if test.id == test_id)
