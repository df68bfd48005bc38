"""What the last build found in each record, kept so that the next one reads only what was changed."""

from __future__ import annotations

import hashlib
import sys
from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import chain, count, islice
from pathlib import Path

from shearpin.book.joined import Unpacking
from shearpin.model.usercache import packed_slice, read_kept, write_kept_parts
from shearpin.search.concepts import Concepts
from shearpin.search.counting import Batch, count_batches
from shearpin.search.counts import Row
from shearpin.search.document import Document
from shearpin.search.impacts import CODE_BITS
from shearpin.search.keptlists import KeptLists, Lists, in_use, packed_lists
from shearpin.search.keptrows import KeptRows, Rows, Totals, changed_rows
from shearpin.search.numbered import Numbering
from shearpin.search.version import code_version

_FILE = "search-counts.bin"
_SLICE = 4_096

# Of what is kept, at least this part must still be in use; else the next build starts afresh.
_STILL_USED = 0.7


Meant = tuple[tuple[str, ...], str]
"""The terms of a phrase, and the concept that it stands for."""


@dataclass(slots=True)
class Earlier:
    """What the last build left: the digests in the order of the records with their rows and what all have together, the mean lengths of
    fields, and the postings of each number of a term; the terms of each phrase of a synonym with its concept, and the words of all synonyms."""

    digests: Sequence[bytes] = ()
    rows: KeptRows = field(default_factory=KeptRows)
    totals: Totals = field(default_factory=Totals)
    means: tuple[float, ...] = ()
    lists: KeptLists = field(default_factory=KeptLists)
    phrases: frozenset[Meant] = frozenset()
    spoken: frozenset[str] = frozenset()


class Counted:
    """Counts of all records in their order, with the strings behind the numbers.

    `rows` are the counts in their compact form, `totals` what all have together. `digests` tell the texts that they are of. `plain`
    holds for each number of `words` the plain words in it as written, with their terms. `stale` are the digests of texts that
    were counted with other synonyms, one of which they may hold.
    """

    def __init__(self, concepts: Concepts) -> None:
        self.rows = Rows()
        self.totals = Totals()
        self.digests: list[bytes] = []
        self.stale: frozenset[bytes] = frozenset()
        self.earlier = Earlier()
        self._concepts = concepts
        self._phrases = _meant_by(concepts)
        self._place: tuple[Path, str] | None = None
        self.terms = Numbering()
        self.words = Numbering()
        self.plain: list[tuple[tuple[str, str], ...]] = []

    def read_from(self, path: Path, key: str) -> None:
        """Take what is kept under `key` in a file, and remember where; nothing when the file is of no use."""
        self._place = path, key
        payload = read_kept(path, key)
        if payload is None:
            return
        unpacking = Unpacking(payload)
        digests, means, phrases, spoken, lengths, having, used, slices = unpacking.slice()
        for _ in range(slices):
            terms, words, plain = unpacking.slice()
            self.terms.update(zip(terms, count(len(self.terms))))
            self.words.update(zip(words, count(len(self.words))))
            self.plain += plain
        self.earlier = Earlier(
            digests, KeptRows.read_from(unpacking, digests), Totals(lengths, having, array("I", used)), means,
            KeptLists.read_from(unpacking), frozenset(phrases), frozenset(spoken),
        )  # fmt: skip
        self.stale = frozenset(
            digests[number] for number in self._numbers_with(self.earlier.phrases ^ self._phrases)
        )

    def _numbers_with(self, phrases: Iterable[Meant]) -> set[int]:
        """Return the numbers of the texts of before that may hold one of these phrases.

        They hold all its terms; and where these stood for a concept before, that concept.
        """
        found: set[int] = set()
        stood_for = dict(self.earlier.phrases)
        for terms, _ in phrases:
            wanted = [*terms, *([stood_for[terms]] if terms in stood_for else [])]
            lists = [self.earlier.lists[self.terms[term]] for term in wanted if term in self.terms]
            if len(lists) == len(wanted):
                found |= set.intersection(*({posting >> CODE_BITS for posting in each} for each in lists))
        return found

    @property
    def phrases_differ(self) -> bool:
        """Whether texts are counted with other synonyms than before."""
        return self._phrases != self.earlier.phrases

    def count(self, digests: list[bytes], documents: Mapping[bytes, Document]) -> None:
        """Take the counts of texts with these digests; `documents` are by theirs those that may be new, and those that are stale."""
        earlier, stale = self.earlier, self.stale
        unknown = {
            d: document.fields
            for d, document in documents.items()
            if d and (d not in earlier.rows or d in stale)
        }
        batches = count_batches(list(unknown.values()), self._concepts)
        fresh = chain.from_iterable(self.take_over(batch) for batch in batches)
        self.digests = digests
        self.rows = Rows(digests, dict(zip(unknown, fresh, strict=True)), earlier.rows)
        added, taken = changed_rows(earlier.digests, digests, stale)
        before = (earlier.rows[digest] for digest in taken if digest)
        self.totals = earlier.totals.with_others(map(self.rows.of, added), before, len(self.words))

    def forget_rows(self) -> None:
        """Give up the counts, where all that is needed of them is in the lists."""
        self.rows = Rows()

    def keep(self, means: tuple[float, ...], lists: Lists) -> None:
        """Keep the counts and the lists made of them for the next build; a cache that cannot be written is no fault."""
        as_before = self.digests == self.earlier.digests and not self.phrases_differ
        if self._place is None or as_before:
            return
        path, key = self._place
        if in_use(lists) < _STILL_USED * len(self.terms):
            with suppress(OSError):
                path.unlink(missing_ok=True)
            return
        write_kept_parts(path, key, chain(self._strings(means), self.rows.packed(), packed_lists(lists)))

    def _strings(self, means: tuple[float, ...]) -> Iterator[bytes]:
        """Yield what is kept besides rows and lists, slice by slice."""
        starts = range(0, max(len(self.terms), len(self.words)), _SLICE)
        totals = self.totals
        yield packed_slice(
            (
                self.digests, means, tuple(sorted(self._phrases)), self._concepts.words,
                totals.lengths, totals.having, totals.used.tobytes(), len(starts),
            )
        )  # fmt: skip
        terms, words = iter(self.terms), iter(self.words)
        for start in starts:
            strings = (
                list(islice(terms, _SLICE)),
                list(islice(words, _SLICE)),
                self.plain[start : start + _SLICE],
            )
            yield packed_slice(strings)

    def take_over(self, batch: Batch) -> Iterator[Row]:
        """Give the terms and words of a batch the numbers they have here; yield its rows in these numbers."""
        terms = [self.terms[term] for term in batch.terms]
        words = [self.words[word] for word in batch.words]
        for number, plain in zip(words, batch.plain, strict=True):
            if number == len(self.plain):
                self.plain.append(plain)
        if terms == list(range(len(terms))) and words == list(range(len(words))):
            yield from batch.rows  # as with the first batch of a clean build
            return
        for lengths, sizes, row_terms, times, row_words in batch.rows:
            yield lengths, sizes, _renumbered(row_terms, terms), times, _renumbered(row_words, words)


def kept_counts(concepts: Concepts, cache_folder: Path | None) -> Counted:
    """Return the counts of no record yet, with what the last build kept in a folder."""
    counted = Counted(concepts)
    if cache_folder:
        counted.read_from(cache_folder / _FILE, _key())
    return counted


def count_all(documents: Sequence[Document], concepts: Concepts, cache_folder: Path | None = None) -> Counted:
    """Count every record; those that `cache_folder` knows unchanged are not read again.

    The result does not depend on what was kept.
    """
    counted = kept_counts(concepts, cache_folder)
    digests = [digest_of(document) for document in documents]
    counted.count(digests, dict(zip(digests, documents, strict=True)))
    return counted


def _meant_by(concepts: Concepts) -> frozenset[Meant]:
    """Return the phrases by which texts are counted; misspellings are only corrected in queries."""
    phrases = chain.from_iterable(concepts.phrases.values())
    return frozenset((phrase.terms, phrase.concept) for phrase in phrases if not phrase.preferred)


def _key() -> str:
    return f"{code_version()} {sys.version} {sys.byteorder}"


def digest_of(document: Document) -> bytes:
    """Return a digest of all that a document says; nothing where it says nothing, as at a number that no document has."""
    if not document.fields:
        return b""
    return _digest_of(part for item in sorted(document.fields.items()) for part in item)


def _renumbered(packed: bytes, numbers: Sequence[int]) -> bytes:
    return array("I", map(numbers.__getitem__, array("I", packed))).tobytes()


def _digest_of(texts: Iterable[str]) -> bytes:
    return hashlib.blake2b("\0".join(texts).encode(errors="surrogatepass"), digest_size=16).digest()
