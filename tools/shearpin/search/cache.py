"""The index of a `kb/` on this computer: built from its records when they have changed, in the user's own cache.

It never lies beside the records, for opening a Whoosh index unpickles its schema: one that came with a copied folder
could run code.
"""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Iterable
from pathlib import Path

from shearpin import __version__
from shearpin.book.fingerprint import fingerprint
from shearpin.model.usercache import cache_of
from shearpin.search.document import Document, Synonym
from shearpin.search.index import build_index, ensure_index
from shearpin.search.store import StoredIndex


def index_of(kb: Path) -> StoredIndex:
    """Return the index of the records in `kb`, building it when they, or this program, have changed.

    Where no cache can be kept the index lives in a temporary folder.
    """

    def read_book() -> tuple[Iterable[Document], Iterable[Synonym]]:
        # The record model is only imported here: a search with a ready index must not wait for it.
        from shearpin.book.linked import load_linked
        from shearpin.search.documents import documents_of, synonyms_of

        linked = load_linked(kb)
        return documents_of(linked), synonyms_of(linked)

    try:
        return ensure_index(cache_of(kb), f"{_code_version()} {fingerprint(kb)}", read_book)
    except OSError:
        return build_index(*read_book(), Path(tempfile.mkdtemp(prefix="shearpin-")) / "index")


def _code_version() -> str:
    """Return what changes with the code that reads records."""
    digest = hashlib.sha256(__version__.encode())
    package = Path(__file__).resolve().parents[1]
    for room in ("model", "book"):
        for file in sorted((package / room).glob("*.py")):
            state = file.stat()
            digest.update(f"{file.name} {state.st_size} {state.st_mtime_ns}\n".encode())
    return digest.hexdigest()
