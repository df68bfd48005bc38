"""Boundary cases of the rules on translations."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent

PUNCH: Final = "translations/es/tools/pin-punch.yaml"
WORK: Final = "translations/es/procedures/replace-auger-shear-bolt.yaml"
TIGHTEN: Final = "Fit the new bolt, and tighten it to {auger-shear-bolt.torque}."


def pairs(*texts: tuple[str, str]) -> str:
    rows = "".join(f'  - from: "{original}"\n    to: "{translated}"\n' for original, translated in texts)
    return f"texts:\n{rows}"


TRANSLATION: Final[tuple[Case, ...]] = (
    found("TRN001", "no such record", {"translations/es/tools/punch.yaml": pairs(("Pin punch", "Botador"))}, "translations/es/tools/punch.yaml:1:1"),
    found("TRN001", "no such folder", {"translations/es/hints/punch.yaml": pairs()}, "translations/es/hints/punch.yaml:1:1"),
    found("TRN001", "beside the folders", {"translations/es.yaml": "texts: []\n"}, "translations/es.yaml:1:1"),
    found("TRN001", "too deep", {"translations/es/tools/more/punch.yaml": "texts: []\n"}, "translations/es/tools/more:1:1"),
    found("TRN001", "a source", {"translations/es/sources/bench-notes.yaml": "texts: []\n"}, "translations/es/sources/bench-notes.yaml:1:1"),
    found("TRN001", "an unknown field", {PUNCH: "state: draft\ntext: []\ntexts: []\n"}, f"{PUNCH}:2:7"),
    found("TRN001", "no YAML", {PUNCH: "texts: [\n"}, f"{PUNCH}:2:1"),
    silent("TRN001", "what an editor leaves", {"translations/es/tools/.pin-punch.yaml.swp": b"\0", "translations/es/tools/a.yaml~": "x"}),
    found("TRN002", "a value that is lost", {WORK: pairs((TIGHTEN, "Apriete."))}, f"{WORK}:3:9"),
    found("TRN002", "another figure", {"tools/pin-punch.yaml": "title: Pin punch\nsummary: About 0.5 kg.\n", PUNCH: pairs(("About 0.5 kg.", "Unos 0,5 kg."))}, f"{PUNCH}:3:9"),
    silent("TRN002", "in another order, and what nobody translated", {WORK: pairs((TIGHTEN, "A {auger-shear-bolt.torque} apriete."), ("The bolt has sheared as designed.", ""))}),
    found("TRN003", "the second of two", {PUNCH: pairs(("Pin punch", "Botador"), ("Drives out broken bolts.", "Saca pernos."))}, f"{PUNCH}:4:11"),
    silent("TRN003", "all as it stands", {PUNCH: pairs(("Pin punch", "Botador"), ("Drives out broken shear bolts.", "Saca pernos."))}),
)  # fmt: skip
