"""`shearpin verify`: whether a copy of an edition is as it was published, and what is damaged."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from shearpin.cli.common import UserError, new_parser, print_json
from shearpin.publish.faults import PublishError
from shearpin.publish.verification import Report, verify


def run(words: Sequence[str]) -> int:
    """Verify; returns 1 when anything differs from what was published."""
    parser = new_parser("verify", "Verify a copy of an edition: folder, zip, single file, or stick.")
    parser.add_argument(
        "path", metavar="PATH", help="folder or zip of an edition, or a folder that holds some"
    )
    parser.add_argument(
        "--fingerprint", metavar="HEX", help="the fingerprint that the issuer told you; it must be the same"
    )
    options = parser.parse_args(list(words))
    path = Path(options.path)
    wanted = "".join((options.fingerprint or "").split()).lower()
    if wanted and not re.fullmatch("[0-9a-f]{64}", wanted):
        raise UserError(f"`{options.fingerprint}` is no fingerprint: it has 64 digits, 0 to 9 and a to f")
    if not path.exists():
        raise UserError(f"there is no `{options.path}`")
    try:
        reports = verify(path)
    except PublishError as error:
        raise UserError(str(error), 1) from error
    strange = wanted and not any(report.fingerprint == wanted for report in reports)
    ok = not strange and all(report.whole for report in reports)
    if options.json:
        print_json(
            {"ok": ok, "problems": _problems(reports), "copies": [_copy(report) for report in reports]}
        )
        return 0 if ok else 1
    for report in reports:
        _print(report)
    if strange:
        print("The fingerprint is not the one you gave: this is not the edition that its issuer published.")
    return 0 if ok else 1


def _problems(reports: Sequence[Report]) -> list[dict[str, str]]:
    return [
        {"copy": str(report.path), "kind": p.kind, "path": p.path, "message": p.message}
        for report in reports
        for p in report.problems
    ]


def _copy(report: Report) -> dict[str, object]:
    return {
        "path": str(report.path),
        "ok": report.whole,
        "title": report.title,
        "number": report.number,
        "files": report.files,
        "fingerprint": report.fingerprint,
        "note": report.note,
    }


def _print(report: Report) -> None:
    name = f" ({report.title}, edition {report.number})" if report.title else ""
    print(_printable(f"{report.path}{name}"))
    for problem in report.problems:
        print(_printable(f"  {problem.kind}: {problem.path}: {problem.message}"))
    if not report.whole:
        count = len(report.problems)
        print(f"  {count} problem{'s' * (count != 1)}. Do not work from this copy; get a new one.")
        return
    print(
        f"  whole: {report.files:,} file{'s' * (report.files != 1)} as published{'; ' + report.note if report.note else ''}"
    )
    if report.fingerprint:
        print(f"  fingerprint {report.fingerprint}")


def _printable(words: str) -> str:
    """Return words without what would command a terminal: names of files on a stick may hold anything."""
    return "".join(c if c.isprintable() else f"U+{ord(c):04X}" for c in words)
