"""The gallery shows pages that exist, of a machine, a symptom and a procedure that belong together."""

from __future__ import annotations

from pathlib import Path

import pytest

from _documents.gallery import GalleryFault, pictures, take_pictures


def test_every_picture_is_of_a_page_of_the_manual(built_site: Path) -> None:
    shown = pictures(built_site)
    assert len({picture.name for picture in shown}) == len(shown) >= 10
    assert all((built_site / picture.page.partition("#")[0]).is_file() for picture in shown)


def test_without_a_manual_it_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(GalleryFault, match="shearpin build"):
        take_pictures(tmp_path, tmp_path / "gallery", None)
    assert list(tmp_path.iterdir()) == []
