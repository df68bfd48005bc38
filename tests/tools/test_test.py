"""Tests tools/test.py on a project in miniature, and what it installs by stand-ins for apt-get and npm."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from _setup import machine
from tests.conftest import ROOT
from tests.tools.conftest import Miniature

CLOSING_LINE = "===== 3 passed in 0.12s ====="
EVERY_CALL = [
    "ruff check .",
    "ruff format --check .",
    "mypy -pshearpin -p_setup -p_bench -p_evaluation -p_documents -p_wheel -mstart -mtest",
    "shearpin check",
    "mkdocs build --strict",
    "pytest -n auto --dist loadfile --durations 10",
]
needs_sh = pytest.mark.skipif(os.name == "nt", reason="the stand-ins are shell scripts")


@pytest.fixture
def tested(project: Miniature) -> Miniature:
    """A project in miniature with the test extras installed."""
    assert project.run("test.py").code == 0
    project.calls()
    return project


class TestChecks:
    def test_all_run_and_are_summed_up(self, tested: Miniature) -> None:
        tested.tell("pytest", "0", CLOSING_LINE)
        run = tested.run("test.py")
        assert run.code == 0
        assert tested.calls() == EVERY_CALL
        assert f"\n{CLOSING_LINE}\n" in run.out
        summary = run.out.partition("== summary\n")[2].splitlines()
        assert [line.split("  ok")[0].strip() for line in summary[:-1]] == [
            "ruff check",
            "ruff format --check",
            "mypy --strict",
            "shearpin check",
            "mkdocs build --strict",
            "pytest",
        ]

    @pytest.mark.parametrize("program", ["ruff", "mypy", "shearpin", "mkdocs", "pytest"])
    def test_all_run_even_when_one_fails(self, tested: Miniature, program: str) -> None:
        tested.tell(program, "5", "not this time")
        run = tested.run("test.py")
        assert run.code == 1
        assert tested.calls() == EVERY_CALL
        assert "not this time\n" in run.out
        assert run.out.partition("== summary\n")[2].count("FAILED (exit code 5)") == (
            2 if program == "ruff" else 1
        )

    def test_are_pytest_alone_when_it_is_given_arguments(self, tested: Miniature) -> None:
        tested.tell("pytest", "1", CLOSING_LINE)
        run = tested.run("test.py", "tests/model", "-k", "not slow")
        assert run.code == 1
        assert tested.calls() == ["pytest tests/model -k not slow"]
        assert f"{CLOSING_LINE}\n" in run.out

    def test_name_what_the_computer_lacks(self, tested: Miniature) -> None:
        run = tested.run("test.py", "-q")
        assert "    chromium or chromium-browser or google-chrome: opens the pages\n" in run.out
        assert (
            "  On Debian, as root: apt-get install chromium firefox-esr nodejs npm default-jre-headless\n"
            in run.out
        )

    def test_do_not_run_without_their_packages(self, project: Miniature) -> None:
        with project.requiring("Requires-Dist: pytest; extra == 'test'"):
            run = project.run("test.py")
        assert run.code == 2
        assert "Shearpin needs a network once" in run.err
        assert set(project.calls()) == {"pip"}

    def test_run_without_the_printed_edition_when_pip_refuses_it(self, project: Miniature) -> None:
        with project.requiring("Requires-Dist: weasyprint; extra == 'print'"):
            run = project.run("test.py", "-q")
        assert run.code == 0
        assert "installed without print" in run.out


@pytest.fixture
def stand_in_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, str], Path]:
    """Puts a shell script on an otherwise empty PATH; it notes each call in the returned file."""
    folder = tmp_path / "bin"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))

    def put(name: str, script: str = "") -> Path:
        calls = tmp_path / f"{name}.calls"
        calls.touch()
        command = folder / name
        command.write_text(f'#!/bin/sh\necho "$@" >> "{calls}"\n{script}\n', encoding="utf-8")
        command.chmod(0o755)
        return calls

    return put


@needs_sh
class TestSystemPackages:
    def test_are_installed_by_root_with_one_update(
        self, stand_in_command: Callable[..., Path], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
    ) -> None:
        apt = stand_in_command("apt-get")
        stand_in_command("dpkg-query", 'test "$3" = fonts-liberation || printf installed')
        stand_in_command("chromium")
        stand_in_command("node")
        monkeypatch.setattr(os, "geteuid", lambda: 0)
        machine.prepare_machine(tmp_path, sys.stdout)
        update, install = apt.read_text(encoding="utf-8").splitlines()
        assert update.endswith(" update")
        assert install.endswith(
            " install --yes --no-install-recommends firefox-esr npm default-jre-headless fonts-liberation"
        )

    @pytest.mark.parametrize(("user", "commands"), [(1000, ["apt-get"]), (0, [])])
    def test_are_only_named_to_others(
        self,
        stand_in_command: Callable[..., Path],
        monkeypatch: pytest.MonkeyPatch,
        capsys: pytest.CaptureFixture[str],
        tmp_path: Path,
        user: int,
        commands: list[str],
    ) -> None:
        logs = [stand_in_command(command) for command in commands]
        monkeypatch.setattr(os, "geteuid", lambda: user)
        machine.prepare_machine(tmp_path, sys.stdout)
        assert all(log.read_text(encoding="utf-8") == "" for log in logs)
        assert (
            "apt-get install chromium firefox-esr nodejs npm default-jre-headless\n"
            in capsys.readouterr().out
        )


@needs_sh
class TestNpmPackages:
    @pytest.fixture
    def root(self, tmp_path: Path, stand_in_command: Callable[..., Path]) -> Path:
        for command in ("chromium", "firefox-esr", "node"):
            stand_in_command(command)
        (tmp_path / "tests").mkdir()
        (tmp_path / "tests" / "package-lock.json").write_text("{}", encoding="utf-8")
        return tmp_path

    def test_are_installed_once_for_each_lock_file(
        self, root: Path, stand_in_command: Callable[..., Path]
    ) -> None:
        calls = stand_in_command("npm", '/bin/mkdir -p node_modules; test "$2" = --ignore-scripts')
        for _ in range(2):
            machine.prepare_machine(root, sys.stdout)
        assert calls.read_text(encoding="utf-8") == "ci --ignore-scripts\n"
        (root / "tests" / "package-lock.json").write_text("{ }", encoding="utf-8")
        machine.prepare_machine(root, sys.stdout)
        assert calls.read_text(encoding="utf-8") == "ci --ignore-scripts\n" * 2

    def test_that_fail_are_said_and_tried_again(
        self, root: Path, stand_in_command: Callable[..., Path], capsys: pytest.CaptureFixture[str]
    ) -> None:
        calls = stand_in_command("npm", "echo npm error network; exit 1")
        for _ in range(2):
            machine.prepare_machine(root, sys.stdout)
        assert calls.read_text(encoding="utf-8") == "ci --ignore-scripts\n" * 2
        assert "npm error network" in capsys.readouterr().out

    def test_are_pinned_by_content_and_name_no_registry(self) -> None:
        lock = json.loads((ROOT / "tests" / "package-lock.json").read_text(encoding="utf-8"))
        packages = [facts for path, facts in lock["packages"].items() if path]
        assert len(packages) > 2
        assert all(facts["integrity"].startswith("sha512-") for facts in packages)
        assert not [facts for facts in packages if "resolved" in facts]
        wanted = json.loads((ROOT / "tests" / "package.json").read_text(encoding="utf-8"))["dependencies"]
        assert {name: lock["packages"][f"node_modules/{name}"]["version"] for name in wanted} == wanted


@needs_sh
def test_ci_runs_it_on_whatever_folder_it_is_called_from(
    tmp_path: Path, stand_in_command: Callable[..., Path]
) -> None:
    calls = stand_in_command("python3", f"echo '{CLOSING_LINE}'; exit 1")
    stand_in_command(
        "dirname", f'exec {sys.executable} -c "import os, sys; print(os.path.dirname(sys.argv[1]))" "$1"'
    )
    script = ROOT / ".ci" / "run"
    done = subprocess.run(
        ["/bin/bash", str(script)], cwd=tmp_path, capture_output=True, encoding="utf-8", check=False
    )
    assert calls.read_text(encoding="utf-8") == "tools/test.py\n"
    assert (done.returncode, done.stdout) == (1, f"{CLOSING_LINE}\n")
    assert os.access(script, os.X_OK)
