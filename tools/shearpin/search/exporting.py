"""The index in a site's folder: only what is not there already is written."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Final

from shearpin.search.model import IndexModel
from shearpin.search.shards import shard_texts

FOLDER: Final = "index"


def export_shards(model: IndexModel, site_folder: Path, before: Path | None = None) -> tuple[Path, ...]:
    """Write the scripts to `index/` below `site_folder`, leaving unchanged files alone and removing old ones.

    Those that are the same in the site `before` are its files under a second name, where that can be had.
    """
    folder = site_folder / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for name, text in shard_texts(model):
        path = folder / f"{name}.js"
        data = text.encode()
        if not _holds(path, data) and not (before and _shared(before / FOLDER / path.name, path, data)):
            path.write_bytes(data)
        written.append(path)
    for path in set(folder.glob("*.js")) - set(written):
        path.unlink()
    return tuple(written)


def _holds(path: Path, data: bytes) -> bool:
    try:
        with open(path, "rb") as stream:
            return stream.read() == data
    except OSError:
        return False


def _shared(old: Path, new: Path, data: bytes) -> bool:
    """Give a file a second name if it holds these bytes; tell whether it was done."""
    if os.path.lexists(new) or os.path.islink(old) or not _holds(old, data):
        return False
    try:
        os.link(old, new)
    except OSError:  # no second names on this disk, or the site before is on another
        return False
    return True
