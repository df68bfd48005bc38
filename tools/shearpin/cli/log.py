"""`shearpin log`: keep what repairs have shown, bring it in and out, and see what it says about the book."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import Final

from shearpin.authoring.files import WriteRefused, create_file
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json
from shearpin.cli.log_file import add_log_option, chosen_log
from shearpin.cli.log_words import counted, report_json, report_lines
from shearpin.diagnosis.history import History
from shearpin.diagnosis.log_report import report
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.diagnosis.repair import NOT_PROVEN, Repair, read_repair
from shearpin.diagnosis.repair_csv import MAX_BYTES, CsvFault, read_csv, write_csv
from shearpin.diagnosis.repair_log import Entry, LogError

_SHOWN_FAULTS: Final = 50


def run(words: Sequence[str]) -> int:
    """Run one of the actions on the log."""
    if not words or words[0] in ("-h", "--help"):
        print(_overview())
        return 0 if words else 2
    if words[0] not in ACTIONS:
        advice = did_you_mean(words[0], ACTIONS) or "one of: " + ", ".join(ACTIONS)
        raise UserError(f"`shearpin log` has no `{words[0]}`; {advice}")
    try:
        return ACTIONS[words[0]][0](words[1:])
    except LogError as error:
        raise UserError(str(error), 1) from error


def _overview() -> str:
    lines = [f"  {name:<7} {summary}" for name, (_, summary) in ACTIONS.items()]
    return "\n".join(["usage: shearpin log ACTION [options]", "", *lines, "", "`shearpin log ACTION --help` says more."])  # fmt: skip


def _add_parser() -> argparse.ArgumentParser:
    parser = new_parser("log add", "Keep what one repair has shown. Nothing about the customer goes in.")
    parser.add_argument("symptom", metavar="SYMPTOM", help="id of the symptom")
    parser.add_argument("--machine", metavar="ID", required=True, help="id of the machine")
    parser.add_argument(
        "--cause", metavar="ID", required=True, help=f"what was proven; `{SOMETHING_ELSE}` or `{NOT_PROVEN}`"
    )
    parser.add_argument(
        "--test",
        metavar="TEST=RESULT",
        action="append",
        default=[],
        help="a test and what it showed, with its minutes if you took the time: 'TEST=RESULT 6 min'; may be repeated",
    )
    parser.add_argument("--minutes", metavar="N", default="", help="minutes from the first test to the proof")
    parser.add_argument("--date", metavar="DAY", default="", help="such as 2026-11-28 (default: today)")
    parser.add_argument("--note", metavar="TEXT", default="", help="a few words about the machine")
    parser.add_argument("--again", action="store_true", help="add it although the log has one just like it")
    add_log_option(parser)
    return parser


def _add(words: Sequence[str]) -> int:
    options = _add_parser().parse_args(list(words))
    row = {
        "date": options.date or date.today().isoformat(),
        "machine": options.machine,
        "symptom": options.symptom,
        "tests": "; ".join(options.test),
        "cause": options.cause,
        "minutes": options.minutes,
        "note": options.note,
    }
    read = read_repair(row)
    if not isinstance(read, Repair):
        raise UserError("; ".join(f"{fault.column}: {fault.message}" for fault in read))
    if read.date > date.today().isoformat():
        raise UserError(f"date: {read.date} has not come yet; today is {date.today().isoformat()}")
    history = History(load_book_or_fail(options.kb), [read])
    (read,) = history.repairs  # with the ids that records have today
    for unknown in history.unknown:
        known = [identifier for kind, identifier in history.linked.book.file_of if kind == unknown.kind]
        advice = did_you_mean(unknown.id, known) or "`shearpin find` searches by words"
        raise UserError(f"there is no {unknown.kind} `{unknown.id}`; {advice}")
    _check_results(history, read)
    log = chosen_log(options.log)
    added = log.add([read], again=options.again)
    if options.json:
        print_json({"log": str(log.path), "added": added.count})
    elif added.count:
        print(f"Kept in {log.path}.")
    else:
        print(
            "The log has a repair just like this one; it was not added. If this is another one, say --again."
        )
    return 0 if added.count else 1


def _check_results(history: History, repair: Repair) -> None:
    for done in repair.tests:
        results = [result.id for result in history.linked.book.tests[done.test].results]
        if done.result not in results:
            raise UserError(f"`{done.test}` has no result `{done.result}`; it has: {', '.join(results)}")


def _list(words: Sequence[str]) -> int:
    parser = new_parser("log list", "What the log holds, the oldest entry first.")
    parser.add_argument("--symptom", metavar="ID", help="only this symptom")
    parser.add_argument("--machine", metavar="ID", help="only this machine")
    add_log_option(parser)
    options = parser.parse_args(list(words))
    log = chosen_log(options.log)
    entries = [
        entry
        for entry in log.entries()
        if options.symptom in (None, entry.repair.symptom) and options.machine in (None, entry.repair.machine)
    ]
    if options.json:
        print_json({"log": str(log.path), "repairs": [_as_json(entry) for entry in entries]})
        return 0
    for entry in entries:
        repair = entry.repair
        print(f"{entry.number:>5}  {repair.date}  {repair.machine}  {repair.symptom}")
        minutes = f", {repair.minutes} min" if repair.minutes is not None else ""
        print(f"       proven: {repair.cause}{minutes}{f' ({repair.note})' if repair.note else ''}")
        for done in repair.tests:
            print(f"       {done}")
    print(f"{counted(len(entries))} in {log.path}")
    return 0


def _as_json(entry: Entry) -> dict[str, object]:
    repair = entry.repair
    return {
        "number": entry.number,
        **repair.as_row(),
        "tests": [
            {"test": done.test, "result": done.result, "minutes": done.minutes} for done in repair.tests
        ],
        "minutes": repair.minutes,
    }


def _remove(words: Sequence[str]) -> int:
    parser = new_parser("log remove", "Take one wrong entry out of the log.")
    parser.add_argument("number", metavar="NUMBER", type=int, help="its number in `shearpin log list`")
    add_log_option(parser)
    options = parser.parse_args(list(words))
    log = chosen_log(options.log)
    removed = log.remove(options.number)
    if removed is None:
        raise UserError(f"the log has no entry {options.number}; `shearpin log list` shows their numbers", 1)
    if options.json:
        print_json({"log": str(log.path), "removed": _as_json(Entry(options.number, removed))})
    else:
        print(f"Taken out: {options.number}, {removed.date} {removed.machine} {removed.symptom}.")
    return 0


def _import(words: Sequence[str]) -> int:
    parser = new_parser(
        "log import", "Add the repairs of a CSV file: all of them, or none when one is wrong."
    )
    parser.add_argument("file", metavar="FILE", help="CSV as `log export` or a page of the manual writes it")
    add_log_option(parser)
    options = parser.parse_args(list(words))
    log = chosen_log(options.log)
    try:
        with open(options.file, "rb") as stream:
            content = stream.read(MAX_BYTES + 1)  # a device or a film by mistake must not fill the memory
    except OSError as error:
        raise UserError(f"{options.file} cannot be read: {error.strerror or error}") from error
    read = read_csv(content)
    faults = [item for item in read if isinstance(item, CsvFault)]
    repairs = [item for item in read if isinstance(item, Repair)]
    if faults:
        _print_faults(options.file, faults, as_json=options.json)
        return 1
    unknown = History(load_book_or_fail(options.kb), repairs).unknown
    added = log.add(repairs)
    if options.json:
        told = [{"kind": u.kind, "id": u.id, "repairs": u.count} for u in unknown]
        print_json({"log": str(log.path), "added": added.count, "known": len(added.known), "unknown": told})
        return 0
    print(f"{counted(added.count)} added to {log.path}.")
    if added.known:
        print(f"{len(added.known)} were there already and were left out:")
        _print_lines(f"{r.date} {r.machine} {r.symptom}: {r.cause}" for r in added.known)
        print("If one is another repair with the same findings, `shearpin log add --again` keeps it too.")
    for item in unknown:
        print(f"This book has no {item.kind} `{item.id}` ({counted(item.count)}); kept, but not counted.")
    return 0


def _print_faults(file: str, faults: Sequence[CsvFault], *, as_json: bool) -> None:
    if as_json:
        rows = [{"row": f.row, "column": f.column, "message": f.message} for f in faults]
        print_json({"added": 0, "faults": rows})
        return
    _print_lines((f"{file}: {fault}" for fault in faults), indent="", stream_error=True)
    print(f"{len(faults)} {'fault' if len(faults) == 1 else 'faults'}; nothing was added.", file=sys.stderr)


def _print_lines(lines: Iterable[str], indent: str = "  ", *, stream_error: bool = False) -> None:
    """Print lines, but no more than one can read."""
    stream = sys.stderr if stream_error else sys.stdout
    every = list(lines)
    for line in every[:_SHOWN_FAULTS]:
        print(f"{indent}{line}", file=stream)
    if len(every) > _SHOWN_FAULTS:
        print(f"{indent}and {len(every) - _SHOWN_FAULTS} more", file=stream)


def _export(words: Sequence[str]) -> int:
    parser = new_parser("log export", "Write all repairs as CSV, for a spreadsheet or another computer.")
    parser.add_argument("file", metavar="FILE", nargs="?", help="a new file (default: print it)")
    add_log_option(parser)
    options = parser.parse_args(list(words))
    log = chosen_log(options.log)
    entries = log.entries()
    text = write_csv(entry.repair for entry in entries)
    if options.file is not None:
        try:
            create_file(Path(options.file), text.encode("utf-8"))
        except WriteRefused as error:
            raise UserError(str(error), 1) from error
    if options.json:
        repairs = [_as_json(entry) for entry in entries]
        print_json({"log": str(log.path), "file": options.file, "repairs": repairs})
    elif options.file is not None:
        print(f"{counted(len(entries))} written to {options.file}.")
    else:
        sys.stdout.write(text.replace("\r\n", "\n"))  # the console writes the system's own line ends
    return 0


def _report(words: Sequence[str]) -> int:
    parser = new_parser("log report", "What the log says about the book.")
    add_log_option(parser)
    options = parser.parse_args(list(words))
    log = chosen_log(options.log)
    history = History(load_book_or_fail(options.kb), log.repairs())
    if options.json:
        print_json({"log": str(log.path), **report_json(history, report(history))})
    else:
        print("\n".join(report_lines(history, report(history))))
    return 0


ACTIONS: Final[Mapping[str, tuple[Callable[[Sequence[str]], int], str]]] = MappingProxyType(
    {
        "add": (_add, "keep what one repair has shown"),
        "list": (_list, "what the log holds"),
        "import": (_import, "add the repairs of a CSV file"),
        "export": (_export, "write all repairs as CSV"),
        "report": (_report, "causes that surprise, slow tests, symptoms without history"),
        "remove": (_remove, "take one wrong entry out"),
    }
)
