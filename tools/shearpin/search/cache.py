"""The index of a `kb/` on this computer: built from its records when they have changed, in the user's own cache.

It never lies beside the records, for opening a Whoosh index unpickles its schema: one that came with a copied folder
could run code.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
import tempfile
from pathlib import Path

from shearpin import __version__
from shearpin.book.fingerprint import fingerprint
from shearpin.search.store import StoredIndex


def cache_home() -> Path:
    """Return the folder for caches of this user; SHEARPIN_CACHE names another one."""
    named = os.environ.get("SHEARPIN_CACHE")
    if named:
        return Path(named)
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or str(Path.home() / "AppData" / "Local")
    elif sys.platform == "darwin":
        base = str(Path.home() / "Library" / "Caches")
    else:
        base = os.environ.get("XDG_CACHE_HOME") or str(Path.home() / ".cache")
    return Path(base) / "shearpin"


def index_of(kb: Path) -> StoredIndex:
    """Return the index of the records in `kb`, building it when they, or this program, have changed.

    A damaged index is built anew. Two processes may build at once: each writes a folder of its own and the last to
    finish takes the place. Where no cache can be kept the index lives in a temporary folder.
    """
    wanted = f"{_code_version()} {fingerprint(kb)}"
    place = cache_home() / hashlib.sha256(str(kb.resolve()).encode()).hexdigest()[:32]
    found = _open(place, wanted)
    return found if found is not None else _build(kb, place, wanted)


def _code_version() -> str:
    """Return what changes with the code that reads records or makes the index."""
    digest = hashlib.sha256(__version__.encode())
    package = Path(__file__).resolve().parents[1]
    for room in ("model", "book", "search"):
        for file in sorted((package / room).glob("*.py")):
            state = file.stat()
            digest.update(f"{file.name} {state.st_size} {state.st_mtime_ns}\n".encode())
    return digest.hexdigest()


def _open(place: Path, wanted: str) -> StoredIndex | None:
    try:
        index = StoredIndex(place)
    except Exception:  # whatever is wrong with a cache, it is made again
        return None
    if index.fingerprint == wanted:
        return index
    index.close()
    return None


def _build(kb: Path, place: Path, wanted: str) -> StoredIndex:
    # The record model is only imported here: a search with a ready index must not wait for it.
    from shearpin.book.linked import load_linked
    from shearpin.search.documents import documents_of, synonyms_of
    from shearpin.search.model import build_model
    from shearpin.search.store import write_index

    linked = load_linked(kb)
    model = build_model(documents_of(linked), synonyms_of(linked))
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        folder = Path(tempfile.mkdtemp(prefix=f"{place.name}.", dir=place.parent))
    except OSError:
        place = folder = Path(tempfile.mkdtemp(prefix="shearpin-index-"))
    write_index(model, folder, wanted)
    if folder != place:
        _take_place(folder, place)
    return StoredIndex(place if place.is_dir() else folder)


def _take_place(folder: Path, place: Path) -> None:
    old = folder.with_name(folder.name + ".old")
    try:
        if place.exists():
            os.rename(place, old)
        os.rename(folder, place)
    except OSError:
        return  # another process was quicker, or has it open; ours serves from where it is
    shutil.rmtree(old, ignore_errors=True)
