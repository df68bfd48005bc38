"""The fingerprint of a folder of records follows every change of a file, and nothing outside the folder."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from shearpin.book.fingerprint import fingerprint


def test_it_follows_what_is_added_written_and_renamed(tmp_path: Path) -> None:
    kb = tmp_path / "kb"
    (kb / "tools").mkdir(parents=True)
    seen = [fingerprint(kb)]
    (kb / "tools/a.yaml").write_text("title: A\n")
    seen.append(fingerprint(kb))
    (kb / "tools/a.yaml").write_text("title: Another\n")
    seen.append(fingerprint(kb))
    (kb / "tools/a.yaml").rename(kb / "tools/b.yaml")
    seen.append(fingerprint(kb))
    assert len(set(seen)) == len(seen)
    assert fingerprint(kb) == seen[-1]


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_link_to_a_file_elsewhere_counts_as_nothing(tmp_path: Path) -> None:
    kb = tmp_path / "kb"
    (kb / "tools").mkdir(parents=True)
    before = fingerprint(kb)
    (tmp_path / "outside.yaml").write_text("title: A\n")
    (kb / "tools/link.yaml").symlink_to(tmp_path / "outside.yaml")
    assert fingerprint(kb) == before
