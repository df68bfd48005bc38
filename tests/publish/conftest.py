"""Owns a small project with two editions, and one of them published once for all tests."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from shearpin.cli.main import main

ROOT = Path(__file__).resolve().parents[2]

REVIEWED = "review: {state: reviewed, by: lead instructor, on: 2026-10-02}\n"
FINAL = """\
title: "Course pack: shear bolts"
number: "1"
issuer: Brook Institute
date: 2026-11-01
licence: CC BY 4.0
attribution: Brook Institute, shear bolts, edition 1
state: final
cover: [Shear bolts of the auger.]
notice: [Invented figures; never use them on a real machine.]
contents:
  symptoms: one-side-of-auger-does-not-turn
quiz: {questions: 12, seed: autumn}
review: {state: reviewed, by: lead instructor, on: 2026-10-02}
"""


def make_project(folder: Path) -> Path:
    """Write a project with the sound book, all of it reviewed, and a final edition `shear-bolts`."""
    shutil.copytree(ROOT / "tests/data/sound-book", folder / "kb", copy_function=shutil.copyfile)
    for record in (folder / "kb").rglob("*.yaml"):
        text = record.read_text(encoding="utf-8")
        if "review:" not in text:
            record.write_text(text.rstrip("\n") + "\n" + REVIEWED, encoding="utf-8")
    (folder / "kb/editions/shear-bolts.yaml").write_text(FINAL, encoding="utf-8")
    (folder / "kb/pages").mkdir()
    page = "# About\n\n[safe](procedure:make-machine-safe)\n"
    (folder / "kb/pages/about.md").write_text(page, encoding="utf-8")
    # Pages of rules link to it.
    (folder / "kb/pages/writing-records.md").write_text("# Writing records\n", encoding="utf-8")
    shutil.copytree(ROOT / "site_overrides", folder / "site_overrides")
    head, _, rest = (ROOT / "mkdocs.yml").read_text(encoding="utf-8").partition("nav:")
    tail = rest[rest.index("markdown_extensions:") :]
    (folder / "mkdocs.yml").write_text(
        f"{head}nav:\n  - About: about.md\n  - Writing records: writing-records.md\n{tail}", encoding="utf-8"
    )
    return folder


@pytest.fixture(scope="session")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small project; tests change nothing in it."""
    return make_project(tmp_path_factory.mktemp("project"))


@pytest.fixture(scope="session")
def published(project: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder into which `shear-bolts` was published as site and zip."""
    out = tmp_path_factory.mktemp("published")
    assert main(["publish", "shear-bolts", "--kb", str(project / "kb"), "--out", str(out)]) == 0
    return out
