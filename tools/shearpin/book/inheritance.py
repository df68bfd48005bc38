"""A record that belongs only to systems of some machines holds for those machines, without saying so itself.

So a machine without an engine has no carburetor work, although no procedure about carburetors speaks of it: the systems
say once which machines have them.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace
from typing import Final

from shearpin.book.applicability import Applicability
from shearpin.book.book import Book
from shearpin.model.fields import AppliesTo
from shearpin.model.keptfile import has_record
from shearpin.model.reading import RecordFile

KINDS_THAT_INHERIT: Final = frozenset({"symptom", "cause", "test", "procedure", "value"})

_ANY_OF: Final = ("machines", "engines", "classes", "any_fitted")
_ALL_OF: Final = ("fitted", "not_fitted")


def with_conditions_of_systems(book: Book) -> Book:
    """Return the book, with the condition of its systems joined to each record that would hold elsewhere too."""
    systems = _Systems(book, Applicability(book))
    if not any(systems.conditions.values()):
        return book
    return replace(book, files=tuple([_inherited(file, systems) for file in book.files]))


def with_condition_of_systems(file: RecordFile, book: Book, applicability: Applicability) -> RecordFile:
    """Return one file of a book, or one that is to be, with the condition of its systems joined to its record's own."""
    return _inherited(file, _Systems(book, applicability))


class _Systems:
    """The conditions of systems, and for which machines several hold together: many records name the same ones."""

    def __init__(self, book: Book, applicability: Applicability) -> None:
        self.applicability = applicability
        self.conditions = {name: system.applies_to for name, system in book.systems.items()}
        self._machines: dict[tuple[str, ...], frozenset[str]] = {}

    def machines(self, names: tuple[str, ...]) -> frozenset[str]:
        """Return the machines that have one of these systems."""
        known = self._machines.get(names)
        if known is None:
            found = (self.applicability.machines_for(self.conditions.get(name)) for name in names)
            known = self._machines[names] = frozenset[str]().union(*found)
        return known


def _inherited(file: RecordFile, systems: _Systems) -> RecordFile:
    if file.kind.name not in KINDS_THAT_INHERIT or not has_record(file) or (heading := file.heading) is None:
        return file
    allowed = systems.machines(heading.systems)
    own = systems.applicability.machines_for(heading.applies_to)
    if own <= allowed or not own & allowed or file.record is None:
        return file  # it says so itself, or is wrong in a way that the rules find
    found = [systems.conditions.get(system) for system in heading.systems]
    shared = found[0] if all(condition == found[0] for condition in found) else None
    both = joined(heading.applies_to, shared or AppliesTo(machines=tuple(sorted(allowed))))
    changed = file.record.model_copy(update={"applies_to": both})
    # What follows from the record must be worked out anew when the condition of its systems changes.
    digest = hashlib.blake2b(file.digest + repr(both).encode(), digest_size=max(1, len(file.digest))).digest()
    return replace(file, record=changed, digest=digest)


def joined(own: AppliesTo | None, other: AppliesTo) -> AppliesTo:
    """Return a condition that holds where both do, or the record's own where one condition cannot say both."""
    if own is None:
        return other
    fields: dict[str, tuple[str, ...]] = {}
    for name in _ANY_OF:
        mine, theirs = getattr(own, name), getattr(other, name)
        fields[name] = tuple(item for item in mine if item in theirs) if mine and theirs else mine or theirs
        if mine and theirs and (name == "any_fitted" or not fields[name]):
            return own
    for name in _ALL_OF:
        fields[name] = tuple(dict.fromkeys((*getattr(own, name), *getattr(other, name))))
    return own.model_copy(update=fields)
