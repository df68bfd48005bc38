"""Making pages in several processes: every page is made once, also where one of the processes dies."""

from __future__ import annotations

import os
from functools import partial
from pathlib import Path

import pytest

from shearpin.book.joined import unpacked
from shearpin.book.ledger import Ledger
from shearpin.model.shares import JOBS, WORTH_SHARING
from shearpin.site.blanks import Fillings
from shearpin.site.earlier import Notes
from shearpin.site.making import make_pages, shared_out
from shearpin.site.pages import Page, Planned
from shearpin.site.taking_over import TakingOver

PAGES = WORTH_SHARING + 200


class _NoShells:
    def mark(self, url: str, *, bare: bool = False) -> bytes:
        return b""


def _planned(ledger: Ledger, parent: int, dies_at: int) -> list[Planned]:
    made = 0

    def make(number: int) -> Page:
        nonlocal made
        if os.getpid() != parent:
            made += 1
            if made == dies_at:
                os._exit(1)
        ledger.note("thing", str(number % 7))
        return Page(f"pages/{number}.html", "", f"page {number}")

    return [
        Planned(f"pages/{number}.html", partial(make, number), bare=True, group=f"group {number // 3}")
        for number in range(PAGES)
    ]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork")
@pytest.mark.parametrize("dies_at", [0, 1, 40])
def test_every_page_is_made_and_knows_what_it_read(
    dies_at: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(JOBS, "2")
    ledger = Ledger()
    ledger.marks["thing"] = lambda number: number.encode()
    fillings = Fillings({}, {})
    over = TakingOver(Notes(), frozenset(), tmp_path / "earlier", tmp_path, fillings)
    traces = make_pages(_planned(ledger, os.getpid(), dies_at), ledger, _NoShells(), over)  # type: ignore[arg-type]
    assert sorted(traces) == sorted(f"pages/{number}.html" for number in range(PAGES))
    names = ledger.present().names
    for number in range(PAGES):
        url = f"pages/{number}.html"
        assert (tmp_path / url).read_text(encoding="utf-8") == f"page {number}"
        assert [names[each] for each in unpacked(traces[url].read)] == [("thing", str(number % 7))]


def test_groups_stay_whole_in_a_process() -> None:
    shares = shared_out(_planned(Ledger(), os.getpid(), 0), 2)
    assert sum(map(len, shares)) == PAGES
    first, second = ({page.group for page in share} for share in shares)
    assert not first & second


def test_pages_of_which_only_blanks_are_filled_again_count_for_less() -> None:
    planned = [Planned(f"{number}.html", partial(Page, f"{number}.html", "", "")) for number in range(1_000)]
    made = {page.url for page in planned[:200]}
    shares = shared_out(planned, 2, lambda url: url not in made)
    of_made = [sum(page.url in made for page in share) for share in shares]
    assert sum(of_made) == len(made)
    assert max(of_made) - min(of_made) < 40
    assert abs(len(shares[0]) - len(shares[1])) < 160
