"""The Whoosh index on disk: written from ready-made postings through Whoosh's own codec, read term by term.

Opening a Whoosh index unpickles its schema, so an index is only ever opened where this program wrote it.
"""

from __future__ import annotations

import json
import shutil
import zlib
from array import array
from collections.abc import Iterator, Sequence
from io import BytesIO
from itertools import islice
from operator import sub
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shearpin.search.concepts import Phrase, is_written
from shearpin.search.document import ANSWER_MARK, how_many, marked_kind
from shearpin.search.impacts import CODE_BITS, CODE_MASK, rounded_idf
from shearpin.search.lean import lean_imports
from shearpin.search.lists import Card, Fit, Found

with lean_imports():
    from whoosh.codec.whoosh3 import W3Codec, W3LeafMatcher, W3PostingsWriter
    from whoosh.fields import ID, STORED, Schema
    from whoosh.filedb.filestore import FileStorage
    from whoosh.filedb.structfile import StructFile
    from whoosh.index import TOC, FileIndex

if TYPE_CHECKING:
    from shearpin.search.model import IndexModel

_NAME = "MAIN"
_HEAD = "head"  # a checksum of the rest, a line break, JSON
_WORDS = "words.json"
_MACHINES = "machines.json"

# Terms that are words of the book, and terms that only stand for two neighbouring words.
_WORD_FIELD = "word"
_PAIR_FIELD = "pair"


def write_index(model: IndexModel, folder: Path, fingerprint: str) -> None:
    """Write `model` into the empty `folder`."""
    schema = Schema(
        **{
            _WORD_FIELD: ID(),
            _PAIR_FIELD: ID(),
            "id": STORED(),
            "title": STORED(),
            "url": STORED(),
            "excerpt": STORED(),
        }
    )
    storage = _Storage(str(folder))
    codec = _Codec()
    segment = codec.new_segment(storage, _NAME)
    _write_cards(model, codec, storage, segment, schema)
    _write_postings(model, codec, storage, segment, schema)
    segment.set_doc_count(len(model.documents))
    TOC(schema, [segment], 1).write(storage, _NAME)
    shutil.rmtree(folder / f"{_NAME}.tmp", ignore_errors=True)  # where Whoosh put its columns together
    (folder / _WORDS).write_bytes(_as_json(model.words))
    (folder / _MACHINES).write_bytes(_as_json([model.machine_sets, model.machines]))
    head = {
        "fingerprint": fingerprint,
        "total": len(model.documents),
        "records": how_many(model.documents),
        "kinds": [marked_kind(document) for document in model.documents],
        "phrases": [
            [p.terms, p.concept, p.preferred, p.raws]
            for found in model.concepts.phrases.values()
            for p in found
        ],
        "spoken": [term for term, postings in model.postings.items() if not postings.packed],
        "files": {path.name: _checksum(path.read_bytes()) for path in folder.iterdir() if path.is_file()},
    }
    content = _as_json(head)
    (folder / _HEAD).write_bytes(f"{_checksum(content):08x}\n".encode() + content)


def _as_json(content: Any) -> bytes:
    return json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode()


def _checksum(data: bytes) -> int:
    return zlib.crc32(data)


def _write_cards(model: IndexModel, codec: Any, storage: Any, segment: Any, schema: Any) -> None:
    writer = codec.per_document_writer(storage, segment)
    for number, document in enumerate(model.documents):
        writer.start_doc(number)
        for name in ("id", "title", "url", "excerpt"):
            writer.add_field(name, schema[name], getattr(document, name), None)
        writer.finish_doc()
    writer.close()


class _Storage(FileStorage):  # type: ignore[misc]
    """Whoosh's files in a folder, each put together in memory: its writers ask at every term how far they are."""

    def create_file(self, name: str, **_: Any) -> Any:
        """Return a file that is on the disk once it is closed."""

        def write(file: Any) -> None:
            Path(self.folder, name).write_bytes(file.file.getbuffer())

        stored = StructFile(BytesIO(), name=name, onclose=write)
        stored.write, stored.tell = stored.file.write, stored.file.tell  # it would hand on every call
        return stored


class _WholeListWriter(W3PostingsWriter):  # type: ignore[misc]
    """Whoosh's writer of posting lists, taking a list at a time: three times as fast as posting by posting."""

    def add_list(self, packed: Sequence[int]) -> None:
        self._ids = array("I", [posting >> CODE_BITS for posting in packed])
        codes = bytes([posting & CODE_MASK for posting in packed])
        self._maxweight = most = max(codes)
        # Equal weights are stored as one, which Whoosh reads back only when it is a float.
        self._weights = codes if codes.count(most) < len(codes) else array("f", [most]) * len(codes)

    def _mini_ids(self) -> tuple[int, ...]:
        ids = self._ids
        return (ids[0], *map(sub, ids[1:], ids))

    def _mini_weights(self) -> tuple[int, ...] | float | None:
        weights = self._weights
        if isinstance(weights, bytes):
            return tuple(weights)
        first: float = weights[0]
        return None if first == 1.0 else first


class _WholeListReader(W3LeafMatcher):  # type: ignore[misc]
    """Whoosh's reader of posting lists, giving the list at a time."""

    def pairs(self) -> Iterator[tuple[int, int]]:
        while self.is_active():
            self._read_ids()
            self._read_weights()
            yield from zip(self._ids, map(int, self._weights), strict=True)
            self._next_block()


class _Codec(W3Codec):  # type: ignore[misc]
    """Whoosh's codec with whole lists: one block each, not compressed, for a query reads few and all of each."""

    def postings_writer(self, dbfile: Any, byteids: bool = False) -> _WholeListWriter:
        return _WholeListWriter(dbfile, blocklimit=1 << 30, byteids=byteids, compression=0, inlinelimit=1)

    def postings_reader(
        self, dbfile: Any, terminfo: Any, format_: Any, term: Any = None, scorer: Any = None
    ) -> _WholeListReader:
        offset, length = terminfo.extent()
        return _WholeListReader(dbfile, offset, length, format_, term=term, scorer=scorer)


def _write_postings(model: IndexModel, codec: Any, storage: Any, segment: Any, schema: Any) -> None:
    writer = codec.field_writer(storage, segment)
    for name, pair_only in ((_WORD_FIELD, False), (_PAIR_FIELD, True)):
        writer.start_field(name, schema[name])
        for term, postings in model.postings.items():
            if postings.pair_only is pair_only and postings.packed:
                writer.start_term(term.encode())
                writer._postwriter.add_list(postings.packed)
                writer.finish_term()
        writer.finish_field()
    writer.close()


class DamagedIndex(Exception):
    """There is no index in the folder, or not a whole one; its text names what is wrong."""


def _read_head(folder: Path) -> dict[str, Any]:
    """The head of the index, after every file of it has been compared with its checksum."""
    try:
        checksum, _, content = (folder / _HEAD).read_bytes().partition(b"\n")
        if int(checksum, 16) != _checksum(content):
            raise DamagedIndex(f"{folder / _HEAD} has changed")
        head: dict[str, Any] = json.loads(content)
        for name, expected in head["files"].items():
            if _checksum((folder / name).read_bytes()) != expected:
                raise DamagedIndex(f"{folder / name} has changed")
    except (OSError, ValueError, KeyError) as error:
        raise DamagedIndex(f"{folder}: {error}") from error
    return head


class StoredIndex:
    """A Whoosh index open for reading; a `Lists`."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        head = _read_head(folder)
        self.fingerprint: str = head["fingerprint"]
        self._total: int = head["total"]
        self._records: int = head["records"]
        self._kinds: list[str] = head["kinds"]
        self._spoken = frozenset(head["spoken"])
        self._phrases: dict[str, list[Phrase]] = {}
        for terms, concept, preferred, raws in head["phrases"]:
            self._phrases.setdefault(terms[0], []).append(
                Phrase(tuple(terms), concept, preferred, tuple(raws))
            )
        self._reader = FileIndex(FileStorage(str(folder), readonly=True), indexname=_NAME).reader()
        self._words: dict[str, list[list[Any]]] | None = None

    def __enter__(self) -> StoredIndex:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the files; on Windows an open index cannot be replaced."""
        self._reader.close()

    def total(self) -> int:
        """See `Lists`."""
        return self._total

    def kind(self, number: int) -> str:
        """See `Lists`."""
        return self._kinds[number].rstrip(ANSWER_MARK)

    def is_answer(self, number: int) -> bool:
        """See `Lists`."""
        return self._kinds[number].endswith(ANSWER_MARK)

    def knows(self, term: str) -> bool:
        """See `Lists`."""
        return term in self._spoken or self._field_of(term) is not None

    def _field_of(self, term: str) -> str | None:
        for name in (_WORD_FIELD, _PAIR_FIELD):
            if (name, term) in self._reader:
                return name
        return None

    def find(self, term: str) -> Found | None:
        """See `Lists`."""
        name = self._field_of(term)
        if name is None:
            return None
        frequency = self._reader.doc_frequency(name, term)
        return Found(rounded_idf(self._records, frequency), _Postings(self._reader, name, term))

    def phrases(self, first: str) -> Sequence[Phrase]:
        """See `Lists`."""
        return self._phrases.get(first, ())

    def beginning_with(self, prefix: str, limit: int) -> Sequence[str]:
        """See `Lists`."""
        terms = (text.decode() for text in self._reader.expand_prefix(_WORD_FIELD, prefix))
        return list(islice(filter(is_written, terms), limit))

    def words(self, length: int) -> Sequence[tuple[str, int]]:
        """See `Lists`."""
        if self._words is None:
            self._words = json.loads((self._folder / _WORDS).read_text(encoding="utf-8"))
        return [(word, common) for word, common in self._words.get(str(length), ())]

    def fit(self, machine: str) -> Fit | None:
        """See `Lists`."""
        sets, machines = json.loads((self._folder / _MACHINES).read_text(encoding="utf-8"))
        return (sets, frozenset(machines[machine])) if machine in machines else None

    def card(self, number: int) -> Card:
        """See `Lists`."""
        stored = self._reader.stored_fields(number)
        return Card(stored["id"], stored["title"], stored["url"], stored["excerpt"])


class _Postings:
    """The postings of one term, read when they are walked through."""

    def __init__(self, reader: Any, field: str, term: str) -> None:
        self._reader, self._field, self._term = reader, field, term

    def __iter__(self) -> Iterator[tuple[int, int]]:
        pairs: Iterator[tuple[int, int]] = self._reader.postings(self._field, self._term).pairs()
        return pairs
