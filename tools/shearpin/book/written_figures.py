"""Figures written out in a text, and the named values that say the same."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book, Key
from shearpin.book.gist import UNIT_WRITTEN
from shearpin.book.prose import ProseText
from shearpin.book.values import ResolvedValue, Values
from shearpin.checks.wording import phrase, prose_of, sentences, without_braces, words_in
from shearpin.model.fields import AppliesTo, Record
from shearpin.model.inline import ValueMention, parse_inline
from shearpin.model.position import FieldPath
from shearpin.model.quantity import Quantity, QuantityError, QuantityKind, parse_quantity
from shearpin.model.steps import Work

_NUMBER: Final = r"\d+(?:[.,]\d+)?(?:\s?\d*/\d+)?"
_FIGURE: Final = re.compile(
    rf"(?<![\w.,/×-])(?:[≤≥]\s?)?{_NUMBER}(?:\s?(?:±|\+/?-|–|-|to)\s?{_NUMBER})?\s?(?:{UNIT_WRITTEN})(?![\w·/])"
)
_DIGIT: Final = re.compile(r"\d")
_NOT_READ: Final = ("source", "edition", "figure")  # their figures are those of others
_UNSPECIFIC: Final = frozenset(["minimum", "maximum", "limit", "pavement", "gravel", "intake", "exhaust"])
_SLACK: Final = 0.01  # for a figure that was converted and rounded


@dataclass(frozen=True, slots=True)
class WrittenFigure:
    """A figure in a text: where, the value that is meant, and the first recorded figure that it contradicts.

    `name` is None for a torque that no value names.
    """

    key: Key
    path: FieldPath
    offset: int
    text: str
    name: str | None
    against: ResolvedValue | None


def find_figures(
    book: Book, applicability: Applicability, values: Values, prose: Iterable[ProseText]
) -> tuple[WrittenFigure, ...]:
    """Return every figure that is written out where a value is, or may be, meant."""
    finder = _Finder(book, applicability, values)
    return tuple(
        figure
        for item in prose
        if _DIGIT.search(item.text) and item.key[0] not in _NOT_READ
        for figure in finder.in_text(item)
    )


class _Finder:
    """Each text is read once, whatever the number of values."""

    def __init__(self, book: Book, applicability: Applicability, values: Values) -> None:
        self._book = book
        self._applicability = applicability
        self._values = values

    @cached_property
    def _subjects(self) -> Mapping[str, list[tuple[tuple[str, ...], str]]]:
        """What values are of, by first word, with their names; most texts that are read again have no figure."""
        subjects: dict[str, list[tuple[tuple[str, ...], str]]] = defaultdict(list)
        for name in self._book.values:
            titled = phrase(self._book.title("value", name).split(",")[0])
            for subject in {phrase(name.split(".")[0].replace("-", " ")), titled}:
                if subject:
                    subjects[subject[0]].append((subject, name))
        return subjects

    @cached_property
    def _sought(self) -> Mapping[str, frozenset[str]]:
        return {name: _attribute(name) for name in self._book.values}

    def in_text(self, item: ProseText) -> Iterator[WrittenFigure]:
        """Yield the figures of one text."""
        record = self._book.get(*item.key)
        assert record is not None
        for start, sentence in sentences(without_braces(item.text)):
            raw = item.text[start : start + len(sentence)]
            for match in _FIGURE.finditer(sentence):
                found = self._meant(record, item.path, raw, sentence, match.group())
                if found is not None:
                    name, quantity = found
                    machines = self._machines(item.key, record, item.path)
                    against = self._against(name, quantity, machines) if name is not None else None
                    yield WrittenFigure(
                        item.key, item.path, start + match.start(), match.group(), name, against
                    )

    def _meant(
        self, record: Record, path: FieldPath, raw: str, sentence: str, figure: str
    ) -> tuple[str | None, Quantity] | None:
        named = [piece.name for piece in parse_inline(raw) if isinstance(piece, ValueMention)]
        candidates = [*named, *self._said(sentence)]
        torque = _read(figure, QuantityKind.TORQUE)
        if torque is not None:
            candidates += self._of_record(record)
        for name in dict.fromkeys(candidates):
            value = self._book.values.get(name)
            quantity = _read(figure, value.quantity) if value is not None else None
            if quantity is not None:
                return name, quantity
        if torque is not None and isinstance(record, Work) and path[-1] in ("do", "confirm"):
            return None, torque
        return None

    def _said(self, sentence: str) -> list[str]:
        """Return the values whose thing, and whose measure, a sentence names; the longest name first."""
        words = [word for word, _, _ in words_in(sentence)]
        here = set(words)
        found = []
        for index, word in enumerate(words):
            for subject, name in self._subjects.get(word, ()):
                if tuple(words[index : index + len(subject)]) == subject:
                    torque = self._book.values[name].quantity is QuantityKind.TORQUE
                    if torque or self._sought[name] & here:
                        found.append((-len(subject), name))
        return [name for _, name in sorted(found)]

    def _of_record(self, record: Record) -> Iterator[str]:
        """Yield the torques that a record is about: shown by it, of its parts, or of what its title names."""
        for _, text in prose_of(record):
            for piece in parse_inline(text):
                if isinstance(piece, ValueMention):
                    yield piece.name
        for use in getattr(record, "parts", ()):
            part = self._book.parts.get(getattr(use, "part", use))
            yield from part.values if part is not None else ()
        yield from self._said(record.title)

    def _machines(self, key: Key, record: Record, path: FieldPath) -> frozenset[str]:
        if key[0] == "machine":
            return frozenset({key[1]})
        if key[0] == "engine":
            return frozenset(m for m, machine in self._book.machines.items() if machine.engine == key[1])
        here = self._applicability.machines_for(getattr(record, "applies_to", None))
        if isinstance(record, Work) and len(path) > 1 and path[0] in ("steps", "finish"):
            step: AppliesTo | None = getattr(record, str(path[0]))[path[1]].applies_to
            here &= self._applicability.machines_for(step)
        return here

    def _against(self, name: str, written: Quantity, machines: frozenset[str]) -> ResolvedValue | None:
        for machine in sorted(machines):
            value = self._values.resolve(name, machine)
            if isinstance(value, ResolvedValue) and not _within(written, value.quantity):
                return value
        return None


def _attribute(name: str) -> frozenset[str]:
    """Return the words of which one must be said for a value's measure to be meant."""
    words = phrase(name.partition(".")[2].replace("-", " "))
    return frozenset(word for word in words if word not in _UNSPECIFIC)


def _read(text: str, kind: QuantityKind) -> Quantity | None:
    try:
        return parse_quantity(text, kind)
    except QuantityError:
        return None


def _within(written: Quantity, recorded: Quantity) -> bool:
    """Whether what is written lies in what is recorded."""
    low, high = recorded.low_si, recorded.high_si
    inner_low, inner_high = written.low_si, written.high_si
    if inner_low is None and inner_high is None:
        return True
    slack = _SLACK * max(abs(low or 0.0), abs(high or 0.0))
    above = low is None or inner_low is None or inner_low >= low - slack
    below = high is None or inner_high is None or inner_high <= high + slack
    return above and below
