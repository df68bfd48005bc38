"""Cases just short of a fault, for rules whose other cases show only the fault; and the rules of unwritten records."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent
from tests.rule_cases.conflicts import with_another_cause, with_another_symptom
from tests.sound_book import sound, swap

AUGER = "cautions/rotating-auger.yaml"
D24 = "machines/brook-d24.yaml"
T28 = "machines/brook-t28.yaml"
FIGURE = "figures/shear-bolt.yaml"
INSPECTION = "tests/shear-bolt-inspection.yaml"
PUNCH = "tools/pin-punch.yaml"
SAFE = "procedures/make-machine-safe.yaml"
SPEED = {
    "values/auger.speed.yaml": "title: Auger speed\nquantity: rotational-speed\nplate: machine\n",
    **swap(D24, "service:", "  auger.speed: {is: 100 rpm, basis: demo}\nservice:"),
    **swap(T28, "basis: demo}\nsources", "basis: demo}\n  auger.speed: {is: 100 rpm, basis: demo}\nsources"),
}

TURNING = """title: Turning auger
signal_word: WARNING
hazard: A rubber auger pulls at sleeves.
consequence: It can break an arm.
avoidance: [Let go of the lever first.]
severity: serious
likelihood: could
applies_to: {machines: brook-t28}
covers: {energies: [rotating-auger]}
sources: [bench-notes]
"""


def _punch(text: str) -> dict[str, str | bytes | None]:
    return {PUNCH: f"title: Pin punch\n{text}\n"}


NEAR: Final[tuple[Case, ...]] = (
    silent("DIA001", "a test names the cause", with_another_cause("Auger rusted to its shaft")),
    silent("DIA003", "one cause", with_another_symptom("the auger is dead")),
    silent(
        "DIA005",
        "a little likelier",
        {
            INSPECTION: sound(INSPECTION)
            .replace("{auger-shear-bolt-sheared: usually}, otherwise: rarely", '{auger-shear-bolt-sheared: "0.60"}, otherwise: "0.50"')
            .replace("{auger-shear-bolt-sheared: rarely}, otherwise: usually", '{auger-shear-bolt-sheared: "0.40"}, otherwise: "0.50"'),
            "tests/pull-check.yaml": sound(INSPECTION).replace("Shear bolt inspection", "Pull check").replace("Look through", "Pull at"),
        },
    ),
    silent("DIA006", "ids that differ in one letter", swap(INSPECTION, "id: whole", "id: brokem")),
    silent("FIG001", "one word", swap(FIGURE, "alt: ", "alt: Bolt. # ")),
    silent("FIG003", "a label that leads on", swap(FIGURE, "part: auger-shear-bolt", "term: shear-bolt")),
    silent("FLD001", "every field a tool can have", _punch("summary: A.\nalso: drift\nspecial: 'yes'\ncautions: rotating-auger\nreview: {state: draft}\nsources: bench-notes")),
    silent("FLD002", "only what must be there", _punch("summary: A.")),
    silent("FMT002", "the smallest record, without a line end", {PUNCH: "title: a\nsummary: b"}),
    silent("FMT003", "a tab and letters of another language", {PUNCH: "title: Pin punch\nsummary: Größe\tà 5 µm.\n"}),
    silent("REF002", "one of several kinds", _punch("summary: Like {tool:torque-wrench}.")),
    silent(
        "REF006",
        "two in a row",
        {
            "procedures/tag-it.yaml": "title: Tag it\npurpose: Others see it.\nsystems: [auger-drive]\nbefore: make-machine-safe\n"
            "time: 1 min\nsteps:\n  - do: Hang a tag on the handle.\n"
        },
    ),
    silent("SAF001", "an action that a caution covers", swap(SAFE, "Take the key out of the switch.", "Look at it.\n    action: run-engine")),
    silent("SAF001", "an energy with a caution for each machine", {**swap(AUGER, "severity:", "applies_to: {machines: brook-d24}\nseverity:"), "cautions/turning-auger.yaml": TURNING}),
    silent("VAL003", "a value that is defined", _punch("summary: For {auger-shear-bolt.torque}.")),
    silent("VAL004", "on its own plate", {**SPEED, **_punch("summary: For {auger.speed}.")}),
    silent("VAL006", "recorded for all", {**SPEED, **_punch("summary: For {auger.speed}.")}),
    found("LNG030", "in a text", _punch("summary: Drives <write what> out."), f"{PUNCH}:2:17"),
    found(
        "LNG030",
        "the kind of a machine",
        {
            "machines/brook-x.yaml": "title: Brook X\nsummary: A machine.\nclass: write-the-class-here\nplate: {where: frame}\n"
            "sources: [bench-notes]\n"
        },
        "machines/brook-x.yaml:3:8",
    ),
    silent("LNG030", "another bracket", _punch("summary: Drives out what is < 5 mm.")),
    found("REF015", "the second id is of another record", _punch("summary: A.\nformerly: [drift, torque-wrench]"), f"{PUNCH}:3:19"),
    silent("REF015", "of another kind", _punch("summary: A.\nformerly: [shear-bolt]")),
)  # fmt: skip
