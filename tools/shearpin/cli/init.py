"""`shearpin init`: begin a book for another shop."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from shearpin.authoring.files import WriteRefused
from shearpin.authoring.starter import FolderInUse, begin_book
from shearpin.cli.common import UserError, print_json


def run(words: Sequence[str]) -> int:
    """Write the starter book into a new folder, and say what to type next."""
    parser = argparse.ArgumentParser(
        prog="shearpin init",
        description="Begin a book for another shop: settings, a README for the writer, and a few records that check clean.",
    )
    parser.add_argument("folder", metavar="FOLDER", help="the new folder; one that exists must be empty")
    parser.add_argument(
        "--name", default="Shop manual", help="what the manual is called (default: %(default)s)"
    )
    parser.add_argument("--json", action="store_true", help="print JSON for other programs")
    options = parser.parse_args(list(words))
    name = " ".join(options.name.split())
    if not name:
        raise UserError("the name of a manual cannot be empty")
    try:
        files = begin_book(Path(options.folder), name)
    except FolderInUse as error:
        raise UserError(str(error)) from error
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
    if options.json:
        print_json({"folder": options.folder, "files": list(files)})
        return 0
    go = f'  cd "{options.folder}"\n' if Path(options.folder) != Path(".") else ""
    print(
        f"{name}: begun in {options.folder}, {len(files)} files. Next:\n"
        f"{go}"
        "  shearpin build    makes the manual; open site/index.html in a browser\n"
        "README.md in that folder says how to go on."
    )
    return 0
