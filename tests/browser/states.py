"""Makes a picture of each kind of page in six states, to be looked at: `python -m tests.browser.states SITE FOLDER [WORD…]`.

Wide without and with a machine, dark with a machine that many pages are not for, narrow with one, and paper as a PDF
without and with one. Words choose the pages whose address holds one of them.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.harness import DESKTOP, PHONE, find_browser
from tests.kinds_of_page import KINDS_OF_PAGE

SCREENS = {
    "wide": (DESKTOP, ""),
    "wide-machine": (DESKTOP, "#machine=osmere-d24"),
    "dark-other-machine": (DESKTOP, "#machine=tarnbrook-s20&theme=dark"),
    "narrow-machine": (PHONE, "#machine=osmere-d24"),
}
PAPER = {"paper": "", "paper-machine": "#machine=osmere-d24"}


def main(site: Path, folder: Path, words: Sequence[str]) -> None:
    """Write the pictures of all pages that a word names, or of all."""
    folder.mkdir(parents=True, exist_ok=True)
    executable = find_browser("SHEARPIN_CHROMIUM", ("chromium", "chromium-browser", "google-chrome"))
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=executable, args=["--no-sandbox"])
        for path in KINDS_OF_PAGE:
            if words and not any(word in path for word in words):
                continue
            name = path.removesuffix(".html").replace("/", "-")
            address = (site / path).as_uri()
            for state, (size, place) in SCREENS.items():
                page = browser.new_page(viewport={"width": size[0], "height": size[1]})
                page.goto(address + place)
                page.screenshot(path=folder / f"{name}.{state}.png", full_page=True)
                page.close()
            for state, place in PAPER.items():
                page = browser.new_page()
                page.goto(address + place)
                page.pdf(path=folder / f"{name}.{state}.pdf", format="A4")
                page.close()
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve(), Path(sys.argv[2]).resolve(), sys.argv[3:])
