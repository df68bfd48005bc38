"""Owns a project to measure: a synthetic book under the settings, theme and code of one checkout."""

from __future__ import annotations

import compileall
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from _bench.book import SyntheticBook, edit_record, write_book, write_pages

LAUNCH = Path(__file__).with_name("launch.py")
CHECK = ("-m", "shearpin.cli", "check")
BUILD = ("-m", "mkdocs", "build", "--strict")
PUBLISH = ("-m", "shearpin.cli", "publish", "edition-1", "--json")
VERIFY = ("-m", "shearpin.cli", "verify")
FIND = ("-m", "shearpin.cli", "find", "--json")


class MeasuringFault(Exception):
    """A command did not do what was to be timed; the text says which, and what it printed."""


class NotHere(Exception):
    """Something cannot be measured here; the text says why, and the rest goes on."""


@dataclass(frozen=True, slots=True)
class Took:
    """What a command took: seconds on the clock and of the processor, peak bytes of memory, and all it printed."""

    seconds: float
    cpu: float | None
    peak: float | None
    output: str


@dataclass(slots=True)
class Project:
    """A project folder on disk."""

    checkout: Path
    root: Path
    book: SyntheticBook
    edits: int = 0

    @property
    def site(self) -> Path:
        """Folder of the finished site."""
        return self.root / "site"

    @property
    def _cache(self) -> Path:
        return self.root / ".shearpin"

    def environment(self) -> dict[str, str]:
        """Return the environment for its commands: the checkout's code comes before the installed one."""
        return {
            **os.environ,
            "PYTHONPATH": str(self.checkout / "tools"),
            "PYTHONIOENCODING": "utf-8",
            "NO_MKDOCS_2_WARNING": "1",
            "SHEARPIN_CACHE": str(self._cache),
        }

    def run(self, arguments: Sequence[str], expected: tuple[int, ...] = (0,)) -> Took:
        """Run Python with these arguments in the project; raises `MeasuringFault` for another exit code."""
        output = self.root / "printed.txt"
        command = [sys.executable, "-I", "-S", str(LAUNCH), str(output), sys.executable, *arguments]
        done = subprocess.run(
            command, cwd=self.root, env=self.environment(), stdout=subprocess.PIPE, check=True
        )
        took = json.loads(done.stdout)
        printed = output.read_text(encoding="utf-8", errors="replace")
        if took["code"] not in expected:
            last = "\n".join(f"    {line[:300]}" for line in printed.splitlines()[-12:])
            words = " ".join(arguments)
            raise MeasuringFault(
                f"`{words}` ended with {took['code']} instead of {expected[0]} and printed last:\n{last}"
            )
        return Took(took["seconds"], took["cpu"], took["peak"], printed)

    def drop_caches(self) -> None:
        """Remove what commands kept for the next time."""
        shutil.rmtree(self._cache, ignore_errors=True)

    def drop_site(self) -> None:
        """Take the finished site out of the way, and what is kept beside it for the next build."""
        put_aside(self.site)
        put_aside(self.site.with_name(f".{self.site.name}.spare"))

    def edit(self) -> str:
        """Change one record; returns the words that its page must show afterwards."""
        self.edits += 1
        words = f"change {self.edits} of this record"
        edit_record(self.book, words)
        return words


def put_aside(folder: Path) -> None:
    """Take a folder out of the way, where there is one, and leave it for the end of all measurements.

    Removed before a build, its files would be charged to that build: ext4 without a journal passes by the number of every
    file that was freed within the last minutes, for each new one (measured: 12 s for 14,500 files).
    """
    if folder.is_dir():
        folder.rename(Path(tempfile.mkdtemp(prefix="aside-", dir=folder.parent)) / folder.name)


def make_project(checkout: Path, root: Path, records: int, seed: int) -> Project:
    """Write a project with a synthetic book; raises `MeasuringFault` when `checkout` is not one of Shearpin."""
    pages = checkout / "kb" / "pages"
    if not (checkout / "tools" / "shearpin").is_dir() or not (checkout / "mkdocs.yml").is_file():
        raise MeasuringFault(
            f"{checkout} is not a checkout of Shearpin: it has no tools/shearpin or no mkdocs.yml"
        )
    root.mkdir(parents=True)
    shutil.copy(checkout / "mkdocs.yml", root)
    shutil.copytree(checkout / "site_overrides", root / "site_overrides")
    write_pages(
        root / "kb" / "pages", sorted(path.relative_to(pages).as_posix() for path in pages.rglob("*.md"))
    )
    book = write_book(root / "kb", records, seed)
    # Otherwise the first command of a fresh checkout would be charged with compiling it.
    compileall.compile_dir(checkout / "tools" / "shearpin", quiet=2)
    return Project(checkout, root, book)
