"""Tests what tools/start.py says to an old Python and to a computer or folder that will not do."""

from __future__ import annotations

import ast
import errno
import importlib.util
import os
import runpy
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from _setup import environment, oserrors
from _setup.console import Fault
from _setup.oldest_python import OLDEST, refusal
from tests.conftest import ROOT
from tests.tools.conftest import Miniature, in_words, make_miniature


class TestOldPython:
    @pytest.mark.parametrize("version", [(3, 6), (3, 9)])
    def test_is_refused_with_what_to_do(self, version: tuple[int, int]) -> None:
        message = refusal(version, "tools/start.py")
        assert f"needs Python 3.11 or newer; this is Python {version[0]}.{version[1]}." in message
        assert "python3.12 tools/start.py (Windows: py -3.12 tools\\start.py)" in message

    @pytest.mark.parametrize("version", [(3, 11), (3, 13), (4, 0)])
    def test_is_not_what_is_new_enough(self, version: tuple[int, int]) -> None:
        assert refusal(version, "tools/start.py") == ""

    def test_is_older_than_what_the_project_declares(self) -> None:
        pyproject = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
        assert 'requires-python = ">={}.{}"'.format(*OLDEST) in pyproject

    def test_is_told_so_by_the_command_line_too(self, capsys: pytest.CaptureFixture[str]) -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(sys, "version_info", (3, 9, 18, "final", 0))
            with pytest.raises(SystemExit) as ended:
                runpy.run_module("shearpin.cli", run_name="__main__")
        assert ended.value.code == 2
        assert "needs Python {}.{} or newer; this is Python 3.9.".format(*OLDEST) in capsys.readouterr().err

    @pytest.mark.parametrize("script", ["start.py", "test.py"])
    def test_can_read_the_script_and_what_it_imports_first(self, script: str) -> None:
        tree = ast.parse((ROOT / "tools" / script).read_text(encoding="utf-8"), feature_version=(3, 6))
        imports = [node for node in tree.body if isinstance(node, (ast.Import, ast.ImportFrom))]
        assert [ast.unparse(node) for node in imports] == ["import sys"]
        for module in ("__init__.py", "oldest_python.py"):
            source = (ROOT / "tools" / "_setup" / module).read_text(encoding="utf-8")
            assert "__future__" not in source
            ast.parse(source, feature_version=(3, 6))

    @pytest.mark.parametrize("path", ["start.py", "test.py", "_setup/__init__.py", "_setup/oldest_python.py"])
    def test_a_python_2_can_read_it_too(self, path: str) -> None:
        """What Python 3 added to the grammar and these files might use: annotations, f-strings, several stars."""
        for node in ast.walk(ast.parse((ROOT / "tools" / path).read_text(encoding="utf-8"))):
            assert not isinstance(node, (ast.AnnAssign, ast.JoinedStr, ast.Nonlocal, ast.YieldFrom))
            if isinstance(node, ast.FunctionDef):
                assert node.returns is None
                assert not any(argument.annotation for argument in node.args.args)
            if isinstance(node, ast.Call):
                assert sum(isinstance(argument, ast.Starred) for argument in node.args) <= 1

    @pytest.mark.parametrize("script", ["start.py", "test.py"])
    def test_gets_exit_code_2(self, script: str, tmp_path: Path) -> None:
        pretend = (
            "import runpy, sys; sys.version_info = (3, 9, 1); sys.path.insert(0, '.')\n"
            f"runpy.run_path({script!r}, run_name='__main__')"
        )
        done = subprocess.run(
            [sys.executable, "-c", pretend],
            cwd=ROOT / "tools",
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == 2
        assert done.stderr.startswith("Shearpin needs Python 3.11 or newer; this is Python 3.9.")


class TestWrongComputer:
    def test_wrong_usage_has_exit_code_2(self, project: Miniature) -> None:
        run = project.run("start.py", "--fly")
        assert run.code == 2
        assert "unrecognized arguments: --fly" in run.err

    def test_no_network_is_said_plainly(self, project: Miniature) -> None:
        with project.requiring("Requires-Dist: mkdocs-material"):
            run = project.run("start.py", "--no-open")
        assert run.code == 2
        assert "Shearpin needs a network once" in run.err
        assert "Packages failed" in in_words(run.out)
        assert project.run("start.py", "--no-open").code == 0

    def test_an_incomplete_copy_is_said_plainly(self, tmp_path: Path) -> None:
        miniature = make_miniature(tmp_path / "copy")
        (miniature.root / "mkdocs.yml").unlink()
        run = miniature.run("start.py", "--no-open")
        assert run.code == 2
        assert "mkdocs.yml is missing: this copy is incomplete." in run.err
        assert not (miniature.root / ".venv").exists()

    @pytest.mark.parametrize("in_the_way", ["file", "folder"])
    def test_what_is_not_an_environment_is_left_alone(self, tmp_path: Path, in_the_way: str) -> None:
        miniature = make_miniature(tmp_path / "copy")
        venv = miniature.root / ".venv"
        notes = venv if in_the_way == "file" else venv / "notes.txt"
        notes.parent.mkdir(exist_ok=True)
        notes.write_text("mine", encoding="utf-8")
        run = miniature.run("start.py", "--no-open")
        assert run.code == 2
        assert f"{venv} is in the way: it is not a Python environment." in run.err
        assert notes.read_text(encoding="utf-8") == "mine"

    @pytest.mark.parametrize("module", ["venv", "ensurepip"])
    def test_a_python_without_venv_is_said_plainly(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, module: str
    ) -> None:
        find_spec = importlib.util.find_spec
        monkeypatch.setattr(
            importlib.util, "find_spec", lambda name: None if name == module else find_spec(name)
        )
        with pytest.raises(Fault, match=rf"has no `{module}` module.*\n.*install python3\.\d+-venv"):
            environment.prepare(tmp_path, sys.stdout)

    @pytest.mark.skipif(os.name == "nt", reason="Windows has no modes for folders")
    def test_a_read_only_folder_is_said_plainly(self) -> None:
        for module in ("venv", "ensurepip"):
            importlib.import_module(module)  # found from now on even by one who may not read root's Python
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            folder.chmod(0o555)
            is_root = os.geteuid() == 0
            if is_root:
                os.seteuid(
                    65534
                )  # root may write anywhere: be nobody, who may not read root's Python, for a moment
            try:
                with pytest.raises(Fault, match=r"Nothing can be written in .*: it is read-only"):
                    environment.prepare(folder, sys.stdout)
            finally:
                if is_root:
                    os.seteuid(0)
                folder.chmod(0o755)

    def test_a_full_disk_is_said_plainly(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        def refuse(*arguments: object, **settings: object) -> None:
            raise OSError(errno.ENOSPC, "No space left on device")

        monkeypatch.setattr(Path, "mkdir", refuse)
        with pytest.raises(Fault, match="The disk is full"):
            environment.prepare(tmp_path, sys.stdout)

    def test_a_program_that_broke_on_a_full_disk_need_not_say_so(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        usage = shutil.disk_usage(tmp_path)
        monkeypatch.setattr(shutil, "disk_usage", lambda folder: usage._replace(free=5_000_000))
        assert oserrors.explain_output("exit status 1", tmp_path, "") == oserrors.FULL.format(folder=tmp_path)

    @pytest.mark.parametrize(
        ("output", "message"),
        [
            ("ERROR: Could not install packages: [Errno 28] No space left on device", oserrors.FULL),
            ("OSError: [WinError 112] There is not enough space on the disk", oserrors.FULL),
            ("OSError: [Errno 30] Read-only file system: '/x'", oserrors.READ_ONLY),
            ("PermissionError: [WinError 5] Access is denied: 'C:\\\\x'", oserrors.READ_ONLY),
            ("[Errno -3] Temporary failure in name resolution", oserrors.NO_NETWORK),
            ("[Errno 11001] getaddrinfo failed", oserrors.NO_NETWORK),
            ("No matching distribution: mkdocs==1.6.1 (from versions: none)", oserrors.NO_NETWORK),
            ("Could not find a version: mkdocs==9 (from versions: 1.5, 1.6)", oserrors.PIP_FAILED),
            (
                "ERROR: Ignored the following versions that require a different python version: 9.8.2",
                oserrors.WRONG_PYTHON,
            ),
            (
                "ERROR: Package 'shearpin' requires a different Python: 3.9.1 not in '>=3.11'",
                oserrors.WRONG_PYTHON,
            ),
            ("error: command 'cc' failed", oserrors.PIP_FAILED),
        ],
    )
    def test_what_pip_says_is_put_plainly(self, output: str, message: str, tmp_path: Path) -> None:
        assert oserrors.explain_output(output, tmp_path, oserrors.PIP_FAILED) == message.format(
            folder=tmp_path
        )
