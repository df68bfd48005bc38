"""Which inputs have another mark than an earlier build noted: only those are looked at that may have one."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Set
from dataclasses import dataclass, field

from shearpin.book.inputs import EXISTING, FACTS, GIST, RECORD
from shearpin.book.past import Name, Past


@dataclass(slots=True)
class Inputs:
    """What gives the mark of an input, by the first part of its name, and what inputs follow from.

    Those in `of_record` follow from the record of the same kind and id alone, those in `of_gists` from the gists of all records and from
    which there are, those in `of_kinds` from all records of the kind that their name ends in, those in `of_facts` from the facts of
    machines: they are as before when those are.
    `ids_of` tells which records of a kind there are; None where the marks of records do not tell of all files.
    """

    marks: dict[str, Callable[..., bytes]] = field(default_factory=dict)
    of_record: Set[str] = frozenset()
    of_gists: Set[str] = frozenset()
    of_kinds: Set[str] = frozenset()
    of_facts: Set[str] = frozenset()
    ids_of: Callable[[str], Set[str]] | None = None


def changed_inputs(past: Past, inputs: Inputs) -> dict[int, bytes]:
    """Return the new marks of inputs that have another mark than before, by number."""
    new: dict[int, bytes] = {}
    alone = past.group(())
    groups = [(begin, past.group(begin)) for begin in past.begins() if begin and begin[0] in inputs.marks]

    def compare(begin: Name, numbers: Mapping[str, int]) -> None:
        mark_of_one, others, before = inputs.marks[begin[0]], begin[1:], past.mark
        for last, number in numbers.items():
            mark = mark_of_one(*others, last)
            if mark != before(number):
                new[number] = mark

    for name, number in alone.items():
        if name in inputs.marks and (mark := inputs.marks[name]()) != past.mark(number):
            new[number] = mark
    for begin, numbers in groups:
        if begin[0] not in {*inputs.of_record, *inputs.of_gists, *inputs.of_kinds, *inputs.of_facts}:
            compare(begin, numbers)
    records = {begin[1]: numbers for begin, numbers in groups if begin[0] == RECORD}
    for begin, numbers in groups:
        if begin[0] in inputs.of_record:
            record = records.get(begin[1], {}).get
            compare(begin, {k: n for k, n in numbers.items() if (r := record(k)) is None or r in new})
    same_files = EXISTING in alone and alone[EXISTING] not in new
    same = _kinds_as_before(past, new, records, inputs.ids_of) if same_files else ()
    for begin, numbers in groups:
        if begin[0] in inputs.of_kinds:
            compare(begin, {kind: number for kind, number in numbers.items() if kind not in same})
    if FACTS not in alone or alone[FACTS] in new:
        for begin, numbers in groups:
            if begin[0] in inputs.of_facts:
                compare(begin, numbers)
    if EXISTING not in alone or any(past.name(number)[0] in (EXISTING, GIST) for number in new):
        for begin, numbers in groups:
            if begin[0] in inputs.of_gists:
                compare(begin, numbers)
    return new


def _kinds_as_before(
    past: Past,
    new: Iterable[int],
    records: Mapping[str, Mapping[str, int]],
    ids_of: Callable[[str], Set[str]] | None,
) -> Collection[str]:
    """Return the kinds of which every record has a mark, and the same as before."""
    others = {past.name(number)[:2] for number in new}
    return {
        kind
        for kind, numbers in records.items()
        if ids_of is not None and (RECORD, kind) not in others and ids_of(kind) <= numbers.keys()
    }
