"""Owns the index of the tests' own book, built once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from shearpin.search.index import StoredIndex, build_index
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS


@pytest.fixture(scope="session")
def index(tmp_path_factory: pytest.TempPathFactory) -> Iterator[StoredIndex]:
    """The index of `book_of_documents`. Tests change nothing in it."""
    found = build_index(DOCUMENTS, SYNONYMS, Path(tmp_path_factory.mktemp("search")) / "index")
    yield found
    found.close()
