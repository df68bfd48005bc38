"""Questions made from the reviewed records of an edition; the same records and seed give the same questions."""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.book.review import ReviewState
from shearpin.book.values import ResolvedValue
from shearpin.diagnosis.model import build_model
from shearpin.diagnosis.plan import make_plan
from shearpin.model.editions import Quiz
from shearpin.model.fields import Plate
from shearpin.model.quantity import dual_text
from shearpin.site.interface import signal_word
from shearpin.site.view import address

MAX_OPTIONS: Final = 4
_ENOUGH: Final = 3  # options of a question about a figure; two alone would be a guess


@dataclass(frozen=True, slots=True)
class Question:
    """One question with its options, of which `options[answer]` is right, and the page that says so."""

    id: str
    family: str
    prompt: str
    options: tuple[str, ...]
    answer: int
    url: str
    page: str


def questions_of(packed: LinkedBook, quiz: Quiz, about: frozenset[Key] = frozenset()) -> tuple[Question, ...]:
    """Return the questions of an edition, families in turn, each family in the order the seed gives.

    What the course is `about`, the records that its contents choose themselves, is asked first.
    """
    families: dict[str, list[_Draft | _Later]] = defaultdict(list)
    for draft in _drafts(packed):
        families[draft.family].append(draft)
    for family in families.values():
        family.sort(key=lambda draft: (draft.key not in about, _rank(quiz.seed, draft.id)), reverse=True)
    chosen: list[_Draft] = []
    while len(chosen) < quiz.questions and any(families.values()):
        for family in families.values():
            if len(chosen) < quiz.questions:
                chosen.extend(_next_of(family))
    return tuple(_finished(draft, quiz.seed) for draft in chosen)


@dataclass(frozen=True, slots=True)
class _Draft:
    id: str
    family: str
    prompt: str
    right: str
    wrong: tuple[str, ...]
    key: Key
    page: str
    in_order: bool = False


@dataclass(frozen=True, slots=True)
class _Later:
    """A question that takes long to work out: only when its turn comes, and there may be none."""

    id: str
    family: str
    key: Key
    work_out: Callable[[], _Draft | None]


def _next_of(family: list[_Draft | _Later]) -> Iterator[_Draft]:
    """Take the next question off the end of a family; yield none where it has no more."""
    while family:
        draft = family.pop()
        found = draft if isinstance(draft, _Draft) else draft.work_out()
        if found is not None:
            yield found
            return


def _rank(seed: str, words: str) -> str:
    """Return what to sort by: chance that is the same on every computer and in every version of Python."""
    return hashlib.sha256(f"{seed}\0{words}".encode()).hexdigest()


def _finished(draft: _Draft, seed: str) -> Question:
    others = set(draft.wrong) - {draft.right}  # records may say the same words
    wrong = sorted(others, key=lambda option: _rank(seed, draft.id + option))[: MAX_OPTIONS - 1]
    options = [draft.right, *wrong]
    if not draft.in_order:
        options.sort(key=lambda option: _rank(seed, f"{draft.id} place {option}"))
    else:
        options.sort()
    return Question(
        draft.id, draft.family, draft.prompt, tuple(options), options.index(draft.right),
        address(*draft.key), draft.page,
    )  # fmt: skip


def _drafts(packed: LinkedBook) -> Iterator[_Draft | _Later]:
    yield from _values(packed)
    yield from _orders(packed)
    yield from _cautions(packed)
    yield from _plates(packed)
    yield from _next_tests(packed)


def _reviewed(packed: LinkedBook, *keys: Key) -> bool:
    return all(packed.reviews.of(*key).state in (ReviewState.REVIEWED, ReviewState.UNBOUND) for key in keys)


def _values(packed: LinkedBook) -> Iterator[_Draft]:
    """Yield questions for a figure of one machine, those of its sibling models as the wrong ones."""
    for name, value in packed.book.values.items():
        figures: dict[str, str] = {}
        for machine in packed.values.machines_with(name):
            found = packed.values.resolve(name, machine)
            if isinstance(found, ResolvedValue) and _reviewed(packed, ("value", name), found.holder):
                figures[machine] = dual_text(found.quantity)
        for machine, right in figures.items():
            wrong = tuple(sorted(set(figures.values()) - {right}))
            if len(wrong) + 1 >= _ENOUGH:
                title = packed.book.machines[machine].title
                prompt = f"{value.title}: which figure holds for the {title}?"
                yield _Draft(
                    f"value-{name}-{machine}", "value", prompt, right, wrong, ("value", name), value.title
                )


def _orders(packed: LinkedBook) -> Iterator[_Draft]:
    """Yield questions for the step that follows another one, other steps of the same work as the wrong ones."""
    for key, work in packed.book.work():
        steps = getattr(work, "steps", ())
        texts = [plain_text(packed, step.do) for step in steps]
        if len(texts) < MAX_OPTIONS + 1 or not _reviewed(packed, key) or any(s.applies_to for s in steps):
            continue
        for number in range(len(texts) - 1):
            wrong = tuple(t for i, t in enumerate(texts) if i not in (number, number + 1))
            if texts[number + 1] not in wrong and texts[number] not in wrong:
                prompt = f"{work.title}. You have done this: “{texts[number]}” Which step comes next?"
                yield _Draft(
                    f"order-{key[1]}-{number + 1}", "order", prompt, texts[number + 1], wrong, key, work.title
                )


def _cautions(packed: LinkedBook) -> Iterator[_Draft]:
    """Yield questions for the first warning before a step; warnings that its page does not need are the wrong ones."""
    for key, work in packed.book.work():
        if not _reviewed(packed, key):
            continue
        needed = {item.id for item in packed.safety.required(*key)}
        others = [c for c in packed.book.cautions if c not in needed and _reviewed(packed, ("caution", c))]
        wrong = tuple(sorted(_message(packed, c) for c in others))
        for number, step in enumerate((*getattr(work, "steps", ()), *getattr(work, "finish", ())), 1):
            if not packed.applicability.machines_for(step.applies_to):
                continue
            cautions = packed.safety.of_step(step)
            if cautions and len(wrong) + 1 >= _ENOUGH and _reviewed(packed, ("caution", cautions[0])):
                prompt = (
                    f"{work.title}. Before this step, which safety message do you read first: "
                    f"“{plain_text(packed, step.do)}”"
                )
                right = _message(packed, cautions[0])
                yield _Draft(f"caution-{key[1]}-{number}", "caution", prompt, right, wrong, key, work.title)


def _message(packed: LinkedBook, caution_id: str) -> str:
    caution = packed.book.cautions[caution_id]
    return f"{signal_word(packed.book, caution.signal_word)}: {plain_text(packed, caution.hazard)}"


def _plates(packed: LinkedBook) -> Iterator[_Draft]:
    """Yield questions for the plate that orders a part."""
    words = {Plate.MACHINE: "The number on the machine plate", Plate.ENGINE: "The number on the engine plate"}
    for part_id, part in packed.book.parts.items():
        if part.numbers and _reviewed(packed, ("part", part_id)):
            prompt = f"You order this part: {part.title}. Which number do you give at the counter?"
            wrong = tuple(word for plate, word in words.items() if plate is not part.plate)
            yield _Draft(
                f"plate-{part_id}",
                "plate",
                prompt,
                words[part.plate],
                wrong,
                ("part", part_id),
                part.title,
                True,
            )


def _next_tests(packed: LinkedBook) -> Iterator[_Later]:
    """Yield questions for the test that a plan begins with."""
    for symptom_id, symptom in packed.book.symptoms.items():
        if not _reviewed(packed, ("symptom", symptom_id)):
            continue
        for machine in sorted(packed.applicability.machines_for(symptom.applies_to)):
            work_out = partial(_first_test, packed, symptom_id, machine)
            yield _Later(f"test-{symptom_id}-{machine}", "test", ("symptom", symptom_id), work_out)


def _first_test(packed: LinkedBook, symptom_id: str, machine: str) -> _Draft | None:
    """Return the question for one machine, the later tests of the plan as the wrong ones; None for a short plan."""
    plan = [planned.test for planned in make_plan(build_model(packed, symptom_id, machine)).tests]
    titles = [_title_of_work(packed, work) for work in plan]
    if len(titles) < _ENOUGH:
        return None
    title = packed.book.title("symptom", symptom_id)
    prompt = f"{title}, on the {packed.book.machines[machine].title}. Which test comes first?"
    return _Draft(
        f"test-{symptom_id}-{machine}", "test", prompt, titles[0], tuple(titles[1:]), ("symptom", symptom_id), title
    )  # fmt: skip


def _title_of_work(packed: LinkedBook, work_id: str) -> str:
    """Return the title of what a plan names: a test, or a procedure that may be tried."""
    return packed.book.title("test" if work_id in packed.book.tests else "procedure", work_id)
