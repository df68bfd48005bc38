"""What the last index in a site was made of, kept so that the next one is made of what changed since."""

from __future__ import annotations

import hashlib
import marshal
import os
from array import array
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from shearpin.book.linked import LinkedBook
from shearpin.model.translation import ORIGINAL
from shearpin.model.usercache import program_digest, read_kept, write_kept
from shearpin.search.cards import CardRow
from shearpin.search.exporting import FOLDER
from shearpin.search.kept import digest_of
from shearpin.search.model import IndexModel
from shearpin.search.pages import pages_of
from shearpin.search.shards import Shards
from shearpin.search.term_files import TermFiles

_FILE: Final = "search-made.bin"

Stamp = tuple[int, int, int]


@dataclass(slots=True)
class Made:
    """An index as it was made.

    `records` holds by kind and id the digest of the file of each record and its number among the documents; `pages` is a
    digest of pages that are no records, `counts` of all documents in order. `records_with` counts the postings of each term.
    `sets` and `machines` are those of the model; `stamps` are those of the files.
    """

    records: dict[str, tuple[bytes, int]]
    pages: bytes
    counts: bytes
    terms: TermFiles
    records_with: array[int]
    cards: list[CardRow]
    sets: Sequence[int]
    machines: Mapping[str, Sequence[int]]
    head: dict[str, Any]
    stamps: dict[str, Stamp]

    def keep(self, cache_folder: Path) -> None:
        """Keep it for the next build."""
        terms = self.terms
        packed = (list(terms.terms), terms.sizes.tobytes(), terms.starts, terms.firsts, terms.rows)
        plain: Any = (
            self.records, self.pages, self.counts, packed, self.records_with.tobytes(), self.cards,
            tuple(self.sets), dict(self.machines), self.head, self.stamps,
        )  # fmt: skip
        write_kept(cache_folder / _FILE, _key(), marshal.dumps(plain))

    def holds_in(self, site: Path) -> bool:
        """Whether the index of a site is the one that was made, unchanged."""
        try:
            there = stamps_of(site / FOLDER / f"{name}.js" for name in self.stamps)
        except OSError:
            return False
        return there == self.stamps

    def fits(self, number: int) -> frozenset[str] | None:
        """Return the machines of a document; None for all."""
        wanted = self.sets[number]
        if not wanted:
            return None
        return frozenset(machine for machine, sets in self.machines.items() if wanted in sets)


def made_of(linked: LinkedBook, model: IndexModel, shards: Shards, files: Iterable[Path]) -> Made:
    """Return how the index of a book was made that is in these files now."""
    numbers = {(document.kind, document.id): number for number, document in enumerate(model.documents)}
    records = {
        f"{kind}/{record_id}": (linked.book.file_of[kind, record_id].digest, numbers[kind, record_id])
        for kind, record_id in linked.book.all_keys()
    }
    return Made(
        records,
        pages_digest(linked),
        counts_digest(model.digests),
        shards.terms,
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
            records, pages, counts, packed, records_with, *others = marshal.loads(payload)
            terms, sizes, *files = packed
            return Made(
                records,
                pages,
                counts,
                TermFiles(terms, array("I", sizes), *files),
                array("I", records_with),
                *others,
            )
    return None


def can_be_made_again(linked: LinkedBook) -> bool:
    """Whether the index is that of a whole book in its own language, as a shop builds it."""
    return not linked.book.is_part and linked.book.language == ORIGINAL


def pages_digest(linked: LinkedBook) -> bytes:
    """Return a digest of the pages that are no records."""
    digest = hashlib.blake2b(digest_size=16)
    for page in pages_of(linked.book):
        said = page.id, page.title, page.url, page.excerpt
        digest.update(repr(said).encode(errors="surrogatepass") + digest_of(page))
    return digest.digest()


def stamps_of(files: Iterable[Path]) -> dict[str, Stamp]:
    """Return the stamps of files of an index by their names without ending."""
    found = {}
    for file in files:
        state = os.stat(file, follow_symlinks=False)
        found[file.stem] = (state.st_size, state.st_mtime_ns, state.st_ino)
    return found


def counts_digest(digests: Sequence[bytes]) -> bytes:
    """Return a digest of what is kept of the words of documents, told by their digests in order."""
    return hashlib.blake2b(b"".join(digests), digest_size=16).digest()


def _key() -> str:
    return f"{program_digest()} made"
