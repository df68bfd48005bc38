"""Owns a project in miniature for tools/start.py and tools/test.py: no network, installed in seconds."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.conftest import AWKWARD_NAME, ROOT

PYPROJECT = """[build-system]
requires = []
build-backend = "backend"
backend-path = ["."]

[project]
name = "miniature"
version = "1"
"""

# Builds a wheel that holds the stand-ins below, and notes that pip asked for it.
BACKEND = """import pathlib, zipfile

INFO = "miniature-1.dist-info"
NAME = "Metadata-Version: 2.1\\nName: miniature\\nVersion: 1\\n"
METADATA = NAME + "Provides-Extra: test\\nProvides-Extra: print\\n"

def build_editable(wheel_directory, config_settings=None, metadata_directory=None):
    with open("calls", "a") as calls:
        calls.write("pip\\n")
    requires = pathlib.Path("requires.told")
    metadata = METADATA + (requires.read_text() + "\\n" if requires.exists() else "")
    name = "miniature-1-py3-none-any.whl"
    with zipfile.ZipFile(pathlib.Path(wheel_directory, name), "w") as wheel:
        for path in sorted(pathlib.Path("stand_ins").rglob("*.py")):
            wheel.write(path, path.relative_to("stand_ins").as_posix())
        wheel.writestr(INFO + "/METADATA", metadata)
        wheel.writestr(INFO + "/WHEEL", "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\nTag: py3-none-any\\n")
        wheel.writestr(INFO + "/RECORD", "")
    return name
"""

# Stands in for every program that the scripts run: notes the call, does what a file of its name tells it.
STAND_IN = """import pathlib, sys, time

def run(name):
    with open("calls", "a", encoding="utf-8") as calls:
        calls.write(" ".join([name, *sys.argv[1:]]) + "\\n")
    told = pathlib.Path(name + ".told")
    code, _, words = told.read_text(encoding="utf-8").partition("\\n") if told.exists() else ("0", "", "")
    print(words, flush=True)
    if code == "sleep":
        time.sleep(120)
    if name == "mkdocs" and code == "0":
        pathlib.Path("site").mkdir(exist_ok=True)
        pathlib.Path("site", "index.html").write_text("<title>manual</title>")
    return int(code)
"""
PROGRAMS = {
    "mkdocs": "mkdocs",
    "mypy": "mypy",
    "pytest": "pytest",
    "ruff": "ruff",
    "shearpin": "shearpin/cli",
}


@dataclass(frozen=True, slots=True)
class Run:
    """How a script ended, and what it printed where."""

    code: int
    out: str
    err: str


@dataclass(frozen=True, slots=True)
class Miniature:
    """A project in miniature."""

    root: Path

    def run(self, script: str, *arguments: str, **variables: str) -> Run:
        """Run one of the scripts in the project, without any program of this computer on its path."""
        command = [sys.executable, str(self.root / "tools" / script), *arguments]
        done = subprocess.run(
            command,
            env=lonely(variables),
            capture_output=True,
            encoding="utf-8",
            errors="replace",
            check=False,
        )
        return Run(done.returncode, done.stdout, done.stderr)

    def tell(self, name: str, code: str, words: str = "") -> Path:
        """Have a stand-in print these words and end with this code; remove the returned file to stop that."""
        told = self.root / f"{name}.told"
        told.write_text(f"{code}\n{words}", encoding="utf-8")
        return told

    def change_pyproject(self) -> None:
        """Change the file that says what is to be installed."""
        with (self.root / "pyproject.toml").open("a", encoding="utf-8") as pyproject:
            pyproject.write("# changed\n")

    @contextmanager
    def requiring(self, line: str) -> Iterator[None]:
        """Have the project require a package, by a line of its metadata, for a while."""
        told = self.root / "requires.told"
        told.write_text(line, encoding="utf-8")
        self.change_pyproject()
        yield
        told.unlink()
        self.change_pyproject()

    def calls(self) -> Sequence[str]:
        """Return what was called since the last time, and forget it."""
        log = self.root / "calls"
        lines = log.read_text(encoding="utf-8").splitlines() if log.exists() else []
        log.unlink(missing_ok=True)
        return lines


def in_words(text: str) -> str:
    """Return text with its runs of blanks and line ends made single blanks."""
    return " ".join(text.split())


def wait_for_call(project: Miniature, call: str) -> None:
    """Wait until a stand-in was called so."""
    log = project.root / "calls"
    deadline = time.monotonic() + 60
    while not (log.exists() and call in log.read_text(encoding="utf-8")):
        assert time.monotonic() < deadline, f"{call} was not run"
        time.sleep(0.05)


def lonely(variables: Mapping[str, str]) -> dict[str, str]:
    """Return an environment with no programs, no display and no package index, and these variables."""
    kept = {
        name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY", "CI")
    }
    return {**kept, "PATH": os.devnull, "PIP_NO_INDEX": "1", "PYTHONIOENCODING": "utf-8", **variables}


def make_miniature(root: Path) -> Miniature:
    """Write a project in miniature around copies of the real scripts."""
    (root / "tools").mkdir(parents=True)
    for script in ("start.py", "test.py"):
        shutil.copy(ROOT / "tools" / script, root / "tools" / script)
    ignore = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "tools" / "_setup", root / "tools" / "_setup", ignore=ignore)
    stand_ins = root / "stand_ins"
    files = {
        root / "pyproject.toml": PYPROJECT,
        root / "mkdocs.yml": "site_name: Miniature\n",
        root / "backend.py": BACKEND,
        stand_ins / "stand_in.py": STAND_IN,
    }
    for name, module in PROGRAMS.items():
        files[stand_ins / module / "__init__.py"] = ""
        files[stand_ins / module / "__main__.py"] = (
            f"import stand_in, sys\n\nsys.exit(stand_in.run('{name}'))\n"
        )
    for path, text in files.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return Miniature(root)


@pytest.fixture(scope="session")
def started(tmp_path_factory: pytest.TempPathFactory) -> tuple[Miniature, Run]:
    """A project in miniature below an awkward path after its first start, and how that went."""
    miniature = make_miniature(tmp_path_factory.mktemp("started") / AWKWARD_NAME)
    return miniature, miniature.run("start.py", "--no-open")


@pytest.fixture
def project(started: tuple[Miniature, Run]) -> Miniature:
    """The started project, with nothing told to its programs and no calls noted."""
    miniature, run = started
    assert run.code == 0, run
    for told in miniature.root.glob("*.told"):
        told.unlink()
    miniature.calls()
    return miniature
