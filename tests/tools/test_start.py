"""Tests tools/start.py as users run it, on a project in miniature."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import webbrowser
from pathlib import Path

import pytest

from _setup import environment, manual
from tests.tools.conftest import Miniature, Run, in_words, lonely, wait_for_call

CHECK_AND_BUILD = ["shearpin check", "mkdocs build --strict"]


class TestFirstRun:
    def test_makes_everything_and_says_where_the_manual_is(self, started: tuple[Miniature, Run]) -> None:
        miniature, run = started
        index = miniature.root / "site" / "index.html"
        assert run.code == 0
        assert run.err == ""
        for line in (
            "Python environment made",
            "Packages installed",
            "Records checked ok",
            "Manual built ok",
        ):
            assert line in in_words(run.out)
        assert f"Open this file in a browser: {index}\n" in run.out
        assert index.is_file()

    def test_leaves_pip_nothing_to_do_the_second_time(self, project: Miniature) -> None:
        run = project.run("start.py", "--no-open")
        assert run.code == 0
        assert "Packages up to date" in in_words(run.out)
        assert project.calls() == CHECK_AND_BUILD

    def test_installs_again_after_pyproject_changed_whatever_pip_is_set_to(self, project: Miniature) -> None:
        project.change_pyproject()
        elsewhere = {"PIP_USER": "1", "PIP_TARGET": str(project.root)}
        assert project.run("start.py", "--no-open", **elsewhere).code == 0
        assert project.calls() == ["pip", *CHECK_AND_BUILD]

    def test_installs_again_when_the_stamp_is_damaged(self, project: Miniature) -> None:
        (project.root / ".venv" / environment.STAMP).write_bytes(b"\xff[")
        assert project.run("start.py", "--no-open").code == 0
        assert project.calls() == ["pip", *CHECK_AND_BUILD]

    def test_takes_an_environment_without_pip_or_python_for_unusable(self, project: Miniature) -> None:
        venv = project.root / ".venv"
        (pip,) = {path.resolve() for path in venv.glob("[lL]ib*/**/site-packages/pip")}
        for part in (pip, environment.python_of(venv)):
            hidden = part.rename(part.with_name("hidden"))
            assert environment.probe(venv) is None
            hidden.rename(part)
        assert environment.probe(venv) is not None

    def test_repairs_an_environment_that_was_moved_with_its_folder(
        self, project: Miniature, tmp_path: Path
    ) -> None:
        moved = Miniature(Path(shutil.copytree(project.root, tmp_path / "moved", symlinks=True)))
        run = moved.run("start.py", "--no-open")
        assert run.code == 0
        assert "Python environment repaired" in in_words(run.out)
        assert str(project.root) not in (moved.root / ".venv" / "pyvenv.cfg").read_text(encoding="utf-8")

    def test_knows_where_each_system_keeps_its_python(self) -> None:
        assert environment.python_of(Path("v"), windows=False) == Path("v", "bin", "python")
        assert environment.python_of(Path("v"), windows=True) == Path("v", "Scripts", "python.exe")

    def test_survives_a_console_that_lacks_the_letters_of_the_path(self, project: Miniature) -> None:
        run = project.run("start.py", "--no-open", PYTHONIOENCODING="ascii")
        assert run.code == 0
        assert "\\xc5lesund" in run.out


class TestFindings:
    def test_of_the_records_are_shown_and_nothing_is_built(self, project: Miniature) -> None:
        project.tell("shearpin", "1", "parts/belt.yaml:3:1: error[REF001] no such machine")
        run = project.run("start.py", "--no-open")
        assert run.code == 1
        assert "parts/belt.yaml:3:1: error[REF001] no such machine\n" in run.out
        assert "The manual was not opened" in run.out
        assert project.calls() == ["shearpin check"]

    def test_of_the_build_are_shown(self, project: Miniature) -> None:
        project.tell("mkdocs", "1", "WARNING -  dead link\nAborted with 1 warnings in strict mode!")
        run = project.run("start.py", "--no-open")
        assert run.code == 1
        assert "WARNING -  dead link\n" in run.out
        assert "The manual was not opened" in run.out

    @pytest.mark.parametrize(
        ("code", "words"), [("3", "a bug"), ("1", f"{manual.TRACEBACK}:\nImportError: no such module")]
    )
    def test_are_not_what_a_broken_program_has(self, project: Miniature, code: str, words: str) -> None:
        project.tell("shearpin", code, words)
        run = project.run("start.py", "--no-open")
        assert run.code == 2
        assert f"Records checked: broke with exit code {code}. This is not a fault in the records." in run.err
        assert words.splitlines()[-1] in run.err


class TestOpening:
    @pytest.fixture
    def opened(self, monkeypatch: pytest.MonkeyPatch) -> list[str]:
        addresses: list[str] = []

        def note(address: str) -> bool:
            addresses.append(address)
            return True

        monkeypatch.setattr(webbrowser, "open", note)
        monkeypatch.setenv("DISPLAY", ":0")
        return addresses

    def test_hands_the_browser_the_file(
        self, project: Miniature, opened: list[str], capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert manual.start([], project.root) == 0
        index = project.root / "site" / "index.html"
        assert opened == [index.as_uri()]
        assert opened[0].startswith("file:///")
        assert f"Opened in the browser: {index}" in capsys.readouterr().out

    def test_is_left_out_when_asked(self, project: Miniature, opened: list[str]) -> None:
        assert manual.start(["--no-open"], project.root) == 0
        assert opened == []

    @pytest.mark.parametrize(
        ("system", "variables", "screen"),
        [
            ("linux", {}, False),
            ("linux", {"DISPLAY": ""}, False),
            ("linux", {"DISPLAY": ":0"}, True),
            ("linux", {"WAYLAND_DISPLAY": "wayland-0"}, True),
            ("darwin", {}, True),
            ("win32", {}, True),
        ],
    )
    def test_needs_a_screen(self, system: str, variables: dict[str, str], screen: bool) -> None:
        assert manual.can_open(variables, system) is screen


class TestInterrupt:
    @pytest.mark.skipif(os.name == "nt", reason="Windows sends interrupts to whole consoles only")
    @pytest.mark.parametrize(
        ("script", "last_line"),
        [("start.py", "Stopped. Run the same command to go on.\n"), ("test.py", "\nStopped.\n")],
    )
    def test_ends_the_script_without_a_traceback(
        self, project: Miniature, script: str, last_line: str
    ) -> None:
        project.tell("mkdocs", "sleep", "building")
        with subprocess.Popen(
            [sys.executable, str(project.root / "tools" / script)],
            env=lonely({}),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            encoding="utf-8",
            start_new_session=True,
            # A job in the background ignores interrupts, and so would whatever it starts.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        ) as process:
            try:
                wait_for_call(project, "mkdocs build --strict")
                os.killpg(process.pid, signal.SIGINT)
                out, err = process.communicate(timeout=30)
            finally:
                process.kill()
        assert process.returncode == 130
        assert out.endswith(last_line)
        assert "_setup" not in err
