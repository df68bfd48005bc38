"""The page of a machine without an engine: one plate, and nothing that an engine plate would order."""

from __future__ import annotations

from pathlib import Path

from bs4 import BeautifulSoup, Tag

from shearpin.site.bodies import identity
from shearpin.site.view import View
from tests.sound_book import read_over, swap

T28 = "machines/brook-t28.yaml"
PLUG = {
    "parts/plug.yaml": "title: Plug\nsummary: It lights.\nplate: engine\nnumbers:\n  ell-e212: {number: E-1}\nsources: [bench-notes]\n"
}


def page_of(folder: Path, files: dict[str, str]) -> Tag:
    body = identity.machine(View(read_over(folder, {**PLUG, **files}), "../"), "brook-t28")
    article = BeautifulSoup(body, "lxml").article
    assert article is not None
    return article


def headings(page: Tag) -> list[str]:
    return [heading.get_text() for heading in page.select("h2")]


def test_a_machine_with_an_engine_has_two_plates(tmp_path: Path) -> None:
    page = page_of(tmp_path, {})
    assert headings(page)[0] == "Two plates, two numbers"
    assert "Parts by the engine plate" in headings(page)
    assert "E-1" in page.get_text()


def test_a_machine_without_one_has_one_and_no_parts_by_the_other(tmp_path: Path) -> None:
    page = page_of(tmp_path, swap(T28, "engine: ell-e212\n", ""))
    assert headings(page)[0] == "The plate"
    assert "this machine has no engine" in page.get_text()
    assert "Parts by the engine plate" not in headings(page)
    assert "Plug" not in page.get_text()


def test_a_part_is_listed_where_a_system_or_work_needs_it(tmp_path: Path) -> None:
    part = "title: {}\nsummary: It holds.\nplate: machine\nsystems: [fuel]\nconsumable: any\nsources: [bench-notes]\n"
    files = {
        **swap(T28, "engine: ell-e212\n", ""),
        **swap("procedures/replace-auger-shear-bolt.yaml", "{part: auger-shear-bolt}", "{part: grease}"),
        "systems/fuel.yaml": "title: Fuel\nsummary: Fuel.\napplies_to: {fitted: engine}\nsources: [bench-notes]\n",
        "parts/clamp.yaml": part.format("Clamp of the fuel line"),
        "parts/grease.yaml": part.format("Grease for everything"),
    }
    page = page_of(tmp_path, files).get_text()
    assert "Grease for everything" in page
    assert "Clamp of the fuel line" not in page
