"""`shearpin check`: every finding, with its place and what to do."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.book.failure import BookError
from shearpin.cli.common import (
    UserError,
    add_work_options,
    new_parser,
    print_json,
    records_folder,
    told_of_work,
)
from shearpin.model.ending import hold_until_the_end
from shearpin.model.finding import Finding, Severity
from shearpin.verdict import verdict_on


def run(words: Sequence[str]) -> int:
    """Check all records; returns 0 when nothing was found, else 1."""
    parser = new_parser("check", "Check all records and list what is wrong.")
    parser.add_argument(
        "--format",
        choices=("text", "json", "sarif", "github"),
        default="text",
        help="for people, as JSON, as SARIF 2.1.0, or as workflow commands (default: text)",
    )
    add_work_options(parser)
    options = parser.parse_args(list(words))
    form = "json" if options.json and options.format == "text" else options.format
    try:
        with told_of_work(options):
            verdict = verdict_on(*records_folder(options.kb), hold_until_the_end)
    except BookError as error:
        raise UserError(str(error), 1) from error
    findings, count = verdict.findings, verdict.records
    if form == "json":
        print_json({"records": count, "findings": [as_json(finding) for finding in findings]})
    elif form == "text":
        _print_for_people(findings, count)
    else:
        _print_for_programs(form, findings)
    return 1 if findings else 0


def _print_for_programs(form: str, findings: Sequence[Finding]) -> None:
    # Only imported here: a check of unchanged records must not wait for the rules.
    from shearpin.catalogue import RULES
    from shearpin.cli.reports import as_sarif, as_workflow_commands

    if form == "sarif":
        print_json(as_sarif(findings, RULES))
    else:
        for line in as_workflow_commands(findings, RULES):
            print(line)


def as_json(finding: Finding) -> dict[str, object]:
    """Return a finding as the documented JSON object."""
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "path": finding.path,
        "line": finding.line,
        "column": finding.column,
        "message": finding.message,
        "help": finding.help,
        "related": list(finding.related),
        "hides": list(finding.hides),
    }


def _print_for_people(findings: Sequence[Finding], count: int) -> None:
    for finding in findings:
        print(finding)
        if finding.help:
            print(f"    help: {finding.help}")
        for place in finding.related:
            print(f"    see: {place}")
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    warnings = len(findings) - errors
    found = (
        f"{errors} error{'s' * (errors != 1)}, {warnings} warning{'s' * (warnings != 1)}"
        if findings
        else "all clean"
    )
    print(f"{count} record{'s' * (count != 1)}: {found}")
