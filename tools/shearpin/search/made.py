"""What the last index in a site was made of, kept so that the next one is made of what changed since."""

from __future__ import annotations

import hashlib
import marshal
import os
from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.model.machines import Plated
from shearpin.model.spare import Stamp, stamp_of
from shearpin.model.translation import ORIGINAL
from shearpin.model.usercache import program_digest, read_kept, write_kept
from shearpin.search.blocks import title_terms
from shearpin.search.cards import CardRow, usual_address
from shearpin.search.document import Document
from shearpin.search.exporting import FOLDER
from shearpin.search.kept import digest_of
from shearpin.search.model import IndexModel
from shearpin.search.pages import pages_of
from shearpin.search.shards import Shards
from shearpin.search.term_files import TermFiles
from shearpin.search.words import Analyser

_FILE: Final = "search-made.bin"


@dataclass(slots=True)
class Made:
    """An index as it was made.

    `records` holds by kind and id the digest of the file of each record and its number among the documents; `pages` is a
    digest of pages that are no records, `facts` by machine one of what decides which conditions hold for it, `counts` of all documents
    in order. `entries` holds by kind and id of a machine or engine the digest of each value that it records. `kinds` and `titles` are
    of each document the kind and the terms by which it is sorted. `lists` are those of the terms, packed, and `records_with`
    counts the postings of each. At a number that no document has the kind and the card are empty. `sets` and `machines` are those of the model; `stamps` are those of the files.
    """

    records: dict[str, tuple[bytes, int]]
    pages: bytes
    facts: dict[str, bytes]
    entries: dict[str, dict[str, bytes]]
    counts: bytes
    kinds: Sequence[str]
    titles: Sequence[tuple[str, ...]]
    terms: TermFiles
    lists: list[str]
    records_with: array[int]
    cards: list[CardRow]
    sets: Sequence[int]
    machines: Mapping[str, Sequence[int]]
    head: dict[str, Any]
    stamps: dict[str, Stamp]

    def keep(self, cache_folder: Path) -> None:
        """Keep it for the next build."""
        terms = self.terms
        packed = (list(terms.terms), self.lists, terms.starts, terms.firsts, terms.rows)
        plain: Any = (
            self.records, self.pages, self.facts, self.entries, self.counts, list(self.kinds), list(self.titles), packed,
            self.records_with.tobytes(), self.cards, tuple(self.sets), dict(self.machines), self.head, self.stamps,
        )  # fmt: skip
        write_kept(cache_folder / _FILE, _key(), marshal.dumps(plain))

    def holds_in(self, site: Path) -> bool:
        """Whether the index of a site is the one that was made, unchanged."""
        try:
            there = stamps_of(os.path.join(site, FOLDER, f"{name}.js") for name in self.stamps)
        except OSError:
            return False
        return there == self.stamps

    def documents(self) -> Iterator[tuple[int, Document]]:
        """Yield every document without its texts, after its number."""
        machines_of: dict[int, set[str]] = {}
        for machine, sets in self.machines.items():
            for wanted in sets:
                machines_of.setdefault(wanted, set()).add(machine)
        fits = {number: frozenset(found) for number, found in machines_of.items()}
        nowhere = frozenset[str]()
        folders = self.head["folders"]
        for number, (kind, card, wanted) in enumerate(zip(self.kinds, self.cards, self.sets, strict=True)):
            if kind:
                document_id, title, excerpt, url = card
                address = url or usual_address(kind, document_id, folders)
                machines = fits.get(wanted, nowhere) if wanted else None
                yield number, Document(document_id, kind, title, address, excerpt, {}, machines)


def made_of(
    linked: LinkedBook,
    model: IndexModel,
    shards: Shards,
    files: Iterable[str],
    titles: Sequence[tuple[str, ...]] = (),
) -> Made:
    """Return how the index of a book was made that is in these files now; `titles` as in `Made`, where they are known."""
    analyser = Analyser()
    return Made(
        numbered_records(linked, model.documents),
        pages_digest(linked),
        facts_of(linked),
        recorded_entries(linked),
        counts_digest(model.digests),
        [document.kind for document in model.documents],
        titles or [sorted_terms(document, analyser) for document in model.documents],
        shards.terms,
        shards.lists,
        array("I", [len(found.packed) for found in model.postings.values()]),
        shards.cards,
        model.machine_sets,
        model.machines,
        shards.head,
        stamps_of(files),
    )


def made_before(cache_folder: Path) -> Made | None:
    """Return how the last index was made; None where it is not known."""
    payload = read_kept(cache_folder / _FILE, _key())
    with suppress(ValueError, EOFError, TypeError):
        if payload is not None:
            *first, packed, records_with, cards, sets, machines, head, stamps = marshal.loads(payload)
            records, pages, facts, entries, counts, kinds, titles = first
            terms, lists, *files = packed
            return Made(
                records, pages, facts, entries, counts, kinds, titles,
                TermFiles(terms, array("I", map(len, lists)), *files), lists, array("I", records_with),
                cards, sets, machines, head, stamps,
            )  # fmt: skip
    return None


def can_be_made_again(linked: LinkedBook) -> bool:
    """Whether the index is that of a whole book in its own language, as a shop builds it."""
    return not linked.book.is_part and linked.book.language == ORIGINAL


def numbered_records(linked: LinkedBook, documents: Sequence[Document]) -> dict[str, tuple[bytes, int]]:
    """Return by kind and id the digest of the file of each record, and its number among these documents."""
    numbers = {(document.kind, document.id): number for number, document in enumerate(documents)}
    files = linked.book.file_of
    return {"/".join(key): (files[key].digest, numbers[key]) for key in linked.book.all_keys()}


def sorted_terms(document: Document, analyser: Analyser) -> tuple[str, ...]:
    """Return the terms of a title in their order."""
    return tuple(sorted(title_terms(document, analyser)))


def facts_of(linked: LinkedBook) -> dict[str, bytes]:
    """Return by machine a digest of what decides which conditions hold for it."""
    return {each.id: _digest(repr(each.plain)) for each in linked.applicability.machines.values()}


def recorded_entries(linked: LinkedBook) -> dict[str, dict[str, bytes]]:
    """Return by kind and id of each machine and engine a digest of every value that it records."""
    return {
        f"{kind}/{record_id}": entries_of(linked, (kind, record_id))
        for kind in ("machine", "engine")
        for record_id in linked.book.of_kind(kind)
    }


def entries_of(linked: LinkedBook, key: Key) -> dict[str, bytes]:
    """Return the same of one machine or engine; nothing where there is none."""
    record = linked.book.get(*key)
    values = record.values if isinstance(record, Plated) else {}
    return {name: _digest(repr((*entry.__dict__.values(),)))[:8] for name, entry in values.items()}


def _digest(text: str) -> bytes:
    return hashlib.blake2b(text.encode(errors="surrogatepass"), digest_size=16).digest()


def pages_digest(linked: LinkedBook) -> bytes:
    """Return a digest of the pages that are no records."""
    digest = hashlib.blake2b(digest_size=16)
    for page in pages_of(linked.book):
        said = page.id, page.title, page.url, page.excerpt
        digest.update(repr(said).encode(errors="surrogatepass") + digest_of(page))
    return digest.digest()


def stamps_of(files: Iterable[str]) -> dict[str, Stamp]:
    """Return the stamps of files of an index by their names without ending."""
    return {os.path.basename(file).partition(".")[0]: stamp_of(file) for file in files}


def counts_digest(digests: Sequence[bytes]) -> bytes:
    """Return a digest of what is kept of the words of documents, told by their digests in order."""
    return hashlib.blake2b(b"".join(digests), digest_size=16).digest()


def _key() -> str:
    return f"{program_digest()} made"
