"""What goes into pages last: filled in, and filled in again, a page is what it would be if it were written at once."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from shearpin.site.blanks import UNKNOWN, Fillings, blank, has_blanks

NAMES = ("machine brook-d24", "machine brook-t28", "message loose-clothing")
D24, T28, _ = NAMES


def fillings(now: dict[str, str], before: Fillings | None = None) -> Fillings:
    return Fillings(now, before.kept if before is not None else {})


words = st.text(st.characters(exclude_categories=["Cc", "Cs"]), max_size=8)
page = st.lists(words | st.sampled_from(NAMES).map(blank), max_size=12)
contents = st.fixed_dictionaries(dict.fromkeys(NAMES, words))


def written(pieces: list[str], content: dict[str, str]) -> bytes:
    """Return a page as it would be written at once."""
    at_once = {blank(name): markup for name, markup in content.items()}
    return "".join(at_once.get(piece, piece) for piece in pieces).encode()


@given(page, contents, contents)
def test_a_page_is_what_it_would_be_if_written_at_once(
    pieces: list[str], first: dict[str, str], second: dict[str, str]
) -> None:
    before = fillings(first)
    content, gaps = before.filled("".join(pieces).encode())
    assert content == written(pieces, first)
    now = fillings(second, before)
    assert now.differ == (first != second)
    assert now.filled_again(content, gaps) == written(pieces, second)
    assert now.concern(gaps) == any(first[name] != second[name] for name in NAMES if blank(name) in pieces)


@given(page, contents)
def test_a_page_is_measured_as_it_will_be(pieces: list[str], content: dict[str, str]) -> None:
    assert fillings(content).size("".join(pieces).encode()) == len(written(pieces, content))


def test_a_page_on_which_what_went_in_is_not_in_its_place_is_made_anew() -> None:
    before = fillings({D24: "Brook D24"})
    content, gaps = before.filled(f"on the {blank(D24)} only".encode())
    now = fillings({D24: "Brook D24 E"}, before)
    assert now.filled_again(content, gaps) == b"on the Brook D24 E only"
    assert now.filled_again(content.replace(b"on", b"of the", 1), gaps) is None
    assert now.filled_again(content[:10], gaps) is None
    assert now.filled_again(b"", gaps) is None


def test_what_begins_as_something_else_stays_its_own() -> None:
    before = fillings({D24: "Brook D24", T28: "Brook D24 E"})
    content, gaps = before.filled(f"{blank(T28)}, {blank(D24)}: Brook D24".encode())
    now = fillings({D24: "Brook D26", T28: "Brook D24 E"}, before)
    assert now.filled_again(content, gaps) == b"Brook D24 E, Brook D26: Brook D24"


def test_names_keep_their_numbers_when_others_come_and_go() -> None:
    before = fillings({"machine b": "Brook", "machine c": "Tarn"})
    content, gaps = before.filled(blank("machine c").encode())
    later = fillings({"machine a": "Osmere", "machine c": "Tarn"}, before)
    assert not later.concern(gaps)
    last = fillings({"machine a": "Osmere", "machine c": "Tarn 2"}, later)
    assert last.filled_again(content, gaps) == b"Tarn 2"


def test_a_page_with_a_blank_that_nothing_goes_into_any_more_is_made_anew() -> None:
    for former in ("Wear no loose clothing.", ""):
        before = fillings({"message loose-clothing": former})
        content, gaps = before.filled(blank("message loose-clothing").encode())
        now = fillings({}, before)
        assert now.differ
        assert not now.has("message loose-clothing")
        assert now.concern(gaps)
        assert now.filled_again(content, gaps) is None


def test_what_cannot_be_told_is_said_to_be_unknown() -> None:
    before = fillings({D24: "Brook D24"})
    far = before.filled(f"{'x' * 70_000}{blank(D24)}".encode())
    assert far == (b"x" * 70_000 + b"Brook D24", UNKNOWN)
    stray = f"a {blank('nobody')} and a {blank(D24)}".encode()
    filled = f"a {blank('nobody')} and a Brook D24".encode()
    assert before.filled(stray) == (filled, UNKNOWN)
    assert before.size(stray) == len(filled)
    now = fillings({D24: "Brook D24 E"}, before)
    assert now.concern(UNKNOWN)
    assert now.filled_again(far[0], UNKNOWN) is None


def test_a_page_without_blanks_is_left_as_it_is() -> None:
    content = b"Turn the engine off."
    assert not has_blanks(content)
    assert fillings({D24: "Brook D24"}).filled(content) == (content, b"")
