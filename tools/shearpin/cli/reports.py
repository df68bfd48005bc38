"""Findings in the forms that other programs read: SARIF 2.1.0 and workflow commands."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

from shearpin import __version__
from shearpin.checks.rule import AnyRule
from shearpin.model.finding import Finding

_PLACE: Final = re.compile(r"(.*):([0-9]+):([0-9]+)")
_SCHEMA: Final = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def as_sarif(findings: Sequence[Finding], rules: Mapping[str, AnyRule]) -> dict[str, Any]:
    """Return a SARIF 2.1.0 log with one run: every rule of the program, and a result for each finding.

    Columns count characters, so `columnKind` is `unicodeCodePoints`; the two fingerprints stay the same when lines move.
    """
    order = {code: index for index, code in enumerate(rules)}
    driver = {
        "name": "shearpin",
        "version": __version__,
        "rules": [_descriptor(rule) for rule in rules.values()],
    }
    return {
        "$schema": _SCHEMA,
        "version": "2.1.0",
        "runs": [
            {
                "tool": {"driver": driver},
                "columnKind": "unicodeCodePoints",
                "results": [_result(finding, order[finding.code]) for finding in findings],
            }
        ],
    }


def _descriptor(rule: AnyRule) -> dict[str, Any]:
    return {
        "id": rule.code,
        "name": "".join(word.capitalize() for word in rule.name.split("-")),
        "shortDescription": {"text": rule.summary},
        "fullDescription": {"text": " ".join(rule.why.split())},
        "help": {"text": f"`shearpin explain {rule.code}` shows a bad and a good example."},
        "defaultConfiguration": {"level": rule.severity.value},
    }


def _result(finding: Finding, rule_index: int) -> dict[str, Any]:
    advice = f" Help: {finding.help}." if finding.help else ""
    said = f"{finding.code} {finding.path} {finding.message}"
    result: dict[str, Any] = {
        "ruleId": finding.code,
        "ruleIndex": rule_index,
        "level": finding.severity.value,
        "message": {"text": f"{finding.message}.{advice}"},
        "locations": [_location(finding.path, finding.line, finding.column)],
        "partialFingerprints": {"codePathMessage/v1": hashlib.sha256(said.encode()).hexdigest()[:32]},
    }
    related = [_related(place) for place in finding.related]
    if related:
        result["relatedLocations"] = [{"id": number, **place} for number, place in enumerate(related, 1)]
    return result


def _related(place: str) -> dict[str, Any]:
    match = _PLACE.fullmatch(place)
    assert match is not None  # `related` of a finding is written by us
    path, line, column = match.groups()
    return {**_location(path, int(line), int(column)), "message": {"text": "see here"}}


def _location(path: str, line: int, column: int) -> dict[str, Any]:
    region = {"startLine": line, "startColumn": column}
    return {"physicalLocation": {"artifactLocation": {"uri": _uri(path)}, "region": region}}


def _uri(path: str) -> str:
    """Return a URI: relative for a path below the current folder, else with `file:`, for `..` has no place in one."""
    if Path(path).is_absolute() or ".." in path.split("/"):
        return Path(path).resolve().as_uri()
    return quote(path)


def as_workflow_commands(findings: Sequence[Finding], rules: Mapping[str, AnyRule]) -> list[str]:
    """Return a line for each finding in the form of workflow commands, which mark the place in a change under review."""
    return [
        f"::{finding.severity.value} file={_property(finding.path)},line={finding.line},col={finding.column},"
        f"title={_property(f'{finding.code} {rules[finding.code].name}')}::"
        + _data(f"{finding.message}\n{finding.help}" if finding.help else finding.message)
        for finding in findings
    ]


def _data(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
