"""Records read earlier, kept in the user's cache by the digest of their files: unpickling is quicker than reading."""

from __future__ import annotations

import pickle
import zlib
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.model.reading import RecordFile
from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept

WORTH_KEEPING: Final = 200
"""Files from which keeping saves more than it costs."""

_CHUNKS: Final = 16
"""Files of the cache that records are spread over: an edit writes one of them anew."""

_Chunk = dict[str, RecordFile]
"""Record files by their path below `kb/`."""


class KeptRecords:
    """What is kept of the records in `kb`; whatever is damaged or of another program counts as not kept."""

    def __init__(self, kb: Path) -> None:
        self._folder = cache_of(kb)
        self._chunks = [self._load(number) for number in range(_CHUNKS)]

    def find(self, path: str, digest: bytes) -> RecordFile | None:
        """Return what was read from a file with this content, if it is kept."""
        file = self._chunks[_chunk_of(path)].get(path)
        return file if file is not None and file.digest == digest else None

    def keep(self, files: Sequence[RecordFile]) -> None:
        """Keep these files and no others; only what differs from what is kept is written."""
        chunks: list[_Chunk] = [{} for _ in range(_CHUNKS)]
        for file in files:
            if file.digest:  # a file that could not be opened has none
                chunks[_chunk_of(file.path)][file.path] = file
        for number, (chunk, kept) in enumerate(zip(chunks, self._chunks, strict=True)):
            if _digests(chunk.values()) != _digests(kept.values()):
                payload = pickle.dumps(chunk, pickle.HIGHEST_PROTOCOL)
                write_kept(self._place(number), self._key(number), payload)

    def _load(self, number: int) -> _Chunk:
        payload = read_kept(self._place(number), self._key(number))
        with suppress(
            Exception
        ):  # sealed by this program, and still: what cannot be unpickled is read from its file
            chunk: _Chunk = pickle.loads(payload) if payload is not None else {}
            return chunk
        return {}

    def _place(self, number: int) -> Path:
        return self._folder / f"records-{number:02}.bin"

    def _key(self, number: int) -> str:
        return f"{program_digest()} records {number}"


def _chunk_of(path: str) -> int:
    return zlib.crc32(path.encode(errors="surrogatepass")) % _CHUNKS


def _digests(files: Iterable[RecordFile]) -> Mapping[str, bytes]:
    return {file.path: file.digest for file in files}
