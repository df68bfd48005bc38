"""Boundary cases of the rules on what the writer's tools leave and note: marks to be written over, former ids."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent

PUNCH = "tools/pin-punch.yaml"


def _punch(summary: str = "Drives out pins.", more: str = "") -> dict[str, str]:
    return {PUNCH: f"title: Pin punch\nsummary: {summary}\n{more}"}


WRITING: Final[tuple[Case, ...]] = (
    found("LNG030", "a mark inside a text", _punch("Out with <write what goes out>."), f"{PUNCH}:2:19"),
    found("LNG030", "a mark in a list", _punch(more="also: [drift, <write a name>]\n"), f"{PUNCH}:3:15"),
    found("LNG030", "a mark as the title", {PUNCH: "title: <write it>\nsummary: A.\n"}, f"{PUNCH}:1:8"),
    silent("LNG030", "a sign of less and one of greater", _punch("A gap < write it down > 3 mm.")),
    silent("LNG030", "a mark without words", _punch("It is <write>.")),
    found("REF015", "the id of another record", _punch(more="formerly: torque-wrench\n"), f"{PUNCH}:3:11"),
    found("REF015", "its own id", _punch(more="formerly: [drift, pin-punch]\n"), f"{PUNCH}:3:19"),
    found("REF015", "the list of records", _punch(more="formerly: [index]\n"), f"{PUNCH}:3:12"),
    found(
        "REF015",
        "one id of two records",
        {
            **_punch(more="formerly: [drift]\n"),
            "tools/torque-wrench.yaml": "title: Wrench\nsummary: A.\nformerly: drift\n",
        },
        "tools/torque-wrench.yaml:3:11",
    ),
    silent("REF015", "the id of another kind", _punch(more="formerly: [shear-bolt]\n")),
)
