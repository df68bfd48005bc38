"""`shearpin export`: the records for other programs, a line of JSON each."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import IO

from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json
from shearpin.model.kinds import KINDS
from shearpin.publish.bulk import LINE_SCHEMA, as_bulk_lines, as_line, records_of

NDJSON, BULK = "ndjson", "opensearch"


def run(words: Sequence[str]) -> int:
    """Write the records; returns 1 when some could not be read and are missing."""
    options = _parser().parse_args(list(words))
    if options.schema:
        print_json(LINE_SCHEMA)
        return 0
    for kind in options.kind:
        if kind not in KINDS:
            advice = did_you_mean(kind, KINDS) or "kinds: " + ", ".join(KINDS)
            raise UserError(f"there is no kind `{kind}`; {advice}")
    linked = load_book_or_fail(options.kb)
    count = 0
    with _opened(options.out) as stream:
        for record in records_of(linked, options.kind):
            stream.write(
                as_line(record) if options.format == NDJSON else as_bulk_lines(record, options.index)
            )
            count += 1
    unread = sum(file.record is None for file in linked.book.files)
    if options.out:
        if options.json:
            print_json({"file": options.out, "records": count, "unread": unread})
        else:
            print(f"{count} records in {options.out}")
    if unread:
        told = (
            "1 file could not be read and is" if unread == 1 else f"{unread} files could not be read and are"
        )
        sys.stderr.write(f"{told} missing; `shearpin check` says why\n")
    return 1 if unread else 0


def _parser() -> argparse.ArgumentParser:
    parser = new_parser(
        "export", "Every record as a line of JSON, for search engines, databases and scripts."
    )
    parser.add_argument(
        "--format",
        choices=(NDJSON, BULK),
        default=NDJSON,
        help="ndjson: one record a line; opensearch: for a bulk request, with a line before each that says where it goes",
    )
    parser.add_argument(
        "--kind", action="append", default=[], help="only records of this kind; may be repeated"
    )
    parser.add_argument(
        "--index", metavar="NAME", default="manual", help="opensearch: name of the index (default: manual)"
    )
    parser.add_argument(
        "--out", metavar="FILE", help="write to this file, replaced when all is written (default: print)"
    )
    parser.add_argument("--schema", action="store_true", help="print the JSON Schema of a line instead")
    return parser


@contextlib.contextmanager
def _opened(out: str | None) -> Iterator[IO[str]]:
    """Yield the standard output, or a file beside `out` that takes its place when everything was written."""
    if out is None:
        yield sys.stdout
        return
    path = Path(out)
    beside = path.with_name(f".{path.name}.{os.getpid()}~")
    if os.path.lexists(path) and (path.is_symlink() or not path.is_file()):
        raise UserError(f"{out} is a link or no file; nothing is written through it", 1)
    try:
        with open(beside, "x", encoding="utf-8", newline="\n") as stream:
            yield stream
        os.replace(beside, path)
    except OSError as error:
        raise UserError(f"{out} cannot be written: {error.strerror or error}; it is as it was", 1) from error
    finally:
        with contextlib.suppress(OSError):
            beside.unlink()
