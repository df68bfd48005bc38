"""Titles of machines go into a page last: filled in, and filled in again, a page is what it would be if written at once."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import given
from hypothesis import strategies as st

from shearpin.site.blanks import UNKNOWN, Titles, blank, has_blanks
from shearpin.site.html import text

MACHINES = ("brook-d24", "brook-t28", "osmere-k200")


@dataclass
class Book:
    """Stands for a book, of which only machines and their titles are asked."""

    titles: dict[str, str]
    language: str = "en"

    @property
    def file_of(self) -> dict[tuple[str, str], None]:
        return {("machine", machine): None for machine in self.titles} | {("part", "shear-bolt"): None}

    def title(self, kind: str, record_id: str) -> str:
        assert kind == "machine"
        return self.titles.get(record_id, record_id)


def titles(machines: dict[str, str], before: Titles | None = None) -> Titles:
    return Titles(Book(machines), before.now if before is not None else {})  # type: ignore[arg-type]


words = st.text(st.characters(exclude_categories=["Cc", "Cs"]), max_size=8)
page = st.lists(words | st.sampled_from(MACHINES).map(blank), max_size=12)
names = st.fixed_dictionaries(dict.fromkeys(MACHINES, words))


def written(pieces: list[str], named: dict[str, str]) -> bytes:
    """Return a page as it would be written at once."""
    at_once = {blank(machine): title for machine, title in named.items()}
    return "".join(text(at_once.get(piece, piece)) for piece in pieces).encode()


@given(page, names, names)
def test_a_page_is_what_it_would_be_if_written_at_once(
    pieces: list[str], first: dict[str, str], second: dict[str, str]
) -> None:
    before = titles(first)
    content, gaps = before.filled(text("".join(pieces)).encode())
    assert content == written(pieces, first)
    now = titles(second, before)
    assert now.filled_again(content, gaps) == written(pieces, second)
    named = {machine for machine in MACHINES if blank(machine) in pieces}
    assert now.concern(gaps) == any(text(first[each]) != text(second[each]) for each in named)


@given(page, names, st.integers(-3, 3))
def test_a_page_is_measured_as_it_will_be(pieces: list[str], named: dict[str, str], by: int) -> None:
    content = text("".join(pieces)).encode()
    size = len(written(pieces, named))
    assert titles(named).are_within(content, size + by) == (by >= 0)


def test_a_page_on_which_a_former_title_is_not_in_its_place_is_made_anew() -> None:
    before = titles({"brook-d24": "Brook D24"})
    content, gaps = before.filled(f"on the {blank('brook-d24')} only".encode())
    now = titles({"brook-d24": "Brook D24 E"}, before)
    assert now.filled_again(content, gaps) == b"on the Brook D24 E only"
    assert now.filled_again(content.replace(b"on", b"of the", 1), gaps) is None
    assert now.filled_again(content[:10], gaps) is None


def test_a_title_that_begins_as_another_stays_its_own() -> None:
    before = titles({"brook-d24": "Brook D24", "brook-t28": "Brook D24 E"})
    content, gaps = before.filled(f"{blank('brook-t28')}, {blank('brook-d24')}: Brook D24".encode())
    now = titles({"brook-d24": "Brook D26", "brook-t28": "Brook D24 E"}, before)
    assert now.filled_again(content, gaps) == b"Brook D24 E, Brook D26: Brook D24"


def test_machines_keep_their_numbers_when_others_come_and_go() -> None:
    before = titles({"brook-t28": "Brook T28", "osmere-k200": "Osmere K200"})
    content, gaps = before.filled(blank("osmere-k200").encode())
    later = titles({"brook-d24": "Brook D24", "osmere-k200": "Osmere K200"}, before)
    assert not later.concern(gaps)
    last = titles({"brook-d24": "Brook D24", "osmere-k200": "Osmere K210"}, later)
    assert last.filled_again(content, gaps) == b"Osmere K210"


def test_what_cannot_be_told_is_said_to_be_unknown() -> None:
    before = titles({"brook-d24": "Brook D24"})
    far = before.filled(f"{'x' * 70_000}{blank('brook-d24')}".encode())
    assert far == (b"x" * 70_000 + b"Brook D24", UNKNOWN)
    stray = f"a {blank('nobody')} and a {blank('brook-d24')}".encode()
    assert before.filled(stray) == (f"a {blank('nobody')} and a Brook D24".encode(), UNKNOWN)
    now = titles({"brook-d24": "Brook D24 E"}, before)
    assert now.concern(UNKNOWN)
    assert now.filled_again(far[0], UNKNOWN) is None


def test_a_page_without_machines_is_left_as_it_is() -> None:
    content = b"Turn the engine off."
    assert not has_blanks(content)
    assert titles({"brook-d24": "Brook D24"}).filled(content) == (content, b"")


def test_a_page_in_another_language_is_written_at_once() -> None:
    assert titles({}).are_left_open
    assert not Titles(Book({}, "es"), {}).are_left_open  # type: ignore[arg-type]
