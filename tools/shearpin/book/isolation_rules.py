"""Rules that hands go in only after the energy there is made harmless, on every machine that the work is for."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import some_of
from shearpin.checks.rule import MACHINE_FACTS, AnyRule, Fault, Wording, rule
from shearpin.model.finding import Severity
from shearpin.model.knowledge import SignalWord
from shearpin.model.steps import Work

_MOTION: Final = re.compile(r"\b(?:rotating|running|moving|turning|spinning|cutting|swinging)\b")
_GRAVE: Final = frozenset({SignalWord.DANGER, SignalWord.WARNING})


@rule("SAF005", wording=Wording.NONE, titles_of=(), bones_of=("procedure", "test", "system", MACHINE_FACTS))
def hands_in_before_it_is_safe(linked: LinkedBook) -> Iterator[Fault]:
    """Work on a system whose energy can be made harmless, without doing so first.

    ## Why
    Where a procedure exists that isolates an energy (stop the engine, key out, plug lead off), hands go in only after
    it: most amputations happen on machines that somebody believed to be off. That must hold on every machine the work is for.
    Where it does not on one machine, several records often lack the same thing: they share a finding, in the procedure that should hold there.

    ## Hint
    add `before: [make-machine-safe]`, or suppress with the reason why it must stay live

    ## Bad
    ```yaml
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: rarely}, otherwise: usually}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: rarely}, otherwise: usually}
    sources: [bench-notes]
    ```
    """
    live: dict[tuple[tuple[str, ...], tuple[str, ...]], list[_Live]] = {}
    keys = ((kind, record_id) for kind in ("procedure", "test") for record_id in linked.book.of_kind(kind))
    for key in keys:
        unprepared: list[_Live] = []
        for found in _energies_left(linked, key):
            if found.made_safe:
                live.setdefault((found.made_safe, found.machines), []).append(found)
            else:
                unprepared.append(found)
        if unprepared:
            yield _unprepared(linked, unprepared)
    for (made_safe, machines), group in live.items():
        yield from _not_there(linked, made_safe, machines, group)


@dataclass(frozen=True, slots=True)
class _Live:
    """An energy of a system that work reaches into before it is harmless.

    `needed` names the procedures that isolate it, `made_safe` those of them that the work does first, and `machines` those on which none
    of these holds.
    """

    key: Key
    system: int
    energy: str
    needed: tuple[str, ...]
    made_safe: tuple[str, ...] = ()
    machines: tuple[str, ...] = ()


def _energies_left(linked: LinkedBook, key: Key) -> Iterator[_Live]:
    """Yield the first energy of each system that is not harmless before the first step of a procedure or a test."""
    isolating, machines_for = linked.once(_isolating), linked.applicability.machines_for
    heading, gist = linked.book.heading(*key), linked.book.gist(*key)
    if heading is None:
        return
    heading_of = partial(linked.book.heading, "procedure")
    done = set(linked.book.preparations(gist))
    for index, system_id in enumerate(heading.systems):
        system = linked.book.systems.get(system_id)
        for energy in system.energies if system is not None else ():
            needed = isolating.get(energy, ())
            if not needed or energy in gist.isolates:
                continue
            made_safe = tuple(sorted(done.intersection(needed)))
            if not made_safe:
                yield _Live(key, index, energy, needed)
                break
            condition = system.applies_to if system is not None else None
            left = machines_for(heading.applies_to) & machines_for(condition)
            left = left.difference(
                *(
                    machines_for(safe.applies_to)
                    for name in made_safe
                    if (safe := heading_of(name)) is not None
                )
            )
            if left:
                yield _Live(key, index, energy, needed, made_safe, tuple(sorted(left)))
                break


def _isolating(linked: LinkedBook) -> Mapping[str, tuple[str, ...]]:
    """Return the procedures that isolate each energy."""
    found: dict[str, tuple[str, ...]] = {}
    for procedure_id in linked.book.of_kind("procedure"):
        for energy in linked.book.gist("procedure", procedure_id).isolates:
            found[energy] = (*found.get(energy, ()), procedure_id)
    return found


def _unprepared(linked: LinkedBook, found: list[_Live]) -> Fault:
    """Return the fault of work that does nothing first that would make these energies harmless."""
    first = found[0]
    work = linked.book.get(*first.key)
    assert isinstance(work, Work)
    energies = " and ".join(f"`{work.systems[each.system]}` holds `{each.energy}`" for each in found)
    return Fault(
        linked.book.file_of[first.key].path,
        ("before",) if work.before else ("systems", first.system),
        f"{energies}, and nothing makes {'it' if len(found) == 1 else 'them'} harmless before the first step",
        f"add `before: [{', '.join(first.needed[:2])}]`, or suppress with the reason why it must stay live",
        on_key=bool(work.before),
    )


def _not_there(
    linked: LinkedBook, made_safe: tuple[str, ...], machines: tuple[str, ...], group: list[_Live]
) -> Iterator[Fault]:
    """Yield the fault of machines on which what makes safe does not hold: one in the procedure where several records lack it."""
    where = some_of(machines)
    names = " or ".join(f"`{name}`" for name in made_safe)
    advice = f"let {names} hold there too, or add what does"
    sharing: dict[Key, _Live] = {}
    for each in group:
        sharing.setdefault(each.key, each)
    for key, each in list(sharing.items()):
        work = linked.book.get(*key)
        assert isinstance(work, Work)
        if len(sharing) == 1 or any(entry.code == "SAF005" for entry in work.ignore):
            message = (
                f"`{work.systems[each.system]}` holds `{each.energy}`, and nothing makes it harmless before the first "
                f"step on {where}"
            )
            yield Fault(linked.book.file_of[key].path, ("before",), message, advice, on_key=True)
            del sharing[key]
    if sharing:
        energies = sorted({each.energy for each in group if each.key in sharing})
        names = ", ".join(f"`{key[1]}`" for key in list(sharing)[:3])
        message = (
            f"`{made_safe[0]}` does not hold on {where}, and nothing else makes {some_of(energies)} harmless there before "
            f"{len(sharing)} procedures and tests that are for {'it' if len(machines) == 1 else 'them'}, such as {names}"
        )
        advice = (
            "let it hold there too (its `systems` and `applies_to` say where it holds), or write what makes these machines safe, "
            "and name it in `before`"
        )
        file = linked.book.file_of["procedure", made_safe[0]]
        hides = tuple(linked.book.file_of[key].path for key in sharing)
        yield Fault(file.path, ("isolates",), message, advice, on_key=True, hides=hides)


@rule(
    "SAF006",
    Severity.WARNING,
    wording=Wording.NONE,
    titles_of=(),
    bones_of=("procedure", "system", "caution"),
)
def motion_that_nothing_isolates(linked: LinkedBook) -> Iterator[Fault]:
    """A system holds a motion that can kill or maim, and no procedure makes it harmless.

    ## Why
    Work on a system is asked to begin with the procedure that isolates its energies. An energy that no procedure isolates is asked
    for nowhere: a new kind of machine, such as a saw, would be worked on with its chain ready to run. Meant are energies whose name says that something moves, and whose caution is a danger or
    a warning: what moves can be stopped, while vapor or heat cannot always be taken away.

    ## Hint
    name it in `isolates` of the procedure that makes the machine safe, or suppress with the reason why nothing can

    ## Bad
    ```yaml
    # kb/systems/saw-chain.yaml
    title: Saw chain
    summary: It cuts.
    energies: [running-chain]
    # kb/cautions/running-chain.yaml
    title: Running chain
    signal_word: DANGER
    severity: serious
    likelihood: will
    hazard: The chain cuts.
    consequence: It cuts to the bone.
    avoidance: [Stop the engine first.]
    covers: {energies: [running-chain]}
    ```

    ## Good
    ```yaml
    # kb/systems/saw-chain.yaml
    title: Saw chain
    summary: It cuts.
    energies: [running-chain]
    # kb/cautions/running-chain.yaml
    title: Running chain
    signal_word: DANGER
    severity: serious
    likelihood: will
    hazard: The chain cuts.
    consequence: It cuts to the bone.
    avoidance: [Stop the engine first.]
    covers: {energies: [running-chain]}
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger, running-chain]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
    sources: [bench-notes]
    ```
    """
    isolating = linked.once(_isolating)
    unread = linked.book.loose_words_of.get("procedure", ())
    for system_id, system in linked.book.systems.items():
        for index, energy in enumerate(system.energies):
            if energy in isolating or energy in unread or not _MOTION.search(energy):
                continue
            cautions = [linked.book.cautions[name] for name in linked.safety.by_energy.get(energy, ())]
            if any(caution.signal_word in _GRAVE for caution in cautions):
                yield Fault(
                    linked.book.file_of["system", system_id].path, ("energies", index),
                    f"`{energy}` can kill or maim, and no procedure makes it harmless",
                    "name it in `isolates` of the procedure that makes the machine safe, or suppress with the reason why nothing can",
                )  # fmt: skip


ISOLATION_RULES: Final[tuple[AnyRule, ...]] = (
    hands_in_before_it_is_safe,
    motion_that_nothing_isolates,
)
