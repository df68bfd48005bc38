"""Records read earlier, kept in the user's cache by the digest of their files: to take them over is quicker than to read.

What is kept of a sound file is its data as text, lists and mappings, of which a record is made anew when somebody asks for it:
`marshal` packs that ten times as quickly as `pickle` packs records. Its format is that of one Python only; so is the key.
"""

from __future__ import annotations

import marshal
import pickle
import zlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from shearpin.book.gist import PlainGist
from shearpin.checks.rule import Found
from shearpin.model.compact import Compacting
from shearpin.model.conditiontext import condition_of, text_of
from shearpin.model.heading import Heading, Worn
from shearpin.model.keptfile import kept_file, packed_data
from shearpin.model.kinds import Kind
from shearpin.model.pointers import Group, Pointers
from shearpin.model.reading import RecordFile
from shearpin.model.usercache import (
    cache_of,
    packed_slice,
    program_digest,
    read_kept,
    unpacked_slice,
    write_kept_parts,
)

WORTH_KEEPING: Final = 200
"""Files from which keeping saves more than it costs."""

CHUNKS: Final = 32
"""Files of the cache that records are spread over: an edit writes one of them anew."""

_Heading = tuple[str, str, tuple[str, ...], tuple[str, ...], tuple[str, ...], bool, int, Worn | None]
"""A `Heading` with its condition as text."""

Entry = tuple[
    bytes,
    tuple[bool, bool],
    bytes | None,
    bytes,
    Pointers | None,
    _Heading | None,
    bytes | None,
    PlainGist | None,
]
"""Of one file: the digest, whether all characters are usual and it is unpaired, what the rules on one file found, what was read,
its references, its heading, its clauses, its gist.

What was found is pickled, empty for nothing, None where nobody asked. What was read is the data of a sound file, packed, or
the whole `RecordFile` pickled where something is wrong with it. References, heading, clauses and gist are those of a
sound file, None of another.
"""


@dataclass(frozen=True, slots=True)
class Chunk:
    """Some files of a book by their path below `kb/`: the digest of each, whether the rules on one file were asked, all else packed."""

    digests: Mapping[str, bytes] = field(default_factory=dict)
    judged: bool = True
    packed: bytes = b""

    def entries(self) -> dict[str, Entry]:
        """Return all that is kept."""
        return unpacked(self.packed) if self.packed else {}


def chunk_of(path: str) -> int:
    """Return the number of the chunk that a file belongs to."""
    return zlib.crc32(path.encode(errors="surrogatepass")) % CHUNKS


def kept_chunk(kb: Path, number: int) -> Chunk:
    """Return a chunk as an earlier process left it; an empty one where it is damaged or of another program."""
    payload = read_kept(_place(kb, number), _key(number))
    with suppress(
        Exception
    ):  # sealed by this program, and still: what cannot be unpacked is read from its file
        if payload is not None:
            (digests, judged), start = unpacked_slice(payload, 0)
            return Chunk(digests, judged, payload[start:])
    return Chunk()


def keep_chunk(kb: Path, number: int, entries: dict[str, Entry]) -> bytes:
    """Keep these files and no others in a chunk; return its entries packed."""
    packed = marshal.dumps(_shared(entries))
    digests = {path: entry[0] for path, entry in entries.items()}
    judged = all(entry[2] is not None for entry in entries.values())
    write_kept_parts(_place(kb, number), _key(number), (packed_slice((digests, judged)), packed))
    return packed


def _shared(entries: dict[str, Entry]) -> dict[str, Entry]:
    """Return entries in which equal groups of references are one: it is packed once, and one when it is unpacked."""
    met: dict[Group, Group] = {}
    return {
        path: (
            *entry[:4],
            entry[4] and tuple([met.setdefault(group, group) for group in entry[4]]),
            *entry[5:],
        )
        for path, entry in entries.items()
    }


def unpacked(packed: bytes | bytearray) -> dict[str, Entry]:
    """Return the entries of a chunk."""
    entries: dict[str, Entry] = marshal.loads(packed)
    return entries


def entry_of(
    file: RecordFile,
    data: Mapping[str, Any],
    found: Found | None,
    pointers: Pointers | None,
    clauses: bytes | None,
    gist: PlainGist | None,
) -> Entry:
    """Return what is kept of a file that was read from its bytes."""
    signs = file.usual_characters, file.unpaired
    heading: Any = file.heading if pointers is not None else None
    if heading is None:
        return (
            file.digest,
            signs,
            _packed(found),
            pickle.dumps(file, pickle.HIGHEST_PROTOCOL),
            None,
            None,
            None,
            None,
        )
    heading = (heading.title, text_of(heading.applies_to), *heading[2:])
    return file.digest, signs, _packed(found), packed_data(data), pointers, heading, clauses, gist


def with_found(entry: Entry, found: Found) -> Entry:
    """Return the entry of a file that was judged since."""
    return entry[0], entry[1], _packed(found), *entry[3:]


def _packed(found: Found | None) -> bytes | None:
    return pickle.dumps(found, pickle.HIGHEST_PROTOCOL) if found else None if found is None else b""


def file_of(path: str, kind: Kind, record_id: str, entry: Entry, compacting: Compacting) -> RecordFile:
    """Return the file of which an entry was made."""
    digest, signs, _, read, _, kept, *_ = entry
    if kept is None:
        file: RecordFile = pickle.loads(read)
        return file
    heading = Heading(kept[0], condition_of(kept[1]), *kept[2:])
    return kept_file(path, kind, record_id, heading, read, signs, digest, compacting)


def found_in(entry: Entry) -> Found | None:
    """Return what the rules on one file found in that of an entry, None where nobody asked."""
    if not entry[2]:
        return None if entry[2] is None else ()
    found: Found = pickle.loads(entry[2])
    return found


def _place(kb: Path, number: int) -> Path:
    return cache_of(kb) / f"records-{number:02}.bin"


def _key(number: int) -> str:
    return f"{program_digest()} records {number}"
