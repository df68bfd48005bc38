"""A linked book that notes in a ledger what is read of it, so that each page can tell what it was made from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any, Final

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book, Key, Outline
from shearpin.book.gist import Gist
from shearpin.book.inputs import (
    BONES,
    ENGINE_OF,
    EXISTING,
    FACTS,
    GIST,
    MACHINES_FOR,
    REASONS_AGAINST,
    RECORD,
    RECORDED,
)
from shearpin.book.ledger import Ledger
from shearpin.book.linked import Answer, LinkedBook
from shearpin.book.links import Links
from shearpin.book.marks import marks_of
from shearpin.book.noted import NotedFiles, NotedRecords, note_when_asked_for
from shearpin.book.numbering import Numbers
from shearpin.book.review import Reviews, Standing, standing_without_digest
from shearpin.book.safety import RequiredCaution, Safety
from shearpin.book.values import Values
from shearpin.book.watched_applicability import WatchedApplicability
from shearpin.model.fields import AppliesTo
from shearpin.model.heading import Heading
from shearpin.model.kinds import KINDS

_RECORDING: Final = ("machine", "engine")
"""Kinds of records that say which values they record."""


class WatchedBook(Book):
    """A book that notes what is read of it. What is asked of the book as a whole counts as read from every record."""

    _plain: Book
    _ledger: Ledger
    _titles: Mapping[str, Numbers]

    def __init__(self, plain: Book, ledger: Ledger) -> None:
        by_kind = {kind: NotedRecords(ledger, kind, plain.of_kind(kind)) for kind in KINDS}
        files = NotedFiles(ledger, plain.file_of)
        own: dict[str, object] = {"kb": plain.kb, "shown": plain.shown, "_by_kind": by_kind, "file_of": files}
        own |= {"language": plain.language, "untranslated": plain.untranslated, "shortened": plain.shortened}
        titles = {kind: ledger.numbers("title", kind) for kind in KINDS}
        vars(self).update(own, _plain=plain, _ledger=ledger, _titles=titles)

    def has(self, kind: str, record_id: str) -> bool:
        """Whether there is such a record; no more than its title is noted."""
        self._ledger.note("title", kind, record_id)
        return self._plain.has(kind, record_id)

    def gist(self, kind: str, record_id: str) -> Gist:
        """Return the gist of a record, of which nothing else is noted."""
        self._ledger.note(GIST, kind, record_id)
        return self._plain.gist(kind, record_id)

    def condition(self, kind: str, record_id: str) -> AppliesTo | None:
        """Return for which machines a record is, and note its gist alone."""
        self._ledger.note(GIST, kind, record_id)
        return self._plain.condition(kind, record_id)

    def systems_of(self, kind: str, record_id: str) -> tuple[str, ...]:
        """Return the systems that a record belongs to, and note its gist alone."""
        self._ledger.note(GIST, kind, record_id)
        return self._plain.systems_of(kind, record_id)

    def summary(self, kind: str, record_id: str) -> str:
        """Return the sentence that lists show of a record, all of which is noted."""
        self._ledger.note(RECORD, kind, record_id)
        return self._plain.summary(kind, record_id)

    def heading(self, kind: str, record_id: str) -> Heading | None:
        """Return what is needed most of a record, all of which is noted."""
        self._ledger.note(RECORD, kind, record_id)
        return self._plain.heading(kind, record_id)

    def title(self, kind: str, record_id: str) -> str:
        """Return the title of a record, of which nothing else is noted."""
        now = self._ledger.now
        if now is not None:
            numbers = self._titles.get(kind)
            now.add(self._ledger.numbers("title", kind)[record_id] if numbers is None else numbers[record_id])
        return self._plain.title(kind, record_id)

    def outlines(self, kind: str) -> tuple[Outline, ...]:
        """Return what lists need of every record of a kind, and note no more than that."""
        self._ledger.note("outlines", kind)
        return self._plain.outlines(kind)


class _WatchedLinks(Links):
    """Links by target; the list of all of them counts as the whole book."""

    _plain: Links
    _ledger: Ledger

    def __init__(self, plain: Links, ledger: Ledger) -> None:
        vars(self).update(_plain=plain, _ledger=ledger)

    def origins(self, target: Key, kind: str | None = None) -> tuple[Key, ...]:
        if self._ledger.now is not None:  # of all kinds: who asks for one mostly asks for the others too
            self._ledger.now.add(self._ledger.numbers("origins", target[0])[target[1]])
        return self._plain.origins(target, kind)


class _WatchedValues(Values):
    """Values; each is an answer of its own, for every page shows many."""

    def __init__(self, book: Book, applicability: Applicability, ledger: Ledger) -> None:
        super().__init__(book, applicability)
        _ask_the_ledger(self, ledger, {"resolve": "value", "machines_with": "machines with"})


class _WatchedSafety(Safety):
    """Required cautions; each record's are an answer of their own, and that of `plain` too."""

    def __init__(self, book: Book, applicability: Applicability, ledger: Ledger, plain: Safety) -> None:
        super().__init__(book, applicability)
        self._plain, self._ledger = plain, ledger
        _ask_the_ledger(
            self,
            ledger,
            {
                "required": "required",
                "required_ids": "required ids",
                "_of_called": "work called",
                "_in_short": "of safety",
                "covering": "covering",
                "covered_by": "covered by",
                "tests_for": "tests for",
                "tests_of_cause": "tests of cause",
                "pages_with": "pages with",
            },
        )
        # Those of all records are asked for where the pages with each caution are found anew.
        ledger.kept |= {"tests of cause", "pages with", "required ids"}

    def _in_short(self, kind: str, record_id: str) -> tuple[Any, ...] | None:
        self._ledger.note(BONES, kind, record_id)
        if kind != "caution":
            self._ledger.note("title", kind, record_id)
        return self._plain._in_short(kind, record_id)

    def _find_covering(self, what: str) -> dict[str, tuple[str, ...]]:
        for caution_id in self._book.of_kind("caution"):
            self._ledger.note(BONES, "caution", caution_id)
        return self._plain._find_covering(what)

    def required(self, kind: str, record_id: str) -> tuple[RequiredCaution, ...]:
        found = super().required(kind, record_id)
        self._plain.keep(kind, record_id, found)
        return found


class _WatchedReviews(Reviews):
    """Standings, each an answer of its own."""

    def __init__(self, book: Book, safety: Safety, ledger: Ledger) -> None:
        super().__init__(book, safety)
        _ask_the_ledger(self, ledger, {"of": "review"})
        asked = self.of
        ledger.kept.add("review")  # the coverage asks for all

        def of(kind: str, record_id: str) -> Standing:
            # Only what a digest holds to takes long to find, and hangs on more than the gist.
            review = book.gist(kind, record_id).review
            found: Standing = standing_without_digest(review) or asked(kind, record_id)
            return found

        vars(self)["of"] = of


def _ask_the_ledger(owner: object, ledger: Ledger, names: Mapping[str, str]) -> None:
    """Put in the place of methods of `owner` what asks for their answers by a name: the ledger works each out once."""
    for method, name in names.items():
        ledger.answers[name] = getattr(owner, method)
        vars(owner)[method] = ledger.asked(name)


class WatchedLinked(LinkedBook):
    """A linked book that notes what is read of it, and gives the ledger the marks of its inputs."""

    _plain: LinkedBook
    _ledger: Ledger
    _all_gists: set[int] | None

    def __init__(self, plain: LinkedBook, ledger: Ledger) -> None:
        book = WatchedBook(plain.book, ledger)
        applicability = WatchedApplicability(plain.applicability, ledger)
        safety = _WatchedSafety(book, applicability, ledger, plain.safety)
        vars(self).update(
            book=book,
            applicability=applicability,
            safety=safety,
            links=_WatchedLinks(plain.links, ledger),
            values=_WatchedValues(book, applicability, ledger),
            reviews=_WatchedReviews(book, safety, ledger),
            _plain=plain,
            _ledger=ledger,
            _all_gists=None,
        )
        ledger.marks.update(marks_of(plain))
        told = ledger.inputs_told
        told.of_record, told.of_gists = {"title", BONES, GIST, RECORDED}, {"origins"}
        told.of_kinds = {"ids", "outlines"}
        told.of_facts = {MACHINES_FOR, REASONS_AGAINST, ENGINE_OF}
        if plain.book.is_whole and len(plain.book.file_of) == len(plain.book.files):
            told.ids_of = plain.book.ids_of_files

    def read_gists(self) -> LinkedBook:
        """Note gist and standing of every record, which values are recorded, their bones, and which records there are.

        Returns the book that is watched.
        """
        read = self._all_gists
        if read is None:
            with self._ledger.reading() as read:
                self._ledger.note(EXISTING)
                self._ledger.note(FACTS)
                for key in self._plain.book.file_of:
                    self._ledger.note(GIST, *key)
                    if key[0] in _RECORDING:
                        self._ledger.note(RECORDED, *key)
                    elif key[0] == "value":
                        self._ledger.note(BONES, *key)
                    self.reviews.of(*key)
            vars(self)["_all_gists"] = read
        self._ledger.hand_on(read)
        return self._plain

    def read_bones(self, kind: str, record_id: str) -> None:
        """Note all of a record but its wording."""
        self._ledger.note(BONES, kind, record_id)

    @property
    def plain(self) -> LinkedBook:
        """The book that is watched; what is read of it is not noted."""
        return self._plain

    def remembered(
        self, name: str, work: Callable[..., Answer], *, kept: bool = False
    ) -> Callable[..., Answer]:
        """Return `work`, each answer of which the ledger keeps under `name` and its arguments, all text."""
        self._ledger.answers[name] = work
        if kept:
            self._ledger.kept.add(name)
        return self._ledger.asked(name)

    def shared(self, work: Callable[..., Answer], kept: int | None = None) -> Callable[..., Answer]:
        """Return `work`, worked out once for the same arguments; what it read is noted again whenever it is asked."""
        ledger = self._ledger

        @lru_cache(maxsize=kept)
        def worked_out(*arguments: Any) -> tuple[Answer, tuple[int, ...]]:
            with ledger.reading() as read:
                answer = work(*arguments)
            return answer, tuple(read)  # a set takes ten times the room

        def ask(*arguments: Any) -> Answer:
            answer, read = worked_out(*arguments)
            ledger.hand_on(read)
            return answer

        ledger.clear.append(worked_out.cache_clear)
        return ask


note_when_asked_for(
    WatchedBook, "book", "files", "strays", "loose_words", "loose_words_of", "records", "headings", "all_keys"
)
note_when_asked_for(WatchedBook, "outside", "outside")
note_when_asked_for(_WatchedLinks, "book", "uses", "of", "dead", "targets", "pointers", "to", "loose")
note_when_asked_for(WatchedLinked, "book", "pointers", "conditions", "prose", "written_figures")
