"""Prints how many pages of paper each bench sheet takes, in A4 and Letter: `python -m tests.browser.sheets SITE`."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.harness import DESKTOP, find_browser
from tests.browser.test_look import open_on_its_machine, procedures_of, sheets


def main(site: Path) -> None:
    """Print counts for each paper, and the names of what takes more than two pages."""
    executable = find_browser("SHEARPIN_CHROMIUM", ("chromium", "chromium-browser", "google-chrome"))
    found: dict[str, dict[str, int]] = {"A4": {}, "Letter": {}}
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=executable, args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": DESKTOP[0], "height": DESKTOP[1]})
        for path in procedures_of(site):
            if open_on_its_machine(page, path):
                for paper, counts in found.items():
                    counts[path.stem] = sheets(page, paper)
        browser.close()
    for paper, counts in found.items():
        print(paper, dict(sorted(Counter(counts.values()).items())))
        print("  more than two:", ", ".join(name for name, count in counts.items() if count > 2))


if __name__ == "__main__":
    main(Path(sys.argv[1]).resolve())
