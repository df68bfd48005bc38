"""`shearpin new`: begin a record."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from shearpin.authoring.begin import Beginning, prepare, write
from shearpin.authoring.change import recover
from shearpin.authoring.editor import refresh_schemas
from shearpin.authoring.files import WriteRefused
from shearpin.authoring.ids import IdRefused, known_kind
from shearpin.cli.check import as_json
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json, records_folder

_WAITING_SHOWN: Final = 20


def run(words: Sequence[str]) -> int:
    """Write a new file with the fields of its kind, and say what waits for its writer."""
    parser = new_parser(
        "new", "Begin a record: a commented file with the fields of its kind and the ids that fit."
    )
    parser.add_argument("kind", metavar="KIND", help="what it is, such as cause or procedure")
    parser.add_argument("id", metavar="ID", help="its id: the name of its file and the address of its page")
    parser.add_argument("--from", dest="copied", metavar="ID", help="copy another record of the kind instead")
    parser.add_argument(
        "--distinct",
        action="store_true",
        help="it is another thing, though its id is very like one that exists",
    )
    options = parser.parse_args(list(words))
    try:
        recover(records_folder(options.kb)[0])
        linked = load_book_or_fail(options.kb)
        beginning = prepare(
            linked, known_kind(options.kind), options.id, options.copied, distinct=options.distinct
        )
        write(linked, beginning)
        refresh_schemas(load_book_or_fail(options.kb).book)
    except IdRefused as error:
        raise UserError(str(error)) from error
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
    _tell(linked.book.shown, beginning, options.json)
    return 0


def _tell(shown: str, beginning: Beginning, json: bool) -> None:
    path = f"{shown}/{beginning.path}"
    waiting = [finding for finding in beginning.waiting if finding.path == f"kb/{beginning.path}"]
    if json:
        print_json({"path": path, "waiting": [as_json(finding) for finding in waiting]})
        return
    print(path)
    if waiting:
        print("What waits for you:")
    for finding in waiting[:_WAITING_SHOWN]:
        print(f"  line {finding.line}: {finding.message} [{finding.code}]")
    if len(waiting) > _WAITING_SHOWN:
        print(f"  … and {len(waiting) - _WAITING_SHOWN} more")
    print("It is a draft until `review` says otherwise. `shearpin check` says what is still missing.")
