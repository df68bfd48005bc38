"""`shearpin schema`: what an editor needs to complete and explain the fields of records."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from shearpin.authoring.editor import SETTING, default_folder, mapping, write_schemas
from shearpin.authoring.files import WriteRefused
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json


def run(words: Sequence[str]) -> int:
    """Write one JSON Schema per kind of record, and print the editor's setting."""
    parser = new_parser(
        "schema", "Write JSON Schemas, with which an editor completes and explains the fields of records."
    )
    parser.add_argument(
        "--out", metavar="DIR", help="where to write them (default: .shearpin/schema beside the records)"
    )
    options = parser.parse_args(list(words))
    book = load_book_or_fail(options.kb).book
    folder = Path(options.out) if options.out else default_folder(book.kb)
    try:
        written = write_schemas(book, folder)
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
    setting = {SETTING: mapping(book.kb, folder)}
    if options.json:
        print_json({"schemas": [str(path) for path in written], "settings": setting})
        return 0
    print(f"{len(written)} schemas in {folder}")
    print("The editor's settings (.vscode/settings.json) name them so:")
    print(json.dumps(setting, ensure_ascii=False, indent=2))
    return 0
