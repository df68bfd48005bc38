"""A published zip, unpacked where names are awkward, opens by double-click: START-HERE, search, draft on the page."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Page

from shearpin.cli.main import main
from tests.browser.harness import Firefox
from tests.conftest import AWKWARD_NAME
from tests.publish.conftest import make_project


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("published")
    kb = make_project(folder) / "kb"
    out = folder / "out"
    assert main(["publish", "whole-book", "--kb", str(kb), "--out", str(out), "--format", "zip"]) == 0
    place = folder / AWKWARD_NAME
    with zipfile.ZipFile(out / "whole-book-1.zip") as archive:
        archive.extractall(place)
    return place / "whole-book-1"


def test_start_here_opens_the_manual_and_the_search_finds(page: Page, unpacked: Path) -> None:
    page.goto((unpacked / "START-HERE.html").as_uri())
    page.wait_for_url("**/data/index.html")
    page.fill("#q", "shear bolt")
    page.press("#q", "Enter")
    page.wait_for_selector("[data-search-results] a")
    assert page.locator("[data-search-results] a").count() > 0
    assert "Draft edition." in (page.text_content('[data-edition-state="draft"]') or "")


def test_firefox_opens_it_too(firefox: Firefox, unpacked: Path) -> None:
    (title,) = firefox.play(
        {"goto": (unpacked / "data" / "index.html").as_uri()},
        {"evaluate": "document.title"},
    )[-1:]
    assert title == "Whole book"
