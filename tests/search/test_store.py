from __future__ import annotations

from pathlib import Path

import pytest
from whoosh.index import open_dir
from whoosh.query import Term
from whoosh.searching import Searcher

from shearpin.search.document import how_many
from shearpin.search.impacts import CODE_BITS, CODE_MASK
from shearpin.search.model import build_model
from shearpin.search.store import DamagedIndex, StoredIndex, write_index
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_index(build_model(DOCUMENTS, SYNONYMS), tmp_path, "state 1")
    return tmp_path


def test_what_is_written_is_read_back(folder: Path) -> None:
    model = build_model(DOCUMENTS, SYNONYMS)
    with StoredIndex(folder) as index:
        assert index.fingerprint == "state 1"
        assert index.total() == len(model.documents)
        assert how_many(model.documents) == len(DOCUMENTS)
        for term, postings in model.postings.items():
            found = index.find(term)
            assert index.knows(term)
            if not postings.packed:
                assert found is None
                continue
            assert found is not None
            assert found.idf == postings.idf
            assert list(found.postings) == [(p >> CODE_BITS, p & CODE_MASK) for p in postings.packed]
        for number, document in enumerate(model.documents):
            assert index.kind(number) == document.kind
            assert index.card(number).id == document.id
            assert index.card(number).title == document.title
        for length, words in model.words.items():
            assert tuple(index.words(length)) == words


def test_it_is_an_index_that_whoosh_itself_can_search(folder: Path) -> None:
    with Searcher(open_dir(str(folder), indexname="MAIN").reader()) as searcher:
        found = {hit["id"] for hit in searcher.search(Term("word", "auger"), limit=None)}
    expected = {d.id for d in DOCUMENTS if "auger" in " ".join(d.fields.values()).lower()}
    assert found == expected


def test_terms_that_begin_alike_come_in_order_without_pairs_and_concepts(folder: Path) -> None:
    with StoredIndex(folder) as index:
        found = list(index.beginning_with("carb", 10))
        assert found == sorted(found)
        assert "carburetor" in found
        assert not any(term.endswith("!") for term in found)
        assert list(index.beginning_with("carb", 1)) == found[:1]
        assert list(index.beginning_with("zzz", 10)) == []


def test_words_of_synonyms_are_known_though_no_record_has_them(folder: Path) -> None:
    with StoredIndex(folder) as index:
        assert index.knows("carbi")  # "carbie"
        assert index.find("carbi") is None


def test_no_index_is_not_opened(tmp_path: Path) -> None:
    with pytest.raises(DamagedIndex):
        StoredIndex(tmp_path / "nothing")


def test_damage_to_any_file_is_noticed_before_anything_is_unpickled(folder: Path) -> None:
    for path in sorted(folder.iterdir()):
        whole = path.read_bytes()
        for damaged in (whole[:-1], b"", whole[:-1] + bytes([whole[-1] ^ 1]), b"x" * len(whole)):
            path.write_bytes(damaged)
            with pytest.raises(DamagedIndex):
                StoredIndex(folder)
        path.unlink()
        with pytest.raises(DamagedIndex):
            StoredIndex(folder)
        path.write_bytes(whole)
    StoredIndex(folder).close()
