"""A printed edition in volumes: what would make one file too large to print is parted by system."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.publish.leaves import Leaf, Part, order_of
from shearpin.site.common import KIND_WORDS

LARGEST: Final = 1_600_000
"""Characters of page bodies in a volume: some 250 pages, which fit a ring binder, and less than 1 GB of memory to set them."""

_COMMON: Final = ""  # key of what belongs to no one system


@dataclass(frozen=True, slots=True)
class Volume:
    """One file of a printed edition, with the titles of the systems it is about; none where it holds all the rest.

    `repeated` are the anchors of leaves that another volume is the place of: what must be done before its own work, such
    as making the machine safe. Nobody should have to fetch another volume for that.
    """

    number: int
    systems: tuple[str, ...]
    parts: tuple[Part, ...]
    repeated: frozenset[str] = frozenset()

    def leaves(self) -> Iterator[Leaf]:
        """Yield its leaves in their order."""
        for part in self.parts:
            yield from part.leaves


def volumes_of(packed: LinkedBook, parts: Sequence[Part], largest: int = LARGEST) -> tuple[Volume, ...]:
    """Return the volumes of a book: one where it is small enough, else one for some systems each, and one for the rest.

    Systems follow each other by title, those that the edition explains first. One that is too large for a volume goes on in the next.
    """
    if sum(_weight(leaf) for part in parts for leaf in part.leaves) <= largest:
        return (Volume(1, (), tuple(parts)),)
    shares: list[tuple[list[str], list[Leaf]]] = []
    room = 0
    for system, leaves in _by_system(packed, parts):
        weight = sum(map(_weight, leaves))
        if weight > room or system == _COMMON:
            shares.append(([], []))
            room = largest
        for leaf in leaves:
            if _weight(leaf) > room and shares[-1][1]:
                shares.append(([], []))
                room = largest
            systems, held = shares[-1]
            if system != _COMMON and system not in systems:
                systems.append(system)
            held.append(leaf)
            room -= _weight(leaf)
    every = {leaf.anchor: leaf for part in parts for leaf in part.leaves}
    volumes = []
    for number, (systems, leaves) in enumerate(shares, 1):
        titles = tuple(packed.book.title("system", system) for system in systems)
        repeated = _done_before(packed, leaves) & every.keys()
        leaves += [every[anchor] for anchor in repeated]
        volumes.append(Volume(number, titles, _parted(packed, leaves), repeated))
    return tuple(volumes)


def _done_before(packed: LinkedBook, leaves: Sequence[Leaf]) -> frozenset[str]:
    """Return the anchors of procedures that the work among some leaves begins with, and that are not among them."""
    named = {
        f"procedure-{procedure}"
        for leaf in leaves
        for procedure in getattr(packed.book.get(leaf.kind, leaf.id), "before", ())
    }
    return frozenset(named - {leaf.anchor for leaf in leaves})


def _by_system(packed: LinkedBook, parts: Sequence[Part]) -> list[tuple[str, list[Leaf]]]:
    """Return leaves by the system that is named first in them: systems that are explained come first, at the end what names none."""
    found: dict[str, list[Leaf]] = defaultdict(list)
    for part in parts:
        for leaf in part.leaves:
            named = getattr(packed.book.get(leaf.kind, leaf.id), "systems", ())
            found[leaf.id if leaf.kind == "system" else next(iter(named), _COMMON)].append(leaf)
    return sorted(
        found.items(),
        key=lambda item: (
            item[0] == _COMMON, ("system", item[0]) in packed.book.shortened,
            packed.book.title("system", item[0]).casefold(), item[0],
        ),
    )  # fmt: skip


def _parted(packed: LinkedBook, leaves: Sequence[Leaf]) -> tuple[Part, ...]:
    kinds = {
        kind: tuple(
            sorted(
                (leaf for leaf in leaves if leaf.kind == kind),
                key=lambda leaf: ((kind, leaf.id) in packed.book.shortened, leaf.title.casefold(), leaf.id),
            )
        )
        for kind in order_of(packed)
    }
    return tuple(Part(kind, KIND_WORDS[kind][1], held) for kind, held in kinds.items() if held)


def _weight(leaf: Leaf) -> int:
    return len(leaf.body)
