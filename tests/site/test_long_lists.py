"""Lists that grow with the book: none is lost when they leave a page, and each way to them leads somewhere."""

from __future__ import annotations

from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.values import ResolvedValue
from shearpin.model.fields import Plate
from shearpin.site import apart, long_lists, view
from shearpin.site.bodies import data_sheet, work
from shearpin.site.pages import planned_pages
from shearpin.site.view import View, address

KB = Path(__file__).resolve().parents[2] / "kb"
MACHINE, ENGINE = "osmere-d24", "ellvane-e212"
RECORDS = (
    ("caution", "carbon-monoxide"),
    ("procedure", "make-machine-safe"),
    ("machine", MACHINE),
    ("engine", ENGINE),
    ("system", "auger-drive"),
)
"""A record of each kind whose lists grow; sources are looked at in the built site."""


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


@pytest.fixture
def pages(linked: LinkedBook, monkeypatch: pytest.MonkeyPatch) -> dict[str, BeautifulSoup]:
    """Pages of these records with room for few entries: lists leave them as they do in a book of thousands."""
    monkeypatch.setattr(apart, "_ON_THE_PAGE", 5)
    monkeypatch.setattr(apart, "_ROWS", 5)
    monkeypatch.setattr(apart, "_OWN_PAGE", 5)
    monkeypatch.setattr(long_lists, "_MOST_BYTES", 3_000)
    stems = tuple(address(*key).removesuffix("html") for key in RECORDS)
    planned = planned_pages(View(linked, ""), View(linked, "../"), ())
    return {
        each.url: BeautifulSoup(each.make().body, "lxml") for each in planned if each.url.startswith(stems)
    }


def of_record(pages: dict[str, BeautifulSoup], kind: str, record_id: str) -> dict[str, BeautifulSoup]:
    stem = address(kind, record_id).removesuffix("html")
    return {url: page for url, page in pages.items() if url.startswith(stem)}


def linked_to(pages: dict[str, BeautifulSoup]) -> set[str]:
    return {
        str(link["href"]).removeprefix("../") for page in pages.values() for link in page.select("a[href]")
    }


@pytest.mark.parametrize("key", RECORDS)
def test_each_page_of_a_list_is_reached_from_its_record(
    pages: dict[str, BeautifulSoup], key: tuple[str, str]
) -> None:
    own = of_record(pages, *key)
    assert len(own) > 3
    assert set(own) - {address(*key)} <= linked_to(own)
    assert [url for url, page in own.items() if len(page.select("h1")) != 1] == []


def test_no_entry_of_a_list_is_lost(pages: dict[str, BeautifulSoup], linked: LinkedBook) -> None:
    shown = linked_to(of_record(pages, "caution", "carbon-monoxide"))
    assert {address(*user) for user in linked.safety.pages_with()["carbon-monoxide"]} <= shown
    shown = linked_to(of_record(pages, "procedure", "make-machine-safe"))
    users = linked.links.origins(("procedure", "make-machine-safe"))
    assert {address(*user) for user in users if user[0] in ("procedure", "test", "machine")} <= shown
    shown = linked_to(of_record(pages, "machine", MACHINE))
    for kind in ("symptom", "procedure"):
        assert {address(kind, each) for each in apart.fitting(linked, kind, MACHINE)} <= shown, kind
    for plate in Plate:
        assert {address("part", each) for each in apart.parts_by(linked, MACHINE, plate)} <= shown, plate
    shown = linked_to(of_record(pages, "engine", ENGINE))
    assert {address("value", name) for name in linked.book.engines[ENGINE].values} <= shown


def test_a_data_sheet_in_parts_has_every_value_once(
    pages: dict[str, BeautifulSoup], linked: LinkedBook
) -> None:
    sheets = [page for url, page in pages.items() if url.startswith(f"machines/{MACHINE}.data-sheet")]
    shown = [str(cell["data-value"]) for sheet in sheets for cell in sheet.select("dd[data-value]")]
    assert len(sheets) > 3
    assert sorted(shown) == sorted(data_sheet.names_of(View(linked, "../"), MACHINE))


def test_machines_with_the_same_figure_share_a_row_where_there_are_many(
    linked: LinkedBook, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(view, "MANY_MACHINES", 2)
    name, procedure = "spark-plug.gap", "replace-spark-plug"
    page = BeautifulSoup(work.procedure(View(linked, "../"), procedure), "lxml")
    cells = page.select(f'td[data-value="{name}"]')
    machines = [machine for cell in cells for machine in str(cell["data-machine"]).split()]
    assert len(cells) < len(machines) == len(set(machines))
    for cell in cells:
        for machine in str(cell["data-machine"]).split():
            found = linked.values.resolve(name, machine)
            assert isinstance(found, ResolvedValue)
            assert cell.get_text().startswith(str(found.quantity)), machine


def test_a_machine_of_a_shared_row_shows_its_own_figure_in_a_step() -> None:
    """The script looks a step's figure up by this attribute, which may name several machines."""
    script = (KB.parent / "site_overrides" / "look" / "machine.js").read_text(encoding="utf-8")
    assert '[data-machine~="${chosen}"]' in script
