"""A book with everything that follows from its records: links, applicability, values, required cautions."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import Any, TypeVar

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book, Key
from shearpin.book.links import Links, link, pointers_in
from shearpin.book.load import load_book
from shearpin.book.prose import ProseText, prose_of_book
from shearpin.book.readfiles import Reading
from shearpin.book.review import Reviews
from shearpin.book.safety import Safety
from shearpin.book.translations import TranslationFile, read_translations
from shearpin.book.values import Values
from shearpin.book.written_figures import WrittenFigure, find_figures
from shearpin.checks.rule import Groundwork
from shearpin.model.conditions import conditions_of
from shearpin.model.fields import AppliesTo
from shearpin.model.pointers import Pointers
from shearpin.model.position import FieldPath
from shearpin.model.reading import RecordFile
from shearpin.model.steps import Work

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class LinkedBook:
    """The book and its computed views, each worked out when first asked for."""

    book: Book
    keys: frozenset[Key] | None = None
    """The records that are asked about; None for all."""

    def remembered(
        self, name: str, work: Callable[..., Answer], *, kept: bool = False
    ) -> Callable[..., Answer]:
        """Return `work`, of which each answer is worked out once; `name` tells it from others, its arguments are text.

        `kept`: whoever keeps what a build found keeps the answers too, for the next build to take over.
        """
        known: Callable[..., Answer] | None = self._remembered.get(name)
        if known is None:
            known = self._remembered[name] = cache(work)
        return known

    @cached_property
    def _remembered(self) -> dict[str, Callable[..., Any]]:
        return {}

    def shared(self, work: Callable[..., Answer], kept: int | None = None) -> Callable[..., Answer]:
        """Return `work`, worked out once for the same arguments: for what many pages hold alike.

        Only the last `kept` answers stay in memory where that is given.
        """
        return lru_cache(maxsize=kept)(work)

    def once(self, work: Callable[[LinkedBook], Answer]) -> Answer:
        """Return `work(self)`, worked out once: what several rules look for. Nothing is noted of what it reads."""
        if work not in self._answers:
            self._answers[work] = work(self)
        answer: Answer = self._answers[work]
        return answer

    @cached_property
    def _answers(self) -> dict[Callable[[LinkedBook], object], Any]:
        return {}

    def laid(self, groundwork: Groundwork) -> Any:
        """Return a groundwork of rules, made once; unlike the answers of `once` it is not given up."""
        if groundwork not in self.groundworks:
            self.groundworks[groundwork] = groundwork.make(self)
        return self.groundworks[groundwork]

    @cached_property
    def groundworks(self) -> dict[Groundwork, Any]:
        """What has been laid: whoever knows of an earlier one puts it here, made again."""
        return {}

    def forget_for_rules(self) -> None:
        """Give up what none but rules look for; whoever asks for it later has it worked out again."""
        for view in ("prose", "written_figures"):
            vars(self).pop(view, None)
        self._answers.clear()

    def read_gists(self) -> LinkedBook:
        """Return the book for whatever hangs on the gists and standings of all records, on what is recorded, and on no more.

        Whoever watches what is read is told so once, and notes nothing of what is read of the book returned.
        """
        return self

    def read_bones(self, kind: str, record_id: str) -> None:
        """Tell whoever watches that all of a record but its wording is read."""

    @cached_property
    def links(self) -> Links:
        """References, and the same by target."""
        return link(self.book, self.pointers)

    @cached_property
    def pointers(self) -> Mapping[Key, Pointers]:
        """What every record points to: all of the references that is needed to find who points to one or two records."""
        return pointers_in(self.book)

    @cached_property
    def applicability(self) -> Applicability:
        """Which records hold for which machine."""
        return Applicability(self.book)

    def conditions_that(
        self, tell: Callable[[AppliesTo], bool]
    ) -> Iterator[tuple[Key, FieldPath, AppliesTo]]:
        """Yield every condition of which `tell` says so, of every record that is asked about, with its place; no other record is made."""
        book = self.book
        # By identity: a frozen record hashes all its fields anew each time. With each the condition, so that its
        # identity cannot pass to another.
        known: dict[int, tuple[AppliesTo, bool]] = {}

        def is_one(condition: AppliesTo | None) -> bool:
            if condition is None:
                return False
            found = known.get(id(condition))
            if found is None:
                found = known[id(condition)] = condition, tell(condition)
            return found[1]

        for key in book.all_keys() if self.keys is None else sorted(self.keys):
            if is_one(book.condition(*key)) or any(map(is_one, book.gist(*key).under)):
                record = book.get(*key)
                for path, condition in conditions_of(record) if record is not None else ():
                    if is_one(condition):
                        yield key, path, condition

    def asked(self, kind: str) -> Iterable[str]:
        """Return the ids of the records of a kind that are asked about, and that could be read."""
        there = self.book.of_kind(kind)
        if self.keys is None:
            return there
        return sorted(record_id for other, record_id in self.keys if other == kind and record_id in there)

    def asked_files(self) -> Iterator[RecordFile]:
        """Yield the file of every record that is asked about; of a whole book those that could not be read, too."""
        if self.keys is None:
            yield from self.book.files
        else:
            yield from (self.book.file_of[key] for key in sorted(self.keys) if key in self.book.file_of)

    def asked_work(self) -> Iterator[tuple[Key, Work]]:
        """Yield every procedure and test that is asked about with its key."""
        for procedure_id in self.asked("procedure"):
            yield ("procedure", procedure_id), self.book.procedures[procedure_id]
        for test_id in self.asked("test"):
            yield ("test", test_id), self.book.tests[test_id]

    @cached_property
    def safety(self) -> Safety:
        """Required cautions."""
        return Safety(self.book, self.applicability)

    @cached_property
    def prose(self) -> tuple[ProseText, ...]:
        """Every text that is written for the reader."""
        return prose_of_book(self.book, self.keys)

    def asks_about(self, kind: str) -> bool:
        """Whether one of the records that are asked about is of this kind."""
        return self.keys is None or kind in self._kinds

    @cached_property
    def _kinds(self) -> frozenset[str]:
        return frozenset(kind for kind, _ in self.keys or ())

    def about(self, keys: Collection[Key]) -> LinkedBook:
        """Return the book as it is, but as `prose`, `conditions_that` and what else is asked about, that of these records alone."""
        linked = LinkedBook(self.book, frozenset(keys))
        vars(linked).update(
            links=self.links,
            applicability=self.applicability,
            values=self.values,
            groundworks=self.groundworks,
        )
        return linked

    @cached_property
    def written_figures(self) -> tuple[WrittenFigure, ...]:
        """Figures that are written out in a text where a value is, or may be, meant."""
        asked = self.keys if self.keys is not None else self.book.all_keys()
        keys = {key for key in asked if self.book.gist(*key).figures}  # few; the others need not be made
        return find_figures(self.book, self.applicability, self.values, prose_of_book(self.book, keys))

    @cached_property
    def reviews(self) -> Reviews:
        """Whether the review of each record still holds."""
        return Reviews(self.book, self.safety)

    @cached_property
    def translations(self) -> tuple[TranslationFile, ...]:
        """Translation files of every language."""
        return read_translations(self.book.kb)

    @cached_property
    def values(self) -> Values:
        """Values per machine."""
        return Values(self.book, self.applicability)


def load_linked(
    kb: Path,
    shown: str | None = None,
    reading: Reading | None = None,
) -> LinkedBook:
    """Load the records below `kb`, as `load_book` does; raises `BookError` when the folder cannot be read."""
    return LinkedBook(load_book(kb, shown, reading))
