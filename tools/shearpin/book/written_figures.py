"""Figures written out in a text, and the named values that say the same."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.values import ResolvedValue
from shearpin.book.wording import phrase, prose_of, sentences, without_braces, words_in
from shearpin.model.fields import AppliesTo, Record
from shearpin.model.inline import ValueMention, parse_inline
from shearpin.model.position import FieldPath
from shearpin.model.quantity import Quantity, QuantityError, QuantityKind, parse_quantity
from shearpin.model.steps import Work

_NUMBER: Final = r"\d+(?:[.,]\d+)?(?:\s?\d*/\d+)?"
_UNIT: Final = (
    r"N\s?[·.*]?\s?m|(?:lbf?|ft|in)[\s·.-]?(?:ft|in|lbf?)|(?:foot|inch)[\s-]pounds?|mm|cm|in|inch(?:es)?|µm|kPa|bar|psi"
    r"|rpm|r/min|mL|ml|cc|L|fl\.? ?oz|k?Ω|V|A"
)
_FIGURE: Final = re.compile(
    rf"(?<![\w.,/×-])(?:[≤≥]\s?)?{_NUMBER}(?:\s?(?:±|\+/?-|–|-|to)\s?{_NUMBER})?\s?(?:{_UNIT})(?![\w·/])"
)
_UNSPECIFIC: Final = frozenset(["minimum", "maximum", "limit", "pavement", "gravel", "intake", "exhaust"])
_SLACK: Final = 0.01  # for a figure that was converted and rounded


@dataclass(frozen=True, slots=True)
class WrittenFigure:
    """A figure in a text: where, of which quantity, and the values that may be meant, the likeliest first."""

    key: Key
    path: FieldPath
    offset: int
    text: str
    kind: QuantityKind
    quantity: Quantity
    names: tuple[str, ...]
    machines: frozenset[str]


class FigureFinder:
    """Finds figures in texts of one book; each text is read once, whatever the number of values."""

    def __init__(self, linked: LinkedBook) -> None:
        self._linked = linked
        self._book = linked.book
        self._subjects: dict[str, list[tuple[tuple[str, ...], str]]] = defaultdict(list)
        for name, value in self._book.values.items():
            titled = phrase(value.title.split(",")[0])
            for subject in {phrase(name.split(".")[0].replace("-", " ")), titled}:
                if subject:
                    self._subjects[subject[0]].append((subject, name))
        self._sought = {name: _attribute(name) for name in self._book.values}

    def figures(self) -> Iterator[WrittenFigure]:
        """Yield every figure that is written out where a value is, or may be, meant."""
        for key, record in self._book.records():
            if key[0] in ("source", "edition", "figure"):
                continue
            for path, text in prose_of(record):
                if any(map(str.isdigit, text)):
                    yield from self._in_text(key, record, path, text)

    def _in_text(self, key: Key, record: Record, path: FieldPath, text: str) -> Iterator[WrittenFigure]:
        plain = without_braces(text)
        for start, sentence in sentences(plain):
            for match in _FIGURE.finditer(sentence):
                raw = text[start : start + len(sentence)]
                found = self._figure(record, path, raw, sentence, match.group())
                if found is not None:
                    kind, quantity, names = found
                    machines = self._machines(key, record, path)
                    yield WrittenFigure(
                        key, path, start + match.start(), match.group(), kind, quantity, names, machines
                    )

    def _figure(
        self, record: Record, path: FieldPath, raw: str, sentence: str, figure: str
    ) -> tuple[QuantityKind, Quantity, tuple[str, ...]] | None:
        named = [piece.name for piece in parse_inline(raw) if isinstance(piece, ValueMention)]
        candidates = [*named, *self._said(sentence)]
        torque = _read(figure, QuantityKind.TORQUE)
        if torque is not None:
            candidates += self._of_record(record)
        for name in dict.fromkeys(candidates):
            value = self._book.values.get(name)
            quantity = _read(figure, value.quantity) if value is not None else None
            if value is not None and quantity is not None:
                return value.quantity, quantity, (name,)
        if torque is not None and isinstance(record, Work) and path[-1] in ("do", "confirm"):
            return QuantityKind.TORQUE, torque, ()
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
        here = self._linked.applicability.machines_for(getattr(record, "applies_to", None))
        if isinstance(record, Work) and len(path) > 1 and path[0] in ("steps", "finish"):
            step: AppliesTo | None = getattr(record, str(path[0]))[path[1]].applies_to
            here &= self._linked.applicability.machines_for(step)
        return here

    def against(self, figure: WrittenFigure) -> ResolvedValue | None:
        """Return the first recorded value, in order of machines, that the written figure contradicts."""
        for name in figure.names:
            for machine in sorted(figure.machines):
                value = self._linked.values.resolve(name, machine)
                if isinstance(value, ResolvedValue) and not _within(figure.quantity, value.quantity):
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
