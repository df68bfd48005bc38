"""Links between records: what each refers to, and what refers to it.

What a record points to is kept with its file; where in the record it does so is worked out for those of which it is asked.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

from shearpin.book.book import Book, Key
from shearpin.model.fields import Record
from shearpin.model.inline import Link, ValueMention, parse_inline
from shearpin.model.pointers import Group, Pointers, pointers_of
from shearpin.model.position import FieldPath
from shearpin.model.references import InlineText, Reference, mentions


class Use(NamedTuple):
    """One reference: from which record and field, to which ids of which kinds."""

    origin: Key
    path: FieldPath
    kinds: tuple[str, ...]
    id: str
    on_key: bool = False
    offset: int = 0


_new: Final = tuple.__new__  # a third of the time of asking the class, for the many uses of a book

Uses = tuple[Use, ...]
"""The references of one record."""


@dataclass(frozen=True)
class Links:
    """What every record of a book points to, and by each record that exists those that point to it, some of them twice.

    The latter come in any order. `loose` are all those that point to something which could not be read or is not there, and maybe others.
    """

    book: Book
    pointers: Mapping[Key, Pointers]
    to: Mapping[Key, Sequence[Key]]
    loose: Sequence[Key]

    @cached_property
    def uses(self) -> Uses:
        """Every reference of the book, record by record."""
        return tuple(use for origin in self.pointers for use in self.of(origin))

    def of(self, origin: Key) -> Uses:
        """Return the references of a record, in the order of its fields."""
        record = self.book.get(*origin)
        return uses_of(origin, record) if record is not None else ()

    def dead(self) -> Iterator[Use]:
        """Yield the references to records of which there is no file of any kind that is meant."""
        files = self.book.file_of
        for origin in self.loose:
            yield from (
                use for use in self.of(origin) if not any((kind, use.id) in files for kind in use.kinds)
            )

    def targets(self, origin: Key) -> tuple[Key, ...]:
        """Return the records that a record refers to, each once, sorted."""
        found = {
            (kind, name)
            for kinds, names in self.pointers.get(origin, ())
            for kind in kinds
            for name in names
            if self.book.get(kind, name) is not None
        }
        return tuple(sorted(found))

    def origins(self, target: Key, kind: str | None = None) -> tuple[Key, ...]:
        """Return the records that refer to `target`, of one kind if given, each once, sorted."""
        by_kind = self._origins.get(target)
        if by_kind is None:  # asked for kind after kind, many times: sorted once
            by_kind = self._origins[target] = _by_kind(self.to.get(target, ()))
        return by_kind.get(kind, ())

    @cached_property
    def _origins(self) -> dict[Key, dict[str | None, tuple[Key, ...]]]:
        return {}


def _by_kind(origins: Iterable[Key]) -> dict[str | None, tuple[Key, ...]]:
    """Return origins by kind, and all of them under None; each once, sorted."""
    everything = tuple(sorted(set(origins)))
    by_kind: dict[str | None, list[Key]] = defaultdict(list)
    for origin in everything:
        by_kind[origin[0]].append(origin)
    return {None: everything, **{kind: tuple(origins) for kind, origins in by_kind.items()}}


def relinked(links: Links, before: Record | None, key: Key, after: Record | None, book: Book) -> Links:
    """Return links with those of one record of `book` in place of those that it had `before`."""
    own = pointers_of(after) if after is not None else ()
    former = pointers_of(before) if before is not None else ()
    now, to = set(_meant(own)), dict(links.to)
    for target in now.union(_meant(former)):
        others = [origin for origin in to.get(target, ()) if origin != key]
        if target in now and book.get(*target) is not None:
            others.append(key)
        if others:
            to[target] = others
        else:
            to.pop(target, None)
    pointers = {**links.pointers, key: own}
    loose = dict.fromkeys((*links.loose, key))  # it may be one now
    if after is None:
        del pointers[key], loose[key]
        loose |= dict.fromkeys(origin for origin in links.to.get(key, ()) if origin != key)
    return Links(book, pointers, to, tuple(loose))


def _meant(pointers: Pointers) -> Iterator[Key]:
    return ((kind, name) for kinds, names in pointers for kind in kinds for name in names)


def pointers_in(book: Book) -> dict[Key, Pointers]:
    """Return what every record points to, from what was kept with its file where that is known."""
    pointers: dict[Key, Pointers] = {}
    facts_of, file_of = book.facts, book.file_of
    for origin in book.all_keys():
        file = file_of[origin]
        facts = facts_of.get(file.path)
        # A record that was given the condition of its systems is another than its file holds, and has another digest.
        known = facts.pointers if facts is not None and facts.digest == file.digest else None
        if known is None:
            record = book.get(*origin)
            known = pointers_of(record) if record is not None else ()
        pointers[origin] = known
    return pointers


def link(book: Book, pointers: Mapping[Key, Pointers]) -> Links:
    """Find what points to each record, of what every record points to."""
    # Many records point to the same: of five groups of names about four stand in other records too.
    groups: dict[int, tuple[Group, list[Key]]] = {}
    ids: dict[str, set[str]] = defaultdict(set)
    for origin, own in pointers.items():
        ids[origin[0]].add(origin[1])
        for group in own:
            met = groups.get(id(group))
            if met is None:
                met = groups[id(group)] = (group, [])
            met[1].append(origin)
    to = defaultdict[Key, list[Key]](list)
    loose: dict[Key, None] = {}
    for (kinds, names), origins in groups.values():
        missing = set(names)
        for kind in kinds:
            here = ids[kind]
            for name in names:
                if name in here:
                    to[kind, name] += origins
            missing -= here
        if missing:
            loose.update(dict.fromkeys(origins))
    return Links(book, pointers, dict(to), tuple(loose))


def uses_of(key: Key, record: Record) -> Uses:
    """Return every reference of a record, in the order of its fields."""
    found: list[Use] = []
    for mention in mentions(record):
        if isinstance(mention, Reference):
            path, kinds, name, on_key = mention
            found.append(_new(Use, (key, path, kinds, name, on_key, 0)))
        else:
            found += _uses_in(key, mention)
    return tuple(found)


def _uses_in(origin: Key, text: InlineText) -> Iterator[Use]:
    for piece in parse_inline(text.text):
        if isinstance(piece, ValueMention):
            yield Use(origin, text.path, ("value",), piece.name, offset=piece.offset)
        elif isinstance(piece, Link):
            yield Use(origin, text.path, (piece.kind,), piece.id, offset=piece.offset)
