"""Verifying copies of editions: a folder, a zip, a single file beside its digests, or a stick that holds several."""

from __future__ import annotations

import hashlib
import tempfile
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Final

from shearpin.publish.archive import write_archive
from shearpin.publish.bag import CHUNK, fingerprint_of
from shearpin.publish.contentrecord import FILE_NAME, EditionContent, from_json
from shearpin.publish.faults import PublishError
from shearpin.publish.holding import (
    ARCHIVE_FAULTS,
    READ_WHOLE,
    Holding,
    Problem,
    RefusedArchive,
    read_archive,
    read_folder,
)
from shearpin.publish.judging import judge
from shearpin.publish.publication import SUMS_ENDING

_MARKS: Final = frozenset({"bagit.txt", "bag-info.txt", *READ_WHOLE})
_END_OF_ARCHIVE: Final = b"PK\x05\x06"


@dataclass(frozen=True, slots=True)
class Report:
    """What was found out about one copy; `fingerprint` is empty for single files and where it cannot be told."""

    path: Path
    problems: tuple[Problem, ...]
    files: int = 0
    fingerprint: str = ""
    title: str = ""
    number: str = ""
    note: str = ""


def verify(path: Path) -> tuple[Report, ...]:
    """Verify every copy at `path`; raises `PublishError` where there is none, or it cannot be reached."""
    try:
        reports = tuple(_reports(path))
    except OSError as error:
        raise PublishError(f"{path} cannot be read: {error.strerror or error}") from error
    if not reports:
        raise PublishError(
            f"there is no published edition in {path}: name its folder (with `bagit.txt` in it), its zip, "
            f"or a file that a `{SUMS_ENDING}` file beside it lists"
        )
    return reports


def _reports(path: Path) -> Iterator[Report]:
    if path.is_file():
        yield _of_file(path)
    elif _is_bag(path):
        yield _of_folder(path)
    else:
        listed = _listed_beside(path)
        for entry in sorted(path.iterdir()):
            if entry.name.startswith("."):
                continue
            if entry.is_dir() and not entry.is_symlink() and _is_bag(entry):
                yield _of_folder(entry)
            elif entry.is_file() and (entry.suffix.lower() == ".zip" or entry.name in listed):
                yield _of_file(entry)
        for name in listed:
            if not (path / name).exists():
                missing = Problem("missing", name, "this file is missing")
                yield Report(path / name, (missing,))


def _is_bag(folder: Path) -> bool:
    try:
        return any(entry.name.casefold() in _MARKS for entry in folder.iterdir())
    except OSError:
        return False


def _of_folder(folder: Path) -> Report:
    return _judged(folder, read_folder(folder))


def _of_file(path: Path) -> Report:
    wanted = _listed_beside(path.parent).get(path.name)
    if path.suffix.lower() == ".zip" and (wanted is None or _holds_a_bag(path)):
        return _of_archive(path)
    if wanted is None:
        raise PublishError(f"nothing says what {path} should be: no `{SUMS_ENDING}` file beside it lists it")
    with open(path, "rb") as stream:
        found = hashlib.file_digest(stream, "sha256").hexdigest()
    changed = Problem("changed", path.name, "its content is not what was published")
    return Report(path, () if found == wanted else (changed,), 1)


def _listed_beside(folder: Path) -> dict[str, str]:
    """Return the digests that the files of digests in a folder list, by file name."""
    listed = {}
    for sums in sorted(folder.glob(f"*{SUMS_ENDING}")):
        for line in sums.read_text(encoding="utf-8", errors="replace").splitlines():
            digest, _, name = line.partition("  ")
            if name and "/" not in name and "\\" not in name:
                listed[name] = digest
    return listed


def _holds_a_bag(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as archive:
            return any(name.rpartition("/")[2].casefold() in _MARKS for name in archive.namelist())
    except ARCHIVE_FAULTS:
        return True  # what it was cannot be told; its damage is named either way


def _of_archive(path: Path) -> Report:
    try:
        holding, stored = read_archive(path)
    except RefusedArchive as error:
        return Report(path, (Problem("unsafe", path.name, str(error)),))
    except ARCHIVE_FAULTS as error:
        return Report(path, (_fault_of_archive(path, error),))
    report = _judged(path, holding)
    if report.problems:
        return report
    if not stored:
        return replace(report, note="packed again by another program; every file in it is as published")
    try:
        place = _first_difference(path)
    except ARCHIVE_FAULTS as error:
        unchecked = Problem(
            "unreadable", path.name, f"the archive around its files could not be checked: {error}"
        )
        return replace(report, problems=(unchecked,))
    if place is not None:
        around = f"byte {place:,} of the archive is not as published; the files in it are"
        return replace(report, problems=(Problem("changed", path.name, around),))
    return report


def _fault_of_archive(path: Path, error: Exception) -> Problem:
    with open(path, "rb") as stream:
        begins = stream.read(4)
        stream.seek(max(0, path.stat().st_size - (1 << 16) - 64))
        ends = stream.read()
    if begins == b"PK\x03\x04" and _END_OF_ARCHIVE not in ends:
        return Problem("truncated", path.name, "the end of the archive is missing")
    return Problem("changed", path.name, f"the archive cannot be read: {error}")


def _judged(path: Path, holding: Holding) -> Report:
    content = _content(holding)
    problems = judge(holding, content.files if content is not None else {})
    last = holding.top.get("tagmanifest-sha512.txt")
    return Report(
        path, problems, len(holding.files), fingerprint_of(last) if last is not None else "",
        content.title if content is not None else "", content.number if content is not None else "",
    )  # fmt: skip


def _content(holding: Holding) -> EditionContent | None:
    try:
        return from_json(holding.top.get(FILE_NAME, b""), FILE_NAME)
    except PublishError:
        return None


def _first_difference(path: Path) -> int | None:
    """Return where an archive differs from the one that its content makes; None where nowhere."""
    with zipfile.ZipFile(path) as archive, tempfile.TemporaryFile() as again, open(path, "rb") as stream:
        entries = archive.infolist()
        moment = datetime(*entries[0].date_time, tzinfo=UTC)
        write_archive(again, ((entry.filename, archive.read(entry)) for entry in entries), moment)
        again.seek(0)
        return _differ(stream, again)


def _differ(one: IO[bytes], other: IO[bytes]) -> int | None:
    place = 0
    while True:
        left, right = one.read(CHUNK), other.read(CHUNK)
        if left != right:
            same = next((i for i, (a, b) in enumerate(zip(left, right, strict=False)) if a != b), None)
            return place + (same if same is not None else min(len(left), len(right)))
        if not left:
            return None
        place += len(left)
