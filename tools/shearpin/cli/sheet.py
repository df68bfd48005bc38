"""`shearpin sheet`: values of machines and engines to a spreadsheet, and what was changed in it back into the records."""

from __future__ import annotations

import argparse
import fnmatch
from collections.abc import Sequence
from pathlib import Path

from shearpin.authoring.change import recover, write_all
from shearpin.authoring.files import WriteRefused
from shearpin.authoring.sheet import Row, rows
from shearpin.authoring.sheetapply import Trial, try_changes
from shearpin.authoring.sheetfile import SheetRefused, read_sheet, write_sheet
from shearpin.authoring.sheetplan import Problem, SheetPlan, field_changes, plan_sheet
from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean, nearest_or_all
from shearpin.cli.check import as_json
from shearpin.cli.common import (
    UserError,
    known_machine,
    load_book_or_fail,
    new_parser,
    print_json,
    records_folder,
    todays_id,
)
from shearpin.model.finding import Severity

_SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}


def run(words: Sequence[str]) -> int:
    """Write a sheet, or read one; 1 when anything in it cannot be taken over, and then nothing is."""
    options = _parser().parse_args(list(words))
    try:
        return _out(options) if options.way == "out" else _in(options)
    except (SheetRefused, WriteRefused) as error:
        raise UserError(str(error), 1) from error


def _parser() -> argparse.ArgumentParser:
    parser = new_parser("sheet", "Values of machines and engines to a spreadsheet (.csv, .xlsx) and back.")
    parser.add_argument(
        "way", choices=["out", "in"], help="out: write a sheet; in: read one and show what would change"
    )
    parser.add_argument("file", metavar="FILE", help="the sheet, a .csv or .xlsx file")
    parser.add_argument(
        "--machine",
        metavar="ID",
        action="append",
        default=[],
        help="out: this machine and its engine only; may be repeated",
    )
    parser.add_argument(
        "--engine", metavar="ID", action="append", default=[], help="out: this engine only; may be repeated"
    )
    parser.add_argument(
        "--value",
        metavar="NAME",
        action="append",
        default=[],
        help="out: these values only, such as 'auger-*.torque'; may be repeated",
    )
    parser.add_argument("--missing", action="store_true", help="out: only what is not recorded yet")
    parser.add_argument(
        "--separator",
        choices=list(_SEPARATORS),
        default="comma",
        help="out: between the cells of a .csv file (default: comma)",
    )
    parser.add_argument("--replace", action="store_true", help="out: overwrite a file that exists")
    parser.add_argument("--apply", action="store_true", help="in: write the changes into the records")
    return parser


def _out(options: argparse.Namespace) -> int:
    linked = load_book_or_fail(options.kb)
    path = Path(options.file)
    if path.exists() and not options.replace:
        raise UserError(f"{path} exists and may hold somebody's work; choose another name, or say --replace")
    found: list[Row] = list(rows(linked.book, _holders(linked, options), _names(linked, options.value)))
    if options.missing:
        found = [row for row in found if not row.entry]
    count = write_sheet(path, found, _SEPARATORS[options.separator])
    if options.json:
        print_json({"path": str(path), "rows": count})
    else:
        print(f"{path}: {count} row{'s' * (count != 1)}")
    return 0


def _holders(linked: LinkedBook, options: argparse.Namespace) -> list[Key]:
    """Return the machines and engines that were asked for, in order, each once."""
    holders: dict[Key, None] = {}
    for given in options.machine or ([] if options.engine else list(linked.book.machines)):
        machine = known_machine(linked, given)
        assert machine is not None
        holders["machine", machine] = None
        engine = linked.book.machines[machine].engine
        if engine is not None and options.machine:
            holders["engine", engine] = None
    for given in options.engine or ([] if options.machine else list(linked.book.engines)):
        engine = todays_id(linked, "engine", given)
        if engine not in linked.book.engines:
            advice = nearest_or_all(engine, linked.book.engines, "engines")
            raise UserError(f"there is no engine `{given}`; {advice}")
        holders["engine", engine] = None
    return list(holders)


def _names(linked: LinkedBook, patterns: Sequence[str]) -> list[str]:
    known = list(linked.book.values)
    if not patterns:
        return known
    found: set[str] = set()
    for pattern in patterns:
        fitting = fnmatch.filter(known, pattern)
        if not fitting:
            raise UserError(
                f"no value is called `{pattern}`; {did_you_mean(pattern, known) or 'such as spark-plug.gap'}"
            )
        found.update(fitting)
    return sorted(found)


def _in(options: argparse.Namespace) -> int:
    put_back = recover(records_folder(options.kb)[0])
    linked = load_book_or_fail(options.kb)
    plan = plan_sheet(linked, read_sheet(Path(options.file)))
    trial = try_changes(linked, plan.changes)
    plan.problems += trial.problems
    errors = [finding for _, finding in trial.findings if finding.severity is Severity.ERROR]
    sound = not plan.problems and not errors
    applied = bool(options.apply and sound and plan.changes)
    if applied:
        write_all(linked.book.kb, trial.changes)
    if options.json:
        print_json(_document(plan, trial, put_back, applied))
    else:
        _tell(plan, trial, put_back, sound=sound, applied=applied)
    return 0 if sound else 1


def _document(plan: SheetPlan, trial: Trial, put_back: Sequence[str], applied: bool) -> dict[str, object]:
    def as_object(problem: Problem) -> dict[str, str]:
        return {"place": problem.place, "message": problem.message, "help": problem.help}

    return {
        "applied": applied,
        "changes": [
            {
                "record": "/".join(change.holder),
                "value": change.value,
                "place": change.place,
                "fields": {name: {"old": old, "new": new} for name, old, new in field_changes(change)},
            }
            for change in plan.changes
        ],
        "problems": [as_object(problem) for problem in plan.problems],
        "notices": [as_object(notice) for notice in plan.notices],
        "findings": [{"place": place, **as_json(finding)} for place, finding in trial.findings],
        "unchanged": plan.unchanged,
        "kept": plan.kept,
        "put_back": list(put_back),
    }


def _tell(plan: SheetPlan, trial: Trial, put_back: Sequence[str], *, sound: bool, applied: bool) -> None:
    if put_back:
        print(f"A change that was interrupted has been undone first: {', '.join(put_back)}")
    for change in plan.changes:
        print(f"{'/'.join(change.holder)}  {change.value}  ({change.place})")
        for name, old, new in field_changes(change):
            print(f"    {name}: {old or '(nothing)'} → {new or '(nothing)'}")
    for notice in plan.notices:
        print(f"{notice.place}: note: {notice.message}")
    for problem in plan.problems:
        print(f"{problem.place}: error: {problem.message}")
        if problem.help:
            print(f"    help: {problem.help}")
    for place, finding in trial.findings:
        print(f"{place or finding.path}: {finding.severity.value}[{finding.code}] {finding.message}")
        if finding.help:
            print(f"    help: {finding.help}")
    kept = f", {plan.kept} left as the record has them now" if plan.kept else ""
    print(f"{len(plan.changes)} to change, {plan.unchanged} as recorded{kept}")
    if applied:
        print("Written into the records.")
    elif not sound:
        print("Nothing was written: mend what is named above first.")
    elif plan.changes:
        print("Nothing was written yet: --apply writes it into the records.")
