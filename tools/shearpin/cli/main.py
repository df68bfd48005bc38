"""The command line: finds the command, and turns whatever happens into an exit code."""

from __future__ import annotations

import importlib
import os
import sys
import tempfile
import traceback
from collections.abc import Sequence
from types import MappingProxyType
from typing import Final

COMMANDS: Final = MappingProxyType(
    {
        "init": "begin a book for another shop: a small one that is complete, in a new folder",
        "check": "check all records and list what is wrong, with its place",
        "explain": "explain a rule by its code, or list all rules",
        "find": "find pages by what the customer said, a part number or a value",
        "diagnose": "causes by chance and tests in order, for a symptom on a machine",
        "value": "a value as it holds for a machine, with where it comes from",
        "cautions": "the cautions a record requires, and why",
        "calendar": "the service plan of a machine for a calendar, from a given date",
        "compute": "bench calculations: torque, belts, gears, fuel, electrics",
        "job": "one list for several procedures: cautions, tools, parts, minutes",
        "log": "keep what repairs have shown, and learn from it",
        "review": "note that records were reviewed, or list those whose review is missing or has lapsed",
        "coverage": "what the book still lacks, per machine, and how plain its words are",
        "new": "begin a record: a commented file with the fields of its kind",
        "format": "write records in the usual order, spelling and line length",
        "rename": "give a record another id, everywhere at once",
        "sheet": "values of machines and engines to a spreadsheet and back",
        "schema": "tell an editor the fields, ids and words of the records",
        "build": "check the records and build the manual",
        "export": "every record as a line of JSON, for search engines, databases and scripts",
        "translation": "what of a translated edition is still open, and files to begin a translation",
        "publish": "an edition to hand out: folder, zip, PDF, e-book, package for a learning system",
        "verify": "whether a copy of an edition is as it was published",
    }
)
"""Commands and what they do; each lives in the module of its name and is only imported when called."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns 0 clean, 1 findings, 2 wrong usage, 3 a bug of ours (with a log to send)."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    _write_any_text()
    if not words or words[0] in ("-h", "--help", "help"):
        _tell(_overview())
        return 0 if words else 2
    if words[0] == "--version":
        from shearpin import __version__

        print(f"shearpin {__version__}")
        return 0
    name = words[0]
    if name not in COMMANDS:
        from shearpin.checks.nearest import did_you_mean

        advice = did_you_mean(name, COMMANDS) or "`shearpin --help` lists the commands"
        print(f"shearpin: there is no command `{name}`; {advice}", file=sys.stderr)
        return 2
    return _guarded(name, words[1:])


def _guarded(name: str, words: list[str]) -> int:
    from shearpin.cli.common import UserError

    try:
        module = importlib.import_module(f"shearpin.cli.{name}")
        code = int(module.run(words))
        sys.stdout.flush()  # a reader that has gone is noticed here, not when Python ends
        return code
    except UserError as error:
        print(f"shearpin {name}: {error}", file=sys.stderr)
        return error.exit_code
    except SystemExit as error:  # argparse has said what is wrong
        return error.code if isinstance(error.code, int) else 2
    except BrokenPipeError:
        _let_reader_go()
        return 0
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130
    except Exception:
        return _report_bug(name, words)


def _tell(words: str) -> None:
    try:
        print(words, flush=True)
    except BrokenPipeError:
        _let_reader_go()


def _let_reader_go() -> None:
    """Write the rest nowhere: the reader of our output has gone, as `head` does, and nothing is wrong."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _report_bug(name: str, words: Sequence[str]) -> int:
    report = f"shearpin {' '.join([name, *words])}\n\n{traceback.format_exc()}"
    try:
        with tempfile.NamedTemporaryFile("wb", prefix="shearpin-", suffix=".log", delete=False) as log:
            log.write(report.encode("utf-8", "backslashreplace"))
        details = log.name
    except OSError as error:  # a full disk, or no right to write
        details = f"none, no log could be written ({error.strerror or error})"
    print(
        f"shearpin {name}: this is a fault of the program, not of your records. Details: {details}\n"
        "Please send that file to whoever looks after Shearpin where you work.",
        file=sys.stderr,
    )
    return 3


def _write_any_text() -> None:
    """Let ±, · and Ω through on consoles that would stop at them, and file names that are no text anywhere."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            if stream.isatty():
                reconfigure(errors="replace")
            else:
                reconfigure(encoding="utf-8", errors="backslashreplace")


def _overview() -> str:
    width = max(len(name) for name in COMMANDS)
    lines = [f"  {name:<{width}}  {summary}" for name, summary in COMMANDS.items()]
    return "\n".join(
        [
            "usage: shearpin COMMAND [options]",
            "",
            "Repair knowledge for small engines and outdoor power equipment.",
            "",
            *lines,
            "",
            "`shearpin COMMAND --help` says more. Exit codes: 0 clean, 1 findings, 2 wrong usage, 3 a fault of the program.",
        ]
    )


def run() -> None:
    """Console script."""
    sys.exit(main())
