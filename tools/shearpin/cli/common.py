"""What commands share: the records' folder, JSON output, and mistakes of the user."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from shearpin.model.finding import Finding, Severity
from shearpin.model.progress import PROGRESS, tell, told_as_asked
from shearpin.model.shares import JOBS

if TYPE_CHECKING:
    from shearpin.book.linked import LinkedBook

_MOST_DIGITS: Final = 9


class UserError(Exception):
    """A mistake of the user or the surroundings; its text says what to do."""

    def __init__(self, message: str, exit_code: int = 2) -> None:
        super().__init__(message)
        self.exit_code = exit_code


def new_parser(command: str, description: str) -> argparse.ArgumentParser:
    """Return a parser with the options that every command has."""
    parser = argparse.ArgumentParser(prog=f"shearpin {command}", description=description)
    parser.add_argument(
        "--kb", metavar="DIR", help="folder of the records (default: kb/ of the current project)"
    )
    parser.add_argument("--json", action="store_true", help="print JSON for other programs")
    return parser


def add_work_options(parser: argparse.ArgumentParser) -> None:
    """Add the options of long work: over how many processes to share it, and whether to tell how far it is."""
    parser.add_argument("--quiet", action="store_true", help="do not tell how far the work is")
    parser.add_argument(
        "--jobs",
        metavar="N",
        type=at_least_one,
        help="processes to share the work of a large book (default: one for each core, four at most)",
    )


def at_least_one(given: str) -> int:
    """Return the number of an option that counts something; raises argparse's error for any but a number from 1 on."""
    if not given.isascii() or not given.isdecimal() or len(given) > _MOST_DIGITS or int(given) < 1:
        raise argparse.ArgumentTypeError(f"`{given}` is not a whole number, 1 or more")
    return int(given)


@contextmanager
def told_of_work(options: argparse.Namespace) -> Iterator[None]:
    """Do as the options of long work say meanwhile, in commands that this one starts too."""
    if options.jobs is not None:
        os.environ[JOBS] = str(options.jobs)
    os.environ[PROGRESS] = "" if options.quiet or options.json else "1"
    tell(told_as_asked(sys.stderr))
    try:
        yield
    finally:
        tell(None)
        del os.environ[PROGRESS]


def records_folder(given: str | None) -> tuple[Path, str]:
    """Return the records' folder and how findings name it; raises `UserError` when there is none."""
    if given is not None:
        path = Path(given)
        if not path.is_dir():
            raise UserError(f"there is no folder `{given}`")
        return path, given
    here = Path.cwd()
    for folder in (here, *here.parents):
        if (folder / "kb").is_dir():
            shown = "kb" if folder == here else str(folder / "kb")
            return folder / "kb", shown
    raise UserError(
        "there is no `kb` folder here or above; name the records with --kb DIR, "
        "or begin a book with `shearpin init FOLDER`"
    )


def load_book_or_fail(given: str | None) -> LinkedBook:
    """Load the book; raises `UserError` when its folder cannot be read."""
    from shearpin.book.failure import BookError
    from shearpin.book.linked import load_linked

    folder, shown = records_folder(given)
    try:
        return load_linked(folder, shown)
    except BookError as error:
        raise UserError(str(error), 1) from error


def print_json(value: Any) -> None:
    """Print a value as JSON, one document."""
    json.dump(value, sys.stdout, ensure_ascii=False, indent=2)
    sys.stdout.write("\n")


def refuse_errors(findings: Iterable[Finding], made: str) -> None:
    """Print the errors among findings and raise `UserError` where there are any: nothing was `made`."""
    errors = [finding for finding in findings if finding.severity is Severity.ERROR]
    for finding in errors:
        print(finding, file=sys.stderr)
    if errors:
        count = len(errors)
        raise UserError(f"{count} error{'s' * (count != 1)} in the records; nothing was {made}", 1)


def known_machine(linked: LinkedBook, given: str | None) -> str | None:
    """Return the machine's id; raises `UserError` with a did-you-mean for an unknown one."""
    from shearpin.checks.nearest import nearest_or_all

    given = todays_id(linked, "machine", given) if given is not None else None
    if given is None or given in linked.book.machines:
        return given
    advice = nearest_or_all(given, linked.book.machines, "machines")
    raise UserError(f"there is no machine `{given}`; {advice}")


def todays_id(linked: LinkedBook, kind: str, given: str) -> str:
    """Return the id that a former one leads to, and say so; any other id is returned as it is."""
    from shearpin.book.former import id_today

    today = id_today(linked.book, kind, given)
    if today != given:
        print(f"{kind} `{given}` is called `{today}` now", file=sys.stderr)
    return today
