"""What is different in a book since an earlier build: its records, and the kinds that have other titles or bones."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from shearpin.book.book import Book, Key
from shearpin.book.inputs import BONES, EXISTING, FACTS, GIST, RECORD
from shearpin.book.ledger import Ledger
from shearpin.checks.rule import MACHINE_FACTS
from shearpin.model.kinds import KINDS


@dataclass(frozen=True, slots=True)
class Changed:
    """What is different in a book: records, with the new ones and those that are gone; kinds that have other titles, or other bones.

    A kind of which a record is new, or gone, has others of both.
    """

    records: tuple[Key, ...]
    titles: frozenset[str] = frozenset()
    bones: frozenset[str] = frozenset()

    def of_kind(self, kind: str) -> set[str]:
        """Return the ids of the records of a kind that are different, new or gone."""
        return {record_id for other, record_id in self.records if other == kind}


def note_all_but_words(book: Book, ledger: Ledger) -> None:
    """Note which records a book has and what each of them holds but for the wording of its prose.

    The records themselves too: the next build must know which of them are others.
    """
    ledger.number(EXISTING)
    ledger.number(FACTS)
    ids: dict[str, list[str]] = {}
    for kind, record_id in book.file_of:
        ids.setdefault(kind, []).append(record_id)
    for first, kind in product((BONES, GIST, "title", RECORD), ids):
        numbers = ledger.numbers(first, kind)
        for record_id in sorted(set(ids[kind]).difference(numbers)):  # most have numbers already
            numbers[record_id]


def changed_since(book: Book, ledger: Ledger) -> Changed | None:
    """Return what is different from what an earlier build noted; None unless it noted what `note_all_but_words` notes."""
    past = ledger.past
    noted = {*(begin[0] for begin in past.begins() if begin), *past.group(())}
    if not noted.issuperset((EXISTING, BONES, "title", FACTS, RECORD)):
        return None
    changed = {past.name(number) for number in ledger.inputs()}
    records = sorted((name[1], name[2]) for name in changed if name[0] == RECORD)
    new = []
    if (EXISTING,) in changed:
        known = {kind: past.group((RECORD, kind)) for kind in KINDS}
        new = [key for key in book.file_of if key[1] not in known[key[0]]]
    gone = [key for key in records if key not in book.file_of]
    kinds = frozenset(kind for kind, _ in (*new, *gone))
    titles, bones = (frozenset(name[1] for name in changed if name[0] == what) for what in ("title", BONES))
    facts = frozenset([MACHINE_FACTS] if (FACTS,) in changed else [])
    return Changed((*records, *new), titles | kinds, bones | kinds | facts)
