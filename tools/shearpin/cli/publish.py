"""`shearpin publish`: an edition as a folder, a zip, a PDF, an e-book or a package for a school's learning system."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from shearpin.cli.common import (
    UserError,
    add_work_options,
    load_book_or_fail,
    new_parser,
    print_json,
    records_folder,
    refuse_errors,
    told_of_work,
)
from shearpin.inspection import inspect_book

if TYPE_CHECKING:
    from shearpin.publish.issue import Issue
    from shearpin.publish.publication import Written


def run(words: Sequence[str]) -> int:
    """Publish; returns 1 and leaves what was published before as it was when it cannot be done."""
    from shearpin.publish.publication import MAKERS

    options = _options(words, tuple(MAKERS))
    with told_of_work(options):
        return _published(options)


def _published(options: argparse.Namespace) -> int:
    from shearpin.publish.earlier import content_of_earlier
    from shearpin.publish.faults import PublishError
    from shearpin.publish.issue import prepare_issue
    from shearpin.publish.publication import MAKERS, publish

    formats = _formats(options.format, tuple(MAKERS))
    folder, _ = records_folder(options.kb)
    settings = folder.resolve().parent / "mkdocs.yml"
    if not settings.is_file():
        raise UserError(f"there is no mkdocs.yml beside {folder}")
    out = _out(options.out, folder)
    linked = load_book_or_fail(options.kb)
    known = [name for kind, name in linked.book.file_of if kind == "edition"]
    _require_edition(options.edition, known)  # one that cannot be read is among the errors
    refuse_errors(inspect_book(linked), "published")
    try:
        since = content_of_earlier(Path(options.since)) if options.since else None
        issue = prepare_issue(linked, options.edition, settings, since)
        progress = _progress()
        written = publish(issue, out, formats, progress)
        progress("")
    except PublishError as error:
        raise UserError(str(error), 1) from error
    _tell(issue, written, options.json)
    return 0


def _options(words: Sequence[str], formats: tuple[str, ...]) -> argparse.Namespace:
    parser = new_parser("publish", "Publish an edition.")
    parser.add_argument("edition", metavar="EDITION", help="id of the edition record")
    parser.add_argument("--out", metavar="DIR", default="dist", help="folder to publish into (default: dist)")
    parser.add_argument(
        "--format", metavar="LIST", default="site,zip", help=f"any of {','.join(formats)} (default: site,zip)"
    )
    parser.add_argument(
        "--since", metavar="PATH", help="an earlier edition, folder or zip: adds a page of all changes"
    )
    add_work_options(parser)
    return parser.parse_args(list(words))


def _out(given: str, kb: Path) -> Path:
    """Return the folder to publish into; refuse one that another command would empty, or that some system cannot open."""
    out = Path(given).resolve()
    kept = (kb.resolve(), kb.resolve().parent / "site", kb.resolve().parent / "site_overrides")
    for folder in kept:
        if out == folder or folder in out.parents:
            raise UserError(
                f"{out} lies in {folder}, which belongs to the book; name a folder outside with --out"
            )
    if not given.strip() or out.name.endswith((" ", ".")):
        raise UserError(
            f"`{given}` ends with a blank or a dot: Windows cannot open such a folder; name another with --out"
        )
    return out


def _tell(issue: Issue, written: Sequence[Written], as_json: bool) -> None:
    records, chosen = len(issue.packed.book.files), len(issue.chosen)
    if as_json:
        files = [
            {"format": w.format, "path": str(w.path), "bytes": w.bytes, "sha256": w.sha256} for w in written
        ]
        told = {"edition": issue.id, "number": issue.edition.number, "draft": issue.draft}
        print_json({**told, "records": records, "chosen": chosen, "files": files})
        return
    state = ", draft" if issue.draft else ""
    print(
        f"{issue.edition.title}, edition {issue.edition.number}{state}: {records} records, {chosen} of them chosen by its contents"
    )
    for item in written:
        kind = "fingerprint" if item.format == "site" else "SHA-256"
        print(f"  {item.path}\n    {item.bytes:,} bytes, {kind} {item.sha256}")


def _formats(given: str, known: tuple[str, ...]) -> tuple[str, ...]:
    from shearpin.checks.nearest import did_you_mean

    wanted = tuple(word.strip() for word in given.split(",") if word.strip())
    for word in wanted:
        if word not in known:
            advice = did_you_mean(word, known) or f"formats: {', '.join(known)}"
            raise UserError(f"there is no format `{word}`; {advice}")
    if not wanted:
        raise UserError(f"name a format: {', '.join(known)}")
    return wanted


def _require_edition(given: str, known: Iterable[str]) -> None:
    from shearpin.checks.nearest import nearest_or_all

    names = list(known)
    if given not in names:
        advice = nearest_or_all(given, names, "editions")
        raise UserError(f"there is no edition `{given}`; {advice}")


def _progress() -> Callable[[str], None]:
    """Return what tells a person at a terminal what is being made; nothing where nobody watches."""
    if not sys.stderr.isatty():
        return lambda stage: None
    return lambda stage: print(
        f"\r{stage + ' …' if stage else '':<60}\r", end="", file=sys.stderr, flush=True
    )
