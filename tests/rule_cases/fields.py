"""Boundary cases of the rules on fields, file names, mentions in texts and suppressions (FLD, QTY, REF, SUP)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent
from tests.sound_book import swap

PUNCH = "tools/pin-punch.yaml"
INSPECTION = "tests/shear-bolt-inspection.yaml"
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
SAFE = "procedures/make-machine-safe.yaml"
D24 = "machines/brook-d24.yaml"
T28 = "machines/brook-t28.yaml"
_BEFORE = (
    "title: {}\npurpose: It is needed.\nsystems: [{}]\nbefore: [{}]\ntime: 1 min\nsteps:\n  - do: Do it.\n"
)
CHUTE = {"systems/chute.yaml": "title: Chute\nsummary: It turns.\n"}
TORQUE = "values/auger-shear-bolt.torque.yaml"


def _punch(text: str) -> dict[str, str]:
    return {PUNCH: f"title: Pin punch\n{text}"}


SHAPES: Final[tuple[Case, ...]] = (
    found("FLD001", "at the top", _punch("summary: a\nmade_by: b\n"), f"{PUNCH}:3:1"),
    found(
        "FLD001",
        "in a step",
        swap(SAFE, "switch.\n", "switch.\n    cuation: rotating-auger\n"),
        f"{SAFE}:8:5",
    ),
    found(
        "FLD001",
        "in a result, after letters beyond ASCII",
        swap(INSPECTION, "seen: A bolt is broken.", "seen: ±, sen: b"),
        f"{INSPECTION}:10:27",
    ),
    found("FLD001", "in a value's entry", swap(D24, "basis: demo", "basis: demo, bais: demo"), f"{D24}:8:53"),
    found(
        "FLD001",
        "as the type calls it",
        swap(D24, "class: two-stage", "class: two-stage\nclass_: a"),
        f"{D24}:4:1",
    ),
    found("FLD001", "a name with blanks", _punch("summary: a\nalso  called: b\n"), f"{PUNCH}:3:1"),
    found("FLD002", "at the top", {PUNCH: "# a punch\n\ntitle: Pin punch\n"}, f"{PUNCH}:3:1"),
    found("FLD002", "in a mapping", _punch("summary: a\nreview: {by: lead}\n"), f"{PUNCH}:3:1"),
    found("FLD002", "in an item", _punch("summary: a\nignore:\n  - code: FMT001\n"), f"{PUNCH}:4:5"),
    found("FLD003", "text for a mapping", _punch("summary: a\nreview: draft\n"), f"{PUNCH}:3:9"),
    found("FLD003", "nothing", _punch("summary:\n"), f"{PUNCH}:2:9"),
    found("FLD003", "only blanks", _punch("summary: '  '\n"), f"{PUNCH}:2:10"),
    found("FLD003", "a list for text", _punch("summary: [a]\n"), f"{PUNCH}:2:10"),
    found("FLD003", "an item that is no text", _punch("summary: ±\nalso: [b, [c]]\n"), f"{PUNCH}:3:11"),
    found(
        "FLD003",
        "an empty list of steps",
        swap(
            SAFE,
            "steps:\n  - do: Take the key out of the switch.\n  - do: Pull the boot off the spark plug.\n",
            "steps: []\n",
        ),
        f"{SAFE}:6:8",
    ),
    silent("FLD003", "one item without the dash", _punch("summary: a\nalso: drift\n")),
    found(
        "FLD004", "a word outside the list", _punch("summary: a\nreview: {state: done}\n"), f"{PUNCH}:3:17"
    ),
    found(
        "FLD004",
        "a date that no calendar has",
        _punch("summary: a\nreview: {state: draft, on: 2026-13-01}\n"),
        f"{PUNCH}:3:28",
    ),
    found(
        "FLD004",
        "a share above one",
        swap(INSPECTION, "sheared: usually}, otherwise: rarely", "sheared: 1.5}, otherwise: rarely"),
        f"{INSPECTION}:10:77",
    ),
    found(
        "FLD004",
        "an id with capitals as a key",
        swap(
            D24,
            "auger-shear-bolt.torque:",
            "auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n  Auger Torque:",
        ),
        f"{D24}:9:3",
    ),
    found(
        "FLD004",
        "an id in a list",
        _punch("summary: a\nsources: [bench-notes, Bench Notes]\n"),
        f"{PUNCH}:3:24",
    ),
    found("FLD004", "a single id", _punch("summary: a\nsources: Bench Notes\n"), f"{PUNCH}:3:10"),
    found(
        "FLD004",
        "a count of none",
        swap(REPLACE, "auger-shear-bolt}", "auger-shear-bolt, quantity: 0}"),
        f"{REPLACE}:9:44",
    ),
    found(
        "FLD004",
        "an address that is not https",
        swap("sources/bench-notes.yaml", "seen: own", "seen: own\nlink: http://a.example"),
        "sources/bench-notes.yaml:4:7",
    ),
    silent(
        "FLD004",
        "words that YAML 1.1 would turn",
        _punch("summary: no\nalso:\n- 1:30\n- 010\n- 1e3\n- yes\n- ~\n- 2026-10-02\nspecial: no\n"),
    ),
    found("QTY001", "a time", swap(REPLACE, "15 min", "15 minits"), f"{REPLACE}:7:10"),
    found(
        "QTY001", "a figure, after letters beyond ASCII", swap(T28, "9 ± 1 N·m", "9 ± 1 N·q"), f"{T28}:8:39"
    ),
    found("QTY001", "a band", swap(TORQUE, "4–15 N·m", "15–4 N·m"), f"{TORQUE}:5:10"),
    found(
        "QTY001", "blanks before it in quotes", swap(REPLACE, "15 min", '"  15 minits"'), f"{REPLACE}:7:13"
    ),
    silent("QTY001", "ASCII spelling", swap(T28, "9 ± 1 N·m", "9 +- 1 Nm")),
    found("QTY002", "a length for a torque", swap(T28, "9 ± 1 N·m", "9 mm"), f"{T28}:8:35"),
    found("QTY002", "a torque for a time", swap(REPLACE, "15 min", "15 N·m"), f"{REPLACE}:7:10"),
    found("QTY002", "a band in pounds", swap(TORQUE, "4–15 N·m", "4–15 lb"), f"{TORQUE}:5:12"),
    silent("QTY002", "the same in other units", swap(T28, "9 ± 1 N·m", "80 lbf·in")),
    found("QTY003", "just above the band", swap(T28, "9 ± 1 N·m", "14 ± 1.1 N·m"), f"{T28}:8:33"),
    found("QTY003", "just below the band", swap(T28, "9 ± 1 N·m", "3.9–5 N·m"), f"{T28}:8:33"),
    found("QTY003", "in other units", swap(T28, "9 ± 1 N·m", "15 lbf·ft"), f"{T28}:8:33"),
    silent("QTY003", "the band itself", swap(T28, "9 ± 1 N·m", "4–15 N·m")),
)

NAMES: Final[tuple[Case, ...]] = (
    found(
        "REF001",
        "in a list",
        _punch("summary: a\nsources: [bench-nots]\n"),
        f"{PUNCH}:3:11",
    ),
    found("REF001", "a single one", _punch("summary: a\ncautions: rotating-augur\n"), f"{PUNCH}:3:11"),
    found(
        "REF001", "in plain text", _punch("summary: ± Drives out {part:auger-sheer-bolt}.\n"), f"{PUNCH}:2:24"
    ),
    found("REF001", "in quotes", _punch('summary: "A \\"µ\\" {part:auger-sheer-bolt}."\n'), f"{PUNCH}:2:20"),
    found(
        "REF001",
        "in folded text",
        _punch("summary: >\n  Drives\n  out {part:auger-sheer-bolt}.\n"),
        f"{PUNCH}:4:8",
    ),
    found(
        "REF001",
        "in plain text over lines",
        _punch("summary: One\n  {part:auger-sheer-bolt}\n  {tool:x}.\n"),
        f"{PUNCH}:3:4",
        f"{PUNCH}:4:4",
    ),
    found(
        "REF001",
        "as a key",
        swap(D24, "basis: demo}\n", "basis: demo}\n  auger-shear-bolt.tork: {is: 8 N·m, basis: demo}\n"),
        f"{D24}:9:3",
    ),
    found(
        "REF001",
        "a kind that does not exist",
        _punch("summary: Like {tol:torque-wrench}.\n"),
        f"{PUNCH}:2:16",
    ),
    found(
        "REF001",
        "one of two plates",
        swap("parts/auger-shear-bolt.yaml", "brook-t28:", "brook-t29:"),
        "parts/auger-shear-bolt.yaml:8:3",
    ),
    silent("REF001", "a record that cannot be read", {**_punch("summary: Like {tool:torque-wrench}.\n")}),
    found(
        "REF002",
        "in a list",
        swap("terms/shear-bolt.yaml", "[auger-shear-bolt]", "[pin-punch]"),
        "terms/shear-bolt.yaml:4:9",
    ),
    found("REF002", "in a text", _punch("summary: Like {part:torque-wrench}.\n"), f"{PUNCH}:2:16"),
    found(
        "REF003",
        "capitals",
        {"terms/Drift.yaml": "title: Drift\ndefinition: A rod.\n"},
        "terms/Drift.yaml:1:1",
    ),
    found(
        "REF003",
        "a name of a Windows device",
        {"terms/aux.yaml": "title: Drift\ndefinition: A rod.\n"},
        "terms/aux.yaml:1:1",
    ),
    found(
        "REF003",
        "the list's own name",
        {"terms/index.yaml": "title: Drift\ndefinition: A rod.\n"},
        "terms/index.yaml:1:1",
    ),
    found(
        "REF003",
        "81 characters",
        {f"terms/{'a' * 81}.yaml": "title: Drift\ndefinition: A rod.\n"},
        f"terms/{'a' * 81}.yaml:1:1",
    ),
    silent("REF003", "80 characters", {f"terms/{'a' * 80}.yaml": "title: Drift\ndefinition: A rod.\n"}),
    found(
        "REF004",
        "ids that differ in capitals",
        {
            "terms/drift.yaml": "title: Drift\ndefinition: A rod.\n",
            "terms/DRIFT.yaml": "title: Drift punch\ndefinition: A rod.\nignore: [{code: REF003, reason: the clash is meant}]\n",
        },
        "terms/DRIFT.yaml:1:1",
    ),
    silent(
        "REF004", "one id in two kinds", {"terms/pin-punch.yaml": "title: Pin punch\ndefinition: A rod.\n"}
    ),
    found("REF005", "a lone brace", _punch("summary: ± Drives { out.\n"), f"{PUNCH}:2:19"),
    found("REF005", "a closing brace", _punch("summary: Drives} out.\n"), f"{PUNCH}:2:16"),
    found(
        "REF005",
        "twice in one folded text, the first where the text begins",
        _punch("summary: >-\n  {A B}\n  and {}.\n"),
        f"{PUNCH}:2:10",
        f"{PUNCH}:4:7",
    ),
    silent("REF005", "doubled braces", _punch("summary: Drives {{ and }} out.\n")),
    found(
        "REF006",
        "a procedure before itself",
        swap(SAFE, "time: 3 min", "before: [make-machine-safe]\ntime: 3 min"),
        f"{SAFE}:5:10",
    ),
    found(
        "REF006",
        "a circle of two",
        swap(SAFE, "time: 3 min", "before:\n  - replace-auger-shear-bolt\ntime: 3 min"),
        f"{SAFE}:6:5",
    ),
    found(
        "REF006",
        "two circles through one procedure, and a third beside them",
        {
            **swap(SAFE, "time: 3 min", "before: [replace-auger-shear-bolt, look]\ntime: 3 min"),
            **CHUTE,
            "procedures/look.yaml": _BEFORE.format("Look", "auger-drive", "make-machine-safe"),
            "procedures/lift.yaml": _BEFORE.format("Lift", "chute", "lower"),
            "procedures/lower.yaml": _BEFORE.format("Lower", "chute", "lift"),
        },
        "procedures/lift.yaml:4:10",
        "procedures/look.yaml:4:10",
        f"{SAFE}:5:10",
    ),
    found(
        "REF006",
        "two ways round",
        {
            **swap(SAFE, "time: 3 min", "before: [replace-auger-shear-bolt, look]\ntime: 3 min"),
            "procedures/look.yaml": _BEFORE.format("Look", "auger-drive", "replace-auger-shear-bolt"),
        },
        "procedures/look.yaml:4:10",
        f"{SAFE}:5:10",
    ),
    found(
        "REF007", "a tool", {"tools/drift.yaml": "title: Drift\nsummary: A rod.\n"}, "tools/drift.yaml:1:1"
    ),
    found(
        "REF007",
        "a record that only names itself",
        {"tools/drift.yaml": "title: Drift\nsummary: Like {tool:drift}.\n"},
        "tools/drift.yaml:1:1",
    ),
    found(
        "REF007",
        "a test that tells only of causes no symptom has",
        {
            "causes/rust.yaml": "title: Rust\nmechanism: a\nconfirmed_by: b\nsystems: auger-drive\n",
            "tests/turn.yaml": "title: Turn\npurpose: a\nsystems: auger-drive\nbefore: make-machine-safe\n"
            "time: 2 min\nsteps:\n  - do: Turn it.\nresults:\n"
            "  - {id: stuck, seen: Stuck., given: {rust: usually}, otherwise: rarely}\n"
            "  - {id: free, seen: Free., given: {rust: rarely}, otherwise: usually}\n",
        },
        "tests/turn.yaml:1:1",
    ),
    silent("REF007", "a kind that is looked up", {"terms/drift.yaml": "title: Drift\ndefinition: A rod.\n"}),
    found("REF008", "an extension", {"tools/drift.yml": "title: Drift\n"}, "tools/drift.yml:1:1"),
    found("REF008", "a folder", {"tool/drift.yaml": "title: Drift\n"}, "tool:1:1"),
    found("REF008", "a folder in a folder", {"tools/old/drift.yaml": "title: Drift\n"}, "tools/old:1:1"),
    found("REF008", "a file beside the folders", {"notes.txt": "later"}, "notes.txt:1:1"),
    silent(
        "REF008",
        "what editors leave behind",
        {
            "tools/.drift.yaml.swp": "a",
            "tools/drift.yaml~": "b",
            "tools/#drift.yaml#": "c",
            ".git/config": "d",
            "pages/index.md": "e",
        },
    ),
    found(
        "SUP001",
        "a code that finds nothing",
        _punch("summary: a\nignore:\n  - {reason: ±, code: FMT006}\n"),
        f"{PUNCH}:4:23",
    ),
    found(
        "SUP001",
        "a code that does not exist",
        _punch("summary: a\nignore: [{code: FMT999, reason: a}]\n"),
        f"{PUNCH}:3:17",
    ),
    silent(
        "SUP001",
        "a code that finds something",
        _punch("summary: 5\u00a0mm\nignore: [{code: FMT006, reason: it is meant}]\n"),
    ),
)
