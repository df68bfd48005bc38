"""Links: every reference is found, from its record and from its target."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.links import Use
from shearpin.model.inline import Link, ValueMention, parse_inline
from shearpin.model.references import InlineText, Reference, mentions
from tests.rule_cases import ALL_CASES
from tests.sound_book import SOUND_BOOK, read_over, swap


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(SOUND_BOOK, "kb")


def test_every_mention_of_every_record_is_a_use_with_its_place(linked: LinkedBook) -> None:
    expected: list[tuple[tuple[str, str], tuple[str | int, ...], str]] = []
    for key, record in linked.book.records():
        for mention in mentions(record):
            if isinstance(mention, Reference):
                expected.append((key, mention.path, mention.id))
            else:
                for piece in parse_inline(mention.text):
                    if isinstance(piece, ValueMention):
                        expected.append((key, mention.path, piece.name))
                    elif isinstance(piece, Link):
                        expected.append((key, mention.path, piece.id))
    assert [(use.origin, use.path, use.id) for use in linked.links.uses] == expected
    assert len(expected) >= 40


def test_backlinks_are_the_origins_of_uses_by_target(linked: LinkedBook) -> None:
    by_target = {(target, origin) for target, origins in linked.links.to.items() for origin in origins}
    by_origin = {
        ((kind, use.id), use.origin)
        for use in linked.links.uses
        for kind in use.kinds
        if linked.book.get(kind, use.id)
    }
    assert by_target == by_origin


def test_every_record_of_the_sound_book_but_those_looked_up_is_a_target(linked: LinkedBook) -> None:
    alone = {"machine", "engine", "symptom", "procedure", "term", "edition", "system", "test", "caution"}
    for key, _ in linked.book.records():
        assert key in linked.links.to or key[0] in alone


def test_origins_are_records_once_each_sorted_and_by_kind_if_asked(linked: LinkedBook) -> None:
    bolt = ("part", "auger-shear-bolt")
    assert linked.links.origins(bolt) == (
        ("cause", "auger-shear-bolt-sheared"),
        ("figure", "shear-bolt"),
        ("procedure", "replace-auger-shear-bolt"),
        ("term", "shear-bolt"),
    )
    assert linked.links.origins(bolt, "term") == (("term", "shear-bolt"),)
    assert linked.links.origins(("part", "absent")) == ()


def test_a_value_and_a_link_in_a_text_are_uses_with_their_offset(tmp_path: Path) -> None:
    linked = read_over(
        tmp_path,
        swap(
            "tools/pin-punch.yaml", "Drives", "Like {tool:torque-wrench} at {auger-shear-bolt.torque} drives"
        ),
    )
    found = [use for use in linked.links.uses if use.origin == ("tool", "pin-punch")]
    assert found == [
        Use(("tool", "pin-punch"), ("summary",), ("tool",), "torque-wrench", offset=6),
        Use(("tool", "pin-punch"), ("summary",), ("value",), "auger-shear-bolt.torque", offset=30),
    ]


def test_an_id_that_may_be_of_two_kinds_leads_to_the_one_there_is(linked: LinkedBook) -> None:
    origins = [key for key in linked.links.to[("machine", "brook-d24")] if key[0] == "part"]
    numbers = [use for key in origins for use in linked.links.of(key) if use.id == "brook-d24"]
    assert [(use.path, use.kinds, use.on_key) for use in numbers] == [
        (("numbers", "brook-d24"), ("machine", "engine"), True)
    ]
    assert ("engine", "brook-d24") not in linked.links.to


def test_dead_are_the_uses_of_which_there_is_no_file(tmp_path: Path) -> None:
    """Over every faulty book."""
    found = 0
    for number, case in enumerate(ALL_CASES):
        linked = read_over(tmp_path / str(number), case.files)
        files = linked.book.file_of
        dead = [use for use in linked.links.uses if not any((kind, use.id) in files for kind in use.kinds)]
        assert sorted(linked.links.dead(), key=repr) == sorted(dead, key=repr)
        found += len(dead)
    assert found > 5


def test_a_reference_that_leads_nowhere_is_a_use_without_a_target(tmp_path: Path) -> None:
    linked = read_over(tmp_path, swap("tools/pin-punch.yaml", "Drives", "Like {tool:absent} drives"))
    assert [use.id for use in linked.links.uses if use.origin == ("tool", "pin-punch")] == ["absent"]
    assert [(use.origin, use.id) for use in linked.links.dead()] == [(("tool", "pin-punch"), "absent")]
    assert ("tool", "absent") not in linked.links.to


def test_inline_text_is_walked_wherever_a_writer_may_put_it(tmp_path: Path) -> None:
    texts = [mention.path for mention in mentions_of_test(tmp_path)]
    assert texts == [
        ("purpose",),
        ("steps", 0, "do"),
        ("steps", 0, "confirm"),
        ("steps", 0, "note"),
        ("results", 0, "seen"),
        ("results", 0, "then"),
        ("results", 1, "seen"),
        ("finish", 0, "do"),
    ]


def mentions_of_test(folder: Path) -> list[InlineText]:
    text = (
        "title: A\npurpose: B {v}.\nsystems: auger-drive\ntime: 1 min\nsteps:\n"
        "  - {do: 'C {v}.', confirm: 'D {v}.', note: 'E {v}.'}\n"
        "results:\n  - {id: x, seen: 'F {v}.', then: 'G {v}.'}\n  - {id: y, seen: 'H {v}.'}\n"
        "finish:\n  - do: I {v}.\n"
    )
    linked = read_over(folder, {"tests/a.yaml": text})
    return [mention for mention in mentions(linked.book.tests["a"]) if isinstance(mention, InlineText)]
