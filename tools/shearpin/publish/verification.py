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
from shearpin.publish.copies import Place, holds_archive, is_archive, is_bag, listed_in, places_below
from shearpin.publish.faults import PublishError
from shearpin.publish.holding import (
    ARCHIVE_FAULTS,
    Holding,
    Problem,
    RefusedArchive,
    read_archive,
    read_folder,
)
from shearpin.publish.judging import judge
from shearpin.publish.publication import SUMS_ENDING

_BEGIN_OF_ENTRY: Final = b"PK\x03\x04"
_END_OF_ARCHIVE: Final = b"PK\x05\x06"
_LENGTH_OF_END: Final = 22


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

    @property
    def whole(self) -> bool:
        """Whether every file is as published; what the computer's own system added does no harm."""
        return all(problem.harmless for problem in self.problems)


def verify(path: Path) -> tuple[Report, ...]:
    """Verify every copy at `path`; raises `PublishError` where there is none, or it cannot be reached."""
    try:
        reports = tuple(_reports(path))
    except OSError as error:
        raise PublishError(f"{path} cannot be read: {error.strerror or error}") from error
    if not reports:
        above = f"{path.parent} is one; " if is_bag(path.parent) else ""
        raise PublishError(
            f"there is no published edition in {path}: {above}name its folder (with `bagit.txt` in it), its zip, "
            f"or a file that a `{SUMS_ENDING}` file beside it lists"
        )
    return reports


def _reports(path: Path) -> Iterator[Report]:
    if path.name.endswith(SUMS_ENDING) and path.is_file():
        yield from _of_place(Place(listed=listed_in(path.parent)[0]), path.parent)
    elif path.is_file():
        yield _of_file(path)
    elif not path.is_dir():
        raise PublishError(f"{path} is neither a file nor a folder")
    elif is_bag(path):
        yield _of_folder(path)
    else:
        for folder, place in places_below(path):
            yield from _of_place(place, folder)


def _of_place(place: Place, folder: Path) -> Iterator[Report]:
    for path in place.damaged:
        yield Report(path, (Problem("changed", path.name, "this list of digests is damaged"),))
    for path in place.unfinished:
        words = "a publication was cut off before all of its files were in place: publish the edition again"
        yield Report(path, (Problem("changed", path.name, words),))
    missing = {name: digest for name, digest in place.listed.items() if not (folder / name).exists()}
    for path in place.folders:
        yield _of_folder(path)
    for path in place.archives:
        former = (
            next((name for name, digest in missing.items() if digest == _sha256(path)), None)
            if missing
            else None
        )
        report = _of_archive(path)
        if former is not None:
            del missing[former]
            renamed = Problem("renamed", former, f"lies there as `{path.name}`: its content is the same")
            report = replace(report, problems=(*report.problems, renamed))
        yield report
    for name in place.listed:
        if name in missing:
            yield Report(folder / name, (Problem("missing", name, "this file is missing"),))
        elif (folder / name).is_file():
            report = _of_file(folder / name)
            yield report
            if (
                report.fingerprint
                and report.whole
                and not report.note
                and _sha256(report.path) != place.listed[name]
            ):
                words = f"its digest of {name}, which is whole, is another"
                yield Report(folder, (Problem("changed", f"*{SUMS_ENDING}", words),))


def _of_folder(folder: Path) -> Report:
    return _judged(folder, read_folder(folder))


def _of_file(path: Path) -> Report:
    wanted = listed_in(path.parent)[0].get(path.name)
    if is_archive(path):
        return _of_archive(path)
    if wanted is None:
        if path.suffix.lower() == ".zip":
            inside = (
                "; it holds another zip: unpack it, and verify what comes out" if holds_archive(path) else ""
            )
            raise PublishError(
                f"{path} is a zip, but no published edition: it has no `bagit.txt` in it{inside}"
            )
        raise PublishError(f"nothing says what {path} should be: no `{SUMS_ENDING}` file beside it lists it")
    changed = Problem("changed", path.name, "its content is not what was published")
    return Report(path, () if _sha256(path) == wanted else (changed,), 1)


def _sha256(path: Path) -> str:
    with open(path, "rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _of_archive(path: Path) -> Report:
    try:
        holding, stored = read_archive(path)
    except RefusedArchive as error:
        return Report(path, (Problem("unsafe", path.name, str(error)),))
    except ARCHIVE_FAULTS as error:
        return Report(path, (_fault_of_archive(path, error),))
    report = _judged(path, holding)
    if not report.whole:
        return report
    if not stored or report.problems:
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
        begins = stream.read(len(_BEGIN_OF_ENTRY))
    if not begins:
        return Problem("truncated", path.name, "the file is empty")
    end = _end_of_archive(path)
    if begins == _BEGIN_OF_ENTRY and (end is None or end > path.stat().st_size):
        return Problem("truncated", path.name, "the end of the archive is missing")
    if end is not None and end < path.stat().st_size:
        more = path.stat().st_size - end
        return Problem(
            "changed", path.name, f"{more:,} bytes that were not published follow the end of the archive"
        )
    return Problem("changed", path.name, f"the archive cannot be read: {error}")


def _end_of_archive(path: Path) -> int | None:
    """Return where an archive ends by its own last record, which our archives write without a comment; None without one."""
    with open(path, "rb") as stream:
        place, before, found = 0, b"", None
        while chunk := stream.read(CHUNK):
            text = before + chunk
            if (last := text.rfind(_END_OF_ARCHIVE)) >= 0:
                found = place - len(before) + last + _LENGTH_OF_END
            place, before = place + len(chunk), text[1 - len(_END_OF_ARCHIVE) :]
    return found


def _judged(path: Path, holding: Holding) -> Report:
    content = _content(holding)
    problems = judge(holding, content.files if content is not None else {})
    last = holding.top.get("tagmanifest-sha512.txt")
    return Report(
        path, problems, len(holding.files) - sum(p.harmless and p.path in holding.files for p in problems), fingerprint_of(last) if last is not None else "",
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
