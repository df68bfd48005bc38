"""The whole errand from a folder with an awkward name, no network: complaint, page, machine, warning, every link."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

from playwright.sync_api import Page

from tests.browser.harness import Firefox

OLD_BROWSER_TOO = True
COMPLAINT = "left auger not spinning"
GOAL = "one-side-of-auger-does-not-turn"
HREFS = "Array.from(document.querySelectorAll('a[href]'), a => a.href)"


def on_disk(href: str) -> Path:
    """Return the file that a browser would open for an address."""
    return Path(
        url2pathname(unquote(urlsplit(href).path)) if "%" in href else url2pathname(urlsplit(href).path)
    )


def test_a_technician_finds_tests_and_repairs(page: Page, awkward_site: Path) -> None:
    page.goto((awkward_site / "index.html").as_uri())
    page.fill("article input[type=search]", COMPLAINT)
    page.wait_for_selector(".search-hit a")
    page.click(".search-hit a >> nth=0")
    page.wait_for_url(f"**/symptoms/{GOAL}.html*")
    page.select_option("[data-machine-choice]", "osmere-d24")
    page.click('tr[data-test="shear-bolt-inspection"] a[data-ref^="test:"]')
    page.wait_for_url("**/tests/shear-bolt-inspection.html*machine=osmere-d24*")
    page.click('#results a[data-ref="procedure:replace-auger-shear-bolt"] >> nth=0')
    page.wait_for_url("**/procedures/replace-auger-shear-bolt.html*machine=osmere-d24*")
    first_word = page.locator(".safety [data-signal-word] .signal-word").first
    assert first_word.inner_text() == "DANGER"
    box = first_word.bounding_box()
    assert box is not None
    assert box["y"] + box["height"] < 768
    figure = page.locator(
        '.value-set [data-value="auger-shear-bolt.torque"][data-machine="osmere-d24"]'
    ).first
    assert figure.is_visible()
    assert "N·m" in figure.inner_text()


def some_of_each(site: Path) -> Iterator[Path]:
    """Yield the pages at the root, and of each folder its list and three others; the rest is read as HTML elsewhere."""
    yield from (path for path in sorted(site.glob("*.html")) if path.name != "404.html")
    for folder in sorted({path.parent for path in site.glob("*/*.html")}):
        pages = sorted(folder.glob("*.html"))
        listing = folder / "index.html"
        yield from {*([listing] if listing in pages else []), pages[0], pages[len(pages) // 2], pages[-1]}


def test_links_lead_to_pages_in_chromium(page: Page, awkward_site: Path) -> None:
    checked = 0
    for file in some_of_each(awkward_site):
        page.goto(file.as_uri(), wait_until="domcontentloaded")
        for href in page.evaluate(HREFS):
            if urlsplit(href).scheme != "https":
                assert on_disk(href).is_file(), (file, href)
                checked += 1
    assert checked > 2000


def test_a_page_leads_back_to_the_front_by_clicks(page: Page, awkward_site: Path) -> None:
    page.goto((awkward_site / "tools" / "pin-punch.html").as_uri())
    for kind in ("procedure", "part"):
        page.click(f'a[data-ref^="{kind}:"] >> nth=0')
        page.wait_for_url(f"**/{kind}s/*.html*")
    page.click("header a >> nth=0")
    page.wait_for_url("**/index.html*")


def test_the_same_errand_in_firefox(firefox: Firefox, awkward_site: Path) -> None:
    results = firefox.play(
        {"goto": (awkward_site / "index.html").as_uri()},
        {"type": {"into": "article input[type=search]", "text": COMPLAINT}},
        {"waitFor": ".search-hit a"},
        {"evaluate": "document.querySelector('.search-hit a').href"},
        {"evaluate": HREFS},
    )
    first, hrefs = results[3], results[4]
    assert f"/symptoms/{GOAL}.html" in first
    assert all(on_disk(href).is_file() for href in hrefs)
    results = firefox.play(
        {
            "goto": (awkward_site / "procedures" / "replace-auger-shear-bolt.html").as_uri()
            + "#machine=osmere-d24"
        },
        {"evaluate": "document.querySelector('[data-machine-choice]').value"},
        {
            "evaluate": "Array.from(document.querySelectorAll('.value-set [data-value][data-machine]'))"
            ".filter(e => e.offsetWidth > 0).map(e => e.dataset.machine)"
        },
        {"evaluate": HREFS},
    )
    assert results[1] == "osmere-d24"
    assert set(results[2]) == {"osmere-d24"}
    assert all(on_disk(href).is_file() for href in results[3] if not href.startswith("https:"))
