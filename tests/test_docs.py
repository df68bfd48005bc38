"""Documents say what the program does: commands, words for chances, top level."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import pytest

from _documents.commands import PAGE, commands_page
from shearpin.cli.main import COMMANDS
from shearpin.model.fields import SHARE_OF_WORD

ROOT = Path(__file__).resolve().parents[1]


def read(path: str) -> str:
    return (ROOT / path).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_in_the_readme(name: str) -> None:
    assert re.search(rf"^\| `shearpin {name}\b", read("README.md"), re.MULTILINE)


def test_the_readme_names_no_command_that_does_not_exist() -> None:
    named = set(re.findall(r"`shearpin ([a-z]+)", read("README.md")))
    assert named <= set(COMMANDS)


def test_the_page_of_all_commands_is_what_the_commands_say() -> None:
    """Write it anew with `python3 tools/documents.py commands`."""
    assert PAGE.read_text(encoding="utf-8") == commands_page()


def test_every_option_is_explained_on_the_page_of_all_commands() -> None:
    rows = re.findall(r"^\| (`[^`]+`) \| (.*) \|$", commands_page(), re.MULTILINE)
    assert len(rows) > 50
    assert [word for word, words in rows if len(words) < 5] == []


def test_the_table_of_words_is_the_one_that_is_computed_with() -> None:
    rows = re.findall(
        r"^\| (\w+) \| (0\.\d+) \|$", read("tools/shearpin/guides/writing-records.md"), re.MULTILINE
    )
    assert {word: float(share) for word, share in rows} == {w.value: s for w, s in SHARE_OF_WORD.items()}


def test_the_readme_shows_pictures_that_exist() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", read("README.md"))
    assert pictures
    assert all((ROOT / picture).is_file() for picture in pictures)


def test_the_top_level_holds_what_was_agreed() -> None:
    allowed = {
        "README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "mkdocs.yml", "pyproject.toml",
        "kb", "tools", "tests", "site_overrides", "site", "dist",
    }  # fmt: skip
    found = {entry.name for entry in ROOT.iterdir() if not entry.name.startswith(".")}
    assert found <= allowed


def _dependencies() -> dict[str, str]:
    """Return every package we rely on, with what it may be."""
    project = tomllib.loads(read("pyproject.toml"))["project"]
    asked = [
        *project["dependencies"],
        *(r for extra in project["optional-dependencies"].values() for r in extra),
    ]
    python = {re.match(r"[\w.-]+", each).group(): each for each in asked}  # type: ignore[union-attr]
    return {**python, **json.loads(read("tests/package.json"))["dependencies"]}


def test_the_licence_of_every_package_we_rely_on_is_listed() -> None:
    section = read("DEVELOPERS.md").partition("## What we rely on")[2].partition("\n## ")[0]
    cells = [
        cell.strip() for row in re.findall(r"^\|(.*)\|$", section, re.MULTILINE) for cell in row.split("|")
    ]
    listed = {name: cells[index + 1] for index, name in enumerate(cells[:-1]) if name in _dependencies()}
    assert set(listed) == set(_dependencies())
    assert all(listed.values())


def test_no_package_we_rely_on_may_be_of_any_version() -> None:
    assert [name for name, asked in _dependencies().items() if not re.search(r"==|<|^\d", asked)] == []


def test_every_package_of_python_has_its_reason_beside_it() -> None:
    text = read("pyproject.toml")
    lines = text.partition("dependencies = [")[2].partition("[project.scripts]")[0].splitlines()
    asked = [line for line in lines if line.strip().startswith('"')]
    assert len(asked) > 20
    assert [line.strip() for line in asked if "#" not in line] == []


def test_no_document_names_a_path_of_somebodys_machine() -> None:
    for path in ("README.md", "DEVELOPERS.md", "CHANGELOG.md", "mkdocs.yml", "pyproject.toml"):
        assert not re.search(r"/(?:home|root|Users|work)/", read(path)), path
