"""The walk-through for writers, done as it stands: its commands, its records, and the page that comes of them."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page

ROOT = Path(__file__).resolve().parents[2]
WALK = ROOT / "kb" / "pages" / "from-the-bench-to-the-page.md"
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PLACE = re.compile(r"# (kb/\S+\.yaml)(, at the end of causes)?\n")


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demonstration book and what builds it, in which the whole walk-through has been done."""
    folder = tmp_path_factory.mktemp("walk")
    for name in ("kb", "site_overrides"):
        shutil.copytree(ROOT / name, folder / name)
    shutil.copyfile(ROOT / "mkdocs.yml", folder / "mkdocs.yml")
    text = WALK.read_text(encoding="utf-8")
    for match in BLOCK.finditer(text):
        language, content = match.groups()
        if language == "console":
            for command, answer in commands(content):
                run(command, answer, folder)
        elif language == "yaml":
            write_record(content, folder)
        else:
            assert language == "csv"
            name = re.findall(r"`([\w-]+\.csv)`", text[: match.start()])[-1]
            (folder / name).write_text(content, encoding="utf-8")
    return folder


def commands(content: str) -> Iterator[tuple[str, list[str]]]:
    """Yield each command with the lines of its answer."""
    for piece in content.split("$ ")[1:]:
        command, *answer = piece.rstrip("\n").split("\n")
        yield command, [line for line in answer if line != "…"]


def run(command: str, answer: list[str], folder: Path) -> None:
    """Do a command as a writer does; each line of the answer on the page must be in what it says."""
    name, *words = shlex.split(command)
    assert name == "shearpin"
    done = subprocess.run(
        [sys.executable, "-m", "shearpin.cli", *words],
        cwd=folder, capture_output=True, encoding="utf-8", check=False, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    if words[0] == "check":  # what is found elsewhere in the book is not the walk-through's
        assert not re.search(r"handle-(?:bolt|play)", done.stdout), done.stdout
    else:
        assert done.returncode == 0 or words[0] == "find", f"{command}\n{done.stdout}{done.stderr}"
    said = done.stdout.splitlines()
    assert [line for line in answer if line not in said] == [], command


def write_record(content: str, folder: Path) -> None:
    """Put a record of the page in the place of the file that `shearpin new` began, or lines into an older one."""
    place = PLACE.match(content)
    assert place is not None, content
    path = folder / place[1]
    assert path.is_file()
    body = content[place.end() :]
    if place[2]:
        old = path.read_text(encoding="utf-8")
        causes = re.search(r"^causes:\n(?:[ -].*\n)+", old, re.MULTILINE)
        assert causes is not None
        body = old[: causes.end()] + body + old[causes.end() :]
    path.write_text(body, encoding="utf-8")


def test_the_page_of_the_new_procedure_shows_the_figure_of_each_machine(
    project: Path, open_page: Callable[..., Page]
) -> None:
    page = open_page()
    page.goto(
        (project / "site" / "procedures" / "tighten-handle-bolts.html").as_uri() + "#machine=osmere-d28"
    )
    step = page.locator("ol[data-steps] > li[data-step]", has_text="crosswise")
    assert "24 ± 2 N·m" in step.inner_text()
    assert "22 ± 2 N·m" not in step.inner_text()
    page.goto(
        (project / "site" / "procedures" / "tighten-handle-bolts.html").as_uri() + "#machine=osmere-d24"
    )
    page.reload()
    assert "22 ± 2 N·m" in step.inner_text()
    assert page.locator("[data-signal-word]").first.is_visible()
    assert "draft" in page.locator("article").inner_text().lower()


def test_the_symptom_leads_to_the_new_cause_and_test(project: Path, open_page: Callable[..., Page]) -> None:
    page = open_page()
    page.goto((project / "site" / "symptoms" / "heavy-vibration.html").as_uri() + "#machine=osmere-d24")
    assert page.locator('a[data-ref="cause:handle-bolts-loose"]').first.is_visible()
    assert page.locator('a[data-ref="test:handle-play-check"]').first.is_visible()


def test_a_page_at_a_former_address_leads_on_with_the_machine(
    project: Path, open_page: Callable[..., Page], tmp_path: Path
) -> None:
    run("shearpin rename procedure/tighten-handle-bolts fasten-handles", [], project)
    run("shearpin build", [], project)
    old = (project / "site" / "procedures" / "tighten-handle-bolts.html").as_uri()
    for javascript in (True, False):
        page = open_page(javascript=javascript)
        page.goto(f"{old}#machine=osmere-d28")
        page.wait_for_url("**/fasten-handles.html*")
        assert page.url.endswith("#machine=osmere-d28") == javascript
        assert page.locator("h1").inner_text() == "Tighten the handle bolts"
