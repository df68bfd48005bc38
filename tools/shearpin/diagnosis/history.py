"""Chances sharpened by the repair log: what the shop found, weighed against the writer's words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from shearpin.book.book import Key
from shearpin.book.former import former_ids
from shearpin.book.linked import LinkedBook
from shearpin.book.marking import mark_of
from shearpin.diagnosis.beta import beta_quantile
from shearpin.diagnosis.priors import SOMETHING_ELSE, STRENGTH_OF_WORDS, counted_priors, written_priors
from shearpin.diagnosis.repair import NOT_PROVEN, Repair

INTERVAL: Final = 0.95
"""The credible interval: the share lies in it with this probability, and outside of it as likely below as above."""


@dataclass(frozen=True, slots=True)
class Learned:
    """The chance of one cause: `count` of `total` repairs here, posterior mean, and its credible interval."""

    count: int
    total: int
    chance: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class UnknownId:
    """An id of the log that the book does not have and never had under another name, and in how many repairs."""

    kind: str
    id: str
    count: int


class History:
    """The repairs of a log as this book sees them.

    Repairs count for a machine when they were done on machines on which the same causes of the symptom can occur: a shop
    that sees only wheels learns nothing about tracks from them.
    """

    def __init__(self, linked: LinkedBook, repairs: Iterable[Repair]) -> None:
        self.linked = linked
        repairs = tuple(repairs)
        former = former_ids(linked.book) if repairs else {}
        self.repairs = tuple(_with_todays_ids(former, repair) for repair in repairs)
        self._of_symptom: dict[str, list[Repair]] = {}
        for repair in self.repairs:
            self._of_symptom.setdefault(repair.symptom, []).append(repair)

    @cached_property
    def mark(self) -> str:
        """What tells this history from another; empty without repairs."""
        return mark_of(self.repairs).hex() if self.repairs else ""

    def of(self, symptom_id: str) -> tuple[Repair, ...]:
        """Return the repairs of a symptom, on whatever machine and whatever their cause."""
        return tuple(self._of_symptom.get(symptom_id, ()))

    def counts(self, symptom_id: str, machine_id: str | None) -> Counter[str]:
        """Return how often each cause was proven on machines like this one; on any machine without one.

        A cause of the book that is not listed for the symptom there counts as `something-else`, which it is to the
        model. A cause that the book does not know at all is not counted: it may be any of the listed ones, renamed.
        """
        repairs = self.of(symptom_id)
        if not repairs or symptom_id not in self.linked.book.symptoms:
            return Counter()
        possible = {machine: self.causes_on(symptom_id, machine) for machine in self.linked.book.machines}
        every = frozenset[str]().union(*possible.values())
        here = every if machine_id is None else possible[machine_id]
        found: Counter[str] = Counter()
        for repair in repairs:
            there = possible.get(repair.machine)
            if not there or (machine_id is not None and there != here):
                continue
            cause = self._as_counted(repair.cause, here)
            if cause is not None:
                found[cause] += 1
        return found

    def _as_counted(self, cause: str, here: frozenset[str]) -> str | None:
        if cause in here or cause == SOMETHING_ELSE:
            return cause
        return SOMETHING_ELSE if cause in self.linked.book.causes else None

    def causes_on(self, symptom_id: str, machine_id: str) -> frozenset[str]:
        """Return the causes of a symptom that can occur on a machine; none where the symptom cannot."""
        book, machines_for = self.linked.book, self.linked.applicability.machines_for
        symptom = book.symptoms[symptom_id]
        if machine_id not in machines_for(symptom.applies_to):
            return frozenset()
        return frozenset(
            suspect.cause
            for suspect in symptom.causes
            if suspect.cause in book.causes
            and machine_id in machines_for(suspect.applies_to)
            and machine_id in machines_for(book.causes[suspect.cause].applies_to)
        )

    def learned(self, symptom_id: str, machine_id: str | None) -> dict[str, Learned]:
        """Return what the log teaches of each cause of a symptom on a machine; nothing where no repair counts."""
        counts = self.counts(symptom_id, machine_id)
        if not counts:
            return {}
        words = written_priors(self.linked, self.linked.book.symptoms[symptom_id], machine_id)
        return learn(words, counts)

    @cached_property
    def unknown(self) -> tuple[UnknownId, ...]:
        """Ids that the book does not have; their repairs are kept and do not count."""
        book = self.linked.book
        seen: Counter[tuple[str, str]] = Counter()
        for repair in self.repairs:
            wanted = {("machine", repair.machine), ("symptom", repair.symptom)}
            if repair.cause not in (SOMETHING_ELSE, NOT_PROVEN):
                wanted.add(("cause", repair.cause))
            wanted.update(("test", done.test) for done in repair.tests)
            seen.update(key for key in wanted if key not in book.file_of)
        return tuple(UnknownId(kind, identifier, count) for (kind, identifier), count in sorted(seen.items()))


def _with_todays_ids(former: Mapping[Key, str], repair: Repair) -> Repair:
    """Return the repair with the ids that records have now; what no record ever was called stays as it is."""
    tests = tuple(replace(done, test=former.get(("test", done.test), done.test)) for done in repair.tests)
    return replace(
        repair,
        machine=former.get(("machine", repair.machine), repair.machine),
        symptom=former.get(("symptom", repair.symptom), repair.symptom),
        cause=former.get(("cause", repair.cause), repair.cause),
        tests=tests,
    )


def learn(words: Mapping[str, float], counts: Mapping[str, int]) -> dict[str, Learned]:
    """Return posterior means and credible intervals of shares, from chances in words and counts.

    Dirichlet-multinomial model: with Dirichlet parameters a_i = S·w_i (S the strength of the words, w_i their chances)
    and n_i of N counted, the mean of share i is (a_i + n_i)/(S + N), and the share is beta distributed with
    a_i + n_i and the rest (Gelman et al., Bayesian Data Analysis, section 3.4; from memory).
    """
    total = sum(counts.get(cause, 0) for cause in words)
    whole = STRENGTH_OF_WORDS + total
    tail = (1.0 - INTERVAL) / 2.0
    found = {}
    for cause, chance in counted_priors(words, counts).items():
        own, rest = chance * whole, (1.0 - chance) * whole
        if own <= 0.0 or rest <= 0.0:
            low = high = chance
        else:
            low, high = beta_quantile(tail, own, rest), beta_quantile(1.0 - tail, own, rest)
        found[cause] = Learned(counts.get(cause, 0), total, chance, low, high)
    return found
