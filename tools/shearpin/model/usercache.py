"""The user's own cache on this computer: files in it that are whole and of this program, or of no use.

Nothing is kept beside the records: some of it is unpickled, and what came with a copied folder could run code.
"""

from __future__ import annotations

import hashlib
import marshal
import os
import struct
import sys
import zlib
from collections.abc import Iterable, Iterator
from contextlib import suppress
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Final

from shearpin.model.userdata import cache_home

_READERS: Final = ("pydantic", "pydantic_core", "_ruamel_yaml")
"""Packages whose versions decide how a record is read."""

_LENGTH: Final = struct.Struct("=Q")
_SEAL: Final = hashlib.blake2b().digest_size


def cache_of(kb: Path) -> Path:
    """Return the folder for what is kept of the records in `kb`."""
    return cache_home() / hashlib.sha256(str(kb.resolve()).encode()).hexdigest()[:32]


@cache
def program_digest() -> str:
    """Return what changes with this program and with what it reads records by; found once in a process."""
    digest = hashlib.blake2b(f"{sys.version}\0{sys.platform}".encode())
    package = Path(__file__).resolve().parents[1]
    for file in sorted(package.rglob("*.py")):
        digest.update(f"\0{file.relative_to(package)}\0".encode())
        digest.update(file.read_bytes())
    for name in _READERS:
        spec = find_spec(name)
        if spec is not None and spec.origin is not None:
            state = os.stat(spec.origin)
            digest.update(f"\0{spec.origin}\0{state.st_size}\0{state.st_mtime_ns}".encode())
    return digest.hexdigest()


def read_kept(path: Path, key: str) -> bytes | None:
    """Return what was kept in a file under `key`; None when it is not there, damaged, or kept under another key.

    What another user of this computer has written is not believed either: anyone can make a seal.
    """
    try:
        with open(path, "rb", buffering=0) as stream:  # else what is read would be copied once more
            if not _is_ours(stream.fileno()):
                return None
            seal, payload = stream.read(_SEAL), stream.read()
    except OSError:
        return None
    return payload if seal == _sealed(zlib.crc32(payload), len(payload), key) else None


def write_kept(path: Path, key: str, payload: bytes) -> None:
    """Keep something in a file under `key`, whole or not at all; a cache that cannot be written is no fault."""
    write_kept_parts(path, key, (payload,))


def write_kept_parts(path: Path, key: str, parts: Iterable[bytes | memoryview]) -> None:
    """Keep what these parts are together; each is written before the next one is asked for."""
    temporary = path.with_name(f"{path.name}.{os.getpid()}")
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        try:
            check = length = 0
            with open(temporary, "wb") as stream:
                stream.write(bytes(_SEAL))
                for part in parts:
                    check, length = zlib.crc32(part, check), length + len(part)
                    stream.write(part)
                stream.seek(0)
                stream.write(_sealed(check, length, key))
            os.replace(temporary, path)
        finally:
            temporary.unlink(missing_ok=True)


def packed_slice(content: Any) -> bytes:
    """Return a part of something large, packed: as a whole it would take three times its room meanwhile."""
    packed = marshal.dumps(content)
    return _LENGTH.pack(len(packed)) + packed


def unpacked_slices(payload: bytes) -> Iterator[Any]:
    """Yield what was packed in slices."""
    start = 0
    while start < len(payload):
        content, start = unpacked_slice(payload, start)
        yield content


def unpacked_slice(payload: bytes, start: int) -> tuple[Any, int]:
    """Return what was packed in the slice that begins at `start`, and where the slice ends; raises as `marshal` does."""
    start += _LENGTH.size
    end = start + _LENGTH.unpack_from(payload, start - _LENGTH.size)[0]
    return marshal.loads(memoryview(payload)[start:end]), end


def _is_ours(file: int) -> bool:
    return not hasattr(os, "geteuid") or os.fstat(file).st_uid == os.geteuid()


def _sealed(check: int, length: int, key: str) -> bytes:
    """Return the seal of a content with this CRC-32 and length.

    It is for damage, not for malice, and a large book has 60 MB of caches to look at: CRC-32 takes a fifth of the time of a digest.
    """
    return hashlib.blake2b(f"{check} {length} {key}".encode(errors="surrogatepass")).digest()
