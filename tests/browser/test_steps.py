"""Ticks and one step at a time: nothing is turned over unseen, and yesterday's ticks are not today's work."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.harness import DESKTOP, PHONE

OLD_BROWSER_TOO = True
PROCEDURE = "procedures/replace-auger-shear-bolt.html"
OPEN = "One step at a time"
KEEPS = "() => { try { localStorage.setItem('probe', '1'); return true; } catch (error) { return false; } }"


@pytest.fixture
def address(built_site: Path) -> str:
    return (built_site / PROCEDURE).as_uri()


def steps_shown(page: Page) -> int:
    return page.locator("ol[data-steps] > li:visible").count()


class TestTicks:
    def test_they_survive_a_reload(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        if not page.evaluate(KEEPS):
            pytest.skip("this browser keeps nothing for pages from a folder")
        page.get_by_label("Step 2 is done").check()
        expect(page.locator(".ticked")).to_contain_text(f"1 of {steps_shown(page)} steps ticked")
        page.reload()
        expect(page.get_by_label("Step 2 is done")).to_be_checked()
        expect(page.locator(".ticked")).to_contain_text("the last at ")
        page.get_by_role("button", name="Clear the ticks").click()
        page.reload()
        expect(page.get_by_label("Step 2 is done")).not_to_be_checked()

    def test_they_belong_to_one_machine(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_label("Step 2 is done").check()
        page.get_by_label("Machine").select_option("osmere-t28")
        expect(page.get_by_label("Step 2 is done")).not_to_be_checked()

    def test_yesterdays_are_forgotten(self, page: Page, address: str) -> None:
        page.clock.install(time="2026-11-28T09:00:00")
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_label("Step 2 is done").check()
        page.clock.fast_forward("13:00:00")
        page.reload()
        expect(page.get_by_label("Step 2 is done")).not_to_be_checked()

    def test_those_of_other_words_are_not_taken(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_label("Step 2 is done").check()
        page.evaluate(
            """() => Object.keys(localStorage).filter(key => key.startsWith('shearpin.ticks')).forEach(key => {
                localStorage.setItem(key.replace(/[0-9]+$/, '7'), localStorage.getItem(key));
                localStorage.removeItem(key);
            })"""
        )
        page.reload()
        expect(page.get_by_label("Step 2 is done")).not_to_be_checked()

    def test_what_was_kept_and_damaged_does_no_harm(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_label("Step 2 is done").check()
        page.evaluate("() => Object.keys(localStorage).forEach(key => localStorage.setItem(key, '{'))")
        page.reload()
        expect(page.get_by_label("Step 2 is done")).not_to_be_checked()
        expect(page.get_by_role("button", name=OPEN)).to_be_visible()

    @pytest.mark.parametrize("size", [DESKTOP, PHONE])
    def test_each_is_as_large_as_a_gloved_finger(
        self, open_page: Callable[..., Page], address: str, size: tuple[int, int]
    ) -> None:
        page = open_page(size=size)
        page.goto(address)
        sizes = page.eval_on_selector_all(
            ".tick",
            "all => all.map(e => [e.getBoundingClientRect().width, e.getBoundingClientRect().height])",
        )
        assert sizes
        assert all(width >= 48 and height >= 48 for width, height in sizes)


class TestOneStep:
    def go_on(self, page: Page, steps: int) -> None:
        """Press the key of a pedal until so many steps have been left behind."""
        seen = {page.locator("#one-step-heading").inner_text()}
        for _ in range(200):
            if len(seen) > steps:
                return
            page.keyboard.press("PageDown")
            page.wait_for_timeout(30)
            seen.add(page.locator("#one-step-heading").inner_text())
        pytest.fail(f"only {sorted(seen)} were reached")

    def test_begins_with_every_safety_message(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        messages = page.locator("article > .safety [data-caution]:visible")
        expected = messages.evaluate_all("all => all.map(e => e.dataset.caution)")
        page.get_by_role("button", name=OPEN).click()
        shown = page.locator("dialog [data-caution]").evaluate_all("all => all.map(e => e.dataset.caution)")
        assert shown == expected
        assert len(shown) > 5
        expect(page.locator("#one-step-heading")).to_be_focused()

    def test_nothing_is_turned_over_before_it_was_in_sight(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_role("button", name=OPEN).click()
        button = page.locator(".one-step-keys button").last
        expect(button).to_have_text("Show the rest")
        button.click()
        expect(page.locator("#one-step-heading")).to_have_text("Before you start")
        for _ in range(30):
            if button.inner_text() != "Show the rest":
                break
            button.click()
            page.wait_for_timeout(30)
        expect(button).to_have_text("I have read this")
        assert (
            page.eval_on_selector(".one-step-sheet", "e => e.scrollHeight - e.clientHeight - e.scrollTop")
            <= 2
        )
        button.click()
        expect(page.locator("#one-step-heading")).to_contain_text("Step 1 of ")

    def test_shows_each_step_of_the_machine_with_its_figure(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24&step=1")
        total = steps_shown(page)
        expect(page.locator("#one-step-heading")).to_have_text(f"Step 1 of {total}")
        instructions = [page.locator("dialog .do").inner_text()]
        for number in range(2, total + 1):
            while page.locator("#one-step-heading").inner_text() != f"Step {number} of {total}":
                page.keyboard.press("ArrowRight")
                page.wait_for_timeout(20)
            instructions.append(page.locator("dialog .do").inner_text())
        assert instructions == page.locator("ol[data-steps] > li:visible > .do").all_inner_texts()
        page.keyboard.press("ArrowRight")
        expect(page.locator("dialog")).not_to_be_visible()
        expect(page.locator(".ticked")).to_contain_text(f"{total} of {total} steps ticked")

    def test_goes_back_and_ends_with_escape(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24&step=3")
        page.keyboard.press("ArrowLeft")
        expect(page.locator("#one-step-heading")).to_contain_text("Step 2 of ")
        assert "step=2" in page.url
        page.keyboard.press("Escape")
        expect(page.locator("dialog")).not_to_be_visible()
        page.wait_for_function("() => !location.hash.includes('step=')")
        assert "machine=osmere-d24" in page.url
        expect(page.get_by_role("button", name=OPEN)).to_be_focused()

    def test_goes_on_where_work_was_left(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24")
        page.get_by_label("Step 1 is done").check()
        page.get_by_label("Step 2 is done").check()
        page.get_by_role("button", name=OPEN).click()
        expect(page.locator("#one-step-heading")).to_contain_text("Step 3 of ")

    @pytest.mark.parametrize("hash_", ["step=99999", "step=-1", "step=x", "step=", "step=1e9"])
    def test_an_odd_address_breaks_nothing(self, page: Page, address: str, hash_: str) -> None:
        page.goto(f"{address}#machine=osmere-d24&{hash_}")
        expect(page.get_by_role("heading", name="Replace an auger shear bolt", level=1)).to_be_attached()

    @pytest.mark.parametrize("size", [DESKTOP, PHONE])
    def test_axe_finds_nothing_to_object_to(
        self,
        open_page: Callable[..., Page],
        address: str,
        violations: Callable[[Page], dict[str, list[str]]],
        size: tuple[int, int],
    ) -> None:
        page = open_page(size=size)
        page.goto(f"{address}#machine=osmere-d24&step=4")
        expect(page.locator("dialog")).to_be_visible()
        assert violations(page) == {}
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")

    def test_is_made_by_the_script_alone(self, open_page: Callable[..., Page], address: str) -> None:
        page = open_page(javascript=False)
        page.goto(address)
        assert page.locator(".tick, dialog, .step-tools").count() == 0

    def test_is_not_printed(self, page: Page, address: str) -> None:
        page.goto(f"{address}#machine=osmere-d24&step=2")
        page.emulate_media(media="print")
        assert not page.locator("dialog").is_visible()
        assert not page.locator(".tick").first.is_visible()
        assert page.locator("ol[data-steps] > li").first.is_visible()


def test_pages_without_steps_have_none_of_it(page: Page, built_site: Path) -> None:
    page.goto((built_site / "symptoms" / "auger-does-not-turn.html").as_uri())
    assert page.locator(".tick, .step-tools, dialog.one-step").count() == 0
