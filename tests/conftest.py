"""Owns the fixtures that all tests may use: the built site, and a copy of it in an awkward place."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")  # on a busy machine a single example may take any time

ROOT = Path(__file__).resolve().parents[1]

# What a folder on a stick may be called: blanks, signs that end or escape a URL, letters of two scripts.
AWKWARD_NAME = "Ålesund shop #2 – 100 % 手引 & more"


@pytest.fixture(scope="session", autouse=True)
def _cache_of_the_tests(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep what the tests keep out of the user's cache, and what the user's cache holds out of the tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SHEARPIN_CACHE", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project's own site, built once by the command that users run. Tests change nothing in it."""
    folder = tmp_path_factory.mktemp("site")
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--site-dir", str(folder)]
    built = subprocess.run(
        command, cwd=ROOT, capture_output=True, encoding="utf-8", errors="replace", check=False
    )
    if built.returncode != 0:
        pytest.fail(f"{' '.join(command)}\n{built.stdout}{built.stderr}", pytrace=False)
    return folder


@pytest.fixture(scope="session")
def awkward_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty folder whose path breaks links that are not escaped."""
    folder = tmp_path_factory.mktemp("awkward") / AWKWARD_NAME
    folder.mkdir()
    return folder


@pytest.fixture(scope="session")
def awkward_site(built_site: Path, awkward_folder: Path) -> Path:
    """A copy of the built site below a path with blanks, `#`, `%` and non-ASCII letters."""
    return Path(shutil.copytree(built_site, awkward_folder / "site"))
