"""One process and several find and build the same, and long work tells how far it is where that was asked for."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from _bench.book import spoil
from _bench.project import Project, make_project
from shearpin.cli.main import main
from shearpin.model.shares import WORTH_SHARING

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Project:
    """A project just large enough to be shared out."""
    return make_project(ROOT, tmp_path_factory.mktemp("jobs") / "project", WORTH_SHARING, 1)


def run(project: Project, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a command of Shearpin in the project, with nothing kept of earlier ones."""
    project.drop_caches()
    environment = {**project.environment(), "SOURCE_DATE_EPOCH": "1700000000"}
    environment.pop("SHEARPIN_JOBS", None)
    command = [sys.executable, "-m", "shearpin.cli", *words]
    return subprocess.run(
        command,
        cwd=project.root,
        env=environment,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def contents(folder: Path) -> Mapping[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_one_process_and_two_find_the_same(project: Project) -> None:
    faulty = project.root / "faulty"
    shutil.copytree(project.root / "kb", faulty, ignore=shutil.ignore_patterns("pages"))
    spoil(faulty)
    one, two = (run(project, "check", "--kb", "faulty", "--json", "--jobs", jobs) for jobs in "12")
    assert one.returncode == two.returncode == 1
    assert one.stdout.count('"code"') >= WORTH_SHARING // 100
    assert one.stdout == two.stdout
    assert one.stderr == two.stderr == ""  # JSON is for programs


def test_one_process_and_two_build_the_same(project: Project) -> None:
    sites = []
    for jobs in "12":
        done = run(project, "build", "--quiet", "--jobs", jobs)
        assert done.returncode == 0, done.stderr
        sites.append(contents(project.site))
        project.drop_site()
    assert sites[0] == sites[1]
    assert len(sites[0]) > WORTH_SHARING


def test_a_long_check_tells_its_steps_unless_it_is_to_be_quiet(project: Project) -> None:
    told = run(project, "check", "--jobs", "1")
    assert told.stderr.splitlines() == ["reading and checking records …"]
    assert run(project, "check", "--quiet", "--jobs", "1").stderr == ""


@pytest.mark.parametrize("given", ["0", "-1", "two", ""])
def test_what_is_no_number_of_processes_is_refused(given: str, capsys: pytest.CaptureFixture[str]) -> None:
    before = dict(os.environ)
    assert main(["check", f"--jobs={given}"]) == 2
    assert "1 or more" in capsys.readouterr().err
    assert dict(os.environ) == before
