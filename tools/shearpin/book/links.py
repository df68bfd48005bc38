"""Links between records: what each refers to, and what refers to it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

from shearpin.book.book import Book, Key
from shearpin.model.fields import Record
from shearpin.model.inline import Link, ValueMention, parse_inline
from shearpin.model.kinds import KINDS
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


@dataclass(frozen=True)
class Links:
    """Every reference of a book, and the same by target; `found` holds only those that lead somewhere."""

    uses: tuple[Use, ...]
    to: Mapping[Key, tuple[Use, ...]]

    @cached_property
    def _by_origin(self) -> Mapping[Key, tuple[Key, ...]]:
        found: dict[Key, set[Key]] = defaultdict(set)
        for target, uses in self.to.items():
            for use in uses:
                found[use.origin].add(target)
        return {origin: tuple(sorted(targets)) for origin, targets in found.items()}

    def targets(self, origin: Key) -> tuple[Key, ...]:
        """Return the records that a record refers to, each once, sorted."""
        return self._by_origin.get(origin, ())

    def origins(self, target: Key, kind: str | None = None) -> tuple[Key, ...]:
        """Return the records that refer to `target`, of one kind if given, each once, sorted."""
        by_kind = self._origins.get(target)
        if by_kind is None:  # asked for kind after kind, many times: sorted once
            by_kind = self._origins[target] = _by_kind(self.to.get(target, ()))
        return by_kind.get(kind, ())

    @cached_property
    def _origins(self) -> dict[Key, dict[str | None, tuple[Key, ...]]]:
        return {}


def _by_kind(uses: Iterable[Use]) -> dict[str | None, tuple[Key, ...]]:
    """Return the origins of uses by kind, and all of them under None."""
    everything = tuple(sorted({use.origin for use in uses}))
    by_kind: dict[str | None, list[Key]] = defaultdict(list)
    for origin in everything:
        by_kind[origin[0]].append(origin)
    return {None: everything, **{kind: tuple(origins) for kind, origins in by_kind.items()}}


_new: Final = tuple.__new__  # a third of the time of asking the class, for the many uses of a book

Uses = tuple[Use, ...]
"""The references of one record."""


def relinked(links: Links, before: Record | None, key: Key, after: Record | None, book: Book) -> Links:
    """Return links with those of one record of `book` in place of those that it had `before`."""
    own = _uses_of(key, after) if after is not None else ()
    former = _uses_of(key, before) if before is not None else ()
    to = dict(links.to)
    for target in {(kind, use.id) for use in (*former, *own) for kind in use.kinds}:
        others = [use for use in to.get(target, ()) if use.origin != key]
        now = [use for use in own if use.id == target[1] and target[0] in use.kinds]
        if others or (now and book.get(*target) is not None):
            to[target] = (*others, *now)
        else:
            to.pop(target, None)
    return Links((*(use for use in links.uses if use.origin != key), *own), to)


def link(book: Book, known: dict[Key, tuple[bytes, Uses]] | None = None) -> Links:
    """Collect every reference of every record; `known` remembers those of each under the digest of its file."""
    uses: list[Use] = []
    for key, record in book.records():
        digest = book.file_of[key].digest
        before = known.get(key) if known is not None else None
        own = before[1] if before is not None and before[0] == digest else _uses_of(key, record)
        if known is not None:
            known[key] = digest, own
        uses += own
    to: dict[Key, list[Use]] = defaultdict(list)
    records = {kind: book.of_kind(kind) for kind in KINDS}
    for use in uses:
        for kind in use.kinds:
            if use.id in records.get(kind, ()):
                to[(kind, use.id)].append(use)
    return Links(tuple(uses), {target: tuple(found) for target, found in to.items()})


def _uses_of(key: Key, record: Record) -> Uses:
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
