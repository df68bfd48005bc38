"""The machine on the bench: chosen once, carried by every link, and never a figure of another model."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page
from ruamel.yaml import YAML

from tests.browser.harness import PHONE, Firefox

OLD_BROWSER_TOO = True
ROOT = Path(__file__).resolve().parents[2]
PROCEDURE = "procedures/replace-auger-shear-bolt.html"
CHOICE = "[data-machine-choice]"

VISIBLE_FIGURES = """Array.from(document.querySelectorAll('.value-set'), set => ({
    name: set.dataset.valueSet,
    machines: Array.from(set.querySelectorAll('[data-value][data-machine]'))
        .filter(e => e.offsetWidth > 0).map(e => e.dataset.machine),
    any: (e => e !== null && e.offsetWidth > 0)(set.querySelector('[data-any-machine]')),
    text: set.innerText,
}))"""
HREFS = "Array.from(document.querySelectorAll('a[href]'), a => a.href)"


def at(site: Path, path: str, hash_: str = "") -> str:
    """Return the address of a page of the site on this computer's disk."""
    assert (site / path).is_file(), path
    return (site / path).as_uri() + hash_


def recorded(machine_id: str, name: str) -> str:
    """Return a value as the writer of the record typed it."""
    record = YAML(typ="safe").load(ROOT / "kb" / "machines" / f"{machine_id}.yaml")
    return str(record["values"][name]["is"])


class TestChoosing:
    def test_a_choice_follows_links_to_other_pages(self, page: Page, awkward_site: Path) -> None:
        page.goto(at(awkward_site, "index.html"))
        page.select_option(CHOICE, "osmere-d24")
        assert page.url.endswith("#machine=osmere-d24")
        page.click("nav.lists >> text=Procedures")
        page.wait_for_url("**/procedures/index.html#machine=osmere-d24")
        page.click('a[data-ref="procedure:replace-auger-shear-bolt"]')
        page.wait_for_url("**/replace-auger-shear-bolt.html#machine=osmere-d24")
        assert page.get_attribute("html", "data-machine-chosen") == "osmere-d24"
        assert page.input_value(CHOICE) == "osmere-d24"

    def test_every_link_bears_the_choice_for_another_tab_too(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=osmere-d24"))
        hrefs = page.evaluate(HREFS)
        assert hrefs
        assert [href for href in hrefs if "machine=osmere-d24" not in href] == []
        assert any(href.endswith("#machine=osmere-d24&at=steps") for href in hrefs)

    def test_all_machines_gives_the_page_back_as_delivered(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE))
        before = page.inner_html("article")
        page.select_option(CHOICE, "osmere-d24")
        assert page.inner_html("article") != before
        page.select_option(CHOICE, "")
        assert "machine=" not in page.url
        assert page.inner_html("article") == before
        assert page.get_attribute("html", "data-machine-chosen") is None

    def test_the_button_of_a_machine_chooses_it_in_one_tap(self, phone_page: Page, built_site: Path) -> None:
        phone_page.goto(at(built_site, "machines/osmere-d28.html"))
        button = phone_page.locator('[data-choose-machine="osmere-d28"]')
        button.tap()
        assert phone_page.input_value(CHOICE) == "osmere-d28"
        assert not button.is_visible()

    def test_other_parameters_of_the_address_stay(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "search.html", "#q=plug+gap&machine=osmere-d24"))
        page.select_option(CHOICE, "osmere-d28")
        assert page.url.endswith("#q=plug+gap&machine=osmere-d28")

    def test_an_unknown_machine_is_named_and_none_is_chosen(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=no-such-machine"))
        assert "no-such-machine" in page.inner_text("[data-machine-problem]")
        assert page.input_value(CHOICE) == ""
        assert page.get_attribute("html", "data-machine-chosen") is None
        assert all(entry["any"] for entry in page.evaluate(VISIBLE_FIGURES))
        page.select_option(CHOICE, "osmere-d24")
        assert not page.is_visible("[data-machine-problem]")

    def test_scripts_are_told_of_a_choice(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "index.html"))
        page.evaluate(
            "document.addEventListener('shearpin:machine', event => { window.heard = event.detail; });"
            "window.shearpinMachine.set('osmere-t28')"
        )
        assert page.evaluate("heard") == {"id": "osmere-t28", "title": "Osmere T28"}
        assert page.evaluate("shearpinMachine.get()") == "osmere-t28"
        page.evaluate("window.shearpinMachine.set('no-such-machine')")
        assert page.evaluate("shearpinMachine.get()") == ""

    def test_links_that_a_script_puts_in_later_bear_the_choice(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "index.html", "#machine=osmere-d24"))
        page.evaluate(
            "document.querySelector('[data-search-results]').innerHTML = '<a id=late href=\"search.html#q=x\">x</a>'"
        )
        page.click("#late")
        page.wait_for_url("**/search.html#q=x&machine=osmere-d24")

    def test_an_edited_address_changes_the_choice(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=osmere-d24"))
        page.evaluate("location.hash = '#machine=osmere-d28'")
        page.wait_for_function("() => document.documentElement.dataset.machineChosen === 'osmere-d28'")


class TestPlaces:
    def test_a_plain_place_still_works(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#steps"))
        assert 0 <= page.evaluate("document.getElementById('steps').getBoundingClientRect().top") < 200

    def test_a_place_beside_a_machine_is_scrolled_to(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=osmere-d24&at=steps"))
        assert 0 <= page.evaluate("document.getElementById('steps').getBoundingClientRect().top") < 200

    def test_a_jump_on_the_page_keeps_the_machine(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=osmere-d24"))
        for _ in range(2):  # the second tap changes no address
            page.evaluate("scrollTo(0, 0)")
            page.click("nav.jumps >> text=Steps")
            page.wait_for_function("() => document.getElementById('steps').getBoundingClientRect().top < 200")
        assert page.url.endswith("#machine=osmere-d24&at=steps")
        assert page.get_attribute("html", "data-machine-chosen") == "osmere-d24"


class TestFigures:
    def test_each_figure_is_the_chosen_machine_s(self, page: Page, built_site: Path) -> None:
        for machine_id in ("osmere-d24", "osmere-d28"):
            page.goto(at(built_site, PROCEDURE, f"#machine={machine_id}"))
            figures = page.evaluate(VISIBLE_FIGURES)
            assert figures
            assert [f for f in figures if f["machines"] != [machine_id] or f["any"]] == []
            torque = next(f for f in figures if f["name"] == "auger-shear-bolt.torque")
            assert recorded(machine_id, "auger-shear-bolt.torque") in torque["text"]
            others = page.locator("table.values tbody tr[data-for]:visible")
            assert {row.get_attribute("data-for") for row in others.all()} == {machine_id}

    def test_without_a_choice_figures_name_their_machines(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE))
        torque = next(f for f in page.evaluate(VISIBLE_FIGURES) if f["name"] == "auger-shear-bolt.torque")
        assert torque["any"]
        for machine_id, title in (("osmere-d24", "Osmere D24"), ("osmere-d28", "Osmere D28")):
            figure = re.escape(recorded(machine_id, "auger-shear-bolt.torque"))
            assert re.search(rf"{title}[^;]*: {figure}", torque["text"])

    def test_figures_of_other_machines_are_never_shown_as_the_chosen_one_s(
        self, page: Page, built_site: Path
    ) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=tarnbrook-s20"))
        figures = page.evaluate(VISIBLE_FIGURES)
        assert figures
        assert [f for f in figures if not f["text"].strip().startswith("not for the Tarnbrook S20")] == []
        page.select_option(CHOICE, "osmere-d24")
        assert [f for f in page.evaluate(VISIBLE_FIGURES) if "not for" in f["text"]] == []

    def test_the_value_s_page_marks_the_chosen_machine_s_row(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "values/auger-shear-bolt.torque.html", "#machine=osmere-d28"))
        assert page.locator("tr.your-machine").count() == 1
        assert page.get_attribute("tr.your-machine", "data-row-machine") == "osmere-d28"

    def test_steps_keep_their_numbers_when_others_are_hidden(self, page: Page, built_site: Path) -> None:
        path, hidden = next(
            (path, match)
            for path in sorted((built_site / "procedures").glob("*.html"))
            if (
                match := re.search(
                    r'<li data-step id="[^"]+" value="(\d+)" data-for="([^"]+)"', path.read_text("utf-8")
                )
            )
        )
        fits = re.search(r'<article [^>]*data-fits="([^"]+)"', path.read_text("utf-8"))
        assert fits is not None
        other = next(m for m in fits[1].split() if m not in hidden[2].split())
        page.goto(f"{path.as_uri()}#machine={other}")
        numbers = page.evaluate(
            "Array.from(document.querySelectorAll('[data-step]')).map(li => [li.value, li.id, li.offsetHeight > 0])"
        )
        assert [int(hidden[1]), f"step-{hidden[1]}", False] in numbers
        assert all(identifier == f"step-{value}" for value, identifier, _ in numbers)


class TestMisfits:
    def test_a_page_for_other_machines_says_so_before_anything_else(
        self, phone_page: Page, built_site: Path
    ) -> None:
        phone_page.goto(at(built_site, PROCEDURE, "#machine=tarnbrook-s20"))
        sentence = phone_page.locator("[data-misfit]:visible")
        assert sentence.count() == 1
        assert "is not for the Tarnbrook S20" in sentence.inner_text()
        assert "tarnbrook-s20" in phone_page.evaluate(
            "Array.from(document.querySelector('article').children).find(e => e.offsetHeight > 0).dataset.misfit.split(' ')"
        )
        box = sentence.bounding_box()
        assert box is not None
        assert box["y"] + box["height"] < PHONE[1]

    def test_the_sentence_names_whichever_machine_is_chosen(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE))
        listed = page.evaluate("window.shearpinMachines")
        said = {}
        for machine, title in (*listed, *reversed(listed)):
            page.select_option(CHOICE, machine)
            sentence = page.locator("[data-misfit]:visible")
            if sentence.count():
                said[machine] = sentence.inner_text()
                assert f"is not for the {title}: " in said[machine]
                assert "…" not in said[machine]
        assert len(said) > len(page.locator("[data-misfit]").all())  # some stand for several machines

    def test_another_machine_s_page_says_so(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "machines/osmere-d28.html", "#machine=osmere-d24"))
        assert "You work on the Osmere D24" in page.inner_text("article > :first-child")
        page.click('[data-choose-machine="osmere-d28"]')
        assert page.locator(".misfit:visible").count() == 0

    def test_lists_say_what_is_not_for_the_machine(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "procedures/index.html", "#machine=tarnbrook-s20"))
        entry = page.locator('li:has(> a[data-ref="procedure:replace-auger-shear-bolt"])')
        assert "not for the Tarnbrook S20" in entry.inner_text()
        entry = page.locator('li:has(> a[data-ref="procedure:make-machine-safe"])')
        assert "not for" not in entry.inner_text()

    def test_the_list_of_parts_shows_the_machine_s_number_alone(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "parts/index.html", "#machine=osmere-d24"))
        part = YAML(typ="safe").load(ROOT / "kb" / "parts" / "auger-shear-bolt.yaml")
        number = part["numbers"]["osmere-d24"]
        row = page.locator('tr:has(a[data-ref="part:auger-shear-bolt"])')
        shown = row.locator(".number:visible").all_inner_texts()
        assert shown == [number if isinstance(number, str) else number["number"]]


class TestMemory:
    def test_going_back_does_not_bring_back_a_changed_machine(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "index.html", "#machine=osmere-d24"))
        page.click("nav.lists >> text=Symptoms")
        page.wait_for_url("**/symptoms/index.html#machine=osmere-d24")
        page.select_option(CHOICE, "osmere-d28")
        page.go_back()
        page.wait_for_function("() => document.documentElement.dataset.machineChosen === 'osmere-d28'")
        assert page.url.endswith("index.html#machine=osmere-d28")

    def test_going_back_on_a_page_does_not_either(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, PROCEDURE, "#machine=osmere-d24"))
        page.click("nav.jumps >> text=Steps")
        page.wait_for_url("**&at=steps")
        page.select_option(CHOICE, "osmere-d28")
        page.go_back()
        page.wait_for_url("**#machine=osmere-d28")
        assert page.input_value(CHOICE) == "osmere-d28"
        assert all(f["machines"] == ["osmere-d28"] for f in page.evaluate(VISIBLE_FIGURES))

    def test_another_tab_offers_the_last_machine_and_chooses_none(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "index.html"))
        page.select_option(CHOICE, "osmere-t28")
        other = page.context.new_page()
        other.goto(at(built_site, PROCEDURE))
        assert other.input_value(CHOICE) == ""
        assert other.evaluate(f"document.querySelector('{CHOICE} optgroup option').value") == "osmere-t28"

    def test_the_address_wins(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "index.html", "#machine=osmere-d24"))
        page.goto(at(built_site, PROCEDURE, "#machine=osmere-d28"))
        assert page.input_value(CHOICE) == "osmere-d28"

    def test_a_browser_that_keeps_nothing_is_enough(self, page: Page, built_site: Path) -> None:
        page.add_init_script(
            "for (const name of ['localStorage', 'sessionStorage'])"
            "Object.defineProperty(window, name, { get() { throw new DOMException('denied', 'SecurityError'); } });"
        )
        page.goto(at(built_site, "index.html"))
        page.select_option(CHOICE, "osmere-d24")
        page.click("nav.lists >> text=Procedures")
        page.wait_for_url("**/procedures/index.html#machine=osmere-d24")
        assert page.input_value(CHOICE) == "osmere-d24"


def test_without_scripts_a_page_is_whole(open_page: Callable[..., Page], built_site: Path) -> None:
    page = open_page(javascript=False)
    page.goto(at(built_site, PROCEDURE, "#machine=osmere-d24"))
    assert not page.is_visible("[data-machine-bar]")
    assert page.locator("[data-any-machine]:visible").count() == page.locator(".value-set").count() > 0
    assert page.locator("[data-for]").count() == page.locator("[data-for]:visible").count() > 0


@pytest.mark.parametrize("size", [(1366, 768), PHONE])
class TestFirefox:
    def test_a_choice_follows_links_and_decides_figures(
        self, firefox: Firefox, awkward_site: Path, size: tuple[int, int]
    ) -> None:
        results = firefox.play(
            {"goto": at(awkward_site, "procedures/index.html")},
            {"evaluate": "shearpinMachine.set('osmere-d24')"},
            {"click": 'a[data-ref="procedure:replace-auger-shear-bolt"]'},
            {"waitFor": 'article[data-id="replace-auger-shear-bolt"]'},
            {"evaluate": f"[location.hash, document.querySelector('{CHOICE}').value]"},
            {"evaluate": VISIBLE_FIGURES},
            {"evaluate": HREFS},
            size=size,
        )
        assert results[4] == ["#machine=osmere-d24", "osmere-d24"]
        assert results[5]
        assert [f for f in results[5] if f["machines"] != ["osmere-d24"] or f["any"]] == []
        assert [href for href in results[6] if "machine=osmere-d24" not in href] == []

    def test_misfits_unknown_machines_and_jumps(
        self, firefox: Firefox, built_site: Path, size: tuple[int, int]
    ) -> None:
        change = f"(s => {{ s.value = 'osmere-d28'; s.dispatchEvent(new Event('change')); }})(document.querySelector('{CHOICE}'))"
        results = firefox.play(
            {"goto": at(built_site, PROCEDURE, "#machine=tarnbrook-s20")},
            {"evaluate": "document.querySelector('article > .misfit:not([hidden])').textContent"},
            {"evaluate": "location.hash = '#machine=no-such-machine'"},
            {"waitFor": "[data-machine-problem]:not([hidden])"},
            {"evaluate": "document.documentElement.hasAttribute('data-machine-chosen')"},
            {"evaluate": change},
            {"click": 'nav.jumps a[href*="at=steps"]'},
            {"waitFor": "#steps:focus"},
            {
                "evaluate": "[location.hash, document.getElementById('steps').getBoundingClientRect().top < 200]"
            },
            size=size,
        )
        assert "is not for the Tarnbrook S20" in results[1]
        assert results[4] is False
        assert results[8] == ["#machine=osmere-d28&at=steps", True]
