"""What the repair log says about the book: causes that surprise, slow tests, symptoms never seen."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from dataclasses import dataclass
from statistics import median
from typing import Final

from shearpin.diagnosis.history import History
from shearpin.diagnosis.priors import SOMETHING_ELSE, written_priors

LEVEL: Final = 0.05
"""What luck alone may bring in one symptom, or one test, out of twenty."""

_SLOWER: Final = 1.25  # a quarter more than the book says is worth a correction
_FAR: Final = 2.0


@dataclass(frozen=True, slots=True)
class Surprise:
    """A cause found more or less often than the writer's words leave room for.

    `luck` is the chance of a count at least as far off, were the words right.
    """

    symptom: str
    machines: tuple[str, ...]
    cause: str
    count: int
    total: int
    expected: float
    luck: float


@dataclass(frozen=True, slots=True)
class SlowTest:
    """A test that takes longer here than the book says; `slower` of `timed` times were above the book's minutes."""

    test: str
    book_minutes: float
    median_minutes: float
    slower: int
    timed: int


@dataclass(frozen=True, slots=True)
class Unlisted:
    """A cause of the book that was proven for a symptom which does not list it."""

    symptom: str
    cause: str
    count: int


@dataclass(frozen=True, slots=True)
class LogReport:
    """Everything the report tells."""

    repairs: int
    proven: int
    surprises: tuple[Surprise, ...]
    slow_tests: tuple[SlowTest, ...]
    unlisted: tuple[Unlisted, ...]
    without_history: tuple[str, ...]


def report(history: History) -> LogReport:
    """Return what the log says about the book."""
    book = history.linked.book
    proven = sum(repair.cause in book.causes or repair.cause == SOMETHING_ELSE for repair in history.repairs)
    seen = {repair.symptom for repair in history.repairs}
    return LogReport(
        len(history.repairs),
        proven,
        _surprises(history),
        _slow_tests(history),
        _unlisted(history),
        tuple(sorted(symptom for symptom in book.symptoms if symptom not in seen)),
    )


def _surprises(history: History) -> tuple[Surprise, ...]:
    """Return causes found at least twice or half as often as the words say, and too clearly for luck.

    An exact binomial test of each share; each symptom's level is shared by its causes (Bonferroni), so that many causes
    do not make many false surprises, and few repairs make none.
    """
    found = []
    for symptom in sorted({repair.symptom for repair in history.repairs}):
        if symptom not in history.linked.book.symptoms:
            continue
        for machines in _groups(history, symptom):
            words = written_priors(history.linked, history.linked.book.symptoms[symptom], machines[0])
            counts = history.counts(symptom, machines[0])
            total = sum(counts.values())
            for cause, chance in words.items():
                count = counts.get(cause, 0)
                luck = tail(count, total, chance)
                is_far = not chance * total / _FAR < count < chance * total * _FAR
                if is_far and luck < LEVEL / len(words):
                    found.append(Surprise(symptom, machines, cause, count, total, chance * total, luck))
    return tuple(sorted(found, key=lambda item: (item.luck, item.symptom, item.cause)))


def _groups(history: History, symptom: str) -> tuple[tuple[str, ...], ...]:
    """Return the machines of the symptom's repairs, those with the same possible causes together."""
    groups: dict[frozenset[str], list[str]] = defaultdict(list)
    for machine in sorted({repair.machine for repair in history.of(symptom)}):
        causes = history.causes_on(symptom, machine)
        if causes:
            groups[causes].append(machine)
    return tuple(tuple(group) for group in groups.values())


def tail(count: int, total: int, chance: float) -> float:
    """Return twice the chance of a count at least as far off on the same side, were `chance` right; at most 1."""
    side = range(count, total + 1) if count >= chance * total else range(count + 1)
    return min(1.0, 2.0 * math.fsum(_binomial(k, total, chance) for k in side))


def _binomial(k: int, n: int, p: float) -> float:
    """Return the chance of exactly k of n; in logarithms, for the coefficients of a long log exceed every float."""
    if p <= 0.0 or p >= 1.0:
        return float(k == (0 if p <= 0.0 else n))
    ways = math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)
    return math.exp(ways + k * math.log(p) + (n - k) * math.log1p(-p))


def _slow_tests(history: History) -> tuple[SlowTest, ...]:
    """Return tests slower than the book says: by a quarter in the median, and too often for luck (sign test)."""
    times: dict[str, list[int]] = defaultdict(list)
    for repair in history.repairs:
        for done in repair.tests:
            if done.minutes is not None and done.test in history.linked.book.tests:
                times[done.test].append(done.minutes)
    found = []
    for test, taken in sorted(times.items()):
        said = (history.linked.book.tests[test].time.si or 0.0) / 60.0
        slower = sum(minutes > said for minutes in taken)
        unlike = sum(minutes != said for minutes in taken)
        if median(taken) >= said * _SLOWER and _sign_test(slower, unlike) < LEVEL:
            found.append(SlowTest(test, said, float(median(taken)), slower, len(taken)))
    return tuple(sorted(found, key=lambda item: (item.book_minutes - item.median_minutes, item.test)))


def _sign_test(above: int, total: int) -> float:
    """Return the chance of at least so many of `total` above the median, were it right (exact, one-sided)."""
    return math.fsum(_binomial(k, total, 0.5) for k in range(above, total + 1))


def _unlisted(history: History) -> tuple[Unlisted, ...]:
    book = history.linked.book
    seen: Counter[tuple[str, str]] = Counter()
    for repair in history.repairs:
        symptom = book.symptoms.get(repair.symptom)
        listed = {suspect.cause for suspect in symptom.causes} if symptom is not None else set(book.causes)
        if repair.cause in book.causes and repair.cause not in listed:
            seen[repair.symptom, repair.cause] += 1
    return tuple(Unlisted(symptom, cause, count) for (symptom, cause), count in sorted(seen.items()))
