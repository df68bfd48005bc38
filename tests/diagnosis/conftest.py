"""Owns the demonstration book for tests of diagnosis: loaded once, nobody changes it."""

from __future__ import annotations

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from tests.conftest import ROOT


@pytest.fixture(scope="session")
def demo_book() -> LinkedBook:
    """The book in `kb/`."""
    return load_linked(ROOT / "kb", "kb")
