"""The words after `tools/documents.py`, and what is said about the result."""

from __future__ import annotations

import argparse
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def make(words: Sequence[str]) -> int:
    """Make what is asked for; returns 0, or 1 where it cannot be made or `--check` finds it stale."""
    parser = argparse.ArgumentParser(
        prog="documents.py", description="Write documents that are made, not typed."
    )
    kinds = parser.add_subparsers(dest="kind", required=True)
    commands = kinds.add_parser("commands", help="the page of all commands")
    commands.add_argument("--check", action="store_true", help="write nothing; fail where the page is stale")
    gallery = kinds.add_parser("gallery", help="pictures of the built manual")
    gallery.add_argument("folder", metavar="DIR", help="where the pictures go")
    gallery.add_argument("--site", metavar="DIR", default="site", help="the built manual (default: site)")
    options = parser.parse_args(words)
    return _commands(options.check) if options.kind == "commands" else _gallery(options.site, options.folder)


def _commands(check: bool) -> int:
    from _documents.commands import PAGE, commands_page

    page = commands_page()
    if check:
        fresh = PAGE.is_file() and PAGE.read_text(encoding="utf-8") == page
        if not fresh:
            sys.stderr.write(f"{PAGE.name} is stale; run `python3 tools/documents.py commands`\n")
        return int(not fresh)
    PAGE.write_text(page, encoding="utf-8", newline="\n")
    sys.stdout.write(f"{PAGE}\n")
    return 0


def _gallery(site: str, folder: str) -> int:
    from _documents.gallery import GalleryFault, take_pictures

    browser = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    try:
        for path in take_pictures(Path(site), Path(folder), browser):
            sys.stdout.write(f"{path}\n")
    except GalleryFault as fault:
        sys.stderr.write(f"{fault}\n")
        return 1
    return 0
