"""Boundary cases of the rules on contradictions and doubles (CON)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent
from tests.sound_book import sound, swap

D24 = "machines/brook-d24.yaml"
T28 = "machines/brook-t28.yaml"
PUNCH = "tools/pin-punch.yaml"
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
SHEAR_BOLT = "terms/shear-bolt.yaml"
SAFE = "procedures/make-machine-safe.yaml"
SECOND = "values/shear-bolt-of-the-auger.torque.yaml"
TIGHTEN = "tighten it to {auger-shear-bolt.torque}."
GAP = {
    "values/auger-belt.deflection.yaml": "title: Auger belt deflection\nquantity: length\nplate: machine\n",
    **swap(
        D24, "basis: demo}\nservice", "basis: demo}\n  auger-belt.deflection: {is: 12 ± 2 mm, basis: demo}\nservice"
    ),
    **swap(
        T28, "basis: demo}\nsources", "basis: demo}\n  auger-belt.deflection: {is: 12 ± 2 mm, basis: demo}\nsources"
    ),
}  # fmt: skip
SHOWN = "{auger-belt.deflection}"


def _tighten(words: str) -> dict[str, str]:
    return swap(REPLACE, TIGHTEN, f"tighten it to {words}.")


def _punch(text: str) -> dict[str, str]:
    return {
        PUNCH: f"title: Pin punch\nsummary: >\n  Drives out pins.\n  {text} Shown here: {SHOWN}.\n",
        **GAP,
    }


def _second(
    first: str, second: str, title: str = "Tightening torque of the auger shear bolt"
) -> dict[str, str]:
    """Another value for the same bolt, on both machines."""
    more = "  shear-bolt-of-the-auger.torque: {is: %s, basis: demo}\n"
    return {
        SECOND: f"title: {title}\nquantity: torque\nplate: machine\napplies_to: {{class: two-stage}}\n",
        **swap(D24, "service:", more % first + "service:"),
        **swap(T28, "9 ± 1 N·m, basis: demo}\n", "9 ± 1 N·m, basis: demo}\n" + more % second),
        SHEAR_BOLT: sound(SHEAR_BOLT) + "avoid: ['x']\nsources: bench-notes\n",
        "terms/tight.yaml": "title: Tight\ndefinition: At {shear-bolt-of-the-auger.torque}.\n",
    }  # fmt: skip


ROD = "A steel rod, thinner than the hole, that drives a broken bolt or a pin out of "
STILL = "symptoms/still.yaml"


def with_another_symptom(said: str, applies: str = "{class: two-stage}") -> dict[str, str]:
    """Another symptom, with these words of the counter."""
    return {
        STILL: f"title: It stands still\nsummary: Nothing turns.\nsaid: [a, {said}]\napplies_to: {applies}\n"
        "systems: [auger-drive]\ncauses:\n  - {cause: auger-shear-bolt-sheared, chance: often}\n"
    }


def with_another_cause(title: str) -> dict[str, str]:
    """Another cause, with its test and its remedy."""
    return {
        "causes/other.yaml": f"title: {title}\nmechanism: A stone stopped it.\nconfirmed_by: Look.\nsystems: [auger-drive]\n"
        "applies_to: {class: two-stage}\n",
        **swap(REPLACE, "remedies: [", "remedies: [other, "),
        **swap("symptoms/one-side-of-auger-does-not-turn.yaml", "causes:\n", "causes:\n  - {cause: other, chance: usually}\n"),
        "tests/shear-bolt-inspection.yaml": sound("tests/shear-bolt-inspection.yaml")
        .replace("given: {auger-shear-bolt-sheared: usually", "given: {other: rarely, auger-shear-bolt-sheared: usually")
        .replace("given: {auger-shear-bolt-sheared: rarely", "given: {other: rarely, auger-shear-bolt-sheared: rarely")
        .replace("results:", "results:\n  - {id: else, seen: It is that., given: {other: usually, auger-shear-bolt-sheared: never}, otherwise: rarely}"),
    }  # fmt: skip


CONFLICTS: Final[tuple[Case, ...]] = (
    found("CON001", "just above the recorded range", _tighten("10.2 N·m"), f"{REPLACE}:12:45"),
    found("CON001", "right for one machine of two", _tighten("7.5–8.5 N·m"), f"{REPLACE}:12:45"),
    found("CON001", "in another unit", _tighten("9 lbf·ft"), f"{REPLACE}:12:45"),
    found("CON001", "named in words", _punch("The auger belt has a deflection of 15 mm."), f"{PUNCH}:4:38"),
    found(
        "CON001",
        "beside the value itself",
        swap(REPLACE, TIGHTEN, "tighten it to {auger-shear-bolt.torque} (12 N·m)."),
        f"{REPLACE}:12:72",
    ),
    silent("CON001", "a length of something else", _punch("The rod of the auger belt is 15 mm thick.")),
    silent("CON001", "no figure", _punch("The auger belt has a deflection.")),
    found("CON002", "the last figure within the range", _punch("The auger belt has a deflection of 14 mm."), f"{PUNCH}:4:38"),
    found(
        "CON002",
        "a torque that no value names",
        swap(SAFE, "Pull the boot off the spark plug.", "Set the boot clip to 2 N·m."),
        f"{SAFE}:8:30",
    ),
    silent("CON002", "a length that no value names", swap(SAFE, "Pull the boot off", "Pull the boot 20 mm off")),
    found("CON003", "on one machine", _second("8 N·m", "10 N·m"), f"{T28}:9:40"),
    found("CON003", "by a tolerance", _second("8 N·m", "9 ± 2 N·m"), f"{T28}:9:40"),
    found("CON004", "equal figures", _second("8 N·m", "9 ± 1 N·m"), f"{SECOND}:1:8"),
    found("CON004", "equal in another spelling", _second("8.0 N·m", "8–10 N·m"), f"{SECOND}:1:8"),
    silent("CON003", "another bolt", _second("8 N·m", "10 N·m", "Torque of the impeller shear bolt")),
    silent("CON004", "another bolt", _second("8 N·m", "9 ± 1 N·m", "Torque of the impeller shear bolt")),
    found(
        "CON005",
        "one word changed",
        {
            "terms/drift.yaml": f"title: Drift\ndefinition: {ROD}the shaft.\n",
            "terms/rod.yaml": f"title: Driving rod\ndefinition: {ROD}its shaft.\n",
        },
        "terms/rod.yaml:1:8",
    ),
    silent(
        "CON005",
        "half of it changed",
        {
            "terms/drift.yaml": f"title: Drift\ndefinition: {ROD}the shaft.\n",
            "terms/rod.yaml": "title: Driving rod\ndefinition: A steel rod, thinner than the hole, used with a hammer for small pins.\n",
        },
    ),
    silent(
        "CON005",
        "two kinds",
        {
            "terms/drift.yaml": f"title: Drift\ndefinition: {ROD}the shaft.\n",
            "tools/pin-punch.yaml": f"title: Pin punch\nsummary: {ROD}the shaft.\n",
        },
    ),
    found("CON006", "word for word", with_another_cause("The auger shear bolt sheared"), "causes/other.yaml:1:8"),
    found("CON006", "in the words of the counter", with_another_cause("Auger shear pin sheared"), "causes/other.yaml:1:8"),
    silent("CON006", "another word", with_another_cause("Auger shear bolt lost")),
    silent("CON006", "two kinds", {PUNCH: "title: Shear bolt\nsummary: Drives out pins.\n"}),
    found("CON007", "the same words", with_another_symptom("Half the auger is dead"), f"{STILL}:3:11"),
    silent("CON007", "other words", with_another_symptom("half the auger is slow")),
    found("CON008", "a title", {"terms/pin.yaml": "title: Pin\ndefinition: A pin.\nalso: [soft pin, Shear-Bolt]\n"}, "terms/pin.yaml:3:18"),
    found("CON008", "a misspelling", {"terms/zip.yaml": "title: Zip\ndefinition: A pin.\nmisspellings: shear pin\n"}, "terms/zip.yaml:3:15"),
    silent("CON008", "a plural", {"terms/zip.yaml": "title: Zip\ndefinition: A pin.\nalso: shear pins\n"}),
    found(
        "CON009",
        "a plural in a text",
        {SHEAR_BOLT: sound(SHEAR_BOLT) + "avoid: [safety bolt]\n", PUNCH: "title: Pin punch\nsummary: Drives out {part:auger-shear-bolt} and safety bolts.\n"},
        f"{PUNCH}:2:49",
    ),
    found(
        "CON009",
        "a title",
        {SHEAR_BOLT: sound(SHEAR_BOLT) + "avoid: [safety bolt]\n", PUNCH: "title: Safety bolt punch\nsummary: Drives out pins.\n"},
        f"{PUNCH}:1:8",
    ),
    silent(
        "CON009",
        "a part of a word, and its own term",
        {
            SHEAR_BOLT: "title: Shear bolt\ndefinition: Not a safety bolt.\navoid: [safety bolt]\nparts: [auger-shear-bolt]\n",
            PUNCH: "title: Pin punch\nsummary: Drives out safety bolting.\n",
        },
    ),
)  # fmt: skip
