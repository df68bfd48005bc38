"""A published zip, unpacked where names are awkward, with no network: START-HERE, search, diagnosis, calculators, print."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from shearpin.cli.main import main
from tests.browser.harness import Firefox
from tests.conftest import AWKWARD_NAME
from tests.publish.conftest import make_project

OLD_BROWSER_TOO = True
LONG_NAME = "a folder in a folder whose name goes on and on as those of downloads do (1)"
SYMPTOM = "symptoms/one-side-of-auger-does-not-turn.html"


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("published")
    kb = make_project(folder) / "kb"
    out = folder / "out"
    assert main(["publish", "whole-book", "--kb", str(kb), "--out", str(out), "--format", "zip"]) == 0
    place = folder / AWKWARD_NAME / LONG_NAME
    with zipfile.ZipFile(out / "whole-book-1.zip") as archive:
        archive.extractall(place)
    return place / "whole-book-1"


FILL = """(() => {
  const given = ['24 N·m', '300 mm', '50 mm'];
  document.querySelectorAll('#adapter-setting form input').forEach((input, i) => {
    if (i < given.length) input.value = given[i];
    input.dispatchEvent(new Event('input', {bubbles: true}));
  });
})()"""


def test_start_here_opens_the_manual_and_the_search_finds(page: Page, unpacked: Path) -> None:
    page.goto((unpacked / "START-HERE.html").as_uri())
    page.wait_for_url("**/data/index.html")
    page.fill("#q", "shear bolt")
    page.press("#q", "Enter")
    page.wait_for_selector("[data-search-results] a")
    assert page.locator("[data-search-results] a").count() > 0
    assert "Draft edition." in (page.text_content('[data-edition-state="draft"]') or "")


def test_the_guide_asks_test_by_test(page: Page, unpacked: Path) -> None:
    page.goto((unpacked / "data" / SYMPTOM).as_uri())
    page.select_option("[data-machine-choice]", "brook-d24")
    page.locator(".guide-answers button").first.click()
    expect(page.locator("[data-guide-sheet]")).to_contain_text("Your answers")


def test_a_bench_calculation_gives_its_result(page: Page, unpacked: Path) -> None:
    page.goto((unpacked / "data" / "calculators.html").as_uri())
    section = page.locator("#adapter-setting")
    section.locator("summary").click()
    for name, words in (
        ("torque at the fastener", "24 N·m"),
        ("lever of the wrench", "300 mm"),
        ("length of the adapter", "50 mm"),
    ):
        section.get_by_label(name).fill(words)
    # By the lever: 24 N·m × 300 / (300 + 50) = 20.57 N·m.
    expect(section.locator(".calc-result dd").first).to_contain_text("20.57 N·m")


def test_a_procedure_prints_with_its_warnings(page: Page, unpacked: Path) -> None:
    page.goto((unpacked / "data/procedures/replace-auger-shear-bolt.html").as_uri())
    page.emulate_media(media="print")
    expect(page.locator(".safety [data-signal-word]").first).to_be_visible()
    expect(page.locator("nav.lists")).to_be_hidden()
    assert len(re.findall(rb"/Type\s*/Page\b", page.pdf(format="A4"))) >= 1


def test_the_same_errand_in_firefox(firefox: Firefox, unpacked: Path, tmp_path: Path) -> None:
    data = unpacked / "data"
    results = firefox.play(
        {"goto": (data / "index.html").as_uri()},
        {"evaluate": "document.title"},
        {"type": {"into": "#q", "text": "shear bolt"}},
        {"press": "Enter"},
        {"waitFor": "[data-search-results] a"},
        {"goto": f"{(data / SYMPTOM).as_uri()}#machine=brook-d24"},
        {"waitFor": ".guide-answers button"},
        {"evaluate": "document.querySelectorAll('.guide-answers button').length"},
        {"goto": (data / "calculators.html").as_uri()},
        {"click": "#adapter-setting summary"},
        {"evaluate": FILL},
        {"evaluate": "document.querySelector('#adapter-setting .calc-result dd').textContent"},
        {"goto": (data / "procedures/replace-auger-shear-bolt.html").as_uri()},
        {"print": str(tmp_path / "sheet.pdf")},
    )
    assert results[1] == "Whole book"
    assert results[7] > 1
    assert "20.57 N·m" in results[11]
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF-")
