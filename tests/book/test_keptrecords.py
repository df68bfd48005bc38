"""Records kept from an earlier reading are those that their files hold, whatever happened to the files or the cache."""

from __future__ import annotations

import os
import pickle
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from shearpin.book import keptrecords, readfiles
from shearpin.book.load import load_book
from shearpin.book.readfiles import Reading
from shearpin.checks.one_file import judged
from shearpin.model import reading, usercache
from shearpin.model.reading import RecordFile
from tests.sound_book import lay_over

PUNCH = "tools/pin-punch.yaml"
FILES: dict[str, str | bytes | None] = {
    PUNCH: "title: Pin punch\nsummary: Like {part:auger-sheer-bolt}.\n",
    "tools/broken.yaml": "title: [",
    "tools/half.yaml": "title: Half\nsummary: Most of it.\nspecial: perhaps\n",
}


@pytest.fixture
def kb(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(keptrecords, "WORTH_KEEPING", 1)
    return lay_over(tmp_path, FILES)


@pytest.fixture
def parsed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Paths of the files that were parsed, not taken from what was kept."""
    paths: list[str] = []

    def read(path: str, *rest: Any) -> tuple[RecordFile, dict[str, Any]]:
        paths.append(path)
        return reading.read_record_and_data(path, *rest)

    monkeypatch.setattr(readfiles, "read_record_and_data", read)
    return paths


def _clean(kb: Path) -> tuple[RecordFile, ...]:
    """What a reader without a cache finds."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(keptrecords, "WORTH_KEEPING", 1_000_000)
        return load_book(kb).files


def _chunks(kb: Path) -> Iterator[Path]:
    return usercache.cache_of(kb).glob("records-*.bin")


def test_an_edit_parses_one_file_and_writes_one_chunk(kb: Path, parsed: list[str]) -> None:
    first = load_book(kb).files
    assert len(parsed) == len(first)
    before = {path: path.stat().st_mtime_ns for path in _chunks(kb)}
    parsed.clear()
    (kb / PUNCH).write_text("title: Punch\nsummary: Drives pins.\n")
    files = load_book(kb).files
    assert parsed == [PUNCH]
    assert files == _clean(kb) != first
    assert sum(before[path] != path.stat().st_mtime_ns for path in _chunks(kb)) == 1


def test_a_file_less_and_a_new_name_are_seen(kb: Path, parsed: list[str]) -> None:
    load_book(kb)
    (kb / "tools/half.yaml").unlink()
    (kb / PUNCH).rename(kb / "tools/punch.yaml")
    parsed.clear()
    files = load_book(kb).files
    assert parsed == ["tools/punch.yaml"]
    assert files == _clean(kb)


@pytest.mark.parametrize("seed", range(12))
def test_what_is_damaged_is_read_anew(kb: Path, seed: int) -> None:
    load_book(kb)
    chance = random.Random(seed)
    for place in _chunks(kb):
        content = bytearray(place.read_bytes())
        position = chance.randrange(len(content))
        content[position] ^= 1 << (seed % 8)
        place.write_bytes(content if seed % 3 else content[:position])
    assert load_book(kb).files == _clean(kb)


class _Trap:
    def __reduce__(self) -> object:
        return os.mkdir, ("sprung",)


def test_what_this_program_did_not_seal_is_never_unpickled(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    load_book(kb)
    monkeypatch.chdir(tmp_path)
    for place in _chunks(kb):
        place.write_bytes(place.read_bytes()[:64] + pickle.dumps(_Trap()))
    assert load_book(kb).files == _clean(kb)
    assert not Path("sprung").exists()


def test_another_program_reads_for_itself(
    kb: Path, parsed: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    count = len(load_book(kb).files)
    monkeypatch.setattr(keptrecords, "program_digest", lambda: "another")
    parsed.clear()
    load_book(kb)
    assert len(parsed) == count


def test_without_a_cache_every_file_is_read(kb: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHEARPIN_CACHE", str(kb / PUNCH / "no folder"))
    assert load_book(kb).files == load_book(kb).files == _clean(kb)


def test_files_that_were_read_unjudged_are_judged_when_a_check_asks(kb: Path, parsed: list[str]) -> None:
    load_book(kb)
    parsed.clear()
    later = load_book(kb, reading=Reading(judged=True))
    again = load_book(kb, reading=Reading(judged=True))
    assert parsed == []
    found = {file.path: judged(file) for file in _clean(kb)}
    assert any(found.values())
    for book in (later, again):
        assert {path: facts.found for path, facts in book.facts.items()} == found


def test_a_digest_that_is_known_spares_reading_the_file(kb: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = load_book(kb)
    digests = {path: facts.digest for path, facts in first.facts.items()}
    monkeypatch.setattr(readfiles, "content_of", lambda place: pytest.fail(f"{place} was read"))
    assert load_book(kb, reading=Reading(digests=digests)).files == first.files
