"""What the last build found in each record, kept so that the next one reads only what was changed."""

from __future__ import annotations

import hashlib
import sys
from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import accumulate, chain, count, islice, pairwise
from pathlib import Path
from typing import Any

from shearpin.model.usercache import packed_slice, read_kept, unpacked_slices, write_kept_parts
from shearpin.search.concepts import Concepts
from shearpin.search.counting import Batch, count_batches
from shearpin.search.counts import Row
from shearpin.search.document import Document
from shearpin.search.numbered import Numbering
from shearpin.search.version import code_version

_FILE = "search-counts.bin"
_SLICE = 512

# Of what is kept, at least this part must still be in use; else the next build starts afresh.
_STILL_USED = 0.7


@dataclass(slots=True)
class Earlier:
    """What the last build left: rows by digest; the digests in the order of the records, the mean lengths of fields, and the
    postings of each number of a term."""

    rows: dict[bytes, Row] = field(default_factory=dict)
    digests: Sequence[bytes] = ()
    means: tuple[float, ...] = ()
    lists: Sequence[array[int]] = ()


class Counted:
    """Counts of all records in their order, with the strings behind the numbers.

    `rows` are the counts in their compact form: a large book has many. `digests` tell the texts that they are of. `plain`
    holds for each number of `words` the plain words in it as written, with their terms.
    """

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self.digests: list[bytes] = []
        self.earlier = Earlier()
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
        slices = unpacked_slices(payload)
        digests, means = next(slices)
        lists: list[array[int]] = []
        self.earlier = earlier = Earlier({}, digests, means, lists)
        for terms, words, plain, rows, sizes, postings in slices:
            self.terms.update(zip(terms, count(len(self.terms))))
            self.words.update(zip(words, count(len(self.words))))
            self.plain += plain
            earlier.rows.update(rows)
            whole, ends = array("I", postings), [0, *accumulate(array("I", sizes))]
            lists += [whole[start:end] for start, end in pairwise(ends)]

    def keep(self, means: tuple[float, ...], lists: Sequence[array[int]]) -> None:
        """Keep the counts and the lists made of them for the next build; a cache that cannot be written is no fault."""
        if self._place is None or self.digests == self.earlier.digests:
            return
        path, key = self._place
        if sum(map(bool, lists)) < _STILL_USED * len(self.terms):
            with suppress(OSError):
                path.unlink(missing_ok=True)
            return
        write_kept_parts(path, key, map(packed_slice, self._sliced(means, lists)))

    def _sliced(self, means: tuple[float, ...], lists: Sequence[array[int]]) -> Iterator[tuple[Any, ...]]:
        """Yield what is kept, slice by slice."""
        yield self.digests, means
        terms, words = iter(self.terms), iter(self.words)
        for start in range(0, max(len(lists), len(self.words), len(self.rows)), _SLICE):
            end = start + _SLICE
            strings = list(islice(terms, _SLICE)), list(islice(words, _SLICE)), self.plain[start:end]
            rows = dict(zip(self.digests[start:end], self.rows[start:end], strict=True))
            some = lists[start:end]
            sizes = array("I", map(len, some)).tobytes()
            yield *strings, rows, sizes, b"".join([each.tobytes() for each in some])

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


def count_all(documents: Sequence[Document], concepts: Concepts, cache_folder: Path | None = None) -> Counted:
    """Count every record; those that `cache_folder` knows unchanged are not read again.

    The result does not depend on what was kept.
    """
    counted = Counted()
    if cache_folder:
        counted.read_from(cache_folder / _FILE, _key(concepts))
    digests = [digest_of(document) for document in documents]
    _count(counted, digests, dict(zip(digests, documents, strict=True)), concepts)
    return counted


def count_again(changed: Mapping[int, Document], concepts: Concepts, cache_folder: Path) -> Counted:
    """Return the counts of the last build, with those of some documents, by their number, in place of what was there.

    It has no rows where nothing is kept.
    """
    counted = Counted()
    counted.read_from(cache_folder / _FILE, _key(concepts))
    digests = list(counted.earlier.digests)
    if not digests:
        return counted
    for number, document in changed.items():
        digests[number] = digest_of(document)
    _count(counted, digests, {digests[number]: changed[number] for number in changed}, concepts)
    return counted


def _count(
    counted: Counted, digests: list[bytes], documents: Mapping[bytes, Document], concepts: Concepts
) -> None:
    """Give `counted` the rows of all digests; `documents` are by theirs those of which the rows may not be kept."""
    kept = counted.earlier.rows
    unknown = {digest: document.fields for digest, document in documents.items() if digest not in kept}
    batches = count_batches(list(unknown.values()), concepts)
    fresh = chain.from_iterable(counted.take_over(batch) for batch in batches)
    known = {**kept, **dict(zip(unknown, fresh, strict=True))}
    counted.digests = digests
    counted.rows = [known[digest] for digest in digests]


def _key(concepts: Concepts) -> str:
    return f"{code_version()} {sys.version} {sys.byteorder} {_digest_of([repr(concepts.phrases)]).hex()}"


def digest_of(document: Document) -> bytes:
    """Return a digest of all that a document says."""
    return _digest_of(part for item in sorted(document.fields.items()) for part in item)


def _renumbered(packed: bytes, numbers: Sequence[int]) -> bytes:
    return array("I", map(numbers.__getitem__, array("I", packed))).tobytes()


def _digest_of(texts: Iterable[str]) -> bytes:
    return hashlib.blake2b("\0".join(texts).encode(errors="surrogatepass"), digest_size=16).digest()
