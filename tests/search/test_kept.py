from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from shearpin.search import counting, inverting
from shearpin.search.counts import FieldCounts, Row
from shearpin.search.document import Synonym
from shearpin.search.model import IndexModel, build_model
from shearpin.search.shards import Shards
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS


def texts(model: IndexModel) -> list[tuple[str, str]]:
    return list(Shards(model).texts())


def test_only_changed_records_are_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    build_model(DOCUMENTS, SYNONYMS, tmp_path)
    counted: list[str] = []
    count = FieldCounts.row

    def noting(counts: FieldCounts, fields: Mapping[str, str]) -> Row:
        counted.append(fields["title"])
        return count(counts, fields)

    monkeypatch.setattr(FieldCounts, "row", noting)
    changed = replace(DOCUMENTS[3], fields={**DOCUMENTS[3].fields, "body": "entirely other words"})
    documents = (*DOCUMENTS[:3], changed, *DOCUMENTS[4:])
    again = build_model(documents, SYNONYMS, tmp_path)
    assert counted == [changed.title]
    assert texts(again) == texts(build_model(documents, SYNONYMS))


def test_after_any_edits_the_lists_are_those_of_a_clean_build(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    afresh: list[int] = []
    whole = inverting._afresh

    def noting(counted: Any, means: Any) -> Any:
        afresh.append(len(counted.rows))
        return whole(counted, means)

    monkeypatch.setattr(inverting, "_afresh", noting)
    chance = random.Random(4)
    documents = list(DOCUMENTS)
    build_model(documents, SYNONYMS, tmp_path)
    made = 0
    for _ in range(25):
        for number in chance.sample(range(len(documents)), chance.choice((1, 1, 2, 30))):
            other = chance.choice(DOCUMENTS).fields
            fields = {**documents[number].fields, chance.choice(("body", "summary", "said")): other["title"]}
            documents[number] = replace(documents[number], fields=fields)
        afresh.clear()
        again = build_model(documents, SYNONYMS, tmp_path)
        made += not afresh
        assert texts(again) == texts(build_model(documents, SYNONYMS))
    assert 1 < made < 25


def test_the_result_does_not_depend_on_what_was_kept(tmp_path: Path) -> None:
    for documents in (DOCUMENTS, DOCUMENTS[10:], DOCUMENTS[:40], DOCUMENTS[:3], DOCUMENTS):
        assert texts(build_model(documents, SYNONYMS, tmp_path)) == texts(build_model(documents, SYNONYMS))


def test_other_synonyms_make_everything_be_read_again(tmp_path: Path) -> None:
    build_model(DOCUMENTS, SYNONYMS, tmp_path)
    synonyms = (*SYNONYMS, Synonym("belt", ("strap",)))
    assert texts(build_model(DOCUMENTS, synonyms, tmp_path)) == texts(build_model(DOCUMENTS, synonyms))


@pytest.mark.parametrize("damage", [b"", b"abc", b"\0" * 1000])
def test_damaged_counts_are_left_aside(tmp_path: Path, damage: bytes) -> None:
    build_model(DOCUMENTS, SYNONYMS, tmp_path)
    (path,) = tmp_path.iterdir()
    path.write_bytes(damage)
    assert texts(build_model(DOCUMENTS, SYNONYMS, tmp_path)) == texts(build_model(DOCUMENTS, SYNONYMS))
    assert path.stat().st_size > 1000


def test_a_cache_that_cannot_be_written_is_no_fault(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way", encoding="utf-8")
    assert texts(build_model(DOCUMENTS, SYNONYMS, blocked)) == texts(build_model(DOCUMENTS, SYNONYMS))


def test_two_processes_count_as_one(monkeypatch: pytest.MonkeyPatch) -> None:
    alone = texts(build_model(DOCUMENTS, SYNONYMS))
    started: list[object] = []
    elsewhere = counting._count_elsewhere

    def noting(*order: Any) -> Any:
        batch = elsewhere(*order)
        started.append(batch)
        return batch

    monkeypatch.setattr(counting, "_count_elsewhere", noting)
    monkeypatch.setattr(counting, "_WORTH_PROCESSES", 10)
    assert texts(build_model(DOCUMENTS, SYNONYMS)) == alone
    assert len(started) == 2
    assert None not in started


def test_without_further_processes_this_one_counts_all(monkeypatch: pytest.MonkeyPatch) -> None:
    alone = texts(build_model(DOCUMENTS, SYNONYMS))
    monkeypatch.setattr(counting, "_WORTH_PROCESSES", 10)
    monkeypatch.setattr("sys.executable", "/no/such/python")
    assert texts(build_model(DOCUMENTS, SYNONYMS)) == alone
