from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from shearpin.search import kept
from shearpin.search.document import Document, Synonym
from shearpin.search.model import IndexModel, build_model
from shearpin.search.shards import shard_texts
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS


def texts(model: IndexModel) -> list[tuple[str, str]]:
    return list(shard_texts(model))


def test_only_changed_records_are_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    build_model(DOCUMENTS, SYNONYMS, tmp_path)
    counted: list[str] = []
    count = kept.count_document

    def noting(document: Document, *rest: object) -> object:
        counted.append(document.id)
        return count(document, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(kept, "count_document", noting)
    changed = replace(DOCUMENTS[3], fields={**DOCUMENTS[3].fields, "body": "entirely other words"})
    documents = (*DOCUMENTS[:3], changed, *DOCUMENTS[4:])
    again = build_model(documents, SYNONYMS, tmp_path)
    assert counted == [changed.id]
    assert texts(again) == texts(build_model(documents, SYNONYMS))


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
