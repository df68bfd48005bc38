"""Which records the documents of a search must be written anew for, after an edit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.search.made import Made, entries_of, facts_of


def affected_records(linked: LinkedBook, made: Made) -> set[Key]:
    """Return the records of which documents may be others than in the index that was made; those that are gone too.

    Besides the records that were edited: those that show the title of one that has another title, is new or gone, the
    values that a machine or an engine records otherwise, or by another title, and what holds for other machines.
    """
    files = linked.book.file_of
    now = {"/".join(key): key for key in linked.book.all_keys()}
    edited = {
        key: made.records.get(name)
        for name, key in now.items()
        if made.records.get(name, (b"", 0))[0] != files[key].digest
    }
    gone = [key_of(name) for name in made.records.keys() - now.keys()]
    found = {*edited, *gone}
    retitled = [
        key
        for key, former in edited.items()
        if former is None or made.cards[former[1]][1] != linked.book.title(*key)
    ]
    if retitled or gone:
        found.update(_that_refer_to(linked, (*retitled, *gone)))
    found.update(("value", name) for name in _values_told_otherwise(linked, made, edited, {*retitled, *gone}))
    facts = facts_of(linked)
    others = {
        machine
        for machine in facts.keys() | made.facts.keys()
        if facts.get(machine) != made.facts.get(machine)
    }
    if others:
        found.update(_for_other_machines(linked, made, others))
    return found


def key_of(name: str) -> Key:
    """Return kind and id of a record of these both in one."""
    kind, record_id = name.split("/", 1)
    return kind, record_id


def _that_refer_to(linked: LinkedBook, keys: Iterable[Key]) -> Iterator[Key]:
    """Yield the records that refer to some, or to others that are called as these."""
    ids = {record_id for _, record_id in keys}
    for origin, pointers in linked.pointers.items():
        if any(not ids.isdisjoint(names) for _, names in pointers):
            yield origin


def _for_other_machines(linked: LinkedBook, made: Made, others: set[str]) -> Iterator[Key]:
    """Yield the records that hold for other machines than before, and values that one of these others had or has."""
    book, told = linked.book, linked.applicability
    for _, document in made.documents():
        key = document.kind, document.id
        if key not in book.file_of or document.kind == "machine":
            continue  # an answer of a value, a page, or what is gone; machines are for themselves
        before = document.machines  # None for all that there were
        now: frozenset[str] | None
        if document.kind == "engine":
            now = frozenset(machine for machine in told.machines if told.engine_of(machine) == document.id)
        else:
            here = told.machines_for(book.condition(*key))
            now = here if here != told.everywhere else None
        is_of_others = before is None or now is None or not others.isdisjoint(now | before)
        if now != before or (document.kind == "value" and is_of_others):
            yield key


def _values_told_otherwise(
    linked: LinkedBook, made: Made, edited: Mapping[Key, object], retitled: set[Key]
) -> set[str]:
    """Return the values that a machine or an engine records otherwise, or by another title."""
    plated = [key for key in {*edited, *retitled} if key[0] in ("machine", "engine")]
    found: set[str] = set()
    for key in plated:
        now, before = entries_of(linked, key), made.entries.get("/".join(key), {})
        found.update(name for name in now.keys() | before.keys() if now.get(name) != before.get(name))
        if key in retitled:
            found |= _values_that_name(linked, key)
    return found & linked.book.values.keys()


def _values_that_name(linked: LinkedBook, key: Key) -> set[str]:
    """Return the values of which a document may name a machine or an engine."""
    machines = linked.book.machines.items()
    wearing = {key[1]} if key[0] == "machine" else {m for m, record in machines if record.engine == key[1]}
    there = linked.values.machines_with
    return {name for name in linked.book.values if not wearing.isdisjoint(there(name))}
