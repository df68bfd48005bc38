"""Every record file read: from what is kept of earlier readings where its content is the same, else by several processes."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from shearpin.book import keptrecords
from shearpin.book.clauses import KINDS_COMPARED, packed_clauses
from shearpin.book.gist import Gist, PlainGist, gist_of, plain_gist
from shearpin.book.keptrecords import Entry, chunk_of, entry_of, file_of, found_in
from shearpin.checks.rule import Found
from shearpin.model.compact import Compacting
from shearpin.model.filecontent import content_of, digest_of
from shearpin.model.keptfile import KeptFile
from shearpin.model.kinds import Kind
from shearpin.model.pieces import Passage, share_pieces
from shearpin.model.pointers import Pointers, pointers_of
from shearpin.model.progress import say
from shearpin.model.reading import RecordFile, read_record_and_data
from shearpin.model.shares import shares_for
from shearpin.model.yamltext import TextFault


class Waiting(NamedTuple):
    """A file to be read: where it is, its path below `kb/`, its kind and its id."""

    place: str
    path: str
    kind: Kind
    id: str


class ReadFile(NamedTuple):
    """A file that was read, the digest of its bytes, what the rules on one file found, and what is known of a sound one.

    Nothing was asked of the rules where `found` is None.
    """

    file: RecordFile
    digest: bytes
    found: Found | None
    pointers: Pointers | None
    clauses: bytes | None
    gist: Gist | PlainGist | None


@dataclass(frozen=True, slots=True)
class Reading:
    """What else is asked of a reading: whether files are judged too, and what digests of their content are known.

    `files` are those that an earlier reading of this process left there, as this one does; they are taken over where the
    digest is the same. `beside` is done while other processes read, if there are any.
    """

    judged: bool = False
    digests: Mapping[str, bytes] = field(default_factory=dict)
    files: dict[str, ReadFile] | None = None
    beside: Callable[[], object] = lambda: None


def read_files(kb: Path, waiting: Sequence[Waiting], reading: Reading) -> list[ReadFile]:
    """Return every file, in any order."""
    if len(waiting) < keptrecords.WORTH_KEEPING:
        return [_read(each, reading.judged)[0] for each in waiting]
    found = _Reader(kb, waiting, reading).read()
    if reading.files is not None:
        reading.files.clear()
        reading.files.update((each.file.path, each) for each in found)
    return found


class _Reader(Passage[list[ReadFile]]):
    """Reads chunk after chunk; what another process read travels as it is kept, packed."""

    def __init__(self, kb: Path, waiting: Sequence[Waiting], reading: Reading) -> None:
        self._kb, self._reading = kb, reading
        self._chunks: list[list[Waiting]] = [[] for _ in range(keptrecords.CHUNKS)]
        for each in waiting:
            self._chunks[chunk_of(each.path)].append(each)
        self._kept = [keptrecords.kept_chunk(kb, number) for number in range(len(self._chunks))]
        self._known = [set(self._known_in(number)) for number in range(len(self._chunks))]
        self._work = [self._work_in(number) for number in range(len(self._chunks))]
        self._busy = [number for number, work in enumerate(self._work) if work]
        self._packed = b""  # the chunk that was read last
        self._compacting, self._process = Compacting(), os.getpid()

    def read(self) -> list[ReadFile]:
        """Return every file."""
        total = sum(self._work)
        step = "reading and checking records" if self._reading.judged else "reading records"
        parts = share_pieces(
            lambda piece: self._chunk(self._busy[piece]),
            len(self._busy),
            shares_for(total),
            self,
            lambda piece: say(step, sum(self._work[: self._busy[piece]]), total),
            self._reading.beside,
        )
        say(step, total, total)
        parts += [self._chunk(number) for number, work in enumerate(self._work) if not work]
        return [file for part in parts for file in part]

    def pack(self, result: list[ReadFile]) -> bytes:
        """Return the chunk that was read last as it is kept."""
        return self._packed

    def unpack(self, piece: int, packed: bytes | bytearray) -> list[ReadFile]:
        """Return the files of a chunk that another process read."""
        entries = keptrecords.unpacked(packed)
        waiting = self._chunks[self._busy[piece]]
        return [self._made(self._file(each, entries.get(each.path))[0]) for each in waiting]

    def _made(self, read: ReadFile) -> ReadFile:
        """Return a file with its record made: where so much is new, all processes need it that part from this one later."""
        if read.file.record is None or read.pointers is None:
            return read
        return read._replace(pointers=self._compacting.pairs(read.pointers))

    def _compact(self, read: ReadFile) -> ReadFile:
        if isinstance(read.file, KeptFile):
            return read  # when its record is made
        record = read.file.record
        if record is None:
            return read
        pointers = None if read.pointers is None else self._compacting.pairs(read.pointers)
        file = read.file.with_record(self._compacting.record(record))
        return read._replace(file=file, pointers=pointers)

    def _known_in(self, number: int) -> Iterator[str]:
        """Yield the files of a chunk that hold what was read earlier."""
        kept, now = self._kept[number].digests, self._reading.digests
        for each in self._chunks[number]:
            if each.path in kept and kept[each.path] == (now.get(each.path) or _digest_of_file(each.place)):
                yield each.path

    def _work_in(self, number: int) -> int:
        """Return how many files of a chunk must be read or judged."""
        all_of_them = self._reading.judged and not self._kept[number].judged
        return len(self._chunks[number]) - (0 if all_of_them else len(self._known[number]))

    def _chunk(self, number: int) -> list[ReadFile]:
        """Return the files of a chunk, and keep it where it is not what is kept."""
        if remembered := self._remembered(number):
            return remembered
        kept = self._kept[number]
        before = kept.entries()
        after: dict[str, Entry] = {}
        files = []
        for each in self._chunks[number]:
            file, entry = self._file(each, before[each.path] if each.path in self._known[number] else None)
            files.append(file)
            if file.digest:  # a file that could not be opened has none
                after[each.path] = entry
        changed = self._work[number] or len(after) != len(before)
        self._packed = keptrecords.keep_chunk(self._kb, number, after) if changed else kept.packed
        # What a helper read leaves it packed: nobody keeps its records.
        return list(map(self._compact, files)) if os.getpid() == self._process else files

    def _remembered(self, number: int) -> list[ReadFile]:
        """Return the files of a chunk as this process read them before; nothing where one of them is another."""
        files = self._reading.files
        if not files or self._work[number]:
            return []
        found = [files.get(each.path) for each in self._chunks[number]]
        kept = self._kept[number].digests
        same = [each for each in found if each is not None and each.digest == kept.get(each.file.path)]
        return same if len(same) == len(found) == len(kept) else []

    def _file(self, each: Waiting, entry: Entry | None) -> tuple[ReadFile, Entry]:
        """Return a file, made of its entry where there is one."""
        if entry is None:
            return _read(each, self._reading.judged)
        file = file_of(each.path, each.kind, each.id, entry, self._compacting)
        found = found_in(entry)
        if found is None and self._reading.judged:
            found = _judged(file)
            entry = keptrecords.with_found(entry, found)
        return ReadFile(file, file.digest, found, entry[4], entry[6], entry[7]), entry


def _read(each: Waiting, judge: bool) -> tuple[ReadFile, Entry]:
    content = content_of(each.place)
    data: dict[str, Any] = {}
    if isinstance(content, OSError):
        reason = f"the file cannot be read: {content.strerror or content}"
        fault = TextFault("FMT002", reason, "look at its rights", 1, 1)
        file = RecordFile(each.path, each.kind, each.id, None, (fault,))
    else:
        file, data = read_record_and_data(each.path, each.kind, each.id, content)
    found = _judged(file) if judge else None
    record = file.record if not file.broken else None
    pointers = pointers_of(record) if record is not None else None
    compared = record is not None and each.kind.name in KINDS_COMPARED
    clauses = packed_clauses(record) if record is not None and compared else None
    gist = gist_of(record) if record is not None else None
    plain = plain_gist(gist) if gist is not None else None
    return ReadFile(file, file.digest, found, pointers, clauses, gist), entry_of(
        file, data, found, pointers, clauses, plain
    )


def _judged(file: RecordFile) -> Found:
    # Only imported here: most commands read records without judging them.
    from shearpin.checks.one_file import judged

    return judged(file)


def _digest_of_file(place: str) -> bytes | None:
    content = content_of(place)
    return digest_of(content) if isinstance(content, bytes) else None
