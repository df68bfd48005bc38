from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.search.misses import MOST_KEPT, as_text, keep_miss, misses_file, read_misses


@pytest.fixture(autouse=True)
def data_of_this_test(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHEARPIN_DATA", str(tmp_path / "data"))


def test_misses_are_counted_and_the_latest_stands_last(tmp_path: Path) -> None:
    for query in ("blade brake", "pto clutch", "  blade   brake "):
        keep_miss(tmp_path / "kb", query)
    assert read_misses(tmp_path / "kb") == [("pto clutch", 1), ("blade brake", 2)]
    assert misses_file(tmp_path / "kb").read_text("utf-8") == "1\tpto clutch\n2\tblade brake\n"
    assert not (tmp_path / "kb").exists()
    assert read_misses(tmp_path / "other") == []


def test_what_looks_like_a_customers_number_or_address_is_left_out(tmp_path: Path) -> None:
    for query in ("call 555-123-4567", "(555) 123-4567", "joe@example.org", "5551234567"):
        keep_miss(tmp_path, query)
    keep_miss(tmp_path, "OS-4471-99")
    assert read_misses(tmp_path) == [("call", 1), ("OS-4471-99", 1)]


def test_the_list_stays_short_and_damaged_lines_do_no_harm(tmp_path: Path) -> None:
    path = misses_file(tmp_path)
    path.parent.mkdir(parents=True)
    path.write_bytes(as_text([(f"q{n}", 1) for n in range(MOST_KEPT)]).encode() + b"junk\n\xff\t\n")
    keep_miss(tmp_path, "new")
    found = read_misses(tmp_path)
    assert len(found) == MOST_KEPT
    assert found[-1] == ("new", 1)


def test_a_folder_that_cannot_be_written_is_no_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setenv("SHEARPIN_DATA", str(tmp_path / "file"))
    keep_miss(tmp_path, "anything")
    assert read_misses(tmp_path) == []
