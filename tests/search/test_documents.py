from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.values import ResolvedValue
from shearpin.model.quantity import dual_text
from shearpin.search.document import KIND_ORDER, Document, is_answer
from shearpin.search.documents import documents_of, synonyms_of
from shearpin.search.index import StoredIndex, build_index, search
from shearpin.search.pages import excerpt

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(ROOT / "kb", "kb")


@pytest.fixture(scope="module")
def documents(linked: LinkedBook) -> list[Document]:
    return documents_of(linked)


@pytest.fixture(scope="module")
def index(
    linked: LinkedBook, documents: list[Document], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[StoredIndex]:
    folder = tmp_path_factory.mktemp("demo") / "index"
    with build_index(documents, synonyms_of(linked), folder) as found:
        yield found


def test_every_record_has_one_document_and_its_address(linked: LinkedBook, documents: list[Document]) -> None:
    keys = [(d.kind, d.id) for d in documents if not is_answer(d) and d.kind != "page"]
    assert sorted(keys) == sorted(key for key, _ in linked.book.records())
    assert all(d.kind in KIND_ORDER and d.title and d.url.endswith(".html") for d in documents)


def test_ids_of_a_kind_are_distinct(documents: list[Document]) -> None:
    keys = [(d.kind, d.id) for d in documents]
    assert len(set(keys)) == len(keys)


def test_excerpts_are_short(documents: list[Document]) -> None:
    assert all(len(d.excerpt) <= 122 for d in documents)
    assert not [d.url for d in documents if "<!--" in d.excerpt]
    assert excerpt("word " * 40).endswith("word …")
    assert excerpt("short\n text") == "short text"
    assert (
        excerpt("It drips while it stands. Close the valve at once, and wait.", 40)
        == "It drips while it stands. …"
    )
    assert (
        excerpt("It drips. Close the valve at once, and wait.", 40)
        == "It drips. Close the valve at once, and …"
    )
    assert excerpt("wide" + " " * 300 + "text", 20) == "wide text"
    assert excerpt("wide" + " " * 300 + "text " * 90, 20) == "wide text text text …"


def test_machines_follow_from_applicability(linked: LinkedBook, documents: list[Document]) -> None:
    by_key = {(d.kind, d.id): d for d in documents}
    assert by_key["machine", "osmere-d24"].machines == {"osmere-d24"}
    assert by_key["engine", "ellvane-e212"].machines == {"osmere-d24", "osmere-r18"}
    for (kind, record_id), record in linked.book.records():
        condition = getattr(record, "applies_to", None)
        if condition is not None and kind not in ("machine", "engine"):
            found = linked.applicability.machines_for(condition)
            assert by_key[kind, record_id].machines == (
                None if found == linked.applicability.everywhere else found
            )


def test_a_figure_is_answered_for_the_plates_that_have_it_alone(
    linked: LinkedBook, documents: list[Document]
) -> None:
    answers = [d for d in documents if is_answer(d)]
    assert answers
    for answer in answers:
        name = answer.id.partition("@")[0]
        assert answer.machines
        for machine in answer.machines:
            resolved = linked.values.resolve(name, machine)
            assert isinstance(resolved, ResolvedValue)
            assert answer.fields["summary"].startswith(dual_text(resolved.quantity))
            assert linked.book.get(*resolved.holder).title in answer.fields["plates"].split("\n")
            assert linked.book.title("machine", machine) in answer.fields["plates"].split("\n")


def test_misspellings_are_no_words_of_the_book(linked: LinkedBook, index: StoredIndex) -> None:
    assert search(index, "clean carburator").corrected == "clean carburetor"


@pytest.mark.parametrize(
    ("query", "kind", "id"),
    [
        ("left auger not spinning", "symptom", "one-side-of-auger-does-not-turn"),
        ("auger wont spin one side", "symptom", "one-side-of-auger-does-not-turn"),
        ("agur not turning", "symptom", "auger-does-not-turn"),
        ("replace auger shear bolt", "procedure", "replace-auger-shear-bolt"),
        ("plug gap", "value", "spark-plug.gap"),
        ("change spark plug", "procedure", "replace-spark-plug"),
        ("spark test", "test", "spark-test"),
        ("osmere d24", "machine", "osmere-d24"),
    ],
)
def test_the_demonstration_answers_in_shop_language(
    index: StoredIndex, query: str, kind: str, id: str
) -> None:
    first = search(index, query).hits[0]
    assert (first.kind, first.id) == (kind, id)


def test_every_part_number_finds_its_part_however_it_is_written(
    linked: LinkedBook, index: StoredIndex
) -> None:
    for part_id, part in linked.book.parts.items():
        for plate in part.numbers.values():
            bare = "".join(filter(str.isalnum, plate.number))
            for query in {plate.number, bare, plate.number.lower(), bare.lower()}:
                hits = search(index, query, limit=3).hits
                assert ("part", part_id) in [(hit.kind, hit.id) for hit in hits], query


def test_without_a_plate_no_figure_of_one_plate_is_shown(
    linked: LinkedBook, documents: list[Document], index: StoredIndex
) -> None:
    answered = {document.id.partition("@")[0] for document in documents if is_answer(document)}
    for name in answered:
        title = linked.book.values[name].title
        hits = {(hit.kind, hit.id): hit for hit in search(index, title, limit=5).hits}
        assert hits["value", name].title == title


def test_no_machine_is_answered_with_the_figure_of_another(linked: LinkedBook, index: StoredIndex) -> None:
    for machine in ("osmere-d28", "tarnbrook-s20"):
        for name, value in linked.book.values.items():
            resolved = linked.values.resolve(name, machine)
            result = search(index, value.title, machine, limit=3)
            hit = next((hit for hit in result.hits if hit.id == name), None)
            if isinstance(resolved, ResolvedValue):
                assert hit is not None, (name, machine)
                assert hit.excerpt.startswith(dual_text(resolved.quantity)), (name, machine)
                assert hit.fits
            else:
                assert hit is None or not hit.fits, (name, machine)
                assert not (result.answer or "").startswith(value.title), (name, machine)


def test_without_a_machine_each_figure_is_answered_whole_with_its_plates(
    linked: LinkedBook, index: StoredIndex
) -> None:
    first, *lines = (search(index, "shear bolt torque").answer or "").split("\n")
    assert first == "Auger shear bolt, tightening torque:"
    for line, machine in zip(lines, ("osmere-d24", "osmere-d28", "osmere-t28"), strict=True):
        resolved = linked.values.resolve("auger-shear-bolt.torque", machine)
        assert isinstance(resolved, ResolvedValue)
        title = linked.book.title("machine", machine)
        assert line == f"{title}: {dual_text(resolved.quantity)}; invented figure"


def test_the_only_figure_of_some_machines_names_them(index: StoredIndex) -> None:
    answer = search(index, "tine shear pin torque").answer or ""
    assert answer.endswith("invented figure; Osmere R18")


def test_a_decimal_without_a_unit_is_a_length(index: StoredIndex) -> None:
    first = search(index, ".030 gap").hits[0]
    assert first.id == "spark-plug.gap"


@pytest.mark.parametrize(("machine", "number"), [("osmere-d28", "d28"), ("tarnbrook-s20", "s20")])
def test_a_model_number_in_the_query_ranks_for_that_machine(
    index: StoredIndex, machine: str, number: str
) -> None:
    query = f"replace auger belt {number}"
    named, chosen = search(index, query, limit=30), search(index, query, machine, 30)
    assert [(hit.id, hit.score) for hit in named.hits] == [(hit.id, hit.score) for hit in chosen.hits]
    assert all(hit.fits for hit in named.hits)
    assert not all(hit.fits for hit in chosen.hits)
