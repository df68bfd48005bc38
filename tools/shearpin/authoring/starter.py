"""Begins a book: a small one that is complete, put into a new folder whole or not at all."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from pathlib import Path
from typing import Final

from shearpin.authoring.editor import SETTING, default_folder, mapping
from shearpin.authoring.files import CACHE_FOLDER, WriteRefused

STARTER: Final = Path(__file__).resolve().parents[1] / "starter"
_STAGE: Final = ".shearpin-init-"
_NAME_LINE: Final = "site_name: Shop manual\n"
_IGNORED: Final = f"{CACHE_FOLDER}/\n/site/\n/.site.*\n/dist/\n"


class FolderInUse(WriteRefused):
    """The folder is not one in which a book can begin."""


def begin_book(folder: Path, name: str) -> tuple[str, ...]:
    """Put the starter book into an empty or a new folder; return its files, relative to it.

    `name` is what the manual is called. Raises `FolderInUse`, or `WriteRefused` where the system does not let us
    write, and then leaves nothing behind.
    """
    made = _require_empty(folder)
    stage = folder / f"{_STAGE}{os.getpid()}"
    moved: list[Path] = []
    try:
        if made:
            folder.mkdir()
        _copy(stage)
        _settle(stage, folder, name)
        files = tuple(sorted(p.relative_to(stage).as_posix() for p in stage.rglob("*") if p.is_file()))
        for entry in sorted(stage.iterdir()):
            moved.append(folder / entry.name)
            os.rename(entry, folder / entry.name)
        stage.rmdir()
    except OSError as error:
        _take_back([*moved, stage], folder if made else None)
        raise WriteRefused(
            f"cannot write in {folder}: {error.strerror or error}; nothing was begun"
        ) from error
    return files


def _require_empty(folder: Path) -> bool:
    """Return whether the folder is still to be made; refuse what is in use. What a killed beginning left goes away."""
    try:
        if not os.path.lexists(folder):
            if not folder.absolute().parent.is_dir():
                raise FolderInUse(f"there is no folder {folder.absolute().parent} to begin a book in")
            return True
        if folder.is_symlink() or not folder.is_dir():
            raise FolderInUse(f"{folder} is no folder; name a new one")
        entries = list(folder.iterdir())
        if any(not entry.name.startswith(_STAGE) for entry in entries):
            raise FolderInUse(f"{folder} is not empty, and nothing in it was changed; name a new folder")
        for entry in entries:
            shutil.rmtree(entry)
    except OSError as error:
        raise WriteRefused(f"cannot use {folder}: {error.strerror or error}") from error
    return False


def _copy(stage: Path) -> None:
    """Copy the starter book, with the rights of new files: those of an installed package may be read-only."""
    stage.mkdir()
    for path in sorted(STARTER.rglob("*")):
        target = stage / path.relative_to(STARTER)
        if path.is_dir():
            target.mkdir()
        else:
            shutil.copyfile(path, target)


def _settle(stage: Path, folder: Path, name: str) -> None:
    """Write what differs from book to book, and hidden files."""
    settings = stage / "mkdocs.yml"
    text = settings.read_text(encoding="utf-8")
    # JSON's quotes are YAML's too, whatever the name holds.
    line = f"site_name: {json.dumps(name, ensure_ascii=False)}\n"
    settings.write_text(text.replace(_NAME_LINE, line, 1), encoding="utf-8", newline="\n")
    (stage / ".gitignore").write_text(_IGNORED, encoding="utf-8", newline="\n")
    kb = folder / "kb"
    editor = {SETTING: mapping(kb, default_folder(kb)), "yaml.schemaStore.enable": False}
    (stage / ".vscode").mkdir()
    (stage / ".vscode" / "settings.json").write_text(
        json.dumps(editor, ensure_ascii=False, indent=2) + "\n", encoding="utf-8", newline="\n"
    )


def _take_back(written: list[Path], folder: Path | None) -> None:
    for path in written:
        with contextlib.suppress(OSError):
            if path.is_dir():
                shutil.rmtree(path)
            else:
                path.unlink()
    if folder is not None:
        with contextlib.suppress(OSError):
            folder.rmdir()
