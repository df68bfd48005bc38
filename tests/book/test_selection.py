"""What an edition holds: closed under what its records need, for its machines alone, and no caution lost."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from shearpin.book.book import Book, Key
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.selection import condition_of, lost_cautions, pack, select
from shearpin.model.editions import Edition
from shearpin.search.documents import documents_of
from shearpin.site.pages import all_pages

KB = Path(__file__).resolve().parents[2] / "kb"


@pytest.fixture(scope="module")
def demo() -> LinkedBook:
    return load_linked(KB, "kb")


def edition_of(linked: LinkedBook, **contents: Any) -> LinkedBook:
    """The demo book with one more edition, called `trial`, of these contents."""
    whole = linked.book.editions["whole-book"]
    trial = Edition.model_validate(
        {"title": "Trial", "number": "1", "issuer": "x", "date": whole.date, "licence": "CC BY 4.0",
         "state": "draft", "contents": contents}
    )  # fmt: skip
    file = linked.book.file_of["edition", "whole-book"]
    added = type(file)("editions/trial.yaml", file.kind, "trial", trial)
    return LinkedBook(Book(linked.book.kb, "kb", (*linked.book.files, added)))


CONTENTS = (
    {"procedures": ["replace-auger-shear-bolt"]},
    {"symptoms": ["engine-surges"], "class": "two-stage"},
    {"systems": ["recoil-starter"]},
    {"kinds": ["procedure"], "systems": ["chute"], "machines": ["osmere-d24"]},
    {"machines": ["osmere-r18"]},
    {"kinds": ["term"]},
)


def test_nothing_given_is_the_whole_book_with_its_own_edition_alone(demo: LinkedBook) -> None:
    book = edition_of(demo)
    held = select(book, "whole-book").keys
    assert held == {key for key, _ in demo.book.records() if key[0] != "edition" or key[1] == "whole-book"}


@pytest.mark.parametrize("contents", CONTENTS, ids=str)
def test_no_caution_that_the_whole_book_requires_is_lost(demo: LinkedBook, contents: dict[str, Any]) -> None:
    book = edition_of(demo, **contents)
    assert lost_cautions(book, pack(book, select(book, "trial"))) == ()


def test_a_caution_left_out_would_be_noticed(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["replace-auger-shear-bolt"])
    packed = pack(book, select(book, "trial")).book
    fewer = tuple(file for file in packed.files if (file.kind.name, file.id) != ("caution", "flying-chips"))
    lost = lost_cautions(book, LinkedBook(Book(packed.kb, "kb", fewer)))
    assert (("procedure", "replace-auger-shear-bolt"), "flying-chips") in lost


@pytest.mark.parametrize("contents", CONTENTS, ids=str)
def test_what_work_needs_is_there(demo: LinkedBook, contents: dict[str, Any]) -> None:
    book = edition_of(demo, **contents)
    packed = pack(book, select(book, "trial"))
    here = set(packed.book.machines)
    for key, work in packed.book.work():
        needed: list[Key] = [("tool", tool) for tool in work.tools]
        needed += [("part", use.part) for use in work.parts]
        needed += [("procedure", procedure) for procedure in work.before]
        needed += [("system", system) for system in work.systems]
        for other in needed:
            holds = book.applicability.machines_for(condition_of(book.book.get(*other)))
            assert packed.book.get(*other) is not None or not holds & here, (key, other)


@pytest.mark.parametrize("contents", CONTENTS, ids=str)
def test_links_out_become_text_with_a_note(demo: LinkedBook, contents: dict[str, Any]) -> None:
    book = edition_of(demo, **contents)
    packed = pack(book, select(book, "trial"))
    pages = {page.url: page.body for page in all_pages(packed)}
    assert not [url for url, body in pages.items() if "(not in this book)" in body]
    assert len([*documents_of(packed)]) >= len(packed.book.files)
    for body in pages.values():
        for href in (piece.split('"', 1)[0] for piece in body.split('href="../')[1:]):
            assert href.split("#")[0] in pages or "/" not in href  # hand-written pages lie at the root


def test_a_link_out_keeps_its_title(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["replace-auger-shear-bolt"])
    packed = pack(book, select(book, "trial"))
    pages = {page.url: page.body for page in all_pages(packed)}
    page = pages["procedures/replace-auger-shear-bolt.html"]
    title = book.book.causes["auger-shear-bolt-sheared"].title
    assert (
        f'<span class="outside" data-outside="cause:auger-shear-bolt-sheared">{title} '
        "<small>(not in this edition)</small></span>" in page
    )


def test_a_symptom_brings_its_tests_and_cures(demo: LinkedBook) -> None:
    book = edition_of(demo, symptoms=["one-side-of-auger-does-not-turn"])
    keys = select(book, "trial").keys
    assert {("test", "shear-bolt-inspection"), ("procedure", "replace-auger-shear-bolt")} <= keys


def test_machines_left_out_are_nowhere(demo: LinkedBook) -> None:
    book = edition_of(demo, **{"class": "two-stage"})
    packed = pack(book, select(book, "trial"))
    assert set(packed.book.machines) == {"osmere-d24", "osmere-d28", "osmere-t28"}
    assert "tarnbrook-s20" not in "".join(page.body for page in all_pages(packed)).replace(
        'data-outside="machine:tarnbrook-s20"', ""
    )


def test_systems_choose_what_names_them_first(demo: LinkedBook) -> None:
    book = edition_of(demo, systems=["engine-ignition"], kinds=["procedure"])
    chosen = select(book, "trial").chosen
    assert ("procedure", "replace-ignition-coil") in chosen
    for kind, record_id in chosen:
        assert getattr(demo.book.get(kind, record_id), "systems", ())[0] == "engine-ignition"
    assert ("procedure", "replace-cylinder-head") not in chosen  # it touches the ignition for its hazards


def test_a_system_drawn_in_is_shown_with_its_hazards_and_without_how_it_works(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["replace-auger-shear-bolt"])
    pages = {page.url: page.body for page in all_pages(pack(book, select(book, "trial")))}
    page, whole = pages["systems/auger-drive.html"], demo.book.systems["auger-drive"]
    assert "How it works is not told in this edition." in page
    assert whole.theory[0].heading not in page
    assert all(f'data-caution="{caution}"' in page for caution in whole.hazards)
    own = edition_of(demo, systems=["auger-drive"])
    page = {page.url: page.body for page in all_pages(pack(own, select(own, "trial")))}[
        "systems/auger-drive.html"
    ]
    assert whole.theory[0].heading in page


def test_a_step_for_machines_that_are_left_out_is_left_out(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["make-machine-safe"], machines=["osmere-d24"])
    pages = {page.url: page.body for page in all_pages(pack(book, select(book, "trial")))}
    page = pages["procedures/make-machine-safe.html"]
    assert "no machine of this book" not in page
    assert "so that tines and wheels disengage" not in page
    assert "so that auger and drive disengage" in page
    whole = {page.url: page.body for page in all_pages(demo)}["procedures/make-machine-safe.html"]
    assert "so that tines and wheels disengage" in whole


def test_a_course_pack_holds_no_pages_for_writers(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["make-machine-safe"])
    urls = {page.url for page in all_pages(pack(book, select(book, "trial")))}
    assert not [url for url in urls if url.startswith(("rules/", "coverage"))]
    assert {"coverage.html", "rules/index.html"} <= {page.url for page in all_pages(demo)}


def test_the_search_of_a_course_pack_leads_to_no_page_for_writers(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["make-machine-safe"])
    urls = {document.url for document in documents_of(pack(book, select(book, "trial")))}
    assert "procedures/make-machine-safe.html" in urls
    assert not [url for url in urls if url.startswith(("rules/", "from-the-bench"))]


def test_what_a_note_merely_mentions_stays_out_and_what_a_step_calls_comes(demo: LinkedBook) -> None:
    book = edition_of(demo, procedures=["adjust-auger-control-cable"])
    keys = select(book, "trial").keys
    assert ("procedure", "set-controls-and-start-engine") in keys
    assert ("procedure", "replace-auger-control-cable") not in keys
    assert len(keys) < len(demo.book.files) / 8
