"""The calendar form on a machine's page: the file of the command, octet for octet, without a network."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.service_plan import service_plan, storage_day
from shearpin.publish.service_calendar import calendar_text, events_of

OLD_BROWSER_TOO = True
KB = Path(__file__).resolve().parents[2] / "kb"
FORM = "form[data-service-calendar]"


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


def _open(page: Page, site: Path, machine: str) -> None:
    page.goto((site / "machines" / f"{machine}.html").as_uri())


def _saved(page: Page, start: str, storage: str, hours: str) -> tuple[str, bytes]:
    page.fill("#calendar-from", start)
    page.fill("#calendar-storage", storage)
    page.fill("#calendar-hours", hours)
    with page.expect_download() as download:
        page.click(f"{FORM} button")
    return download.value.suggested_filename, Path(download.value.path()).read_bytes()


@pytest.mark.parametrize(
    ("machine", "start", "storage", "hours"),
    [
        ("osmere-d24", "2026-11-01", "", ""),
        ("osmere-t28", "2026-10-15", "2027-03-31", "2.5"),
        ("tarnbrook-s20", "2027-09-30", "", "7"),
        ("osmere-r18", "2028-02-29", "2028-10-20", "40"),
        ("tarnbrook-s22e", "2026-11-01", "2026-11-20", "168"),
    ],
)
def test_the_page_saves_the_file_of_the_command(
    page: Page, built_site: Path, linked: LinkedBook, machine: str, start: str, storage: str, hours: str
) -> None:
    _open(page, built_site, machine)
    name, saved = _saved(page, start, storage, hours)
    first = date.fromisoformat(start)
    last = date.fromisoformat(storage) if storage else storage_day(first)
    plan = service_plan(linked, machine)
    events = events_of(plan, first, last, Decimal(hours) if hours else None)
    assert name == f"{machine}-service.ics"
    assert saved == calendar_text(plan, events, first).encode("utf-8")
    expect(page.locator("#calendar-said")).to_contain_text(f"{len(events)} events")


@pytest.mark.parametrize(
    ("start", "storage", "hours", "field", "said"),
    [
        ("", "", "", "from", "first day of the season"),
        ("2026-11-01", "2026-10-01", "", "storage", "within a year"),
        ("2026-11-01", "", "many", "hours", "number of hours"),
        ("2026-11-01", "", "0", "hours", "number of hours"),
    ],
)
def test_a_mistake_is_named_and_its_field_is_ready(
    page: Page, built_site: Path, start: str, storage: str, hours: str, field: str, said: str
) -> None:
    _open(page, built_site, "osmere-d24")
    page.fill("#calendar-from", start)
    page.fill("#calendar-storage", storage)
    page.fill("#calendar-hours", hours)
    page.click(f"{FORM} button")
    expect(page.locator("#calendar-said")).to_contain_text(said)
    expect(page.locator(f"#calendar-{field}")).to_be_focused()
    expect(page.locator(f"#calendar-{field}")).to_have_attribute("aria-invalid", "true")


def test_without_scripts_the_plan_stands_and_the_form_does_not(
    open_page: Callable[..., Page], built_site: Path
) -> None:
    page = open_page(javascript=False)
    _open(page, built_site, "osmere-d24")
    expect(page.locator(FORM)).to_be_hidden()
    expect(page.locator("#service table")).to_contain_text("every 25 h")
    expect(page.locator("#service")).to_contain_text("shearpin calendar --machine osmere-d24")


def test_a_hand_reaches_the_form_and_it_breaks_no_rule(
    phone_page: Page, built_site: Path, violations: Callable[[Page], dict[str, list[str]]]
) -> None:
    _open(phone_page, built_site, "osmere-d24")
    for box in phone_page.locator(f"{FORM} input, {FORM} button").all():
        size = box.bounding_box()
        assert size is not None
        assert size["height"] >= 48
    assert violations(phone_page) == {}
