"""What the last build found in each record, kept so that the next one reads only what was changed."""

from __future__ import annotations

import hashlib
import marshal
import os
import sys
import zlib
from array import array
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from shearpin.search.concepts import Concepts
from shearpin.search.counts import Counts, Numbering, count_document
from shearpin.search.document import Document
from shearpin.search.version import code_version
from shearpin.search.words import Analyser

_FILE = "search-counts.bin"

# Of what is kept, at least this part must still be in use; else the next build starts afresh.
_STILL_USED = 0.7

_Row = tuple[tuple[int, ...], tuple[int, ...], bytes, bytes, bytes]


@dataclass(slots=True)
class Counted:
    """Counts of all records in their order, with the strings behind the numbers.

    `plain` holds for each number of `words` the plain words in it as written, with their terms.
    """

    counts: list[Counts] = field(default_factory=list)
    terms: Numbering = field(default_factory=Numbering)
    words: Numbering = field(default_factory=Numbering)
    plain: list[tuple[tuple[str, str], ...]] = field(default_factory=list)


def count_all(
    documents: Sequence[Document], concepts: Concepts, analyser: Analyser, cache_folder: Path | None = None
) -> Counted:
    """Count every record; those that `cache_folder` knows unchanged are not read again.

    The result does not depend on what was kept.
    """
    counted = Counted()
    kept: dict[bytes, _Row] = {}
    key = f"{code_version()} {sys.version} {sys.byteorder} {_digest_of(repr(concepts.phrases)).hex()}"
    path = cache_folder / _FILE if cache_folder else None
    if path:
        kept = _load(path, key, counted)
    rows: dict[bytes, _Row] = {}
    for document in documents:
        digest = _digest_of(*(part for item in sorted(document.fields.items()) for part in item))
        row = kept.get(digest)
        if row is None:
            found = count_document(document, analyser, concepts, counted.terms, counted.words)
            row = found.lengths, found.sizes, found.terms.tobytes(), found.times, found.words.tobytes()
        else:
            found = Counts(row[0], row[1], array("I", row[2]), row[3], array("I", row[4]))
        rows[digest] = row
        counted.counts.append(found)
    for text in list(counted.words)[len(counted.plain) :]:
        tokens = analyser.word(text).tokens
        counted.plain.append(tuple((token.raw, token.term) for token in tokens if token.kind == "word"))
    if path and rows.keys() != kept.keys():
        _save(path, key, counted, rows)
    return counted


def _digest_of(*texts: str) -> bytes:
    digest = hashlib.blake2b(digest_size=16)
    for text in texts:
        digest.update(text.encode(errors="surrogatepass"))
        digest.update(b"\0")
    return digest.digest()


def _load(path: Path, key: str, counted: Counted) -> dict[bytes, _Row]:
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
    found: dict[bytes, _Row] = rows
    return found


def _save(path: Path, key: str, counted: Counted, rows: dict[bytes, _Row]) -> None:
    """Keep the counts for the next build; a cache that cannot be written is no fault."""
    used = len(set().union(*(counts.terms for counts in counted.counts)))
    temporary = path.with_name(f"{path.name}.{os.getpid()}")
    with suppress(OSError):
        if used < _STILL_USED * len(counted.terms):
            path.unlink(missing_ok=True)
            return
        data = marshal.dumps((key, list(counted.terms), list(counted.words), counted.plain, rows))
        path.parent.mkdir(parents=True, exist_ok=True)
        temporary.write_bytes(zlib.crc32(data).to_bytes(4, "big") + data)
        temporary.replace(path)
