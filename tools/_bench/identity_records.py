"""Owns synthetic machines, engines, values and parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from _bench.naming import ValueSort
from _bench.plan import Assembly, Machine
from _bench.scribe import Record, Scribe, shares

_NOTED = 0.2


def identity_records(scribe: Scribe) -> Iterator[Record]:
    """Yield every machine, engine, value and part of the plan."""
    plan = scribe.plan
    held = _values_by_holder(scribe)
    for index, engine in enumerate(plan.engines):
        yield "engines", engine.id, _plated(scribe, engine, held.get(engine.id, {}), index)
    for index, machine in enumerate(plan.machines):
        yield "machines", machine.id, _plated(scribe, machine, held.get(machine.id, {}), index)
    for assembly in plan.assemblies:
        for name, sort in assembly.values.items():
            yield "values", name, _value(scribe, assembly, name, sort)
        for part_id, title in assembly.titles["part"].items():
            yield "parts", part_id, _part(scribe, assembly, part_id, title)


def _values_by_holder(scribe: Scribe) -> dict[str, dict[str, ValueSort]]:
    held: dict[str, dict[str, ValueSort]] = {}
    for assembly in scribe.plan.assemblies:
        for plate in assembly.plates:
            held.setdefault(plate, {}).update(assembly.values)
    return held


def _plated(scribe: Scribe, machine: Machine, values: Mapping[str, ValueSort], index: int) -> dict[str, Any]:
    prose, rng = scribe.prose, scribe.rng
    identity = (
        {"class": machine.class_, "engine": machine.engine, "suits": prose.paragraph(25)}
        if machine.class_
        else {}
    )
    work = [
        procedure
        for assembly in scribe.plan.assemblies
        if machine.id in assembly.plates
        for procedure in assembly.ids("procedure")
    ]
    return {
        "title": machine.title,
        "summary": prose.paragraph(25),
        **identity,
        "plate": {"where": f"{prose.name()}, {rng.choice(('left', 'right'))} side", "reads": f"model {machine.title.split()[1]}"},
        "fitted": list(machine.features),
        "service": [
            {"when": "before the season", "do": scribe.some(work, 1, 3)},
            {"every": "25 h", "do": scribe.some(work, 1, 2)},
            {"every": "50 h", "do": scribe.some(work, 1, 2)},
        ] if work else [],
        **scribe.apparatus(),
        "values": {name: _entry(scribe, sort, index) for name, sort in values.items()},
    }  # fmt: skip


def _entry(scribe: Scribe, sort: ValueSort, index: int) -> dict[str, str]:
    # One index for the whole family: thread, grade and torque of a bolt must agree.
    entry = {"is": sort.figures[index % len(sort.figures)]}
    if scribe.chance(0.1):
        entry |= {"basis": "common-practice", "source": scribe.rng.choice(scribe.plan.sources)}
    else:
        entry["basis"] = "demo"
    if scribe.chance(_NOTED):
        entry["note"] = scribe.prose.confirmation().rstrip(".")
    return entry


def _value(scribe: Scribe, assembly: Assembly, name: str, sort: ValueSort) -> dict[str, Any]:
    stem = name.removesuffix(".torque")
    return {
        "title": f"{assembly.name.capitalize()}, {sort.title}",
        "quantity": sort.quantity,
        "plate": assembly.system.plate,
        "applies_to": assembly.applies_to,
        "also": [f"{scribe.prose.name()} {sort.title}" for _ in range(2)],
        "band": sort.band,
        "measured": scribe.prose.paragraph(40),
        "tools": scribe.tools(1, 2),
        "systems": [assembly.system.id],
        "fastener": {"thread": f"{stem}.thread", "grade": f"{stem}.grade"}
        if sort.quantity == "torque"
        else None,
        **scribe.apparatus(),
    }


def _part(scribe: Scribe, assembly: Assembly, part_id: str, title: str) -> dict[str, Any]:
    prose, rng = scribe.prose, scribe.rng
    values = (
        shares(list(assembly.values), len(assembly.ids("part")))[assembly.ids("part").index(part_id)]
        if assembly.values
        else []
    )
    others = [other for other in assembly.ids("part") if other < part_id]
    return {
        "title": title,
        "summary": prose.paragraph(60),
        "plate": assembly.system.plate,
        "applies_to": assembly.applies_to,
        "also": [prose.name() for _ in range(rng.randint(1, 3))],
        "systems": [assembly.system.id],
        "numbers": {plate: _number(scribe, plate) for plate in assembly.plates},
        "values": values,
        "needs": scribe.some(others, 0, 1),
        **scribe.apparatus(),
    }  # fmt: skip


def _number(scribe: Scribe, plate: str) -> dict[str, Any]:
    rng = scribe.rng
    prefix = plate[:2].upper()

    def number() -> str:
        return f"{prefix}-{rng.randint(1000, 9999)}-{rng.randint(10, 99)}"

    found: dict[str, Any] = {"number": number()}
    if scribe.chance(0.1):
        found["formerly"] = [number()]
    if scribe.chance(0.05):
        found["note"] = scribe.prose.confirmation()
    return found
