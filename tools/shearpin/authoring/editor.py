"""Schemas for editors, as files, and the settings that tell an editor which schema belongs to which records."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Final

from shearpin.authoring.files import CACHE_FOLDER, WriteRefused, replace_file
from shearpin.authoring.schema import schemas
from shearpin.book.book import Book
from shearpin.model.kinds import KINDS

SETTING: Final = "yaml.schemas"
"""The name of the setting that yaml-language-server reads."""


def default_folder(kb: Path) -> Path:
    """Return where schemas lie unless a writer says otherwise: beside the records, out of version control."""
    return kb.resolve().parent / CACHE_FOLDER / "schema"


def write_schemas(book: Book, folder: Path) -> tuple[Path, ...]:
    """Write one schema per kind into a folder and return their paths; raises `WriteRefused`."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise WriteRefused(f"cannot make the folder {folder}: {error.strerror or error}") from error
    written = []
    for name, schema in schemas(book).items():
        path = folder / f"{name}.json"
        content = json.dumps(schema, ensure_ascii=False, indent=1) + "\n"
        replace_file(path, content.encode("utf-8"))
        written.append(path)
    return tuple(written)


def refresh_schemas(book: Book) -> bool:
    """Tell editors of new records where schemas have been written before; returns whether that was so."""
    folder = default_folder(book.kb)
    if not folder.is_dir():
        return False
    write_schemas(book, folder)
    return True


def mapping(kb: Path, folder: Path) -> dict[str, str]:
    """Return which schema belongs to which files, as the editor's setting has it, from the project's folder."""
    project = kb.resolve().parent
    return {
        f"{_from(project, folder)}/{name}.json": f"{_from(project, kb).removeprefix('./')}/{kind.folder}/*.yaml"
        for name, kind in KINDS.items()
    }


def _from(project: Path, path: Path) -> str:
    whole = path.resolve()
    try:
        return (
            "./" + os.path.relpath(whole, project).replace(os.sep, "/")
            if whole.is_relative_to(project)
            else whole.as_posix()
        )
    except ValueError:  # another drive
        return whole.as_posix()
