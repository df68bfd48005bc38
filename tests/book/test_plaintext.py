"""Prose as plain text: figures for a machine, links by their words or by the title of what they lead to."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.plaintext import plain_text
from tests.sound_book import read_over


@pytest.mark.parametrize(
    ("prose", "said"),
    [
        ("First {procedure:make-machine-safe}.", "First Make the machine safe."),
        ("First {procedure:make-machine-safe|the safe state}.", "First the safe state."),
        ("To {auger-shear-bolt.torque}.", "To 8 N·m (70 lbf·in)."),
        (None, ""),
    ],
)
def test_prose_is_told_without_markup(prose: str | None, said: str, tmp_path: Path) -> None:
    assert plain_text(read_over(tmp_path, {}), prose, "brook-d24") == said
