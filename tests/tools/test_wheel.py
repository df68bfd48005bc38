"""The wheel holds all that a shop needs: installed without the checkout, it begins a book and builds its manual.

The wheel is built once for the session. Nothing is fetched: the new environment sees the packages of this one by their
folder, and of Shearpin only what the wheel brought.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.conftest import AWKWARD_NAME, ROOT

SOURCES = ("pyproject.toml", "README.md", "LICENSE", "site_overrides", "tools/shearpin", "tools/_wheel.py")
BUILD = "import sys; from setuptools import build_meta; print(build_meta.build_wheel(sys.argv[1]))"


@dataclass(frozen=True, slots=True)
class Installed:
    """An environment that has the wheel and no checkout."""

    scripts: Path

    def run(self, *words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
        """Run `shearpin`; the variables that lead to this checkout or colour the output are left out."""
        left_out = ("PYTHONPATH", "SHEARPIN_LOG", "VIRTUAL_ENV")
        environment = {name: value for name, value in os.environ.items() if name not in left_out}
        command = [str(self.scripts / ("shearpin.exe" if os.name == "nt" else "shearpin")), *words]
        return subprocess.run(
            command, cwd=cwd, env=environment, capture_output=True, encoding="utf-8", check=False
        )


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from a copy so that nothing is left in the checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    source = folder / "source"
    for name in SOURCES:
        target = source / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, target, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copyfile(ROOT / name, target)
    subprocess.run([sys.executable, "-c", BUILD, str(folder)], cwd=source, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="session")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """A new environment with the wheel in it."""
    folder = tmp_path_factory.mktemp("installed") / "environment"
    venv.create(folder, with_pip=False)
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    pip = [sys.executable, "-m", "pip", f"--python={python}", "install", "--no-index", "--no-deps", "--quiet"]
    subprocess.run([*pip, str(wheel)], check=True, capture_output=True)
    (packages,) = {path.parent for path in folder.rglob("shearpin/__init__.py")}
    # A folder named in a .pth file is searched; the .pth files inside it, such as that of the checkout, are not read.
    (packages.parent / "others.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return Installed(python.parent)


@pytest.fixture(scope="session")
def shop(installed: Installed, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new book, begun by the installed command below a path with blanks and letters of two scripts."""
    folder = tmp_path_factory.mktemp("shops")
    done = installed.run("init", AWKWARD_NAME, "--name", 'Ålesund "bench" manual: 2', cwd=folder)
    assert done.returncode == 0, done.stderr
    return folder / AWKWARD_NAME


def test_the_wheel_holds_every_file_of_the_package_and_the_look(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    package, look = ROOT / "tools" / "shearpin", ROOT / "site_overrides"
    wanted = {f"shearpin/{path.relative_to(package).as_posix()}" for path in _files(package)}
    wanted |= {f"shearpin/look/{path.relative_to(look).as_posix()}" for path in _files(look)}
    assert wanted - names == set()
    assert not any(name.startswith(("tests/", "_", "kb/")) for name in names)


def _files(folder: Path) -> list[Path]:
    return [path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts]


def test_the_installed_command_is_not_the_checkout(installed: Installed, tmp_path: Path) -> None:
    python = installed.scripts / "python"
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    command = [str(python), "-c", "import shearpin; print(shearpin.__file__)"]
    found = subprocess.run(
        command, cwd=tmp_path, env=environment, check=True, capture_output=True, encoding="utf-8"
    )
    assert not Path(found.stdout.strip()).is_relative_to(ROOT)


def test_init_and_build_give_a_manual(installed: Installed, shop: Path) -> None:
    done = installed.run("build", cwd=shop)
    assert done.returncode == 0, done.stdout + done.stderr
    site = shop / "site"
    front = (site / "index.html").read_text(encoding="utf-8")
    assert "Ålesund &#34;bench&#34; manual: 2" in front
    assert 'href="look/shearpin.css"' in front
    for page in (
        "procedures/replace-spark-plug.html",
        "writing-records.html",
        "commands.html",
        "look/search.js",
    ):
        assert (site / page).is_file(), page
    assert "22 ± 2" in (site / "procedures" / "replace-spark-plug.html").read_text(encoding="utf-8")


def test_every_other_command_works_outside_a_checkout(
    installed: Installed, shop: Path, tmp_path: Path
) -> None:
    checked = installed.run("check", "--json", cwd=shop)
    assert (checked.returncode, json.loads(checked.stdout)["findings"]) == (0, [])
    found = json.loads(installed.run("find", "--json", "wont start after winter", cwd=shop).stdout)
    assert found["hits"][0]["id"] == "engine-hard-to-start"
    formatted = installed.run("format", "--check", cwd=shop)
    assert formatted.returncode == 0, formatted.stdout
    published = installed.run("publish", "whole-book", "--out", str(tmp_path), cwd=shop)
    assert published.returncode == 0, published.stderr
    assert installed.run("verify", str(tmp_path), cwd=tmp_path).returncode == 0
