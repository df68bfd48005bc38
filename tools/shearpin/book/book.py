"""The book: all records of a `kb/`, by kind and id."""

# Longer than 300 lines: everything asks the book, and each question is a method of it.

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import NamedTuple, TypeVar, cast

from shearpin.book.gist import NOTHING as NO_GIST
from shearpin.book.gist import Gist, GistsFrom, PlainGist, gist_of
from shearpin.checks.rule import Found
from shearpin.model.conditiontext import condition_of
from shearpin.model.editions import Edition
from shearpin.model.fields import AppliesTo, Record
from shearpin.model.heading import Heading
from shearpin.model.keptfile import KeptFile, has_record, records_of
from shearpin.model.kinds import KINDS
from shearpin.model.knowledge import Cause, Caution, Figure, Source, Symptom, System, Term, Tool
from shearpin.model.machines import Engine, Machine, Part, Value
from shearpin.model.pointers import Pointers
from shearpin.model.reading import RecordFile
from shearpin.model.steps import Procedure, Test, Work

Key = tuple[str, str]
"""Kind and id of a record."""

Kept = TypeVar("Kept", bound=Record)


class Outline(NamedTuple):
    """What a list shows of a record, and for which machines it is; `said` as in its heading."""

    id: str
    title: str
    applies_to: AppliesTo | None
    said: int


class FileFacts(NamedTuple):
    """What is known of a file since it was read: the digest of its bytes, what the rules on one file found, what it refers to.

    Nothing was asked of the rules where `found` is None. `pointers` are those of a sound file, None of another; `clauses` are
    packed (`clauses.packed_clauses`), None of a record that is compared with none. `gist` is that of a
    sound file, as it was kept where it was.
    """

    digest: bytes
    found: Found | None
    pointers: Pointers | None = None
    clauses: bytes | None = None
    gist: Gist | PlainGist | None = None


@dataclass(frozen=True)
class Book:
    """All records of a folder. What cannot be read is in `files` only; what was read is in the mappings by id.

    `shown` is the folder as the user named it: findings begin with it. `strays` are files that nobody reads,
    by path below the folder, with the reason. `outside` holds the titles of what an edition leaves out, `shortened` the
    systems of which it leaves out how they work. In a translated book `untranslated` holds the texts that are still those
    of the original. `facts` are those of files as they were read, by path, and of none where records were changed or
    chosen since.
    """

    kb: Path
    shown: str
    files: tuple[RecordFile, ...]
    strays: tuple[tuple[str, str], ...] = ()
    outside: Mapping[Key, str] = field(default_factory=dict, repr=False)
    shortened: frozenset[Key] = field(default=frozenset(), repr=False)
    language: str = "en"
    untranslated: frozenset[str] = field(default=frozenset(), repr=False)
    facts: Mapping[str, FileFacts] = field(default_factory=dict, repr=False, compare=False)
    _by_kind: Mapping[str, Mapping[str, Record]] = field(init=False, repr=False, compare=False)
    _files: Mapping[str, Mapping[str, RecordFile]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        files: dict[str, dict[str, RecordFile]] = {kind: {} for kind in KINDS}
        for file in self.files:
            if has_record(file):
                files[file.kind.name].setdefault(file.id, file)
        by_kind = {kind: records_of(found) for kind, found in files.items()}
        object.__setattr__(self, "_by_kind", by_kind)
        object.__setattr__(self, "_files", files)

    @cached_property
    def is_whole(self) -> bool:
        """Whether every file could be read whole: what is in the others is guessed at from their words."""
        return all(has_record(file) and not file.broken for file in self.files)

    @property
    def is_part(self) -> bool:
        """Whether it is the pack of an edition that leaves out records of the whole book."""
        return any(kind != "edition" for kind, _ in self.outside)

    def of_kind(self, kind: str) -> Mapping[str, Record]:
        """Return the records of a kind by id, in order of id."""
        return self._by_kind[kind]

    def with_word(self, kind: str, word: str) -> Iterator[tuple[str, Record]]:
        """Yield the records of a kind in which a word of small ASCII letters stands, as the name of a field or elsewhere, and maybe others.

        None is made to find out.
        """
        sought = word.encode()
        for record_id, file in self._files[kind].items():
            if not isinstance(file, KeptFile) or file.holds(lambda packed: sought in packed):
                yield record_id, self._by_kind[kind][record_id]

    def get(self, kind: str, record_id: str) -> Record | None:
        """Return a record, or None."""
        return self._by_kind.get(kind, {}).get(record_id)

    def title(self, kind: str, record_id: str) -> str:
        """Return the title of a record, in this book or left out of it, or its id where it could not be read."""
        known = self._known_titles.get((kind, record_id))
        if known is None:
            file = self._files.get(kind, {}).get(record_id)
            known = file.title if file is not None else self.outside.get((kind, record_id), record_id)
            self._known_titles[kind, record_id] = known  # pages ask for one a hundred times
        return known

    def heading(self, kind: str, record_id: str) -> Heading | None:
        """Return what is needed most of a record, which need not be made for it, or None."""
        file = self._files.get(kind, {}).get(record_id)
        return file.heading if file is not None else None

    def condition(self, kind: str, record_id: str) -> AppliesTo | None:
        """Return for which machines a record is, which need not be made for it; None for all, and where there is none."""
        heading = self.heading(kind, record_id)
        return heading.applies_to if heading is not None else None

    def systems_of(self, kind: str, record_id: str) -> tuple[str, ...]:
        """Return the systems that a record, which need not be made for it, belongs to; none where there is no such record."""
        heading = self.heading(kind, record_id)
        return heading.systems if heading is not None else ()

    def summary(self, kind: str, record_id: str) -> str:
        """Return the sentence that lists show of a record, which need not be made for it; empty where there is none."""
        file = self._files.get(kind, {}).get(record_id)
        return file.summary if file is not None else ""

    def gist(self, kind: str, record_id: str) -> Gist:
        """Return the gist of a record, which need not be made for it; that of nothing where there is none."""
        file = self._files.get(kind, {}).get(record_id)
        if file is None:
            return NO_GIST
        known = self._gists.get((kind, record_id))
        if known is None:
            facts = self.facts.get(file.path)
            kept = facts.gist if facts is not None and facts.digest == file.digest else None
            if kept is not None:
                known = kept if isinstance(kept, Gist) else self._gists_from.gist(kept)
            else:
                known = gist_of(file.record) if file.record is not None else NO_GIST
            self._gists[kind, record_id] = known
        return known

    def has(self, kind: str, record_id: str) -> bool:
        """Whether there is such a record, which could be read."""
        return record_id in self._files.get(kind, {})

    def all_keys(self) -> Iterator[Key]:
        """Yield the key of every record, as `records` does."""
        return ((kind, record_id) for kind, files in self._files.items() for record_id in files)

    def headings(self) -> Iterator[tuple[Key, Heading]]:
        """Yield the heading of every record with its key, kinds in their order, ids sorted."""
        for kind, files in self._files.items():
            for record_id, file in files.items():
                if (heading := file.heading) is not None:
                    yield (kind, record_id), heading

    def outlines(self, kind: str) -> tuple[Outline, ...]:
        """Return the outline of every record of a kind, in order of title."""
        if kind not in self._outlines:
            found = [
                Outline(record_id, heading.title, heading.applies_to, heading.said)
                for record_id, file in self._files[kind].items()
                if (heading := file.heading) is not None
            ]
            self._outlines[kind] = tuple(sorted(found, key=lambda outline: outline.title))
        return self._outlines[kind]

    def ids_of_files(self, kind: str) -> frozenset[str]:
        """Return the ids of all files of a kind, of those that could not be read too."""
        return self._ids_of_files.get(kind, frozenset())

    @cached_property
    def _ids_of_files(self) -> dict[str, frozenset[str]]:
        found: dict[str, set[str]] = {}
        for kind, record_id in self.file_of:
            found.setdefault(kind, set()).add(record_id)
        return {kind: frozenset(ids) for kind, ids in found.items()}

    @cached_property
    def _known_titles(self) -> dict[Key, str]:
        return {}

    @cached_property
    def _gists(self) -> dict[Key, Gist]:
        return {}

    @cached_property
    def _gists_from(self) -> GistsFrom:
        return GistsFrom(condition_of)

    @cached_property
    def _outlines(self) -> dict[str, tuple[Outline, ...]]:
        return {}

    def records(self) -> Iterator[tuple[Key, Record]]:
        """Yield every record with its key, kinds in their order, ids sorted."""
        for kind, records in self._by_kind.items():
            for record_id, record in records.items():
                yield (kind, record_id), record

    @cached_property
    def file_of(self) -> Mapping[Key, RecordFile]:
        """Files by kind and id, unreadable ones included."""
        return {(file.kind.name, file.id): file for file in reversed(self.files)}

    @cached_property
    def loose_words_of(self) -> Mapping[str, frozenset[str]]:
        """Every id-like word of files that could not be read whole, by kind: they may be references."""
        words: dict[str, frozenset[str]] = {}
        for file in self.files:
            if file.loose_words:
                words[file.kind.name] = words.get(file.kind.name, frozenset()) | file.loose_words
        return words

    @cached_property
    def loose_words(self) -> frozenset[str]:
        """The same over all kinds."""
        nothing: frozenset[str] = frozenset()
        return nothing.union(*self.loose_words_of.values())

    def _typed(self, record_type: type[Kept]) -> Mapping[str, Kept]:
        return cast("Mapping[str, Kept]", self._by_kind[str(record_type.__dict__["KIND"])])

    @cached_property
    def machines(self) -> Mapping[str, Machine]:
        """Machines by id."""
        return self._typed(Machine)

    @cached_property
    def engines(self) -> Mapping[str, Engine]:
        """Engines by id."""
        return self._typed(Engine)

    @cached_property
    def systems(self) -> Mapping[str, System]:
        """Systems by id."""
        return self._typed(System)

    @cached_property
    def symptoms(self) -> Mapping[str, Symptom]:
        """Symptoms by id."""
        return self._typed(Symptom)

    @cached_property
    def causes(self) -> Mapping[str, Cause]:
        """Causes by id."""
        return self._typed(Cause)

    @cached_property
    def tests(self) -> Mapping[str, Test]:
        """Tests by id."""
        return self._typed(Test)

    @cached_property
    def procedures(self) -> Mapping[str, Procedure]:
        """Procedures by id."""
        return self._typed(Procedure)

    @cached_property
    def cautions(self) -> Mapping[str, Caution]:
        """Cautions by id."""
        return self._typed(Caution)

    @cached_property
    def values(self) -> Mapping[str, Value]:
        """Value kinds by name."""
        return self._typed(Value)

    @cached_property
    def parts(self) -> Mapping[str, Part]:
        """Parts by id."""
        return self._typed(Part)

    @cached_property
    def tools(self) -> Mapping[str, Tool]:
        """Tools by id."""
        return self._typed(Tool)

    @cached_property
    def terms(self) -> Mapping[str, Term]:
        """Terms by id."""
        return self._typed(Term)

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """Sources by id."""
        return self._typed(Source)

    @cached_property
    def figures(self) -> Mapping[str, Figure]:
        """Figures by id."""
        return self._typed(Figure)

    @cached_property
    def editions(self) -> Mapping[str, Edition]:
        """Editions by id."""
        return self._typed(Edition)

    def preparations(self, record: Work | Symptom | Gist) -> tuple[str, ...]:
        """Return the procedures done before a procedure, a test or any test of a symptom, theirs included.

        Each stands once, in the order in which they are done; a circle ends where it began.
        """
        ordered: list[str] = []
        entered: set[str] = set()
        waiting = [(procedure_id, False) for procedure_id in reversed(record.before)]
        while waiting:
            procedure_id, prepared = waiting.pop()
            if prepared:
                ordered.append(procedure_id)
            elif procedure_id not in entered:
                entered.add(procedure_id)
                waiting.append((procedure_id, True))
                before = self.gist("procedure", procedure_id).before
                waiting += [(inner, False) for inner in reversed(before)]
        return tuple(ordered)

    def causes_of(self, kind: str) -> set[str]:
        """Return the causes that records of a kind suspect, cure or tell of."""
        return {cause for record_id in self.of_kind(kind) for cause, _ in self.gist(kind, record_id).causes}

    def work(self) -> Iterator[tuple[Key, Work]]:
        """Yield every procedure and test with its key."""
        for record_id, procedure in self.procedures.items():
            yield ("procedure", record_id), procedure
        for record_id, test in self.tests.items():
            yield ("test", record_id), test
