"""Boundary cases of the rules on safety, instructions and chances (SAF, LNG, DIA)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, Files, found, silent
from tests.sound_book import swap

AUGER = "cautions/rotating-auger.yaml"
DRIVE = "systems/auger-drive.yaml"
INSPECTION = "tests/shear-bolt-inspection.yaml"
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
SAFE = "procedures/make-machine-safe.yaml"
FIRST = "- do: Take the key out of the switch."
_CHAIN = (
    "title: Running chain\nsignal_word: {}\nseverity: serious\nlikelihood: {}\nhazard: The chain cuts.\n"
    "consequence: It cuts to the bone.\navoidance: [Stop it first.]\ncovers: {{energies: [running-chain]}}\nsources: [bench-notes]\n"
)


def _first_step(step: str) -> dict[str, str]:
    return swap(SAFE, FIRST, step)


def _results(text: str) -> dict[str, str]:
    rows = (
        "results:\n"
        "  - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}\n"
        "  - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: rarely}, otherwise: usually}\n"
    )
    return swap(INSPECTION, rows, text)


def _symptom(name: str, cause: str) -> Files:
    return {
        f"causes/{cause}.yaml": "title: A cause\nmechanism: Rust.\nconfirmed_by: Looking.\nsystems: [auger-drive]\n",
        f"symptoms/{name}.yaml": f"title: A symptom\nsummary: A rattle.\nsystems: [auger-drive]\ncauses:\n  - {{cause: {cause}, chance: often}}\n",
    }


def _remedy(cause: str) -> Files:
    return {
        "procedures/free-auger.yaml": "title: Free\npurpose: It slips.\nsystems: [auger-drive]\n"
        f"remedies: [{cause}]\nbefore: [make-machine-safe]\ntime: 9 min\nsteps:\n  - do: Soak it.\n"
    }


def _told(cause: str) -> Files:
    return {
        "tests/turn.yaml": "title: Turn\npurpose: Shows rust.\nsystems: [auger-drive]\nbefore: [make-machine-safe]\ntime: 2 min\n"
        "steps:\n  - do: Turn the tube.\nresults:\n"
        f"  - {{id: stuck, seen: Stuck., given: {{{cause}: usually}}, otherwise: rarely}}\n"
        f"  - {{id: free, seen: Free., given: {{{cause}: rarely}}, otherwise: usually}}\n"
    }


def _two_alike(share: int) -> Files:
    """The inspection is broken for rust in `share` of 100 cases, for a sheared bolt in 90."""
    return {
        **_symptom("rattle", "rust"),
        **_remedy("rust"),
        "symptoms/rattle.yaml": "title: A symptom\nsummary: A rattle.\nsystems: [auger-drive]\ncauses:\n"
        "  - {cause: auger-shear-bolt-sheared, chance: often}\n  - {cause: rust, chance: often}\n",
        **_results(
            "results:\n"
            f"  - {{id: a, seen: A., given: {{auger-shear-bolt-sheared: 90 %, rust: {share} %}}, otherwise: 10 %}}\n"
            f"  - {{id: b, seen: B., given: {{auger-shear-bolt-sheared: 10 %, rust: {100 - share} %}}, otherwise: 90 %}}\n"
        ),
    }


def _rare(otherwise: int) -> Files:
    """One cause with a test that makes it 8.5 times likelier, and something else in `otherwise` of 100 cases."""
    symptom = _symptom("rattle", "rust")
    text = str(symptom["symptoms/rattle.yaml"]) + f"something_else: {otherwise} %\n"
    return {**symptom, **_told("rust"), **_remedy("rust"), "symptoms/rattle.yaml": text}


SAFETY: Final[tuple[Case, ...]] = (
    found(
        "SAF001",
        "an action",
        _first_step("- do: Take the key out.\n    action: [run-engine, run-enjine]"),
        f"{SAFE}:8:26",
    ),
    found(
        "SAF001",
        "a single action",
        _first_step("- do: Take the key out.\n    action: run-enjine"),
        f"{SAFE}:8:13",
    ),
    found(
        "SAF001",
        "an energy of a system",
        swap(DRIVE, "[rotating-auger]", "[rotating-auger, springs]"),
        f"{DRIVE}:3:28",
    ),
    found(
        "SAF001",
        "an energy that is isolated",
        swap(SAFE, "[rotating-auger]", "[rotating-auger, rotating-augr]"),
        f"{SAFE}:3:28",
    ),
    found(
        "SAF001",
        "in a finishing step",
        swap(REPLACE, "action: run-engine", "action: [run-engine, swing]"),
        f"{REPLACE}:15:26",
    ),
    found(
        "SAF001",
        "an energy of a machine that no caution is for",
        swap(AUGER, "severity:", "applies_to: {machines: brook-d24}\nseverity:"),
        "machines/brook-t28.yaml:3:8",
    ),
    found("SAF002", "too weak", swap(AUGER, "signal_word: DANGER", "signal_word: CAUTION"), f"{AUGER}:2:14"),
    found("SAF002", "too strong", swap(AUGER, "likelihood: will", "likelihood: could"), f"{AUGER}:2:14"),
    silent(
        "SAF002",
        "could be serious",
        {AUGER: swap(AUGER, "likelihood: will", "likelihood: could")[AUGER].replace("DANGER", "WARNING")},
    ),
    found(
        "SAF003",
        "after the instruction",
        _first_step("- do: Turn the auger. Keep your fingers away."),
        f"{SAFE}:7:25",
    ),
    found(
        "SAF003",
        "in folded text",
        _first_step("- do: >-\n      Turn the µ auger.\n      Never reach in."),
        f"{SAFE}:9:7",
    ),
    found("SAF003", "in quotes", _first_step('- do: "Turn the \\"auger\\"; watch out."'), f"{SAFE}:7:30"),
    found(
        "SAF003",
        "in a note",
        _first_step("- do: Turn the auger.\n    note: It can cut deep."),
        f"{SAFE}:8:14",
    ),
    found(
        "SAF003",
        "protection named only in a note",
        _first_step("- do: Cut the wire.\n    note: Ends spring out. Keep your face away."),
        f"{SAFE}:8:28",
    ),
    silent(
        "SAF003", "before the instruction", _first_step("- do: Keep your fingers away, and turn the auger.")
    ),
    found("SAF004", "at the start", _first_step("- do: Start the engine."), f"{SAFE}:7:9"),
    found(
        "SAF004",
        "after a condition",
        _first_step("- do: On level ground, tip the machine back."),
        f"{SAFE}:7:26",
    ),
    found(
        "SAF004",
        "one of two",
        _first_step("- do: Drain the fuel, and run the engine.\n    action: run-engine"),
        f"{SAFE}:7:9",
    ),
    found(
        "SAF004",
        "in quotes over two lines",
        _first_step('- do: "Pull the key, and\n      start the engine."'),
        f"{SAFE}:8:7",
    ),
    silent("SAF004", "told, not done", _first_step("- do: Do not start the engine.")),
    silent("SAF004", "declared", _first_step("- do: Start the engine.\n    action: run-engine")),
    found("SAF005", "no preparation", swap(REPLACE, "before: [make-machine-safe]\n", ""), f"{REPLACE}:4:11"),
    found(
        "SAF005",
        "another preparation",
        {
            **swap(INSPECTION, "[make-machine-safe]", "[look]"),
            "procedures/look.yaml": "title: Look\npurpose: See.\nsystems: [chute]\ntime: 1 min\nsteps:\n  - do: Look.\n",
            "systems/chute.yaml": "title: Chute\nsummary: It turns.\n",
        },
        f"{INSPECTION}:5:1",
    ),
    found(
        "SAF005",
        "it isolates another energy",
        {
            **swap(REPLACE, "before: [make-machine-safe]\n", "isolates: [spring]\n"),
            **swap(AUGER, "energies: [rotating-auger]", "energies: [rotating-auger, spring]"),
        },
        f"{REPLACE}:4:11",
    ),
    silent(
        "SAF005",
        "a preparation's preparation",
        {
            **swap(REPLACE, "[make-machine-safe]", "[look]"),
            "procedures/look.yaml": "title: Look\npurpose: See.\nsystems: [auger-drive]\nbefore: [make-machine-safe]\ntime: 1 min\nsteps:\n  - do: Look.\n",
        },
    ),
    found(
        "SAF005",
        "not on one of the machines",
        {**swap(SAFE, "isolates:", "applies_to: {fitted: friction-drive}\nisolates:")},
        f"{SAFE}:4:1",
    ),
    found(
        "SAF005",
        "on one of the machines in one record alone",
        {
            **swap(SAFE, "isolates:", "applies_to: {fitted: friction-drive}\nisolates:"),
            **swap(INSPECTION, "{class: two-stage}", "{fitted: friction-drive}"),
        },
        f"{REPLACE}:6:1",
    ),
    found(
        "SAF005",
        "in a record of its own where another suppresses it",
        {
            **swap(SAFE, "isolates:", "applies_to: {fitted: friction-drive}\nisolates:"),
            **swap(INSPECTION, "systems:", "ignore: [{code: SAF005, reason: seen from afar}]\nsystems:"),
        },
        f"{SAFE}:4:1",
    ),
    found(
        "SAF005",
        "the procedure is for an engine, one machine has none",
        {
            **swap(
                "machines/brook-t28.yaml",
                "engine: ell-e212\nfitted: [recoil-start, tracks]",
                "fitted: [tracks]",
            ),
            **swap(SAFE, "isolates:", "applies_to: {fitted: engine}\nisolates:"),
        },
        f"{SAFE}:4:1",
    ),
    found(
        "SAF006",
        "the second energy of a system",
        {
            **swap(DRIVE, "energies: [rotating-auger]", "energies: [rotating-auger, running-chain]"),
            "cautions/running-chain.yaml": _CHAIN.format("DANGER", "will"),
        },
        f"{DRIVE}:3:28",
    ),
    silent(
        "SAF006",
        "one that does not move",
        {
            **swap(DRIVE, "energies: [rotating-auger]", "energies: [rotating-auger, hot-chain]"),
            "cautions/hot-chain.yaml": _CHAIN.format("DANGER", "will")
            .replace("unning", "ot")
            .replace("Rot", "Hot")
            .replace("rot-", "hot-"),
        },
    ),
    found("LNG001", "21 words", _first_step(f"- do: {'one ' * 20}end."), f"{SAFE}:7:9"),
    found(
        "LNG001", "the second sentence", _first_step(f"- do: Take ± it. {'one ' * 20}end."), f"{SAFE}:7:20"
    ),
    found(
        "LNG001",
        "in folded text",
        _first_step(f"- do: >\n      Take it.\n      {'one ' * 20}\n      end."),
        f"{SAFE}:9:7",
    ),
    silent("LNG001", "20 words", _first_step(f"- do: {'one ' * 19}end.")),
    silent(
        "LNG001",
        "a value and a figure are one word",
        _first_step(f"- do: {'one ' * 18}{{auger-shear-bolt.torque}} 2.5."),
    ),
)

DIAGNOSIS: Final[tuple[Case, ...]] = (
    found(
        "DIA001",
        "a cause no test names",
        {**_symptom("rattle", "rust"), **_remedy("rust")},
        "causes/rust.yaml:1:1",
    ),
    found(
        "DIA002",
        "a cause nothing cures",
        {**_symptom("rattle", "rust"), **_told("rust")},
        "causes/rust.yaml:1:1",
    ),
    silent("DIA002", "told and cured", {**_symptom("rattle", "rust"), **_told("rust"), **_remedy("rust")}),
    found(
        "DIA003",
        "an empty list",
        {"symptoms/rattle.yaml": "title: A\nsummary: B.\nsystems: [auger-drive]\ncauses: []\n"},
        "symptoms/rattle.yaml:1:1",
    ),
    found(
        "DIA004",
        "shares above one",
        _results(
            "results:\n"
            '  - {id: a, seen: A., given: {auger-shear-bolt-sheared: "0.52"}, otherwise: "0.1"}\n'
            '  - {id: b, seen: B., given: {auger-shear-bolt-sheared: 50 %}, otherwise: "0.9"}\n'
        ),
        f"{INSPECTION}:9:1",
    ),
    found(
        "DIA004",
        "shares above one, one left out",
        _results(
            "results:\n"
            '  - {id: a, seen: A., given: {auger-shear-bolt-sheared: "0.8"}, otherwise: "0.1"}\n'
            '  - {id: b, seen: B., given: {auger-shear-bolt-sheared: "0.8"}, otherwise: "0.9"}\n'
            "  - {id: c, seen: C.}\n"
        ),
        f"{INSPECTION}:9:1",
    ),
    found(
        "DIA004",
        "words far off",
        _results(
            "results:\n"
            "  - {id: a, seen: A., given: {auger-shear-bolt-sheared: always}, otherwise: rarely}\n"
            "  - {id: b, seen: B., given: {auger-shear-bolt-sheared: usually}, otherwise: usually}\n"
        ),
        f"{INSPECTION}:9:1",
    ),
    silent(
        "DIA004",
        "shares rounded",
        _results(
            "results:\n"
            '  - {id: a, seen: A., given: {auger-shear-bolt-sheared: "0.51"}, otherwise: "0.1"}\n'
            '  - {id: b, seen: B., given: {auger-shear-bolt-sheared: "0.5"}, otherwise: "0.9"}\n'
        ),
    ),
    silent(
        "DIA004",
        "the rest left out",
        _results(
            "results:\n"
            "  - {id: a, seen: A., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}\n"
            "  - {id: b, seen: B.}\n"
        ),
    ),
    found(
        "DIA005",
        "all alike once scaled",
        _results(
            "results:\n"
            "  - {id: a, seen: A., given: {auger-shear-bolt-sheared: often}, otherwise: often}\n"
            "  - {id: b, seen: B., given: {auger-shear-bolt-sheared: often}, otherwise: often}\n"
        ),
        f"{INSPECTION}:9:1",
    ),
    found(
        "DIA006",
        "the third like the first",
        _results(
            "results:\n"
            "  - {id: a, seen: A., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}\n"
            "  - {id: b, seen: B., given: {auger-shear-bolt-sheared: rarely}, otherwise: often}\n"
            "  - {seen: ± C., id: a, given: {auger-shear-bolt-sheared: rarely}, otherwise: sometimes}\n"
        ),
        f"{INSPECTION}:12:22",
    ),
    found(
        "DIA007",
        "the same whatever is seen, and no cure in common",
        _two_alike(90),
        "symptoms/rattle.yaml:6:13",
    ),
    silent("DIA007", "some way apart", {**_two_alike(30), **_told("rust")}),
    found(
        "DIA008", "one in twelve, 8.5 times likelier after the test", _rare(92), "symptoms/rattle.yaml:5:13"
    ),
    silent("DIA008", "one in eight, 8.5 times likelier after the test", _rare(88)),
)
