"""The page of a job in a real browser: the same list as `shearpin job`, gathered from pages by links alone."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from shearpin.book.linked import load_linked
from shearpin.cli.job import as_json
from shearpin.diagnosis.job import make_job, read_rate
from tests.browser.harness import PHONE

OLD_BROWSER_TOO = True
KB = Path(__file__).resolve().parents[2] / "kb"
RUN = "jobs => jobs.map(([ids, machine, rate]) => shearpinJob.compute(ids, machine, shearpinJob.readRate(rate)))"
JOB = "job.html#procedures=replace-auger-shear-bolt,replace-spark-plug&machine=osmere-d24"


@pytest.fixture
def sheet(page: Page, built_site: Path) -> Page:
    page.goto((built_site / "job.html").as_uri() + JOB.removeprefix("job.html"))
    return page


def test_the_page_computes_what_the_command_prints(sheet: Page) -> None:
    linked = load_linked(KB)
    chance = random.Random(11)
    everything = sorted(linked.book.procedures)
    jobs: list[tuple[list[str], str, str]] = [(everything, m, "") for m in linked.book.machines]
    for _ in range(150):
        ids = [chance.choice(everything) for _ in range(chance.randrange(1, 7))]
        rate = chance.choice(["", "90", "87,5", " 61.37 ", "cheap"])
        jobs.append((ids, chance.choice(list(linked.book.machines)), rate))
    for (ids, machine, rate), found in zip(jobs, sheet.evaluate(RUN, jobs), strict=True):
        expected: dict[str, Any] = as_json(make_job(linked, ids, machine), read_rate(rate))
        assert found == expected, (ids, machine)


def test_procedures_are_gathered_by_links(page: Page, built_site: Path) -> None:
    page.goto((built_site / "procedures/replace-auger-shear-bolt.html").as_uri() + "#machine=osmere-d24")
    page.get_by_role("link", name="Put it in the job").click()
    page.wait_for_url("**/job.html#*")
    page.goto((built_site / "procedures/replace-spark-plug.html").as_uri() + page.url[page.url.index("#") :])
    expect(page.locator("[data-job-link]")).to_have_text("Job (1)")
    page.get_by_role("link", name="Put it in the job").click()
    page.wait_for_url("**/job.html#*")
    asked = page.locator("[data-procedure]").evaluate_all(
        "all => all.map(e => e.getAttribute('data-procedure'))"
    )
    assert asked == ["make-machine-safe", "replace-auger-shear-bolt", "replace-spark-plug"]
    page.locator(".lists a").first.click()  # the job follows every link
    expect(page.locator("[data-job-link]")).to_have_text("Job (2)")


def test_a_procedure_is_taken_out_and_the_job_emptied(sheet: Page) -> None:
    sheet.get_by_role("button", name=re.compile("Take out.*Replace the spark plug")).click()
    expect(sheet.locator("[data-procedure]")).to_have_count(2)
    expect(sheet.locator("h1")).to_be_focused()
    assert "replace-spark-plug" not in sheet.url
    sheet.get_by_role("button", name="Empty the job").click()
    expect(sheet.locator("[data-job-sheet]")).to_contain_text("The job is empty.")
    expect(sheet.locator("[data-job-link]")).to_be_hidden()


def test_the_rate_is_used_and_kept_nowhere(sheet: Page) -> None:
    sheet.fill("#rate", "92,50")
    expect(sheet.locator(".job-estimate")).to_contain_text("43.17")  # 28 min
    stored = sheet.evaluate("JSON.stringify([Object.entries(localStorage), Object.entries(sessionStorage)])")
    assert "92" not in stored + sheet.url.partition("#")[2]
    sheet.reload()
    assert sheet.input_value("#rate") == ""
    sheet.fill("#rate", "cheap")
    expect(sheet.locator(".job-estimate")).to_have_text("Write an amount such as 90 or 87.50.")


def test_without_a_machine_no_part_number_is_shown(page: Page, built_site: Path) -> None:
    page.goto((built_site / "job.html").as_uri() + "#procedures=replace-spark-plug,no-such-procedure")
    expect(page.locator(".misfit").nth(0)).to_have_text("This book has no procedure “no-such-procedure”.")
    expect(page.locator(".misfit").nth(1)).to_contain_text("Choose the machine")
    assert page.locator("b.number").count() == 0


def test_safety_stands_first_on_screen_and_paper(sheet: Page) -> None:
    for media in ("screen", "print"):
        sheet.emulate_media(media=media)  # type: ignore[arg-type]
        tops = sheet.evaluate(
            "['.safety', '#work', '#tools', '#parts', '#time'].map(s => document.querySelector(s).getBoundingClientRect().top)"
        )
        assert tops == sorted(tops)
    assert sheet.locator("button:visible").count() == 0
    assert sheet.locator(".sign-off span:visible").count() == 5


def test_a_machine_without_an_engine_is_not_asked_for_its_plate(sheet: Page) -> None:
    sheet.evaluate("shearpinJobData.machines['osmere-d24'][1] = null")
    for machine, lines in (("osmere-d28", 5), ("osmere-d24", 4)):
        sheet.locator("[data-machine-choice]").select_option(machine)
        expect(sheet.locator(".sign-off span")).to_have_count(lines)


@pytest.mark.parametrize("size", [None, PHONE])
def test_the_sheet_breaks_no_accessibility_rule(
    size: tuple[int, int] | None,
    open_page: Callable[..., Page],
    built_site: Path,
    violations: Callable[[Page], dict[str, list[str]]],
) -> None:
    page = open_page(size=size) if size else open_page()
    page.goto((built_site / "job.html").as_uri() + JOB.removeprefix("job.html"))
    expect(page.locator("#time")).to_be_visible()
    assert violations(page) == {}
    assert page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0


def test_without_scripts_the_page_says_what_it_needs(
    open_page: Callable[..., Page], built_site: Path
) -> None:
    page = open_page(javascript=False)
    page.goto((built_site / "job.html").as_uri())
    expect(page.locator("[data-without-scripts]")).to_contain_text("put together by a script")
