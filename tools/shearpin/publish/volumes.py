"""A printed edition in volumes: what would make one file too large to print is parted by system."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.publish.leaves import ORDER, Leaf, Part
from shearpin.site.common import KIND_WORDS

LARGEST: Final = 1_600_000
"""Characters of page bodies in a volume: some 250 pages, which fit a ring binder, and less than 1 GB of memory to set them."""

_COMMON: Final = ""  # key of what belongs to no one system


@dataclass(frozen=True, slots=True)
class Volume:
    """One file of a printed edition, with the titles of the systems it is about; none where it holds all the rest."""

    number: int
    systems: tuple[str, ...]
    parts: tuple[Part, ...]

    def leaves(self) -> Iterator[Leaf]:
        """Yield its leaves in their order."""
        for part in self.parts:
            yield from part.leaves


def volumes_of(packed: LinkedBook, parts: Sequence[Part], largest: int = LARGEST) -> tuple[Volume, ...]:
    """Return the volumes of a book: one where it is small enough, else one for some systems each, and one for the rest.

    Systems follow each other by title. One that is too large for a volume goes on in the next.
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
    return tuple(
        Volume(number, tuple(packed.book.title("system", system) for system in systems), _parted(leaves))
        for number, (systems, leaves) in enumerate(shares, 1)
    )


def _by_system(packed: LinkedBook, parts: Sequence[Part]) -> list[tuple[str, list[Leaf]]]:
    """Return leaves by the system that is named first in them, and at the end those that name none."""
    found: dict[str, list[Leaf]] = defaultdict(list)
    for part in parts:
        for leaf in part.leaves:
            named = getattr(packed.book.get(leaf.kind, leaf.id), "systems", ())
            found[leaf.id if leaf.kind == "system" else next(iter(named), _COMMON)].append(leaf)
    return sorted(
        found.items(),
        key=lambda item: (item[0] == _COMMON, packed.book.title("system", item[0]).casefold(), item[0]),
    )


def _parted(leaves: Sequence[Leaf]) -> tuple[Part, ...]:
    kinds = {kind: tuple(leaf for leaf in leaves if leaf.kind == kind) for kind in ORDER}
    return tuple(Part(kind, KIND_WORDS[kind][1], held) for kind, held in kinds.items() if held)


def _weight(leaf: Leaf) -> int:
    return len(leaf.body)
