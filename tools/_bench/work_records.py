"""Owns synthetic procedures and tests."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from _bench.naming import ISOLATED, RUN_ENGINE, STEP_ACTIONS
from _bench.plan import MAKE_SAFE, Assembly, System
from _bench.scribe import Record, Scribe, shares

SHARP_EDGES = "sharp-edges"
_MOST_CAUSES = 6
_SEEN_WHEN_FAULTY = (("usually", "rarely"), ("often", "sometimes"), ("90 %", "10 %"), ("85 %", "15 %"))
"""How often a result shows under its cause, and how often all looks sound nevertheless."""


def work_records(scribe: Scribe) -> Iterator[Record]:
    """Yield every procedure and test of the plan."""
    yield "procedures", MAKE_SAFE, _make_safe(scribe)
    for system in scribe.plan.systems:
        yield "procedures", opening_of(system), _opening(scribe, system)
    for assembly in scribe.plan.assemblies:
        procedures = assembly.ids("procedure")
        for procedure_id, causes in zip(
            procedures, shares(assembly.ids("cause"), len(procedures)), strict=True
        ):
            yield "procedures", procedure_id, _procedure(scribe, assembly, procedure_id, causes)
        tests = assembly.ids("test")
        for test_id, causes in zip(tests, shares(assembly.ids("cause"), len(tests)), strict=True):
            yield "tests", test_id, _test(scribe, assembly, test_id, causes)


def opening_of(system: System) -> str:
    """Return the id of the procedure that gives access to a system."""
    return f"open-{system.id}"


def _make_safe(scribe: Scribe) -> dict[str, Any]:
    return {
        "title": "Make the machine safe",
        "purpose": "Nothing can start or turn while hands are in the machine.",
        "isolates": list(ISOLATED),
        "systems": [scribe.plan.systems[0].id],
        "time": "3 min",
        "steps": [
            {"do": "Switch the engine off and wait until all motion has stopped."},
            {"do": "Take the key out of the switch."},
            {
                "do": "Take the boot off the spark plug and ground it.",
                "confirm": "The boot stays where it was put.",
            },
            {"do": "Chock the wheels."},
        ],
        **scribe.apparatus(),
    }


def _opening(scribe: Scribe, system: System) -> dict[str, Any]:
    return {
        "title": f"Open the {system.title.lower()}",
        "purpose": scribe.prose.paragraph(25),
        "applies_to": {"class": list(system.classes)} if system.classes else None,
        "systems": [system.id],
        "before": [MAKE_SAFE],
        "time": "4 min",
        "tools": scribe.tools(1, 2),
        "steps": [{"do": scribe.prose.instruction()} for _ in range(4)],
        **scribe.apparatus(),
    }


def _procedure(
    scribe: Scribe, assembly: Assembly, procedure_id: str, causes: Sequence[str]
) -> dict[str, Any]:
    prose, rng = scribe.prose, scribe.rng
    parts = scribe.some(assembly.ids("part"), 1, 3)
    return {
        "title": assembly.titles["procedure"][procedure_id],
        "purpose": prose.paragraph(40),
        **_surroundings(scribe, assembly),
        "remedies": list(causes),
        "time": f"{rng.randrange(5, 90, 5)} min",
        "skill": rng.choice(("trainee", "trainee", "mechanic", "specialist")),
        "tools": scribe.tools(3, 6),
        "parts": [{"part": part, "quantity": str(rng.randint(1, 4))} for part in parts],
        "figures": scribe.some(scribe.figures_of(assembly.system.id), 0, 1),
        "steps": [
            {"do": "Put on gloves and eye protection."},
            *(_step(scribe, assembly) for _ in range(rng.randint(5, 13))),
        ],
        "finish": [
            {"do": "Take all tools and rags out of the machine."},
            {
                "do": "Start the engine outdoors and listen.",
                "action": RUN_ENGINE,
                "confirm": prose.confirmation(),
            },
            {"do": prose.instruction()},
        ],
        "outcome": prose.statement(),
        **scribe.apparatus(),
    }


def _surroundings(scribe: Scribe, assembly: Assembly) -> dict[str, Any]:
    before = [MAKE_SAFE, opening_of(assembly.system)] if scribe.chance(0.6) else [MAKE_SAFE]
    return {"applies_to": assembly.applies_to, "systems": [assembly.system.id], "before": before}


def _step(scribe: Scribe, assembly: Assembly) -> dict[str, Any]:
    prose, rng = scribe.prose, scribe.rng
    step: dict[str, Any] = {"do": prose.instruction()}
    if assembly.values and scribe.chance(0.35):
        name = rng.choice(list(assembly.values))
        step["do"] = f"{prose.instruction('')} and compare with {{{name}}}."
    if scribe.chance(0.1):
        step["caution"] = SHARP_EDGES
    if scribe.chance(0.15):
        step["action"] = rng.choice(STEP_ACTIONS)
    if scribe.chance(0.4):
        step["confirm"] = prose.confirmation()
    if scribe.chance(0.3):
        step["note"] = _note(scribe, assembly)
    if scribe.chance(0.05):
        step["applies_to"] = {"fitted": rng.choice(scribe.plan.features)}
    return step


def _note(scribe: Scribe, assembly: Assembly) -> str:
    statement = scribe.prose.statement()
    if scribe.chance(0.7):
        return statement
    kind = scribe.rng.choice(("part", "cause", "test"))
    return f"{statement} See {{{kind}:{scribe.rng.choice(assembly.ids(kind))}}}."


def _test(scribe: Scribe, assembly: Assembly, test_id: str, causes: Sequence[str]) -> dict[str, Any]:
    prose, rng = scribe.prose, scribe.rng
    others = [cause for cause in assembly.ids("cause") if cause not in causes]
    told = [*causes, *scribe.some(others, 1, 3)][:_MOST_CAUSES]
    return {
        "title": assembly.titles["test"][test_id],
        "purpose": prose.paragraph(30),
        **_surroundings(scribe, assembly),
        "time": f"{rng.randint(1, 12)} min",
        "tools": scribe.tools(1, 3),
        "steps": [_step(scribe, assembly) for _ in range(rng.randint(3, 7))],
        "results": _results(scribe, told),
        "finish": [{"do": prose.instruction()}],
        **scribe.apparatus(),
    }


def _results(scribe: Scribe, causes: Sequence[str]) -> list[dict[str, Any]]:
    """Return results whose chances sum to one under every cause: one for each heap of causes, and one for all sound."""
    prose = scribe.prose
    heaps = shares(causes, min(len(causes), scribe.rng.randint(1, 3)))
    sound: dict[str, str] = {}
    results = []
    for index, heap in enumerate(heaps):
        given = {}
        for cause in heap:
            given[cause], sound[cause] = scribe.rng.choice(_SEEN_WHEN_FAULTY)
        results.append(
            {
                "id": f"faulty-{index + 1}", "seen": prose.confirmation(), "given": given, "otherwise": "never",
                "then": prose.paragraph(15),
            }
        )  # fmt: skip
    last = {
        "id": "sound",
        "seen": prose.confirmation(),
        "given": sound,
        "otherwise": "always",
        "then": prose.statement(),
    }
    return [*results, last]
