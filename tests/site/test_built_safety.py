"""The hazards of the trade on the built pages, found by the words a reader reads, not by the fields of the records.

What is asked for here is common practice, no source, unless a test names one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final
from urllib.parse import urlsplit

import pytest
from bs4 import BeautifulSoup, SoupStrainer, Tag

SAFE: Final = "make-machine-safe"
START: Final = "set-controls-and-start-engine"

# Pages that by their nature come before the machine is safe, or that only run it with nobody at its moving parts.
NOBODY_REACHES_IN: Final = frozenset(
    {SAFE, START, "stop-engine-without-switch", "show-how-to-clear-snow", "test-traction-drive"}
)

STARTS: Final = re.compile(
    r"\b(start|starts) the (cold |hot |new )?engine\b|\blet the (new )?engine run\b", re.I
)
LIVE: Final = re.compile(r"\bpush the boot onto\b", re.I)
SAFE_AGAIN: Final = re.compile(
    r"\bmake the machine safe\b|\bpull the boot off\b|\bground (it|the boot)\b", re.I
)
FUEL_HANDLED: Final = re.compile(
    r"\b(drain|fill|refuel|pour|empty|open|loosen|take|pull|slide|press)\b[^.]*"
    r"\b(gasoline|fuel (line|cap|container|valve|tank)|carburetor bowl|bowl bolt|primer bulb)\b"
    r"|\bunscrew the (spark )?plug\b|\brefuel\b|\bdrain all fuel\b",
    re.I,
)
MOVING_PARTS: Final = re.compile(
    r"\b(auger|impeller|paddles?|belts?|pulleys?|idlers?|tines?|blades?)\b", re.I
)
HANDS_ON: Final = re.compile(
    r"^(brush|clean|drive|file|fit|grease|hook|lay|lift|loosen|measure|press|push|reach|remove|rock|roll|scrape"
    r"|slide|spin|swing|tighten|turn|unhook|unscrew|wipe)\b",
    re.I,
)
ENGAGES: Final = re.compile(r"\b(engage the auger|hold(s|ing)? (down )?the (auger|drive) lever)\b", re.I)
TIPS: Final = re.compile(r"\btip the machine\b", re.I)
SNOW_CLEARED: Final = re.compile(
    r"\b(push|break|dig|knock|scrape|pull|clear|scoop)\b[^.]*\b(snow|ice)\b", re.I
)
CLEARS_WITH: Final = re.compile(r"\bclearing tool\b|\bpry bar\b|\bwooden bar\b|\bbrush\b|\bprocedure\b", re.I)
BARE_HAND: Final = re.compile(r"\b(by|with (a|your|the)) (bare )?(hand|hands|fingers|foot)\b", re.I)


@dataclass(frozen=True, slots=True)
class Page:
    """One page of work, as it is read: what its safety box says, what comes first, its instructions in order."""

    id: str
    box: frozenset[str]
    before: tuple[str, ...]
    steps: tuple[Tag, ...]

    @property
    def said(self) -> tuple[str, ...]:
        return tuple(_said(step) for step in self.steps)

    def calls(self) -> Iterator[str]:
        """Yield the pages that a step sends the reader to."""
        for step in self.steps:
            for link in step.select(".do a[href*='procedures/']"):
                yield _called(link)


def _called(link: Tag) -> str:
    """Return the id of the page a link leads to: a heavy page drops `data-ref`, never the address."""
    return Path(urlsplit(str(link["href"])).path).stem


def _said(step: Tag) -> str:
    words = step.select_one(".do")
    assert words is not None
    return words.get_text(" ", strip=True)


def _article(path: Path) -> Tag:
    only = SoupStrainer("article")
    found = BeautifulSoup(path.read_text(encoding="utf-8"), "lxml", parse_only=only).article
    assert found is not None, path
    return found


@pytest.fixture(scope="module")
def pages(built_site: Path) -> dict[str, Page]:
    found = {}
    for folder in ("procedures", "tests"):
        for path in sorted((built_site / folder).glob("*.html")):
            if path.stem == "index":
                continue
            article = _article(path)
            found[path.stem] = Page(
                id=path.stem,
                box=frozenset(
                    str(tag["data-caution"]) for tag in article.select("section.safety [data-caution]")
                ),
                before=tuple(_called(a) for a in article.select(".before a[href]")),
                steps=tuple(article.select("ol[data-steps] > li[data-step]")),
            )
    assert len(found) > 200
    return found


def test_whoever_handles_fuel_reads_of_its_vapour_first(pages: dict[str, Page]) -> None:
    handled = [page for page in pages.values() if any(FUEL_HANDLED.search(said) for said in page.said)]
    assert len(handled) > 30
    assert [page.id for page in handled if "gasoline-vapour" not in page.box] == []


def test_the_machine_is_made_safe_before_hands_come_near_auger_impeller_or_belts(
    pages: dict[str, Page],
) -> None:
    near = [
        page
        for page in pages.values()
        if any(HANDS_ON.search(said) and MOVING_PARTS.search(said) for said in page.said)
    ]
    assert len(near) > 60
    assert [page.id for page in near if SAFE not in page.before and page.id not in NOBODY_REACHES_IN] == []


def test_after_a_run_no_hand_goes_near_moving_parts_before_the_machine_is_safe_again(
    pages: dict[str, Page],
) -> None:
    wrong = []
    for page in pages.values():
        live = False
        for said in page.said:
            if SAFE_AGAIN.search(said):
                live = False
            elif STARTS.search(said) or LIVE.search(said):
                live = True
            elif live and HANDS_ON.search(said) and MOVING_PARTS.search(said):
                wrong.append((page.id, said))
    assert wrong == []


def test_an_engine_that_runs_runs_outdoors_and_its_exhaust_is_warned_of(pages: dict[str, Page]) -> None:
    running = {page.id: page for page in pages.values() if any(STARTS.search(said) for said in page.said)}
    assert len(running) > 80
    for page in running.values():
        assert "carbon-monoxide" in page.box, page.id
        first = next(number for number, said in enumerate(page.said) if STARTS.search(said))
        told = " ".join(page.said[: first + 1])
        assert "outdoors" in told or START in page.calls(), page.id
        assert not any(
            STARTS.search(said) and re.search(r"\bin (a|the) (room|bay)\b", said) for said in page.said
        )
    assert "outdoors" in pages[START].said[0]


def test_a_machine_is_tipped_only_after_fuel_and_oil_have_been_seen_to(pages: dict[str, Page]) -> None:
    ready = {"drain-fuel-system", "make-safe-before-tipping"}
    tips = [page for page in pages.values() if any(TIPS.search(said) for said in page.said)]
    assert tips
    for page in tips:
        assert "tipping-machine" in page.box, page.id
        callers = [other for other in pages.values() if page.id in (*other.calls(), *other.before)]
        assert ready <= set(page.before) or (
            callers and all(ready <= set(other.before) for other in callers)
        ), page.id
    words = " ".join(pages["make-safe-before-tipping"].said)
    assert "oil" in words
    assert "fuel cap" in words


def test_nobody_clears_snow_or_ice_with_a_hand_or_a_foot(pages: dict[str, Page]) -> None:
    cleared = 0
    for page in pages.values():
        for step, said in zip(page.steps, page.said, strict=True):
            if SNOW_CLEARED.search(said):
                cleared += 1
                assert CLEARS_WITH.search(said) or step.select(".do a[data-ref]"), (page.id, said)
                assert not BARE_HAND.search(said.replace("never with a hand", "")), (page.id, said)
    assert cleared > 5


def test_no_test_of_a_machine_taken_out_of_use_engages_its_auger_or_its_drive(
    built_site: Path, pages: dict[str, Page]
) -> None:
    out_of_use = 0
    for path in sorted((built_site / "symptoms").glob("*.html")):
        article = _article(path)
        if not article.select(".out-of-use"):
            continue
        out_of_use += 1
        for row in article.select("tr[data-test]"):
            said = pages[str(row["data-test"])].said
            runs = next((number for number, words in enumerate(said) if STARTS.search(words)), len(said))
            assert not any(ENGAGES.search(words) for words in said[runs:]), (path.stem, row["data-test"])
    assert out_of_use >= 6


ENGINE_PARTS: Final = (
    "spark-plug", "carburetor", "carburetor-gasket-set", "ignition-coil", "flywheel-key", "cylinder-head-gasket",
    "muffler-gasket", "primer-bulb", "recoil-starter-assembly", "electric-starter", "lighting-coil",
    "crankshaft-oil-seal",
)  # fmt: skip
MACHINE_PARTS: Final = (
    "auger-belt", "traction-belt", "auger-control-cable", "auger-shear-bolt", "scraper-blade", "skid-shoe", "chute-ring",
)  # fmt: skip


@pytest.mark.parametrize(
    ("part", "plate"),
    [(part, "engine") for part in ENGINE_PARTS] + [(part, "machine") for part in MACHINE_PARTS],
)
def test_a_part_is_ordered_by_the_plate_of_what_it_belongs_to(
    built_site: Path, part: str, plate: str
) -> None:
    order = _article(built_site / "parts" / f"{part}.html").select_one(".order-by")
    assert order is not None
    assert order["data-plate"] == plate
    assert f"{plate} plate" in order.get_text(" ", strip=True)
