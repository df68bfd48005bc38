"""Owns the project's virtual environment: making, repairing and filling it, or finding it up to date."""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TextIO

from _setup.console import Fault, stage
from _setup.oldest_python import OLDEST
from _setup.oserrors import PIP_FAILED, explain_oserror, explain_output
from _setup.process import Notice, run_watched

STAMP = "shearpin-setup.json"
EDITABLE_PIP = (21, 3)  # the first pip that installs an editable project from pyproject.toml alone
NOTHING: frozenset[str] = frozenset()
PROBE = "import sys, pip; print(*sys.version_info[:3], pip.__version__)"


@dataclass(frozen=True, slots=True)
class Interpreter:
    """The environment's Python: where it is, and the versions it and its pip report."""

    path: Path
    version: tuple[int, ...]
    pip: tuple[int, ...]


def python_of(venv: Path, windows: bool = os.name == "nt") -> Path:
    """Return where a virtual environment keeps its Python."""
    return venv / "Scripts" / "python.exe" if windows else venv / "bin" / "python"


def probe(venv: Path) -> Interpreter | None:
    """Return the environment's Python if it starts, is new enough and has pip; None for anything less."""
    path = python_of(venv)
    try:
        outcome = run_watched([path, "-I", "-c", PROBE], venv.parent, lambda line: None)
    except OSError:
        return None
    words = outcome.output.splitlines()[-1].split() if outcome.output else []
    if outcome.code != 0 or len(words) != 4:
        return None
    version = tuple(int(word) for word in words[:3])
    pip = tuple(int(word) for word in words[3].split(".")[:2] if word.isdigit())
    return Interpreter(path, version, pip) if version >= OLDEST else None


def prepare(
    root: Path,
    stream: TextIO,
    extras: frozenset[str] = NOTHING,
    optional: frozenset[str] = NOTHING,
) -> Path:
    """Bring `.venv` to where the project and these extras are installed, doing only what is missing.

    Optional extras are left out when pip refuses them. Returns the environment's Python. Raises Fault when
    this computer or folder does not allow it.
    """
    try:
        interpreter = _make_venv(root / ".venv", stream)
        _fill(root, interpreter, extras, optional, stream)
    except OSError as error:
        raise Fault(explain_oserror(error, root)) from error
    return interpreter.path


def _make_venv(venv: Path, stream: TextIO) -> Interpreter:
    with stage("Python environment", stream) as current:
        found = probe(venv)
        if found is not None and not _was_moved(venv):
            current.result = "ready"
            return found
        current.result = "repaired" if venv.exists() else "made"
        _refuse_to_clear_what_is_not_ours(venv)
        _require_modules()
        # Made here, because venv would answer a read-only folder with a traceback.
        venv.mkdir(exist_ok=True)
        outcome = run_watched([sys.executable, "-m", "venv", "--clear", venv], venv.parent, current.note)
        made = probe(venv)
        if outcome.code != 0 or made is None:
            meaning = explain_output(outcome.output, venv.parent, "The folder .venv could not be made:")
            raise Fault(f"{meaning}\n{outcome.tail()}")
        return made


def _was_moved(venv: Path) -> bool:
    # The commands in an environment copied or moved with its folder still point at the old place.
    noted = _read_stamp(venv).get("folder")
    return noted is not None and noted != str(venv)


def _refuse_to_clear_what_is_not_ours(venv: Path) -> None:
    if not venv.exists():
        return
    if venv.is_dir() and Path(sys.prefix).resolve() == venv.resolve():
        raise Fault(
            "The Python environment in .venv is damaged, and is the one running this command.\n"
            "Run the command with the computer's own Python instead; it will repair .venv."
        )
    if not venv.is_dir() or not ((venv / "pyvenv.cfg").exists() or _has_only_folders(venv)):
        raise Fault(f"{venv} is in the way: it is not a Python environment. Move it elsewhere and run again.")


def _has_only_folders(folder: Path) -> bool:
    return all(path.is_dir() for path in folder.rglob("*"))


def _require_modules() -> None:
    missing = [name for name in ("venv", "ensurepip") if importlib.util.find_spec(name) is None]
    if not missing:
        return
    version = "{}.{}".format(*sys.version_info)
    raise Fault(
        f"This Python has no `{missing[0]}` module, which makes the environment Shearpin runs in.\n"
        f"On Debian, Ubuntu and their relatives: sudo apt-get install python{version}-venv\n"
        "Elsewhere: install Python from python.org, or the complete package of your system."
    )


def _fill(
    root: Path, interpreter: Interpreter, extras: frozenset[str], optional: frozenset[str], stream: TextIO
) -> None:
    with stage("Packages", stream) as current:
        venv = root / ".venv"
        digest = _digest(root, interpreter)
        stamp = _read_stamp(venv)
        if stamp.get("digest") == digest and extras | optional <= set(stamp.get("extras", ())):
            current.result = "up to date"
            return
        (venv / STAMP).unlink(missing_ok=True)
        if interpreter.pip < EDITABLE_PIP:
            _run_pip(interpreter, ["--upgrade", "pip"], root, current.note)
        installed, current.result = extras | optional, "installed"
        try:
            _install(interpreter, installed, root, current.note)
        except Fault:
            if not optional:
                raise
            installed, current.result = extras, f"installed without {', '.join(sorted(optional))}"
            _install(interpreter, installed, root, current.note)
        facts = {"folder": str(venv), "digest": digest, "extras": sorted(installed)}
        (venv / STAMP).write_text(json.dumps(facts), encoding="utf-8")


def _install(interpreter: Interpreter, extras: frozenset[str], root: Path, notice: Notice) -> None:
    names = f"[{','.join(sorted(extras))}]" if extras else ""
    _run_pip(interpreter, ["--editable", f".{names}"], root, notice)


def _run_pip(interpreter: Interpreter, arguments: Sequence[str], root: Path, notice: Notice) -> None:
    pip = ("-m", "pip", "install", "--disable-pip-version-check", "--no-input", "--progress-bar", "off")
    outcome = run_watched([interpreter.path, *pip, *arguments], root, notice)
    if outcome.code != 0:
        meaning = explain_output(outcome.output, root, PIP_FAILED)
        # Where we know what it means, pip's words are for whoever is asked for help, and a few of them do.
        raise Fault(f"{meaning}\n{outcome.tail(12 if meaning == PIP_FAILED else 3)}")


def _digest(root: Path, interpreter: Interpreter) -> str:
    version = ".".join(map(str, interpreter.version))
    return hashlib.sha256(version.encode() + b"\0" + (root / "pyproject.toml").read_bytes()).hexdigest()


def _read_stamp(venv: Path) -> dict[str, Any]:
    """Return what was noted when the environment was filled; an unreadable stamp is an empty one."""
    try:
        content = json.loads((venv / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return content if isinstance(content, dict) else {}
