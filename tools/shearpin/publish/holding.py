"""A copy of an edition as it lies there, folder or zip: its files with their digests, and what is unsafe in it.

Nothing is unpacked, no link is followed, and no more is read than the file says it holds, up to a limit.
"""

from __future__ import annotations

import os
import re
import stat
import struct
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from types import MappingProxyType
from typing import IO, Final

from shearpin.publish.bag import CHUNK, MANIFESTS, Digests, digests_of
from shearpin.publish.contentrecord import FILE_NAME

MAX_FILES: Final = 500_000
MAX_TOTAL: Final = 16 << 30
MAX_RATIO: Final = 400  # our archives are stored; one packed again shrinks to about a twentieth
_TAG_LIMIT: Final = 256 << 20

READ_WHOLE: Final = frozenset({FILE_NAME, *MANIFESTS})
"""Files at the top whose content is looked into."""

ARCHIVE_FAULTS: Final = (
    zipfile.BadZipFile, zlib.error, struct.error, EOFError, RuntimeError, NotImplementedError,
    ValueError, OverflowError, OSError,
)  # fmt: skip
"""What reading a damaged archive raises."""


class RefusedArchive(Exception):
    """An archive that is not read at all; the text says why."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with a copy: what kind of damage, to which file, in words; `harmless` where pages are as published."""

    kind: str
    path: str
    message: str
    harmless: bool = False


@dataclass(frozen=True, slots=True)
class Holding:
    """The files of a copy by relative path, the bytes of `READ_WHOLE`, and what is wrong before any comparison.

    `name` is the folder inside an archive, empty for a folder.
    """

    files: Mapping[str, Digests]
    top: Mapping[str, bytes]
    problems: tuple[Problem, ...]
    blocked: frozenset[str] = frozenset()
    name: str = ""


@dataclass(slots=True)
class _Gathered:
    files: dict[str, Digests] = field(default_factory=dict)
    top: dict[str, bytes] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    blocked: set[str] = field(default_factory=set)

    def block(self, kind: str, path: str, message: str) -> None:
        self.problems.append(Problem(kind, path, message))
        self.blocked.add(path)

    def take(self, path: str, stream: IO[bytes]) -> None:
        if path in READ_WHOLE:
            self.top[path] = stream.read(_TAG_LIMIT)
            self.files[path] = digests_of([self.top[path], *_chunks(stream)])
        else:
            self.files[path] = digests_of(_chunks(stream))

    def finished(self, name: str = "") -> Holding:
        return Holding(
            MappingProxyType(self.files),
            MappingProxyType(self.top),
            tuple(self.problems),
            frozenset(self.blocked),
            name,
        )


def _chunks(stream: IO[bytes]) -> Iterator[bytes]:
    while chunk := stream.read(CHUNK):
        yield chunk


def read_folder(folder: Path) -> Holding:
    """Read a copy that lies in a folder."""
    gathered = _Gathered()
    _walk(folder, "", gathered)
    return gathered.finished()


def _walk(folder: Path, prefix: str, gathered: _Gathered) -> None:
    try:
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        gathered.block("unreadable", prefix or ".", f"cannot be listed: {error.strerror or error}")
        return
    if not entries and prefix:
        gathered.problems.append(Problem("extra", prefix, "an empty folder that was not published"))
    for entry in entries:
        path = prefix + entry.name
        mode = entry.stat(follow_symlinks=False).st_mode
        if stat.S_ISDIR(mode):
            _walk(folder / entry.name, f"{path}/", gathered)
        elif stat.S_ISREG(mode):
            try:
                with open(entry.path, "rb") as stream:
                    gathered.take(path, stream)
            except OSError as error:
                gathered.block("unreadable", path, f"cannot be read: {error.strerror or error}")
        else:
            what = "a link, which was not followed" if stat.S_ISLNK(mode) else "not a plain file"
            gathered.block("unsafe", path, what)


def read_archive(path: Path) -> tuple[Holding, bool]:
    """Read a copy that is a zip; also return whether all of its files are stored as we store them, in our order.

    Raises `RefusedArchive` for one that could fill the memory, and what `ARCHIVE_FAULTS` lists where it is no archive.
    """
    gathered = _Gathered()
    with zipfile.ZipFile(path) as archive:
        entries = archive.infolist()
        fault = _bomb(entries) or _locked(entries)
        if fault:
            raise RefusedArchive(fault)
        tops = sorted({entry.filename.split("/", 1)[0] for entry in entries if not _fault_of_entry(entry)})
        found = _folder_of_the_bag(entries)
        name = found if found is not None else tops[0] if len(tops) == 1 else ""
        seen: set[str] = set()
        for entry in entries:
            _take_entry(archive, entry, name, seen, gathered)
        names = [entry.filename for entry in entries]
        stored = all(entry.compress_type == zipfile.ZIP_STORED for entry in entries) and name in tops
        stored = stored and names == sorted(names)
    return gathered.finished(name), stored


def _take_entry(
    archive: zipfile.ZipFile, entry: zipfile.ZipInfo, name: str, seen: set[str], gathered: _Gathered
) -> None:
    fault = _fault_of_entry(entry)
    within = f"{name}/" if name else ""
    inside = entry.filename.removeprefix(within)
    if not fault and entry.filename in seen:
        fault = "stands in the archive twice"
    seen.add(entry.filename)
    if fault:
        gathered.block("unsafe", inside, fault)
    elif entry.is_dir():
        if not any(
            other.startswith(entry.filename) for other in archive.NameToInfo if other != entry.filename
        ):
            gathered.problems.append(Problem("extra", inside, "an empty folder that was not published"))
    elif not entry.filename.startswith(within):
        gathered.problems.append(Problem("extra", inside, "lies outside the folder of the edition"))
    else:
        try:
            with archive.open(entry) as stream:
                gathered.take(inside, stream)
        except ARCHIVE_FAULTS as error:
            gathered.block("changed", inside, f"its bytes in the archive are damaged: {error}")


def _fault_of_entry(entry: zipfile.ZipInfo) -> str:
    name = entry.orig_filename
    parts = PurePosixPath(name).parts
    if "\\" in name or "\0" in name or re.match(r"[A-Za-z]:", name) or name.startswith("/") or ".." in parts:
        return "its path leads out of the folder; it was not read"
    if stat.S_ISLNK(entry.external_attr >> 16):
        return "a link, which was not followed"
    if entry.flag_bits & 0x1:
        return "encrypted; it was not read"
    return ""


def _bomb(entries: list[zipfile.ZipInfo]) -> str:
    total = sum(entry.file_size for entry in entries)
    if len(entries) > MAX_FILES:
        return f"the archive says it holds {len(entries):,} files; it was not read"
    if total > MAX_TOTAL:
        return f"the archive says it holds {total:,} bytes; it was not read"
    for entry in entries:
        if entry.file_size > CHUNK and entry.file_size > MAX_RATIO * max(entry.compress_size, 1):
            return f"`{entry.filename}` would grow to {entry.file_size:,} bytes from {entry.compress_size:,}; the archive was not read"
    return ""


def _locked(entries: list[zipfile.ZipInfo]) -> str:
    if entries and all(entry.flag_bits & 0x1 for entry in entries if not entry.is_dir()):
        return "the archive is locked with a password: unpack it, and verify the folder that comes out"
    return ""


def _folder_of_the_bag(entries: list[zipfile.ZipInfo]) -> str | None:
    """Return in which folder of the archive the edition lies, empty for its root; who packs it again may add one, or none."""
    found = (
        entry.filename.rpartition("/")[0]
        for entry in entries
        if entry.filename.rpartition("/")[2].casefold()
        in ("bagit.txt", "manifest-sha256.txt", "manifest-sha512.txt")
        and not _fault_of_entry(entry)
    )
    return min(found, key=lambda folder: (folder.count("/"), folder), default=None)
