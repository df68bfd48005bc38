"""Owns what the tests need besides Python: browsers, fonts, Node.js, the packages of tests/package.json."""

from __future__ import annotations

import hashlib
import os
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from _setup.console import stage
from _setup.process import Notice, run_through, run_watched

NPM_STAMP = ".shearpin-lock"


@dataclass(frozen=True, slots=True)
class Need:
    """One thing the tests use: its Debian package, and the commands any one of which proves it is there.

    Without a command, it is a Debian package that only apt can tell about; elsewhere it is taken to be there.
    """

    package: str
    why: str
    commands: tuple[str, ...] = ()


NEEDS = (
    Need("chromium", "opens the pages", ("chromium", "chromium-browser", "google-chrome")),
    Need("firefox-esr", "opens the pages", ("firefox-esr", "firefox")),
    Need("nodejs", "drives Firefox", ("node",)),
    Need("npm", "installs what Node.js needs", ("npm",)),
    Need("default-jre-headless", "runs epubcheck over the e-books", ("java",)),
    Need("fonts-dejavu-core", "letters of the pages: Ω, ≤, ′"),
    Need("fonts-liberation", "the plain sans-serif of the pages"),
    Need("libpango-1.0-0", "sets the type of the printed edition"),
    Need("libpangoft2-1.0-0", "sets the type of the printed edition"),
    Need("libharfbuzz-subset0", "embeds the fonts of the printed edition"),
    Need("wamerican", "words that stems are compared on"),
)


def missing_needs(root: Path) -> tuple[Need, ...]:
    """Return what is not on this computer."""
    return tuple(need for need in NEEDS if not _is_there(need, root))


def prepare_machine(root: Path, stream: TextIO) -> None:
    """Install what the tests need where that is allowed, and say plainly what is missing where it is not.

    Whatever is still missing then makes its own tests skip, or fail where CI is `true`.
    """
    missing = missing_needs(root)
    if missing and may_install():
        with stage("System packages", stream) as current:
            current.result = "installed" if _apt_install(missing, root) else "failed"
        missing = missing_needs(root)
    if missing:
        stream.write("  Not on this computer, so some tests cannot run:\n")
        for need in missing:
            stream.write(f"    {' or '.join(need.commands) or need.package}: {need.why}\n")
        stream.write(f"  On Debian, as root: apt-get install {' '.join(need.package for need in missing)}\n")
    _install_npm_packages(root / "tests", stream)


def may_install() -> bool:
    """Tell whether this is root on a system with apt-get."""
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def _is_there(need: Need, root: Path) -> bool:
    if need.commands:
        return any(shutil.which(command) for command in need.commands)
    if shutil.which("dpkg-query") is None:
        return True
    query = ["dpkg-query", "--show", "--showformat=${db:Status-Status}", need.package]
    return run_watched(query, root, lambda line: None).output == "installed"


def _apt_install(needs: tuple[Need, ...], root: Path) -> bool:
    # Its output goes straight through: it takes a minute or more, and says itself what it lacks.
    apt = ["apt-get", "-o", "DPkg::Lock::Timeout=300", "--quiet"]
    quiet = {"DEBIAN_FRONTEND": "noninteractive"}
    run_through([*apt, "update"], root, quiet)  # a fault in one list must not stop what the others hold
    install = [*apt, "install", "--yes", "--no-install-recommends", *(need.package for need in needs)]
    return run_through(install, root, quiet) == 0


def _install_npm_packages(folder: Path, stream: TextIO) -> None:
    npm = shutil.which("npm")
    if npm is None:
        return
    with stage("Page checks from npm", stream) as current:
        digest = hashlib.sha256((folder / "package-lock.json").read_bytes()).hexdigest()
        stamp = folder / "node_modules" / NPM_STAMP
        if stamp.is_file() and stamp.read_text(encoding="ascii") == digest:
            current.result = "up to date"
            return
        current.result = "installed" if _npm_ci(npm, folder, current.note, stream) else "failed"
        if current.result == "installed":
            stamp.write_text(digest, encoding="ascii")


def _npm_ci(npm: str, folder: Path, notice: Notice, stream: TextIO) -> bool:
    # No script of a package runs here: what they unpack or mark as a program, the tests do themselves.
    outcome = run_watched([npm, "ci", "--ignore-scripts"], folder, notice)
    if outcome.code != 0:
        stream.write(f"\n{outcome.tail()}\n")
    return outcome.code == 0
