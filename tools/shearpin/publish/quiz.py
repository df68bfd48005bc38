"""The quiz of an edition: which questions are asked, in which order; the same records and seed give the same."""

from __future__ import annotations

import hashlib
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.model.editions import Quiz
from shearpin.publish.questions import MAX_OPTIONS, Draft, Later, drafts_of
from shearpin.site.view import address


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

    What the course is `about`, the records that its contents choose themselves, is asked first, and nothing a second time
    before everything else was asked once. No question tells the answer of another.
    """
    families: dict[str, list[Draft | Later]] = defaultdict(list)
    for draft in drafts_of(packed):
        families[draft.family].append(draft)
    for family in families.values():
        _put_in_turn(family, quiz.seed, about)
    chosen: list[Draft] = []
    while len(chosen) < quiz.questions and any(families.values()):
        for family in families.values():
            if len(chosen) < quiz.questions:
                chosen.extend(_next_of(family, chosen))
    return tuple(_finished(draft, quiz.seed) for draft in chosen)


def _put_in_turn(family: list[Draft | Later], seed: str, about: frozenset[Key]) -> None:
    """Sort a family so that the first to be asked comes last."""
    family.sort(key=lambda draft: _rank(seed, draft.id))
    before: Counter[object] = Counter()
    turns = {}
    for draft in sorted(family, key=lambda draft: draft.key not in about):  # stable: else as the seed has it
        theme = _theme(draft)
        turns[draft.id] = (draft.key not in about, before[theme])
        before[theme] += 1
    family.sort(key=lambda draft: turns[draft.id])
    family.reverse()


def _theme(draft: Draft | Later) -> object:
    """Return what should not be asked twice in a row: an answer that many questions share, else the record."""
    if isinstance(draft, Draft) and draft.family in ("caution", "plate"):
        return draft.right
    return draft.key


def _next_of(family: list[Draft | Later], chosen: Sequence[Draft]) -> Iterator[Draft]:
    """Take the next question off the end of a family; yield none where it has no more."""
    while family:
        draft = family.pop()
        found = draft if isinstance(draft, Draft) else draft.work_out()
        if found is not None and not any(_tells(found, other) or _tells(other, found) for other in chosen):
            yield found
            return


def _tells(draft: Draft, other: Draft) -> bool:
    """Whether a question says the answer of another: both ask for steps of the same work."""
    return draft.key == other.key and draft.family == other.family and f"“{other.right}”" in draft.prompt


def _rank(seed: str, words: str) -> str:
    """Return what to sort by: chance that is the same on every computer and in every version of Python."""
    return hashlib.sha256(f"{seed}\0{words}".encode()).hexdigest()


def _finished(draft: Draft, seed: str) -> Question:
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
