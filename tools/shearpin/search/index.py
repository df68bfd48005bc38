"""The search index of a book on disk: built when it is needed, opened when it is there, searched.

index = ensure_index(cache_folder, fingerprint, factory)
result = search(index, "left auger not spinning", machine="osmere-d24")
"""

from __future__ import annotations

import os
import shutil
import tempfile
import time
import zlib
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

from shearpin.model.shares import collector_at_rest
from shearpin.search.document import Document, Hit, SearchResult, Synonym
from shearpin.search.ranking import search
from shearpin.search.store import DamagedIndex, StoredIndex, write_index
from shearpin.search.version import code_version

__all__ = [
    "Document",
    "Hit",
    "SearchResult",
    "StoredIndex",
    "Synonym",
    "build_index",
    "ensure_index",
    "open_index",
    "search",
]

Factory = Callable[[], tuple[Iterable[Document], Iterable[Synonym]]]

_PREFIX = "search-"
_UNFINISHED = "unfinished-"
_UNFINISHED_S = 3600
_ATTEMPTS = 3


def build_index(
    documents: Iterable[Document],
    synonyms: Iterable[Synonym],
    folder: Path,
    fingerprint: str = "",
    cache_folder: Path | None = None,
) -> StoredIndex:
    """Build an index as `folder`, all at once, and open it; an index that is there already is replaced.

    `cache_folder` keeps what need not be done again next time.
    """
    from shearpin.search.model import build_model  # what only building needs would slow every query

    model = build_model(documents, synonyms, cache_folder)
    folder.parent.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix=_UNFINISHED, dir=folder.parent))
    try:
        write_index(model, work, fingerprint)
        _put_in_place(work, folder, fingerprint)
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return open_index(folder)


def open_index(folder: Path) -> StoredIndex:
    """Open the index in `folder`, which must be one that this program has written.

    Raises `DamagedIndex` when it is not there, not whole, or of another version of the search.
    """
    return StoredIndex(folder)


def ensure_index(cache_folder: Path, fingerprint: str, documents_factory: Factory) -> StoredIndex:
    """Open the index of the book with this `fingerprint` in `cache_folder`, building it when need be.

    A damaged index is built anew. Two processes may do this at once: each builds beside the index and the last one to
    finish puts its own in place, or uses the other's. Indexes of earlier states of the book are removed.
    """
    digest = zlib.crc32(f"{code_version()} {fingerprint}".encode())
    folder = cache_folder / f"{_PREFIX}{digest:08x}"
    for attempt in range(_ATTEMPTS):
        with suppress(DamagedIndex):
            index = open_index(folder)
            if index.fingerprint == fingerprint:
                return index
            index.close()
        try:
            with collector_at_rest():
                documents, synonyms = documents_factory()
                index = build_index(documents, synonyms, folder, fingerprint, cache_folder)
        except DamagedIndex:
            if attempt == _ATTEMPTS - 1:
                raise
            continue
        _remove_old(cache_folder, folder)
        return index
    raise DamagedIndex(str(folder))


def _put_in_place(work: Path, folder: Path, fingerprint: str) -> None:
    """Rename `work` to `folder`, unless another process has put a whole index of the same state there meanwhile."""
    with suppress(OSError):
        os.rename(work, folder)
        return
    with suppress(DamagedIndex):
        there = open_index(folder)
        there.close()
        if fingerprint and there.fingerprint == fingerprint:
            return
    aside = Path(tempfile.mkdtemp(prefix=_UNFINISHED, dir=folder.parent))
    with suppress(OSError):
        os.rename(folder, aside / folder.name)
    shutil.rmtree(aside, ignore_errors=True)
    with suppress(OSError):  # another process was faster
        os.rename(work, folder)


def _remove_old(cache_folder: Path, current: Path) -> None:
    """Remove indexes of other states, and what builds that died have left; on Windows those in use stay."""
    long_ago = time.time() - _UNFINISHED_S
    for path in cache_folder.iterdir():
        with suppress(OSError):
            unfinished = path.name.startswith(_UNFINISHED) and path.stat().st_mtime < long_ago
            if unfinished or (path.name.startswith(_PREFIX) and path.is_dir() and path != current):
                shutil.rmtree(path, ignore_errors=True)
