"""`shearpin format`: records in their usual form; comments and meaning stay as they are."""

from __future__ import annotations

import difflib
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from shearpin.authoring.files import WriteRefused, read_plain_file, replace_file
from shearpin.authoring.formatting import formatted, quantity_kinds
from shearpin.authoring.translating import usual_form
from shearpin.book.linked import LinkedBook
from shearpin.book.translations import TranslationFile
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.check import as_json
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json
from shearpin.inspection import inspect_book
from shearpin.model.finding import Finding
from shearpin.model.reading import RecordFile


@dataclass
class _Outcome:
    changed: list[str] = field(default_factory=list)
    refused: list[Finding] = field(default_factory=list)
    unwritten: list[str] = field(default_factory=list)
    diffs: list[str] = field(default_factory=list)


def run(words: Sequence[str]) -> int:
    """Format records; 1 when some could not be, or with `--check` or `--diff` when some would change."""
    parser = new_parser(
        "format", "Write records in the usual order of fields, spelling of figures and line length."
    )
    parser.add_argument("files", nargs="*", metavar="FILE", help="record files (default: all of the book)")
    parser.add_argument(
        "--check", action="store_true", help="write nothing, name the files that would change"
    )
    parser.add_argument("--diff", action="store_true", help="write nothing, show what would change")
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    outcome = _Outcome()
    only_look = options.check or options.diff
    chosen, translations = _chosen(linked, options.files)
    for translation in translations:
        _format_translation(linked, translation, outcome, write=not only_look, diff=options.diff)
    for file in chosen:
        _format(linked, file, outcome, write=not only_look, diff=options.diff)
    broken = {f"{linked.book.shown}/{file.path}" for file in chosen if file.broken}
    if broken:
        outcome.refused = [
            f for f in inspect_book(linked) if f.path in broken and f.code[:3] in ("FMT", "FLD", "QTY")
        ]
    _tell(outcome, len(chosen) + len(translations), linked.book.shown, options.json, only_look)
    return 1 if outcome.refused or outcome.unwritten or (only_look and outcome.changed) else 0


def _chosen(linked: LinkedBook, given: Sequence[str]) -> tuple[list[RecordFile], list[TranslationFile]]:
    """Return the records and translations of the named files; raises `UserError` for a name that is none of the book's."""
    translations = [file for file in linked.translations if file.content is not None]
    if not given:
        return list(linked.book.files), translations
    both: tuple[RecordFile | TranslationFile, ...] = (*linked.book.files, *translations)
    by_path = {(linked.book.kb / file.path).absolute(): file for file in both}
    chosen = []
    for name in given:
        file = by_path.get(Path(name).absolute())
        if file is None:
            known = [f"{linked.book.shown}/{file.path}" for file in both]
            raise UserError(
                f"`{name}` is no record of this book; {did_you_mean(name, known) or 'name a file in kb/'}"
            )
        chosen.append(file)
    return [f for f in chosen if isinstance(f, RecordFile)], [
        f for f in chosen if isinstance(f, TranslationFile)
    ]


def _format(linked: LinkedBook, file: RecordFile, outcome: _Outcome, *, write: bool, diff: bool) -> None:
    if not file.broken:
        kinds = quantity_kinds(linked.book)
        _rewrite(linked, file.path, lambda raw: formatted(raw, file.kind, kinds), outcome, write, diff)


def _format_translation(
    linked: LinkedBook, file: TranslationFile, outcome: _Outcome, *, write: bool, diff: bool
) -> None:
    record = linked.book.get(*file.key)
    if record is not None:
        _rewrite(linked, file.path, lambda raw: usual_form(raw, record), outcome, write, diff)


def _rewrite(
    linked: LinkedBook,
    name: str,
    change: Callable[[bytes], bytes],
    outcome: _Outcome,
    write: bool,
    diff: bool,
) -> None:
    path = linked.book.kb / name
    try:
        raw = read_plain_file(path)
        new = change(raw)
        if new == raw:
            return
        if write:
            replace_file(path, new)
    except (WriteRefused, ValueError) as error:
        # ValueError: it was readable when the book was loaded, and is not any more.
        outcome.unwritten.append(str(error) if isinstance(error, WriteRefused) else f"{path}: {error}")
        return
    outcome.changed.append(name)
    if diff:
        outcome.diffs += difflib.unified_diff(
            raw.decode("utf-8").splitlines(keepends=True), new.decode("utf-8").splitlines(keepends=True),
            f"{linked.book.shown}/{name}", f"{linked.book.shown}/{name} (formatted)",
        )  # fmt: skip


def _tell(outcome: _Outcome, count: int, shown: str, json: bool, only_look: bool) -> None:
    changed = [f"{shown}/{path}" for path in outcome.changed]
    if json:
        print_json(
            {
                "records": count,
                "changed": changed,
                "written": not only_look,
                "findings": [as_json(finding) for finding in outcome.refused],
                "not_written": outcome.unwritten,
            }
        )
        return
    if outcome.diffs:
        sys.stdout.writelines(line if line.endswith("\n") else f"{line}\n" for line in outcome.diffs)
    else:
        for path in changed:
            print(path)
    for finding in outcome.refused:
        print(f"{finding}\n    help: {finding.help}")
    for reason in outcome.unwritten:
        print(f"not written: {reason}")
    verb = "would change" if only_look else "changed"
    print(f"{count} record{'s' * (count != 1)}: {len(changed)} {verb}")
