"""The ids of all reference rows on fasteners, drives, engines and electrics, and why some are not used."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType


def _span(letter: str, *spans: tuple[int, int]) -> tuple[str, ...]:
    return tuple(f"{letter}{number:02d}" for first, last in spans for number in range(first, last + 1))


IDS: tuple[str, ...] = (
    *_span("F", (1, 9)),
    *_span("T", (1, 10), (20, 29)),
    *_span("S", (1, 7), (10, 17)),
    *_span("K", (1, 12)),
    *_span("W", (1, 9)),
    *_span("G", (1, 16), (30, 49), (60, 73), (80, 86)),
    *_span("X", (1, 10)),
    *_span("H", (1, 5), (10, 12)),
    *_span("B", (1, 16), (20, 24), (30, 31), (40, 44)),
    *_span("E", (1, 9), (20, 30), (32, 33), (40, 48)),
    *_span("J", (1, 15)),
    *_span("Q", (1, 7), (10, 15)),
    *_span("L", (1, 11), (20, 26)),
)

_FAA_TABLE = "FAA AC 43.13-1B Table 7-1: stored torques; no function looks them up"
_TM_TABLE = "TM 9-2320-362-14&P Table F-1: stored torques; no function looks them up"
_PLUG = "a band of government engines for records, not a computation"
_PRACTICE = "common practice, no source: never an oracle"
_J300_HOT = "SAE J300 high-temperature columns: no function looks them up"
_MEMORY = "from memory, not checked against the document"

UNUSED: Mapping[str, str] = MappingProxyType(
    {
        "F01": f"{_MEMORY}; the stress areas of T01 to T10 judge the formula",
        "K06": f"{_MEMORY}; carried as data with that remark",
        "K10": "a rule for people (the torque of the original fastener); it stands in cautions",
        "W06": "load share of a clamped joint: a bench has no stiffness figures, so it is not computed",
        **dict.fromkeys(_span("G", (30, 49)), _FAA_TABLE),
        **dict.fromkeys(_span("G", (60, 73)), _TM_TABLE),
        "H01": f"{_MEMORY}; H10 to H12 judge its use",
        "H02": f"{_MEMORY}; H10 to H12 judge its use",
        "B13": "stepped cones of a crossed belt: these machines have none, so it is not computed",
        "B16": "an observation over these rows; tested as a property over all pulleys",
        **dict.fromkeys(_span("E", (20, 27)), _PLUG),
        **dict.fromkeys((*_span("E", (28, 30)), "E32", "E33"), _PRACTICE),
        "E43": "dimensions of the orifice of a tester, not a computation",
        "E45": "a caution, not a computation; it stands with the leak-down calculation",
        "E46": "a rule for comparing several cylinders; these engines have one",
        **dict.fromkeys(("E47", "E48"), _PRACTICE),
        **dict.fromkeys(_span("J", (7, 15)), _J300_HOT),
        "Q02": "where the rule was published, not a computation",
        "Q04": f"{_MEMORY}; the successor citation is not printed",
        "Q06": _PRACTICE,
        "Q07": f"{_MEMORY}; no function looks vapour pressure up",
        "L02": "resistivity: no conductor is computed from its length",
        "L03": f"{_MEMORY}; L04 and L11 judge its use",
        "L20": f"{_MEMORY}; L26 and properties judge the interpolation",
        "L21": "a rounded variant without authority, up to 0.06 V from L20",
        "L22": "voltage from specific gravity is not computed",
        "L23": "cranking power from specific gravity: no function looks it up",
        "L24": "a limit for records, not a computation",
        "L25": "self-discharge: no function looks it up",
    }
)
