"""What can be asked of the reviewed records of an edition, each with what is right and what is certainly wrong."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import islice
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.book.review import ReviewState
from shearpin.book.safety import condition_of
from shearpin.book.values import ResolvedValue
from shearpin.diagnosis.model import build_model
from shearpin.diagnosis.plan import make_plan, value_beginning_with
from shearpin.model.fields import Plate, Record
from shearpin.model.inline import Link, parse_inline
from shearpin.model.quantity import Quantity, dual_parts, dual_text
from shearpin.model.steps import Step
from shearpin.site.interface import signal_word

MAX_OPTIONS: Final = 4
_ENOUGH: Final = 3  # options of a question; two alone would be a guess
_NEAR: Final = (
    5  # steps around the right one of which the wrong ones are drawn: one far off gives itself away
)
_EITHER_PLATE: Final = "Either of the two: both lead to the same part"
_WORK: Final = frozenset({"procedure", "test"})
_CONDITIONS: Final = frozenset({"If", "Unless", "When", "Where", "Si", "Cuando", "Donde"})
"""Words a step begins with that hangs on a condition, in the languages of editions."""
_CLEARLY_WORSE: Final = 1.1
"""How much longer a plan that begins with another test must take, for that test to be called wrong; ours, no source."""


@dataclass(frozen=True, slots=True)
class Draft:
    id: str
    family: str
    prompt: str
    right: str
    wrong: tuple[str, ...]
    key: Key
    page: str
    in_order: bool = False


@dataclass(frozen=True, slots=True)
class Later:
    """A question that takes long to work out: only when its turn comes, and there may be none."""

    id: str
    family: str
    key: Key
    work_out: Callable[[], Draft | None]


def drafts_of(packed: LinkedBook) -> Iterator[Draft | Later]:
    yield from _values(packed)
    yield from _orders(packed)
    yield from _cautions(packed)
    yield from _plates(packed)
    yield from _next_tests(packed)


def _reviewed(packed: LinkedBook, *keys: Key) -> bool:
    return all(packed.reviews.of(*key).state in (ReviewState.REVIEWED, ReviewState.UNBOUND) for key in keys)


def _values(packed: LinkedBook) -> Iterator[Draft]:
    """Yield questions for a figure of one machine, those of its sibling models as the wrong ones."""
    for name, value in packed.book.values.items():
        figures: dict[str, Quantity] = {}
        for machine in packed.values.machines_with(name):
            found = packed.values.resolve(name, machine)
            if isinstance(found, ResolvedValue) and _reviewed(packed, ("value", name), found.holder):
                figures[machine] = found.quantity
        for machine, right in figures.items():
            kept = [right]
            for quantity in figures.values():
                if not any(also_right(quantity, other) for other in kept):
                    kept.append(quantity)
            if len(kept) >= _ENOUGH:
                wrong = tuple(dual_text(quantity) for quantity in kept[1:])
                title = packed.book.machines[machine].title
                prompt = f"{value.title}: which of these holds for the {title}?"
                key = ("value", name)
                yield Draft(
                    f"value-{name}-{machine}", "value", prompt, dual_text(right), wrong, key, value.title
                )


def also_right(quantity: Quantity, right: Quantity) -> bool:
    """Whether who works by a figure may not be wrong: one allows all that the other allows, or they read the same in one unit."""
    alike = {*dual_parts(quantity)} & {*dual_parts(right)} - {None}
    return bool(alike) or right.contains(quantity) or quantity.contains(right)


def _stands_alone(step: Step) -> bool:
    """Whether a step says by itself what is done: it neither sends to other work nor hangs on a condition."""
    calls = any(isinstance(piece, Link) and piece.kind in _WORK for piece in parse_inline(step.do))
    return not calls and step.do.split(maxsplit=1)[0] not in _CONDITIONS


def _orders(packed: LinkedBook) -> Iterator[Draft]:
    """Yield questions for the step that follows another one, the steps around it as the wrong ones."""
    for key, work in packed.book.work():
        steps = getattr(work, "steps", ())
        texts = [_words(packed, step) for step in steps]
        if len(texts) < MAX_OPTIONS + 1 or not _reviewed(packed, key) or any(s.applies_to for s in steps):
            continue
        plain = [
            number
            for number, step in enumerate(steps)
            if _stands_alone(step) and texts.count(texts[number]) == 1
        ]
        for number in plain:
            others = [i for i in plain if i not in (number, number + 1)]
            if number + 1 in plain and len(others) + 1 >= _ENOUGH:
                near = sorted(others, key=lambda i: (abs(i - number - 1), i))[:_NEAR]
                prompt = f"{work.title}. You have done this: “{texts[number]}” Which step comes next in the manual?"
                right, wrong = texts[number + 1], tuple(texts[i] for i in sorted(near))
                yield Draft(f"order-{key[1]}-{number + 1}", "order", prompt, right, wrong, key, work.title)


def _words(packed: LinkedBook, step: Step) -> str:
    """Return a step in words, with its figures where the edition is about one machine alone."""
    machines = packed.book.machines
    return plain_text(packed, step.do, next(iter(machines)) if len(machines) == 1 else None)


def _cautions(packed: LinkedBook) -> Iterator[Draft]:
    """Yield questions for the first warning before a step; warnings that its page does not need are the wrong ones."""
    for key, work in packed.book.work():
        if not _reviewed(packed, key):
            continue
        wrong = tuple(sorted(_message(packed, caution) for caution in _needless(packed, key, work)))
        for number, step in enumerate((*getattr(work, "steps", ()), *getattr(work, "finish", ())), 1):
            if not (packed.applicability.machines_for(step.applies_to) and _stands_alone(step)):
                continue
            cautions = packed.safety.of_step(step)
            if not cautions or packed.book.cautions[cautions[0]].applies_to is not None:
                continue  # which one is first depends on the machine
            if len(wrong) + 1 >= _ENOUGH and _reviewed(packed, ("caution", cautions[0])):
                prompt = (
                    f"{work.title}. Which safety message does the manual put first before this step: "
                    f"“{_words(packed, step)}”"
                )
                right = _message(packed, cautions[0])
                yield Draft(f"caution-{key[1]}-{number}", "caution", prompt, right, wrong, key, work.title)


def _needless(packed: LinkedBook, key: Key, work: Record) -> Iterator[str]:
    """Yield the warnings that could stand on the page of some work, for they hold on its machines, and do not."""
    needed = {item.id for item in packed.safety.required(*key)}
    here = packed.applicability.machines_for(condition_of(work))
    for caution_id, caution in packed.book.cautions.items():
        holds = packed.applicability.machines_for(caution.applies_to) & here
        if caution_id not in needed and holds and _reviewed(packed, ("caution", caution_id)):
            yield caution_id


def _message(packed: LinkedBook, caution_id: str) -> str:
    caution = packed.book.cautions[caution_id]
    return f"{signal_word(packed.book, caution.signal_word)}: {plain_text(packed, caution.hazard)}"


def _plates(packed: LinkedBook) -> Iterator[Draft]:
    """Yield questions for the plate that orders a part."""
    words = {Plate.MACHINE: "The number on the machine plate", Plate.ENGINE: "The number on the engine plate"}
    for part_id, part in packed.book.parts.items():
        if part.numbers and _reviewed(packed, ("part", part_id)):
            prompt = f"You order this part: {part.title}. Which number do you give at the counter?"
            wrong = (*(word for plate, word in words.items() if plate is not part.plate), _EITHER_PLATE)
            yield Draft(
                f"plate-{part_id}",
                "plate",
                prompt,
                words[part.plate],
                wrong,
                ("part", part_id),
                part.title,
                True,
            )


def _next_tests(packed: LinkedBook) -> Iterator[Later]:
    """Yield questions for the test that a plan begins with."""
    for symptom_id, symptom in packed.book.symptoms.items():
        if not _reviewed(packed, ("symptom", symptom_id)):
            continue
        for machine in sorted(packed.applicability.machines_for(symptom.applies_to)):
            work_out = partial(_first_test, packed, symptom_id, machine)
            yield Later(f"test-{symptom_id}-{machine}", "test", ("symptom", symptom_id), work_out)


def _first_test(packed: LinkedBook, symptom_id: str, machine: str) -> Draft | None:
    """Return the question for one machine, later tests of the plan as the wrong ones; None where too few are.

    A test with which the plan might as well begin is no wrong answer.
    """
    model = build_model(packed, symptom_id, machine)
    plan = [planned.test for planned in make_plan(model).tests]
    if len(plan) < _ENOUGH:
        return None
    clearly = value_beginning_with(model, plan[0]) * _CLEARLY_WORSE
    worse = (test for test in reversed(plan[1:]) if value_beginning_with(model, test) > clearly)
    wrong = tuple(_title_of_work(packed, test) for test in islice(worse, MAX_OPTIONS - 1))
    if len(wrong) + 1 < _ENOUGH:
        return None
    symptom = packed.book.symptoms[symptom_id]
    title, on = symptom.title, packed.book.machines[machine].title
    prompt = (
        f"{title}, on the {on}. The machine is out of use. Which test comes first?"
        if symptom.take_out_of_use
        else f"{title}, on the {on}. Which test comes first?"
    )
    right = _title_of_work(packed, plan[0])
    return Draft(f"test-{symptom_id}-{machine}", "test", prompt, right, wrong, ("symptom", symptom_id), title)


def _title_of_work(packed: LinkedBook, work_id: str) -> str:
    """Return the title of what a plan names: a test, or a procedure that may be tried."""
    return packed.book.title("test" if work_id in packed.book.tests else "procedure", work_id)
