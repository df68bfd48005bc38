"""Places are found once for each content of a file, and kept ones are those that would be found."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from shearpin import places
from shearpin.book.linked import load_linked
from shearpin.book.readfiles import Reading
from shearpin.checks.rule import Fault
from shearpin.model.position import FieldPath, Positions
from shearpin.model.usercache import cache_of
from shearpin.places import Places
from tests.sound_book import lay_over

PUNCH = "tools/pin-punch.yaml"
ASKED: tuple[tuple[FieldPath, bool, int], ...] = (
    (("title",), False, 0),
    (("title",), True, 0),
    (("summary",), False, 5),
    (("absent", 1), False, 0),
)


@pytest.fixture
def kb(tmp_path: Path) -> Path:
    return lay_over(tmp_path, {PUNCH: "title: Pin punch\nsummary: Drives pins.\n"})


@pytest.fixture
def composed(monkeypatch: pytest.MonkeyPatch) -> list[bytes]:
    """The texts that were composed to find something in them."""
    texts: list[bytes] = []

    def noting(raw: bytes) -> Positions:
        texts.append(raw)
        return Positions(raw)

    monkeypatch.setattr(places, "Positions", noting)
    return texts


def ask(kb: Path) -> list[tuple[int, int]]:
    found = Places(load_linked(kb, "kb", Reading(judged=True)).book)
    answers = [found.find(PUNCH, path, on_key=on_key, offset=offset) for path, on_key, offset in ASKED]
    found.keep()
    return answers


def expected(kb: Path) -> list[tuple[int, int]]:
    positions = Positions((kb / PUNCH).read_bytes())
    return [positions.find(path, on_key=on_key, offset=offset) for path, on_key, offset in ASKED]


def test_what_was_found_is_not_looked_for_again(kb: Path, composed: list[bytes]) -> None:
    assert ask(kb) == ask(kb) == expected(kb)
    assert len(composed) == 1


def test_it_is_looked_for_in_what_the_file_holds_now(kb: Path) -> None:
    ask(kb)
    (kb / PUNCH).write_text("# A remark.\nsummary: Drives\n  pins.\ntitle: Pin punch\n")
    assert ask(kb) == ask(kb) == expected(kb)


def test_what_was_saved_after_it_was_read_is_not_kept(kb: Path) -> None:
    found = Places(load_linked(kb, "kb", Reading(judged=True)).book)
    before = (kb / PUNCH).read_bytes()
    (kb / PUNCH).write_text("# A remark.\ntitle: Pin punch\nsummary: Drives pins.\n")
    assert found.find(PUNCH, ("title",)) == (2, 8)
    found.keep()
    (kb / PUNCH).write_bytes(before)
    assert ask(kb) == expected(kb)


@pytest.mark.parametrize("seed", range(5))
def test_what_is_damaged_is_of_no_use(kb: Path, seed: int) -> None:
    ask(kb)
    place = cache_of(kb) / "places.bin"
    content = bytearray(place.read_bytes())
    content[random.Random(seed).randrange(len(content))] ^= 1
    place.write_bytes(content)
    assert ask(kb) == expected(kb)


def test_what_another_process_found_is_not_looked_for_again(kb: Path, composed: list[bytes]) -> None:
    book = load_linked(kb, "kb", Reading(judged=True)).book
    there, here = Places(book), Places(book)
    faults = [Fault(PUNCH, path, "", on_key=on_key, offset=offset) for path, on_key, offset in ASKED]
    related = Fault("tools/none.yaml", (), "", place=(1, 1), related=((PUNCH, ("summary",)),))
    here.take(there.of([*faults, related]))
    answers = [here.find(PUNCH, path, on_key=on_key, offset=offset) for path, on_key, offset in ASKED]
    assert answers == expected(kb)
    assert here.find(PUNCH, ("summary",)) == (2, 10)
    assert len(composed) == 1
    here.keep()
    assert ask(kb) == answers
    assert len(composed) == 1
