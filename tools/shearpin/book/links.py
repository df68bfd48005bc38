"""Links between records: what each refers to, and what refers to it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from shearpin.book.book import Book, Key
from shearpin.model.inline import Link, ValueMention, parse_inline
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
        return tuple(sorted({use.origin for use in self.to.get(target, ()) if kind in (None, use.origin[0])}))


def link(book: Book) -> Links:
    """Collect every reference of every record."""
    uses: list[Use] = []
    to: dict[Key, list[Use]] = defaultdict(list)
    for key, record in book.records():
        for mention in mentions(record):
            for use in _uses(key, mention):
                uses.append(use)
                for kind in use.kinds:
                    if book.get(kind, use.id) is not None:
                        to[(kind, use.id)].append(use)
    return Links(tuple(uses), {target: tuple(found) for target, found in to.items()})


def _uses(origin: Key, mention: Reference | InlineText) -> list[Use]:
    if isinstance(mention, Reference):
        return [Use(origin, mention.path, mention.kinds, mention.id, mention.on_key)]
    found: list[Use] = []
    for piece in parse_inline(mention.text):
        if isinstance(piece, ValueMention):
            found.append(Use(origin, mention.path, ("value",), piece.name, offset=piece.offset))
        elif isinstance(piece, Link):
            found.append(Use(origin, mention.path, (piece.kind,), piece.id, offset=piece.offset))
    return found
