"""What the last build found in each record, kept so that the next one reads only what was changed."""

from __future__ import annotations

import hashlib
import marshal
import os
import sys
import zlib
from array import array
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import chain
from pathlib import Path

from shearpin.search.concepts import Concepts
from shearpin.search.counting import Batch, Row, count_batches
from shearpin.search.counts import Counts, Numbering
from shearpin.search.document import Document
from shearpin.search.version import code_version

_FILE = "search-counts.bin"

# Of what is kept, at least this part must still be in use; else the next build starts afresh.
_STILL_USED = 0.7


class Counted:
    """Counts of all records in their order, with the strings behind the numbers.

    `rows` are the counts in their compact form: a large book has many. `plain` holds for each number of `words` the
    plain words in it as written, with their terms.
    """

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self.terms = Numbering()
        self.words = Numbering()
        self.plain: list[tuple[tuple[str, str], ...]] = []

    def counts(self) -> Iterator[Counts]:
        """The counts of each record."""
        for lengths, sizes, terms, times, words in self.rows:
            yield Counts(lengths, sizes, array("I", terms), times, array("I", words))

    def take_over(self, batch: Batch) -> Iterator[Row]:
        """Give the terms and words of a batch the numbers they have here; yield its rows in these numbers."""
        terms = [self.terms[term] for term in batch.terms]
        words = [self.words[word] for word in batch.words]
        for number, plain in zip(words, batch.plain, strict=True):
            if number == len(self.plain):
                self.plain.append(plain)
        for lengths, sizes, row_terms, times, row_words in batch.rows:
            yield lengths, sizes, _renumbered(row_terms, terms), times, _renumbered(row_words, words)


def count_all(documents: Sequence[Document], concepts: Concepts, cache_folder: Path | None = None) -> Counted:
    """Count every record; those that `cache_folder` knows unchanged are not read again.

    The result does not depend on what was kept.
    """
    counted = Counted()
    key = f"{code_version()} {sys.version} {sys.byteorder} {_digest_of([repr(concepts.phrases)]).hex()}"
    path = cache_folder / _FILE if cache_folder else None
    kept = _load(path, key, counted) if path else {}
    digests = [_digest_of(part for item in sorted(d.fields.items()) for part in item) for d in documents]
    pairs = zip(digests, documents, strict=True)
    changed = {digest: document.fields for digest, document in pairs if digest not in kept}
    batches = count_batches(list(changed.values()), concepts)
    fresh = chain.from_iterable(counted.take_over(batch) for batch in batches)
    known = {**kept, **dict(zip(changed, fresh, strict=True))}
    rows = {digest: known[digest] for digest in digests}
    counted.rows.extend(rows[digest] for digest in digests)
    if path and rows.keys() != kept.keys():
        _save(path, key, counted, rows)
    return counted


def _renumbered(packed: bytes, numbers: Sequence[int]) -> bytes:
    return array("I", map(numbers.__getitem__, array("I", packed))).tobytes()


def _digest_of(texts: Iterable[str]) -> bytes:
    digest = hashlib.blake2b(digest_size=16)
    for text in texts:
        digest.update(text.encode(errors="surrogatepass"))
        digest.update(b"\0")
    return digest.digest()


def _load(path: Path, key: str, counted: Counted) -> dict[bytes, Row]:
    """Fill `counted` with what is kept under `key` and return the rows; nothing when the file is of no use."""
    try:
        data = path.read_bytes()
        if zlib.crc32(data[4:]) != int.from_bytes(data[:4], "big"):
            return {}
        kept_key, terms, words, plain, rows = marshal.loads(data[4:])
    except (OSError, ValueError, EOFError, TypeError):
        return {}
    if kept_key != key:
        return {}
    counted.terms.update((term, number) for number, term in enumerate(terms))
    counted.words.update((word, number) for number, word in enumerate(words))
    counted.plain.extend(plain)
    found: dict[bytes, Row] = rows
    return found


def _save(path: Path, key: str, counted: Counted, rows: dict[bytes, Row]) -> None:
    """Keep the counts for the next build; a cache that cannot be written is no fault."""
    used = len(set().union(*(counts.terms for counts in counted.counts())))
    temporary = path.with_name(f"{path.name}.{os.getpid()}")
    with suppress(OSError):
        if used < _STILL_USED * len(counted.terms):
            path.unlink(missing_ok=True)
            return
        data = marshal.dumps((key, list(counted.terms), list(counted.words), counted.plain, rows))
        path.parent.mkdir(parents=True, exist_ok=True)
        temporary.write_bytes(zlib.crc32(data).to_bytes(4, "big") + data)
        temporary.replace(path)
