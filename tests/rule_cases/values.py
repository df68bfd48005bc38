"""Boundary cases of the rules on values, applicability and editions (VAL, APP, EDN)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, Files, found, silent
from tests.sound_book import swap

D24 = "machines/brook-d24.yaml"
T28 = "machines/brook-t28.yaml"
E212 = "engines/ell-e212.yaml"
TORQUE = "values/auger-shear-bolt.torque.yaml"
PUNCH = "tools/pin-punch.yaml"
SAFE = "procedures/make-machine-safe.yaml"
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
INSPECTION = "tests/shear-bolt-inspection.yaml"
SYMPTOM = "symptoms/one-side-of-auger-does-not-turn.yaml"
EDITION = "editions/whole-book.yaml"
ENTRY = "  auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n"
GAP = {"values/plug.gap.yaml": "title: Gap\nquantity: length\nplate: engine\n"}
PUNCH_TEXT = "title: Pin punch\nsummary: Drives out pins.\n"
LAPSED = "review: {state: reviewed, by: instructor, on: 2026-10-02, digest: 0123456789abcdef}\n"
UNBOUND = "review: {state: reviewed, by: instructor, on: 2026-10-02}\n"
PLATED = "title: Ell E212\nsummary: An engine.\nplate: {where: above}\n"
PLUG_GAP = {
    **GAP,
    E212: f"{PLATED}values:\n  plug.gap: {{is: 0.7 mm, basis: demo}}\nsources: [bench-notes]\n",
}


def _shown(name: str) -> dict[str, str]:
    return swap(SAFE, "Take the key out of the switch.", f"Set it to {{{name}}}.")


def _many(shown: bool, count: int) -> Files:
    """Values that no machine has, each shown in a step of its own, or in a tool that no machine waits for."""
    names = ["belt", "cable", "chain", "pulley", "ring", "shaft", "spring"][:count]
    kinds = {
        f"values/{name}.size.yaml": f"title: Size of the {name}\nquantity: length\nplate: machine\n"
        for name in names
    }
    if shown:
        steps = "\n".join(f"  - do: Measure {{{name}.size}}." for name in names)
        return {**kinds, **swap(SAFE, "  - do: Take the key out of the switch.", steps)}
    listed = " ".join(f"It fits {{{name}.size}}." for name in names)
    return {**kinds, PUNCH: f"title: Pin punch\nsummary: Drives out pins. {listed}\n"}


VALUES: Final[tuple[Case, ...]] = (
    found(
        "VAL001",
        "no values at all",
        swap(T28, "values:\n  auger-shear-bolt.torque: {is: 9 ± 1 N·m, basis: demo}\n", ""),
        f"{T28}:1:1",
    ),
    found(
        "VAL001",
        "other values only",
        {
            **swap(D24, ENTRY, "  auger.speed: {is: 100 rpm, basis: demo}\n"),
            "values/auger.speed.yaml": "title: Speed\nquantity: rotational-speed\nplate: machine\napplies_to: {machines: brook-d24}\n",
        },
        f"{D24}:7:1",
    ),
    found("VAL001", "six: each by itself", _many(True, 6), *[f"{D24}:7:1"] * 6, *[f"{T28}:7:1"] * 6),
    found("VAL001", "seven: together", _many(True, 7), f"{D24}:7:1", f"{T28}:7:1"),
    found("VAL006", "six: each by itself", _many(False, 6), *[f"{D24}:7:1"] * 6, *[f"{T28}:7:1"] * 6),
    found("VAL006", "seven: together", _many(False, 7), f"{D24}:7:1", f"{T28}:7:1"),
    found("VAL001", "of an engine, once for both machines", {**GAP, **_shown("plug.gap")}, f"{E212}:1:1"),
    silent(
        "VAL001",
        "a step for another machine",
        {
            **swap(
                SAFE,
                FIRST := "- do: Take the key out of the switch.",
                "- do: Set it to {auger.speed}.\n    applies_to: {machines: brook-d24}",
            ),
            **swap(D24, ENTRY, ENTRY + "  auger.speed: {is: 100 rpm, basis: demo}\n"),
            "values/auger.speed.yaml": "title: Speed\nquantity: rotational-speed\nplate: machine\napplies_to: {fitted: friction-drive}\n",
        },
    ),
    found("VAL002", "nothing said", swap(D24, "{is: 8 N·m, basis: demo}", "{is: 8 N·m}"), f"{D24}:8:3"),
    found(
        "VAL002",
        "no source named",
        swap(D24, "{is: 8 N·m, basis: demo}", "{is: 8 N·m, basis: maker}"),
        f"{D24}:8:47",
    ),
    silent("VAL002", "common practice needs none", swap(D24, "basis: demo", "basis: common-practice")),
    found(
        "VAL003",
        "in a step, after letters beyond ASCII",
        swap(REPLACE, "tighten it to {auger-shear-bolt.torque}", "tighten ± to {auger-shear-bolt.tork}"),
        f"{REPLACE}:12:45",
    ),
    found(
        "VAL003",
        "in folded text",
        {PUNCH: "title: Pin punch\nsummary: >-\n  Stop\n  at { auger.speed }.\n"},
        f"{PUNCH}:4:8",
    ),
    found(
        "VAL003",
        "written as a link",
        {PUNCH: "title: Pin punch\nsummary: See {value:auger.speed}.\n"},
        f"{PUNCH}:2:15",
    ),
    found(
        "VAL004",
        "an engine's on the machine",
        {
            **GAP,
            E212: PLATED + "values:\n  plug.gap: {is: 0.7 mm, basis: demo}\n",
            **swap(D24, ENTRY, ENTRY + "  plug.gap: {is: 0.7 mm, basis: demo}\n"),
            PUNCH: "title: Pin punch\nsummary: Not for {plug.gap}.\n",
        },
        f"{D24}:9:3",
    ),
    found(
        "VAL005",
        "no machine of the engine has it",
        {
            "values/plug.gap.yaml": "title: Gap\nquantity: length\nplate: engine\napplies_to: {not_fitted: recoil-start}\n",
            E212: PLATED + "values:\n  plug.gap: {is: 0.7 mm, basis: demo}\n",
            **swap(
                T28, "engine: ell-e212\nfitted: [recoil-start, tracks]", "engine: ell-e127\nfitted: [tracks]"
            ),
            "engines/ell-e127.yaml": PLATED.replace("212", "127")
            + "values:\n  plug.gap: {is: 0.7 mm, basis: demo}\n",
        },
        f"{E212}:5:3",
    ),
    silent(
        "VAL005",
        "one machine of the engine has it",
        {
            "values/plug.gap.yaml": "title: Gap\nquantity: length\nplate: engine\napplies_to: {fitted: tracks}\n",
            E212: PLATED + "values:\n  plug.gap: {is: 0.7 mm, basis: demo}\n",
        },
    ),
    found(
        "VAL006",
        "of an engine, once",
        {**GAP, PUNCH: "title: Pin punch\nsummary: Not for {plug.gap}.\n"},
        f"{E212}:1:1",
    ),
    found(
        "VAL006",
        "of one machine, beside others",
        {
            "values/auger.speed.yaml": "title: Speed\nquantity: rotational-speed\nplate: machine\n",
            **swap(D24, ENTRY, ENTRY + "  auger.speed: {is: 100 rpm, basis: demo}\n"),
        },
        f"{T28}:7:1",
    ),
    found(
        "VAL008",
        "of an engine, on a machine without one",
        {**PLUG_GAP, **_shown("plug.gap"), **swap(T28, "engine: ell-e212\n", "")},
        f"{SAFE}:7:9",
    ),
    found(
        "VAL008",
        "of an engine, in two steps: one finding, with the other's place",
        {
            **PLUG_GAP,
            **swap(
                SAFE,
                "Take the key out of the switch.",
                "Set it to {plug.gap}.\n  - do: Measure {plug.gap} again.",
            ),
            **swap(T28, "engine: ell-e212\n", ""),
        },
        f"{SAFE}:7:9",
    ),
    silent(
        "VAL008",
        "of an engine, in a step for machines with one",
        {
            **PLUG_GAP,
            **swap(
                SAFE,
                "Take the key out of the switch.",
                "Set it to {plug.gap}.\n    applies_to: {fitted: engine}",
            ),
            **swap(T28, "engine: ell-e212\n", ""),
        },
    ),
    silent("VAL008", "of an engine that every machine has", {**PLUG_GAP, **_shown("plug.gap")}),
)

TRACK = {
    "procedures/free-track.yaml": "title: Free a track\npurpose: Ice holds it.\napplies_to: {fitted: tracks}\n"
    "systems: [auger-drive]\nbefore: [make-machine-safe]\ntime: 5 min\nsteps:\n  - do: Knock the ice off.\nsources: [bench-notes]\n"
}


def _sent_to_track(name: str, words: str) -> Files:
    return swap(name, words, "Follow {procedure:free-track}.")


APPLICABILITY: Final[tuple[Case, ...]] = (
    found(
        "APP003",
        "in what confirms a step",
        {
            **TRACK,
            **swap(
                SAFE,
                "switch.\n",
                "switch.\n    confirm: The track is free, or {procedure:free-track} is done.\n",
            ),
        },
        f"{SAFE}:8:37",
    ),
    found(
        "APP003",
        "in two steps: one finding, with the other's place",
        {
            **TRACK,
            **swap(
                SAFE,
                "Take the key out of the switch.",
                "Follow {procedure:free-track}.\n  - do: Follow {procedure:free-track} again.",
            ),
        },
        f"{SAFE}:7:17",
    ),
    found(
        "APP003",
        "in four records: told in what they call",
        {
            **TRACK,
            **_sent_to_track(SAFE, "Take the key out of the switch."),
            **_sent_to_track(REPLACE, "pin punch."),
            **_sent_to_track(INSPECTION, "auger halves."),
            "procedures/look.yaml": "title: Look\npurpose: See.\nsystems: [auger-drive]\nbefore: [make-machine-safe]\n"
            "time: 1 min\nsteps:\n  - do: Follow {procedure:free-track}.\nsources: [bench-notes]\n",
        },
        "procedures/free-track.yaml:4:1",
    ),
    silent(
        "APP003",
        "in a note",
        {**TRACK, **swap(SAFE, "switch.\n", "switch.\n    note: Ice is for {procedure:free-track}.\n")},
    ),
    silent(
        "APP003",
        "in a step for the same machines",
        {
            **TRACK,
            **swap(
                REPLACE,
                "pin punch.\n",
                "pin punch. Then follow {procedure:free-track}.\n    applies_to: {fitted: tracks}\n",
            ),
        },
    ),
    found(
        "APP001",
        "of a record",
        swap(SYMPTOM, "{class: two-stage}", "{machines: brook-t28, fitted: friction-drive}"),
        f"{SYMPTOM}:4:1",
    ),
    found(
        "APP001",
        "of a step",
        swap(SAFE, "switch.\n", "switch.\n    applies_to: {fitted: [tracks, friction-drive]}\n"),
        f"{SAFE}:8:5",
    ),
    found(
        "APP001",
        "of a suspected cause",
        swap(SYMPTOM, "chance: usually}", "applies_to: {not_fitted: recoil-start}, chance: usually}"),
        f"{SYMPTOM}:7:39",
    ),
    silent(
        "APP001",
        "one machine meets it",
        swap(SYMPTOM, "{class: two-stage}", "{any_fitted: [tracks, friction-drive], not_fitted: tracks}"),
    ),
    found(
        "APP002",
        "a class",
        swap(SYMPTOM, "{class: two-stage}", "{class: [two-stage, tow-stage]}"),
        f"{SYMPTOM}:4:33",
    ),
    found(
        "APP002",
        "a feature after not_fitted",
        swap(SYMPTOM, "{class: two-stage}", "{not_fitted: trakcs}"),
        f"{SYMPTOM}:4:26",
    ),
    found(
        "APP002",
        "a feature of a step",
        swap(SAFE, "switch.\n", "switch.\n    applies_to:\n      any_fitted: [tracks, lamp]\n"),
        f"{SAFE}:9:28",
    ),
    silent(
        "APP002",
        "a feature of an engine",
        {
            **swap(E212, "sources", "fitted: lighting-coil\nsources"),
            **swap(SYMPTOM, "{class: two-stage}", "{fitted: lighting-coil}"),
        },
    ),
)

FINAL = swap(EDITION, "state: draft", "state: final")
DRAFT = swap(SAFE, "sources: [bench-notes]\n", "sources: [bench-notes]\nreview: {by: ±, state: draft}\n")

EDITIONS: Final[tuple[Case, ...]] = (
    found("EDN001", "the whole book", {**FINAL, **DRAFT}, f"{SAFE}:10:24"),
    found(
        "EDN001",
        "its class",
        {EDITION: FINAL[EDITION] + "contents: {class: two-stage}\n", **DRAFT},
        f"{SAFE}:10:24",
    ),
    silent("EDN001", "a draft edition", DRAFT),
    found(
        "EDN001",
        "a procedure that needs it",
        {EDITION: FINAL[EDITION] + "contents: {procedures: replace-auger-shear-bolt}\n", **DRAFT},
        f"{SAFE}:10:24",
    ),
    silent("EDN001", "other kinds", {EDITION: FINAL[EDITION] + "contents: {kinds: term}\n", **DRAFT}),
    found("EDN002", "the whole book", {**FINAL, PUNCH: f"{PUNCH_TEXT}{LAPSED}"}, f"{PUNCH}:3:67"),
    found(
        "EDN002",
        "its kind",
        {EDITION: FINAL[EDITION] + "contents: {kinds: tool}\n", PUNCH: f"{PUNCH_TEXT}{LAPSED}"},
        f"{PUNCH}:3:67",
    ),
    silent("EDN002", "a draft edition", {PUNCH: f"{PUNCH_TEXT}{LAPSED}"}),
    silent(
        "EDN002",
        "other kinds",
        {EDITION: FINAL[EDITION] + "contents: {kinds: term}\n", PUNCH: f"{PUNCH_TEXT}{LAPSED}"},
    ),
    silent("EDN002", "reviewed before digests", {**FINAL, PUNCH: f"{PUNCH_TEXT}{UNBOUND}"}),
)
