"""Publishing: every format that was asked for is made beside its place; only then does each take its place."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Final

from shearpin.book.plaintext import plain_text
from shearpin.publish import contentrecord, notices
from shearpin.publish.archive import files_below, write_archive
from shearpin.publish.bag import fingerprint_of, write_bag
from shearpin.publish.ebook import make_epub
from shearpin.publish.faults import PublishError, explain_oserror
from shearpin.publish.issue import Issue
from shearpin.publish.names import faults_of_names
from shearpin.publish.occupied import require_free
from shearpin.publish.place import alone, exchange, flush_to_disk, staging
from shearpin.publish.printing import Progress, make_pdf
from shearpin.publish.scorm import make_scorm
from shearpin.publish.teaching import paper_copy
from shearpin.publish.website import build_site

SUMS_ENDING: Final = ".sha256"
"""Ending of the file with the digests of what is one file: zip, PDF, e-book, SCORM package."""


@dataclass(frozen=True, slots=True)
class Written:
    """One published file or folder; a folder's digest is its fingerprint."""

    format: str
    path: Path
    bytes: int
    sha256: str


class Workshop:
    """Makes formats in a staging folder; what several formats need is made once."""

    def __init__(self, issue: Issue, folder: Path, progress: Progress) -> None:
        self.issue = issue
        self.folder = folder
        self.progress = progress
        self._bag: Path | None = None

    def bag(self) -> Path:
        """Return the folder of the edition with its site and digests, ready to be handed out."""
        if self._bag is None:
            self._bag = self.folder / self.issue.name
            self._bag.mkdir()
            self._fill(self._bag)
        return self._bag

    def _fill(self, bag: Path) -> None:
        issue = self.issue
        self.progress("pages")
        build_site(issue.settings, issue.packed, issue.pages(), issue.edition.title, bag / "data")
        self.progress("digests")
        sizes = {name: len(data) for name, data in files_below(bag)}
        notice = [plain_text(issue.packed, line) for line in issue.edition.notice]
        content = replace(issue.content, files=sizes)
        for name, data in (
            (notices.START_FILE, notices.start_page(issue.edition)),
            (notices.VERIFY_FILE, notices.how_to_verify(issue.edition, len(sizes))),
            (notices.LICENCE_FILE, notices.licence(issue.edition, notice, issue.packed.book)),
            (contentrecord.FILE_NAME, contentrecord.to_json(content).encode("utf-8")),
        ):
            (bag / name).write_bytes(data)
        write_bag(
            bag,
            (
                ("Source-Organization", issue.edition.issuer),
                ("External-Description", issue.edition.title),
                ("External-Identifier", issue.name),
                ("Bagging-Date", issue.edition.date),
            ),
        )
        faults = list(faults_of_names(f"{issue.name}/{name}" for name, _ in files_below(bag)))
        if faults:
            raise PublishError("\n".join(["some files could not be copied everywhere:", *faults]))
        for path in (bag, *bag.rglob("*")):
            path.chmod(0o755 if path.is_dir() else 0o644)


def _make_site(shop: Workshop) -> tuple[Path, ...]:
    return (shop.bag(),)


def _make_zip(shop: Workshop) -> tuple[Path, ...]:
    bag = shop.bag()
    shop.progress("zip")
    target = shop.folder / f"{shop.issue.name}.zip"
    with open(target, "wb") as stream:
        write_archive(stream, files_below(bag, f"{shop.issue.name}/"), shop.issue.moment)
    return (target,)


def _make_pdf(shop: Workshop) -> tuple[Path, ...]:
    return make_pdf(shop.issue, shop.folder, shop.progress)


def _make_epub(shop: Workshop) -> tuple[Path, ...]:
    shop.progress("e-book")
    target = shop.folder / f"{shop.issue.name}.epub"
    make_epub(shop.issue, target)
    return (target,)


def _make_scorm(shop: Workshop) -> tuple[Path, ...]:
    site = shop.bag() / "data"
    shop.progress("package for a learning system")
    target = shop.folder / f"{shop.issue.name}-scorm.zip"
    make_scorm(shop.issue, site, target)
    return (target,)


def _make_learner(shop: Workshop) -> tuple[Path, ...]:
    return (_make_paper_copy(shop, "learner", answers=False),)


def _make_instructor(shop: Workshop) -> tuple[Path, ...]:
    return (_make_paper_copy(shop, "instructor", answers=True),)


def _make_paper_copy(shop: Workshop, who: str, *, answers: bool) -> Path:
    target = shop.folder / f"{shop.issue.name}-{who}.html"
    target.write_bytes(paper_copy(shop.issue, answers).encode("utf-8"))
    return target


MAKERS: Final[Mapping[str, Callable[[Workshop], tuple[Path, ...]]]] = MappingProxyType(
    {
        "site": _make_site,
        "zip": _make_zip,
        "pdf": _make_pdf,
        "epub": _make_epub,
        "scorm": _make_scorm,
        "learner": _make_learner,
        "instructor": _make_instructor,
    }
)
"""Formats by name, in the order in which they are made."""


def publish(issue: Issue, out: Path, formats: Sequence[str], progress: Progress) -> tuple[Written, ...]:
    """Publish an edition into the folder `out`; raises `PublishError` and leaves what was there whole."""
    try:
        with alone(out, issue.name), staging(out, issue.name) as folder:
            require_free(out, issue.name, issue.content)
            shop = Workshop(issue, folder, progress)
            made = [(name, path) for name, make in MAKERS.items() if name in formats for path in make(shop)]
            progress("writing to the disk")
            written = [_described(name, path, out) for name, path in made]
            sums = _sums(out, issue.name, written, folder)
            whole = [*(path for _, path in made), sums]
            for path in whole:
                flush_to_disk(path)
            exchange(whole, _other_volumes(out, issue.name, written), out, issue.name)
            return tuple(written)
    except OSError as error:
        raise PublishError(explain_oserror(error, out)) from error


def _other_volumes(out: Path, name: str, written: Sequence[Written]) -> set[Path]:
    """Return PDF files of an earlier run that this one has none for: a book that shrank has fewer volumes."""
    printed = {item.path for item in written if item.format == "pdf"}
    if not printed:
        return set()
    volume = re.compile(re.escape(name) + r"(-volume-\d+)?\.pdf")
    return {path for path in out.iterdir() if volume.fullmatch(path.name)} - printed


def _described(name: str, path: Path, out: Path) -> Written:
    if path.is_dir():
        size = sum(file.stat().st_size for file in path.rglob("*") if file.is_file())
        digest = fingerprint_of((path / "tagmanifest-sha512.txt").read_bytes())
        return Written(name, out / path.name, size, digest)
    with open(path, "rb") as stream:
        digest = hashlib.file_digest(stream, "sha256").hexdigest()
    return Written(name, out / path.name, path.stat().st_size, digest)


def _sums(out: Path, name: str, written: Sequence[Written], folder: Path) -> Path:
    """Write the digests of the files of this edition, as `sha256sum` reads them; those made before are kept."""
    lines = {}
    others = _other_volumes(out, name, written)
    try:
        for line in (out / f"{name}{SUMS_ENDING}").read_text(encoding="utf-8").splitlines():
            digest, _, file = line.partition("  ")
            if (out / file).is_file() and (out / file) not in others:
                lines[file] = digest
    except (OSError, ValueError):
        pass
    lines |= {item.path.name: item.sha256 for item in written if item.format != "site"}
    target = folder / f"{name}{SUMS_ENDING}"
    target.write_bytes("".join(f"{lines[file]}  {file}\n" for file in sorted(lines)).encode("utf-8"))
    return target
