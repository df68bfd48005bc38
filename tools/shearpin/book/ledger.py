"""A ledger of reads: what each page was made from, so that the next build can tell which pages are still the same.

What is read is named by a key. An input (a record, a title) has a mark that changes with it. A derived answer (a value
resolved for a machine) is worked out from inputs and other answers; a page that read it changes only when the answer
does, not whenever something that the answer was made from does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import islice
from typing import Any, Final

from shearpin.book.comparing import Inputs, changed_inputs
from shearpin.book.joined import Deps, packed, renumbered, unpacked
from shearpin.book.keptanswers import packed_answer, unpacked_answer
from shearpin.book.marking import mark_of
from shearpin.book.numbering import ByFirst, Names, Numbers
from shearpin.book.past import Name, Noted, Past
from shearpin.model.handing import Handing

_UNKNOWN: Final = object()

_PART: Final = 4_096  # of what is handed over, for which there is room once more


class Ledger:
    """Numbers what is read, notes it, and keeps each derived answer once.

    `marks` gives the mark of an input by the first part of its name, `answers` works out what is derived; both take
    the other parts as arguments; `inputs_told` says what inputs follow from. Answers in
    `kept` are kept whole from one build to the next: those that every build asks for and that take long to work out.
    """

    def __init__(self, past: Past | None = None) -> None:
        self.inputs_told = Inputs()
        self.marks = self.inputs_told.marks
        self.answers: dict[str, Callable[..., Any]] = {}
        self._past = past or Past()
        self._names = Names(self._past)
        self.alone = self._names.beginning()
        """The numbers of names of one part."""
        self._known: list[Any] = self._names.slots(_UNKNOWN)  # answers by their number
        self._reads: dict[int, Deps] = {}
        self._results: dict[int, bytes] = {}
        self.now: set[int] | None = None
        """The numbers of what is read for whatever is being worked out now: whoever has a number adds it here."""
        self.kept: set[str] = set()
        self.clear: list[Callable[[], object]] = []
        """Each gives up what else was worked out, the reads of which it hands on."""
        self._values: dict[int, bytes] = {}
        self._new_marks: dict[int, bytes] | None = None
        self._marked: dict[int, bytes] = {}  # inputs of which another process found the mark
        self._judged: dict[int, bool] = {}
        self._doubtful: set[int] | None = None  # answers of before to which something that changed leads

    def numbers(self, *begin: str) -> Numbers:
        """Return the numbers of the names that begin with these parts and have one more."""
        return self._names.beginning(*begin)

    def number(self, *name: str) -> int:
        """Return the number of a name; what has one is among what the next build compares."""
        return self._names.number(name)

    def note(self, *name: str) -> None:
        """Note that something was read, for whatever is being worked out now."""
        if self.now is not None:
            self.now.add(self._names.number(name))

    def ask(self, *name: str) -> Any:
        """Return a derived answer, worked out once, and note that it was read."""
        return self._answer(self._names.number(name), name)

    def asked(self, kind: str) -> Callable[..., Any]:
        """Return what asks for answers of a kind by the other parts of their names."""
        by_first, known = ByFirst(self._names, kind), self._known

        # Here nothing is called that need not be: a build of 10,000 records comes by a million times.
        def ask(*others: str) -> Any:
            if len(others) != 2:
                return self.ask(kind, *others)
            first, last = others
            number = by_first[first][last]
            answer = known[number]
            if answer is _UNKNOWN:
                return self._answer(number, (kind, first, last))
            if self.now is not None:
                self.now.add(number)
            return answer

        return ask

    def _answer(self, number: int, name: Name) -> Any:
        if self.now is not None:
            self.now.add(number)
        answer = self._known[number]
        if answer is _UNKNOWN:
            answer = self._as_before(number)
            if answer is _UNKNOWN:
                answer = self._once_more(number, name)
            self._known[number] = answer
        return answer

    def _once_more(self, number: int, name: Name) -> Any:
        """Return an answer that is not at hand; nothing is noted anew of one that is as before: it is found in half the time."""
        if number < len(self._past) and not self._is_changed(number) and number not in self._results:
            outside, self.now = self.now, None
            try:
                return self.answers[name[0]](*name[1:])
            finally:
                self.now = outside
        known = self._known[number]  # where it had to be worked out to tell
        return known if known is not _UNKNOWN else self._worked_out(number, name)

    def _as_before(self, number: int) -> Any:
        """Return an answer that was kept whole and is still the same; `_UNKNOWN` where there is none."""
        if number in self._values:  # worked out by another process, or given up since
            return unpacked_answer(self._values[number])
        value = self._past.value(number)
        if value is None or number in self._results or self._is_changed(number):
            return _UNKNOWN
        return unpacked_answer(value)

    def _worked_out(self, number: int, name: Name) -> Any:
        outside, self.now = self.now, set()
        try:
            answer = self.answers[name[0]](*name[1:])
            self._reads[number] = packed(self.now)
        finally:
            self.now = outside
        self._results[number] = mark_of(answer)
        if name[0] in self.kept:
            self._values[number] = packed_answer(answer)
        return answer

    @contextmanager
    def reading(self) -> Iterator[set[int]]:
        """Collect the numbers of all that is read meanwhile, apart from what is being worked out around it."""
        outside, self.now = self.now, set()
        try:
            yield self.now
        finally:
            self.now = outside

    def hand_on(self, read: Iterable[int]) -> None:
        """Note again what was read when something was made that is now used once more."""
        if self.now is not None:
            self.now.update(read)

    def changed(self) -> frozenset[int]:
        """Return the numbers of what an earlier build read, and what is different now."""
        found = set(self.inputs())
        if found:
            found.update(number for number in sorted(self._in_doubt()) if self._is_changed(number))
        return frozenset(found)

    @property
    def past(self) -> Past:
        """What an earlier build noted."""
        return self._past

    def inputs(self) -> Mapping[int, bytes]:
        """Return the new marks of inputs that have another mark than before, looked for once."""
        if self._new_marks is None:
            self._new_marks = changed_inputs(self._past, self.inputs_told)
        return self._new_marks

    def _is_changed(self, number: int) -> bool:
        """Tell whether an answer of the earlier build is another one now; it is worked out where what it read is different."""
        inputs, judged, doubtful = self.inputs(), self._judged, self._in_doubt()
        if number in judged or number not in doubtful:
            return judged.get(number, False)
        judged[number] = False  # an answer is never made from itself
        read = unpacked(self._past.read(number))
        answers = [each for each in read if each in doubtful]
        if not inputs.keys().isdisjoint(read) or any(map(self._is_changed, answers)):
            name = self._past.name(number)
            try:
                if number not in self._results:
                    self._known[number] = self._worked_out(number, name)
                judged[number] = self._results[number] != self._past.mark(number)
            except LookupError:  # it was about a record that is gone
                judged[number] = True
        return judged[number]

    def _in_doubt(self) -> set[int]:
        """Return the answers of before that were made from inputs that changed, straight or by way of others."""
        if self._doubtful is None:
            inputs = self.inputs()
            self._doubtful = self._past.reached_from(inputs) if inputs else set()
        return self._doubtful

    def forget_answers(self) -> None:
        """Give up the answers themselves, where pages are made; what they were made from stays noted.

        They take more room than all that is noted. Whoever asks for one later has it worked out again.
        """
        self._known[:] = [_UNKNOWN] * len(self._known)
        for clear in self.clear:
            clear()

    def present(self) -> Past:
        """Return what to keep for the next build."""
        past, results, settled = self._past, self._results, self._past.settled
        first = len(settled)
        known = {**self.inputs(), **results} if first else results
        marks = {**past.marks, **known} if first else {}
        others = {n: mark for n, mark in marks.items() if n < first and mark != settled.marks[n]}
        new_marks = [known.get(number, mark) for number, mark in enumerate(past.new_marks, first)]
        numbers = range(len(past), len(self._names))
        new_marks += [results.get(number) or self._mark(number) for number in numbers]
        reads = {**past.reads, **self._reads} if past.reads else self._reads
        if first:  # many answers are worked out again for other pages, and are as they were
            reads = {n: read for n, read in reads.items() if n >= first or read != settled.reads[n]}
        return Past(settled, self._names.groups(), new_marks, others, reads, {**past.values, **self._values})

    def _mark(self, number: int) -> bytes:
        """Return the mark of an input that has none of the past."""
        mark = self._marked.get(number)
        if mark is not None:
            return mark
        kind, *others = self._names[number]
        return self.marks[kind](*others)

    def noted(self) -> Noted:
        """Return how much is noted by now: what processes that part now have in common."""
        return Noted(len(self._names), len(self._reads), len(self._results), len(self._values))

    def hand_over(self, before: Noted, share: int, shares: int, to: Handing) -> None:
        """Hand over what this process noted for another one, which had noted as much as this when they parted: `before`.

        Of `shares` processes, the first of which takes over what the others found, this one finds the marks of its part of the
        inputs of before, and of all that it met since.
        """
        others = max(1, shares - 1)
        names, first, start = self._names.new, len(self._past), before.names
        to.put(start, self._names.since(start))
        own = (n for n in range(first, first + len(names)) if n >= start or n % others == share % others)
        marks = ((n, self._mark(n)) for n in own if names[n - first][0] in self.marks)
        since = (
            islice(found.items(), count, None)
            for found, count in zip((self._reads, self._results, self._values), before[1:], strict=True)
        )
        for kind, waiting in enumerate((*since, marks)):
            while some := dict(islice(waiting, _PART)):
                to.put(kind, some)
        to.put(None, {})

    def take_over(self, parts: Iterator[Any]) -> Sequence[int]:
        """Note what another process noted, which it handed over first of all; return the numbers here by its numbers."""
        start, names = next(parts)
        numbers = [*range(start), *map(self._names.number, names)]
        for kind, found in parts:
            if kind is None:
                break
            for number, what in found.items():
                here = numbers[number]
                if kind == 0 and here not in self._reads:  # many are, that both processes asked for
                    self._reads[here] = renumbered(what, numbers)
                elif kind:
                    (self._results, self._values, self._marked)[kind - 1].setdefault(here, what)
        return numbers
