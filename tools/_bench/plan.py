"""Owns the plan of a synthetic book: how many records of each kind, what they are called, what belongs to what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from _bench import naming
from _bench.naming import FAMILIES, ValueSort, slug

SMALLEST: Final = 150
"""Fewest records that hold every kind, linked as in a real book."""

MAKE_SAFE: Final = "make-machine-safe"
_SHARES: Final = {"procedure": 0.32, "cause": 0.24, "part": 0.18, "test": 0.16, "symptom": 0.10}
"""How what a book grows by is divided: the kinds of which there are always more."""
_CAUSES_OF_ASSEMBLY: Final = 7


def kind_counts(records: int) -> dict[str, int]:
    """Return the number of records of each kind; machines, values and the apparatus level off as books grow."""
    if records < SMALLEST:
        raise ValueError(f"a synthetic book has at least {SMALLEST} records")

    def between(least: int, wanted: float, most: int) -> int:
        return max(least, min(int(wanted), most))

    machines = between(3, records / 100, 60)
    counts = {
        "machine": machines,
        "engine": between(2, machines / 2, 30),
        "system": between(6, 6 + records / 250, 36),
        "caution": between(13, 13 + records / 250, 48),
        "value": between(30, records * 0.18, 600),
        "tool": between(8, records * 0.04, 80),
        "term": between(10, records * 0.10, 400),
        "source": between(6, 5 + records * 0.01, 50),
        "figure": between(4, records * 0.02, 160),
        "edition": 1 + (records >= 1000),
    }
    rest = records - sum(counts.values())
    counts |= {kind: int(share * rest) for kind, share in _SHARES.items()}
    counts["procedure"] += records - sum(counts.values())
    return counts


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine or, without class and engine, an engine."""

    id: str
    title: str
    class_: str = ""
    engine: str = ""
    features: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class System:
    """A functional group; `classes` are those of the machines that have it, none for a system of the engine."""

    id: str
    title: str
    plate: str
    classes: tuple[str, ...]
    energies: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assembly:
    """A group of parts with everything written about it: ids to titles, per kind of record."""

    name: str
    system: System
    applies_to: Mapping[str, Any] | None
    plates: tuple[str, ...]  # ids of the machines or engines that have it
    values: dict[str, ValueSort] = field(default_factory=dict)
    titles: dict[str, dict[str, str]] = field(default_factory=dict)

    def ids(self, kind: str) -> Sequence[str]:
        """Return the ids of its records of a kind."""
        return list(self.titles[kind])


@dataclass(frozen=True, slots=True)
class Plan:
    """What a synthetic book holds."""

    counts: Mapping[str, int]
    machines: tuple[Machine, ...]
    engines: tuple[Machine, ...]
    systems: tuple[System, ...]
    assemblies: tuple[Assembly, ...]
    tools: tuple[str, ...]
    sources: tuple[str, ...]
    figures: tuple[str, ...]

    @property
    def features(self) -> tuple[str, ...]:
        """Features that some machine has."""
        return tuple(sorted({feature for machine in self.machines for feature in machine.features}))


def make_plan(records: int) -> Plan:
    """Return the plan of a book of so many records; raises `ValueError` for fewer than SMALLEST."""
    counts = kind_counts(records)
    machines, engines = _machines(counts)
    systems = _systems(counts["system"], sorted({machine.class_ for machine in machines}))
    openings = 1 + len(systems)  # make safe, and one procedure per system that opens it
    number = min(
        max(len(systems), counts["cause"] // _CAUSES_OF_ASSEMBLY),
        counts["symptom"], counts["test"], counts["part"], counts["procedure"] - openings,
    )  # fmt: skip
    assemblies = tuple(_assembly(index, systems, machines, engines) for index in range(number))
    _give_values(assemblies, counts)
    for kind, patterns in _PATTERNS.items():
        _give_titles(assemblies, kind, patterns, counts[kind] - (openings if kind == "procedure" else 0))
    return Plan(
        counts, machines, engines, systems, assemblies,
        tuple(_numbered(naming.TOOLS, counts["tool"], "of size")),
        tuple(f"bench-notes-{number + 1}" for number in range(counts["source"])),
        tuple(f"drawing-{number + 1}" for number in range(counts["figure"])),
    )  # fmt: skip


_PATTERNS: Final[Mapping[str, tuple[str, ...]]] = {
    "symptom": tuple("{} " + complaint for complaint in naming.COMPLAINTS),
    "cause": tuple("{} " + fault for fault in naming.FAULTS),
    "test": naming.CHECKS,
    "procedure": naming.WORKS,
    "part": tuple("{} " + part for part in naming.SUBPARTS),
}


def _machines(counts: Mapping[str, int]) -> tuple[tuple[Machine, ...], tuple[Machine, ...]]:
    engines = tuple(Machine(f"ellvane-e{110 + n}", f"Ellvane E{110 + n}") for n in range(counts["engine"]))
    classes = naming.CLASSES[: max(2, min(counts["machine"] // 2, len(naming.CLASSES)))]
    machines = []
    for n in range(counts["machine"]):
        make = ("Osmere", "Tarnbrook")[n % 2]
        features = tuple(feature for i, feature in enumerate(naming.FEATURES) if (n + 3 * i + n // 5) % 5 < 3)
        machines.append(
            Machine(
                f"{make.lower()}-k{200 + n}", f"{make} K{200 + n}",
                classes[n % len(classes)], engines[n % len(engines)].id, features,
            )
        )  # fmt: skip
    return tuple(machines), engines


def _systems(count: int, classes: Sequence[str]) -> tuple[System, ...]:
    third = max(1, count // 3)
    names = [*naming.ENGINE_SYSTEMS[:third], *naming.MACHINE_SYSTEMS][:count]
    systems = []
    for index, name in enumerate(names):
        of_engine = index < third
        own = (
            ()
            if of_engine
            else tuple(
                dict.fromkeys(classes[(index + k) % len(classes)] for k in range(1 + (len(classes) > 3)))
            )
        )
        energies = (
            naming.ENERGIES[2],
            *(naming.ENERGIES[(index + k) % len(naming.ENERGIES)] for k in range(3)),
        )
        systems.append(
            System(slug(name), name.capitalize(), "engine" if of_engine else "machine", own, tuple(dict.fromkeys(energies)))
        )  # fmt: skip
    return tuple(systems)


def _assembly(
    index: int, systems: Sequence[System], machines: Sequence[Machine], engines: Sequence[Machine]
) -> Assembly:
    system = systems[index % len(systems)]
    name = _numbered_name(index)
    if system.plate == "engine":
        return Assembly(name, system, None, tuple(engine.id for engine in engines))
    with_it = [machine for machine in machines if machine.class_ in system.classes]
    condition: dict[str, Any] = {"class": list(system.classes)}
    feature = naming.FEATURES[index % len(naming.FEATURES)]
    fitted = [machine for machine in with_it if feature in machine.features]
    if index % 4 == 3 and fitted:
        with_it, condition = fitted, {**condition, "fitted": feature}
    return Assembly(name, system, condition, tuple(machine.id for machine in with_it))


def _numbered_name(index: int) -> str:
    components, positions = len(naming.COMPONENTS), len(naming.POSITIONS)
    turn, place = divmod(index, components * positions)
    name = f"{naming.POSITIONS[place // components]} {naming.COMPONENTS[place % components]}".strip()
    return f"{name} {turn + 1}" if turn else name


def _numbered(names: Sequence[str], count: int, word: str) -> Iterator[str]:
    """Yield so many different names: the list again and again, from the second time on with a number."""
    for index in range(count):
        turn, place = divmod(index, len(names))
        yield f"{names[place]} {word} {turn + 1}" if turn else names[place]


def _give_titles(assemblies: Sequence[Assembly], kind: str, patterns: Sequence[str], count: int) -> None:
    for index, assembly in enumerate(assemblies):
        own = count // len(assemblies) + (index < count % len(assemblies))
        titles = (pattern.format(assembly.name) for pattern in _numbered(patterns, own, "no."))
        assembly.titles[kind] = {slug(title): title[0].upper() + title[1:] for title in titles}


def _give_values(assemblies: Sequence[Assembly], counts: Mapping[str, int]) -> None:
    """Give whole families of values round by round, and nothing that would be one too many."""
    left = counts["value"]
    turn = 0
    while left:
        for index, assembly in enumerate(assemblies):
            family = FAMILIES[(index + turn) % len(FAMILIES)]
            if len(family) <= left and not any(
                slug(assembly.name) + sort.suffix in assembly.values for sort in family
            ):
                assembly.values.update({slug(assembly.name) + sort.suffix: sort for sort in family})
                left -= len(family)
        turn += 1
        if turn > 2 * len(FAMILIES):
            raise ValueError("more values wanted than the assemblies can have")
