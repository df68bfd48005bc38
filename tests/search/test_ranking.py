from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.search.document import Document, Synonym
from shearpin.search.index import StoredIndex, build_index, search
from tests.search.book_of_documents import DOCUMENTS

# What people say at the counter and what they mean; judged by the writer of these tests, common practice, no source.
MEANT = {
    "left auger not spinning": "one-side-of-auger-does-not-turn",
    "auger wont spin one side": "one-side-of-auger-does-not-turn",
    "only half the auger turns": "one-side-of-auger-does-not-turn",
    "agur not turning": "auger-does-not-turn",
    "auger doesn't turn": "auger-does-not-turn",
    "uager wont turn": "auger-does-not-turn",
    "impeller spins but auger does not": "impeller-turns-but-auger-does-not",
    "auger spins but fan does not": "auger-turns-but-impeller-does-not",
    "won't turn off": "engine-will-not-stop",
    "engine wont shut off": "engine-will-not-stop",
    "engine won't start": "engine-cranks-but-will-not-start",
    "only runs with choke on": "engine-runs-only-on-choke",
    "hunts": "engine-surges",
    "carburator leaks gas": "fuel-leak",
    "gas leak": "fuel-leak",
    "belt smoking": "auger-belt-slips-or-smokes",
    "pull cord stuck": "recoil-rope-will-not-pull",
    "rope wont pull": "recoil-rope-will-not-pull",
    "self propel not working": "no-drive-in-either-direction",
    "doesnt throw far": "throws-snow-short-distance",
    "chute stuck": "chute-will-not-rotate",
    "replace spark plug": "replace-spark-plug",
    "change the plug": "replace-spark-plug",
    "how to adjust the auger cable": "adjust-auger-control-cable",
    "set valve clearance": "set-valve-clearance",
    "clean carb": "clean-carburetor",
    "frction wheel": "replace-friction-ring",
    "oil change": "change-engine-oil",
    "spark plug gap": "spark-plug.gap",
    "plug gap e212": "spark-plug.gap",
    "sparkplug gap": "spark-plug.gap",
    "valve clearance": "valve.clearance",
    "tyre pressure": "tire.pressure",
    "torque shear bolt": "auger-shear-bolt.torque",
    "how tight auger shear bolt": "auger-shear-bolt.torque",
    "compresion": "compression-test",
    "no spark": "spark-test",
    "how does the auger drive work": "auger-drive",
    "what is a shear bolt": "shear-bolt",
    "986-3413": "auger-shear-bolt",
    "9863413": "auger-shear-bolt",
    "986 3413": "auger-shear-bolt",
    "osm4471b": "auger-belt",
    "osm 4471 b": "auger-belt",
    "feeler gage": "feeler-gauge",
}


@pytest.mark.parametrize(("query", "meant"), MEANT.items())
def test_shop_language_finds_what_is_meant_first(index: StoredIndex, query: str, meant: str) -> None:
    assert search(index, query).hits[0].id == meant


def test_what_turns_and_what_does_not_are_told_apart(index: StoredIndex) -> None:
    ids = [hit.id for hit in search(index, "auger turns but impeller does not").hits]
    assert ids.index("auger-turns-but-impeller-does-not") < ids.index("impeller-turns-but-auger-does-not")


def test_the_same_words_find_different_kinds_by_what_is_asked(index: StoredIndex) -> None:
    assert search(index, "set valve clearance").hits[0].kind == "procedure"
    assert search(index, "valve clearance").hits[0].kind == "value"


def test_a_record_that_has_all_words_comes_before_those_with_some(index: StoredIndex) -> None:
    # Of one kind: which kind is meant is another question.
    hits = search(index, "belt cover crank", limit=50, kinds=["procedure"]).hits
    assert len(hits) > 1
    assert hits[0].id == "replace-auger-belt-two-stage"


def test_a_chosen_machine_ranks_its_own_pages_up_and_marks_others(index: StoredIndex) -> None:
    anywhere = {hit.id: hit for hit in search(index, "replace auger belt").hits}
    assert all(hit.fits for hit in anywhere.values())
    for machine, own, other in [
        ("tarnbrook-s20", "replace-auger-belt-single-stage", "replace-auger-belt-two-stage"),
        ("osmere-d24", "replace-auger-belt-two-stage", "replace-auger-belt-single-stage"),
    ]:
        hits = {
            hit.id: (place, hit)
            for place, hit in enumerate(search(index, "replace auger belt", machine, 50).hits)
        }
        assert hits[own][0] == 0
        assert hits[own][0] < hits[other][0]
        assert (hits[own][1].fits, hits[other][1].fits) == (True, False)
        assert hits[other][1].score < anywhere[other].score < hits[own][1].score


def test_a_machine_that_no_record_names_changes_nothing(index: StoredIndex) -> None:
    assert search(index, "auger belt", "no-such-machine") == search(index, "auger belt")


def test_limits_are_kept_and_the_total_counts_all(index: StoredIndex) -> None:
    few, many = search(index, "auger", limit=3), search(index, "auger", limit=100)
    assert len(few.hits) == 3
    assert few.total == many.total == len(many.hits)
    assert few.hits == many.hits[:3]
    assert search(index, "auger", limit=0).hits == ()


def test_nothing_found_suggests_words_of_the_book(index: StoredIndex) -> None:
    result = search(index, "gskt", literal=True)
    assert result.hits == ()
    assert "gasket" in result.nearest


def test_the_query_and_its_correction_are_reported(index: StoredIndex) -> None:
    result = search(index, "Agur  not turning")
    assert (result.query, result.corrected) == ("Agur  not turning", "auger not turning")


def a_document(id: str, kind: str, **fields: str) -> Document:
    title = fields.get("title", id)
    return Document(id, kind, title, f"{kind}s/{id}.html", "", {"title": title, **fields})


def test_equal_scores_are_ordered_by_kind(tmp_path: Path) -> None:
    kinds = ("tool", "edition", "source", "machine")
    documents = [a_document(f"same-{kind}", kind, title="Widget", body="") for kind in kinds]
    with build_index(documents, [], tmp_path / "index") as index:
        found = [hit for hit in search(index, "widget").hits if hit.kind in ("source", "edition")]
        assert found[0].score == found[1].score
        assert [hit.kind for hit in found] == ["source", "edition"]


def test_an_answer_for_one_plate_is_shown_for_that_plate_alone(tmp_path: Path) -> None:
    title, every = {"title": "Plug gap"}, "0.7 mm: E1; 0.9 mm: E2"
    machine, engine = frozenset({"m1"}), frozenset({"m2"})
    documents = [
        Document("gap", "value", "Plug gap", "values/gap.html", every, {**title, "body": f"{every} gauge"}),
        Document(
            "gap@0",
            "value",
            "Plug gap, E1",
            "values/gap.html",
            "0.7 mm",
            {**title, "summary": "0.7 mm", "plates": "E1"},
            machine,
        ),
        Document(
            "gap@1",
            "value",
            "Plug gap, E2",
            "values/gap.html",
            "0.9 mm",
            {**title, "summary": "0.9 mm", "plates": "E2"},
            engine,
        ),
    ]
    with build_index(documents, [], tmp_path / "index") as index:
        for query, chosen, excerpt in [
            ("plug gap", None, "0.7 mm: E1; 0.9 mm: E2"),
            ("plug gap e2", None, "0.9 mm"),
            ("plug gap e2", "m1", every),
            ("plug gap", "m1", "0.7 mm"),
            ("plug gap", "m2", "0.9 mm"),
            # found by a word that only the page of all figures says
            ("plug gap gauge", "m1", "0.7 mm"),
            ("plug gap gauge", "m2", "0.9 mm"),
        ]:
            result = search(index, query, chosen)
            assert [(hit.id, hit.excerpt, hit.fits) for hit in result.hits] == [("gap", excerpt, True)]
            assert result.total == 1
        answers = {machine: search(index, "plug gap", machine).answer for machine in (None, "m1", "m2")}
        assert answers == {
            None: "Plug gap:\nE1: 0.7 mm\nE2: 0.9 mm",
            "m1": "Plug gap, E1: 0.7 mm",
            "m2": "Plug gap, E2: 0.9 mm",
        }


def test_field_weights_order_title_name_summary_body(tmp_path: Path) -> None:
    fields = ("title", "also", "summary", "body")
    documents = [
        a_document(
            f"in-{name}",
            "page",
            **{"title": "Other matter", "summary": "Plain words here.", name: "Some widget here"},
        )
        for name in fields
    ]
    with build_index(documents, [], tmp_path / "index") as index:
        assert [hit.id for hit in search(index, "widget").hits] == [f"in-{name}" for name in fields]


def test_a_book_without_records_finds_nothing(tmp_path: Path) -> None:
    with build_index([], [Synonym("auger", ("rake",))], tmp_path / "index") as index:
        result = search(index, "auger rake agur")
        assert (result.hits, result.total) == ((), 0)


def test_every_document_is_found_by_its_own_title(index: StoredIndex) -> None:
    for document in DOCUMENTS:
        hits = search(index, document.title, limit=3).hits
        assert document.title in [hit.title for hit in hits], document.id
