"""Five tasks of a shop day, done with few clicks from the front page: what people came for, not how pages are made."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from shearpin.book.linked import LinkedBook, load_linked
from tests.browser.harness import Firefox

OLD_BROWSER_TOO = True
ROOT = Path(__file__).resolve().parents[2]
MOST = 4


@dataclass
class Person:
    """Clicks, chooses and types as a person does, and counts; typing is no click, sending it is."""

    page: Page
    clicks: list[str] = field(default_factory=list)

    def choose(self, machine: str) -> None:
        self.clicks.append(f"choose {machine}")
        self.page.locator("[data-machine-choice]").select_option(label=machine)

    def search(self, words: str) -> None:
        self.clicks.append(f"search {words}")
        self.page.locator("[data-search] input").fill(words)
        self.page.locator("[data-search] input").press("Enter")

    def click(self, target: Locator, name: str) -> None:
        self.clicks.append(f"click {name}")
        target.click()

    def open(self, name: str) -> None:
        self.click(self.page.get_by_role("link", name=name, exact=True).first, name)


@pytest.fixture
def person(
    open_page: Callable[..., Page], built_site: Path, record_property: Callable[[str, object], None]
) -> Person:
    page = open_page()
    page.goto((built_site / "index.html").as_uri())
    somebody = Person(page)
    record_property("clicks", somebody.clicks)
    return somebody


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(ROOT / "kb", "kb")


def done(person: Person) -> None:
    print(f"{len(person.clicks)} clicks: {'; '.join(person.clicks)}")
    assert len(person.clicks) <= MOST, person.clicks


def test_find_and_print_the_shear_bolt_job_for_the_d24(person: Person) -> None:
    person.choose("Osmere D24")
    person.search("replace shear bolt")
    person.open("Replace an auger shear bolt")
    expect(person.page.locator("h1")).to_have_text("Replace an auger shear bolt")
    person.page.locator("html[data-machine-chosen]").wait_for()
    pdf = person.page.pdf(format="A4")
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) <= 3
    person.page.emulate_media(media="print")
    assert "Osmere D24: Replace an auger shear bolt" in person.page.locator(".print-head").inner_text()
    assert "7.0 ± 1.0 N·m" in person.page.locator("#values").inner_text()
    done(person)


def test_the_plug_gap_of_the_s22e(person: Person, linked: LinkedBook) -> None:
    person.choose("Tarnbrook S22E")
    person.search("plug gap")
    person.click(person.page.locator(".search-hit a").first, "first hit")
    gap = linked.book.engines["ellvane-e208"].values["spark-plug.gap"].is_
    expect(person.page.locator("tr.your-machine td.value")).to_contain_text(gap)
    done(person)


def test_what_to_order_for_a_dead_carburetor_on_the_r18(person: Person, linked: LinkedBook) -> None:
    person.choose("Osmere R18")
    person.search("carburetor part number")
    person.open("Carburetor")
    engine = linked.book.machines["osmere-r18"].engine
    assert engine is not None
    expect(person.page.locator("#numbers tbody tr:visible")).to_have_count(1)
    expect(person.page.locator("#numbers tbody tr:visible")).to_contain_text(
        linked.book.parts["carburetor"].numbers[engine].number
    )
    expect(person.page.locator(".order-by")).to_contain_text("engine plate")
    done(person)


def test_where_to_start_when_the_d28_does_not_move(person: Person, linked: LinkedBook) -> None:
    person.choose("Osmere D28")
    person.search("does not move")
    person.open("No drive in either direction")
    first = person.page.locator(".guide-card h3 a").first
    first.wait_for()
    test_id = (first.get_attribute("href") or "").split("#")[0].split("/")[-1].removesuffix(".html")
    fits = linked.applicability.machines_for(linked.book.tests[test_id].applies_to)
    assert "osmere-d28" in fits
    done(person)


def test_what_the_trainee_must_not_do_with_a_clogged_chute(person: Person) -> None:
    person.search("chute clogged")
    person.click(person.page.locator(".search-hit a").first, "first hit")
    danger = person.page.locator(
        '.safety-message[data-signal-word="DANGER"]', has_text="auger and the impeller"
    )
    expect(danger).to_contain_text("never with a hand or a foot")
    done(person)


def test_the_main_tasks_in_firefox(firefox: Firefox, built_site: Path) -> None:
    """A value of the machine in its step, the steps in reach, the job, a test plan and a calculator."""
    machine = "#machine=osmere-d24"

    def at(path: str, more: str = "") -> dict[str, str]:
        return {"goto": (built_site / path).as_uri() + machine + more}

    shown = "(e => e ? e.innerText : '')(document.querySelector({}))"
    results = firefox.play(
        at("procedures/replace-auger-shear-bolt.html"),
        {"evaluate": shown.format("'.steps [data-value=\"auger-shear-bolt.torque\"]'")},
        {
            "evaluate": "document.querySelector('.jumps a[href$=steps]').getBoundingClientRect().bottom <= innerHeight"
        },
        {"evaluate": "Array.from(document.querySelectorAll('[data-work-acts] button'), b => b.textContent)"},
        {"evaluate": "document.querySelectorAll('.safety .safety-message .signal-word use').length"},
        at("job.html", "&procedures=replace-auger-shear-bolt"),
        {"waitFor": "[data-job-sheet] .safety-message"},
        {"evaluate": shown.format("'[data-job-sheet] .by-plate'")},
        at("symptoms/no-drive-in-either-direction.html"),
        {"waitFor": ".guide-card h3 a"},
        {"evaluate": shown.format("'.guide-card h3 a'")},
        at("calculators.html"),
        {"waitFor": ".calculator summary"},
        {"evaluate": "shearpinCalculatorTables && document.querySelectorAll('.calculator').length"},
    )
    torque, steps_in_sight, prints, symbols, parts, test, calculators = (
        results[place] for place in (1, 2, 3, 4, 7, 10, 13)
    )
    assert torque.startswith("7.0 ± 1.0 N·m")
    assert steps_in_sight
    assert prints == ["Print the bench sheet", "Print all of it"]
    assert symbols >= 10
    assert "OS-4471-20" in parts
    assert test
    assert calculators > 20
