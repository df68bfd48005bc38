from __future__ import annotations

import multiprocessing
import os
import time
from collections.abc import Iterable
from pathlib import Path

import pytest

from shearpin.search.document import Document, Synonym
from shearpin.search.index import DamagedIndex, build_index, ensure_index, open_index, search
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS


def book() -> tuple[Iterable[Document], Iterable[Synonym]]:
    return DOCUMENTS, SYNONYMS


def unread() -> tuple[Iterable[Document], Iterable[Synonym]]:
    raise AssertionError("the records were read again")


def first_id(cache: Path, fingerprint: str) -> str:
    with ensure_index(cache, fingerprint, book) as index:
        return search(index, "left auger not spinning").hits[0].id


def test_an_index_is_built_once_for_each_state_of_the_book(tmp_path: Path) -> None:
    ensure_index(tmp_path, "one", book).close()
    ensure_index(tmp_path, "one", unread).close()
    with pytest.raises(AssertionError, match="read again"):
        ensure_index(tmp_path, "two", unread)


def test_indexes_of_earlier_states_are_removed(tmp_path: Path) -> None:
    for state in ("one", "two", "three"):
        ensure_index(tmp_path, state, book).close()
    assert len([path for path in tmp_path.iterdir() if path.is_dir()]) == 1


@pytest.mark.parametrize("damage", ["cut", "emptied", "gone", "overwritten"])
def test_a_damaged_index_is_built_anew(tmp_path: Path, damage: str) -> None:
    ensure_index(tmp_path, "one", book).close()
    for path in sorted(path for path in tmp_path.rglob("*") if path.is_file()):
        if not path.exists():
            continue  # went with the folder of the index that was replaced
        whole = path.read_bytes()
        if damage == "gone":
            path.unlink()
        else:
            path.write_bytes(
                {"cut": whole[: len(whole) // 2], "emptied": b"", "overwritten": b"\0" * len(whole)}[damage]
            )
        assert first_id(tmp_path, "one") == "one-side-of-auger-does-not-turn"


def test_what_builds_that_died_have_left_is_removed_in_time(tmp_path: Path) -> None:
    fresh, stale = tmp_path / "unfinished-fresh", tmp_path / "unfinished-stale"
    for folder in (fresh, stale):
        folder.mkdir()
    two_hours_ago = time.time() - 7200
    os.utime(stale, (two_hours_ago, two_hours_ago))
    ensure_index(tmp_path, "one", book).close()
    assert fresh.exists()
    assert not stale.exists()


def test_two_processes_at_once_both_get_an_answer(tmp_path: Path) -> None:
    context = multiprocessing.get_context("spawn")
    with context.Pool(2) as pool:
        found = pool.starmap(first_id, [(tmp_path, "one")] * 4)
    assert found == ["one-side-of-auger-does-not-turn"] * 4
    left = [path.name for path in tmp_path.iterdir() if path.is_dir()]
    assert len(left) == 1, left


def test_an_index_in_use_survives_another_build_of_the_same_state(tmp_path: Path) -> None:
    with build_index(DOCUMENTS, SYNONYMS, tmp_path / "index", "one") as index:
        build_index(DOCUMENTS, SYNONYMS, tmp_path / "index", "one").close()
        assert search(index, "agur not turning").hits[0].id == "auger-does-not-turn"


def test_building_replaces_an_index_of_another_state(tmp_path: Path) -> None:
    build_index(DOCUMENTS, SYNONYMS, tmp_path / "index", "one").close()
    build_index(DOCUMENTS[:5], SYNONYMS, tmp_path / "index", "two").close()
    with open_index(tmp_path / "index") as index:
        assert (index.fingerprint, index.total()) == ("two", 5)


def test_opening_what_is_not_there_says_so(tmp_path: Path) -> None:
    with pytest.raises(DamagedIndex):
        open_index(tmp_path / "nothing")
