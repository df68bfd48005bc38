"""Rules on engines: displacement against bore and stroke, and the ethanol of gasoline."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Set
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.mechanics.engine import displacement_cm3
from shearpin.mechanics.fuel import ETHANOL_CEILING_PERCENT
from shearpin.mechanics.fuel_words import may_name_a_blend, strong_blends
from shearpin.mechanics.guards import ImpossibleInputError, shown
from shearpin.mechanics.recorded import OF_RECORDED, Recorded, companion_of, recorded_values
from shearpin.model.position import FieldPath
from shearpin.model.printed import printed_range
from shearpin.model.quantity import QuantityKind

FLEXIBLE_FUEL: Final = "flexible-fuel"
"""Feature, in `fitted`, of engines certified for it; they are outside the rule on ethanol."""


@rule("ENG001", wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def displacement_against_bore_and_stroke(linked: LinkedBook) -> Iterator[Fault]:
    """An engine's displacement contradicts its bore and stroke.

    ## Why
    One of the three figures is wrong, and parts are ordered and rings chosen by them. Displacement is π/4·b²·s for each
    cylinder; every figure may be off by half of its last digit, and nominal displacements are whole cm³ (40 CFR 90.116).

    ## Hint
    measure bore and stroke, or look the displacement up on the engine plate

    ## Bad
    ```yaml
    # kb/values/engine.displacement.yaml
    title: Displacement
    quantity: displacement
    plate: engine
    cylinder: {bore: engine.bore, stroke: engine.stroke}
    sources: [bench-notes]
    # kb/values/engine.bore.yaml
    title: Bore
    quantity: length
    plate: engine
    sources: [bench-notes]
    # kb/values/engine.stroke.yaml
    title: Stroke
    quantity: length
    plate: engine
    sources: [bench-notes]
    # kb/engines/ell-e212.yaml
    title: Ell E212
    summary: A four-stroke engine.
    plate: {where: above the recoil starter}
    values:
      engine.displacement: {is: 221 cm³, basis: demo}
      engine.bore: {is: 70.0 mm, basis: demo}
      engine.stroke: {is: 55.0 mm, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/engine.displacement.yaml
    title: Displacement
    quantity: displacement
    plate: engine
    cylinder: {bore: engine.bore, stroke: engine.stroke}
    sources: [bench-notes]
    # kb/values/engine.bore.yaml
    title: Bore
    quantity: length
    plate: engine
    sources: [bench-notes]
    # kb/values/engine.stroke.yaml
    title: Stroke
    quantity: length
    plate: engine
    sources: [bench-notes]
    # kb/engines/ell-e212.yaml
    title: Ell E212
    summary: A four-stroke engine.
    plate: {where: above the recoil starter}
    values:
      engine.displacement: {is: 212 cm³, basis: demo}
      engine.bore: {is: 70.0 mm, basis: demo}
      engine.stroke: {is: 55.0 mm, basis: demo}
    sources: [bench-notes]
    ```
    """
    names = [name for name, kind in linked.book.values.items() if kind.cylinder is not None]
    for recorded in recorded_values(linked, names):
        cylinder = recorded.kind.cylinder
        if cylinder is None:
            continue
        bore = companion_of(linked, recorded, cylinder.bore, QuantityKind.LENGTH)
        stroke = companion_of(linked, recorded, cylinder.stroke, QuantityKind.LENGTH)
        if bore is None or stroke is None:
            continue
        span, swept = printed_range(recorded.quantity, "cm³"), _swept(bore, stroke, cylinder.count)
        if span is not None and swept is not None and (span[1] < swept[0] or span[0] > swept[1]):
            message = (
                f"`{recorded.quantity}` contradicts bore {bore.quantity} and stroke {stroke.quantity}, which make "
                f"{shown((swept[0] + swept[1]) / 2)} cm³"
            )
            advice = "measure bore and stroke, or look the displacement up on the engine plate"
            related = ((bore.file, bore.path), (stroke.file, stroke.path))
            yield Fault(recorded.file, recorded.path, message, advice, related=related)


def _swept(bore: Recorded, stroke: Recorded, cylinders: int) -> tuple[float, float] | None:
    """Return between what the swept volume lies, in cm³; None where a bound is open or impossible."""
    across, along = printed_range(bore.quantity, "mm"), printed_range(stroke.quantity, "mm")
    if across is None or along is None:
        return None
    try:
        return (
            displacement_cm3(across[0], along[0], cylinders),
            displacement_cm3(across[1], along[1], cylinders),
        )
    except ImpossibleInputError:
        return None


@rule("ENG002", wording=Wording.OWN, titles_of=(), bones_of=OF_RECORDED)
def ethanol_above_ten_percent(linked: LinkedBook) -> Iterator[Fault]:
    """Gasoline with more than 10 percent ethanol is allowed or asked for.

    ## Why
    In the United States gasoline above 10.0 percent ethanol by volume may not be put into nonroad engines (40 CFR
    80.1504(a)(1), second-hand: as the agency quotes it; rule published at 76 FR 44406). It draws water, leans the mixture
    and attacks rubber. Engines certified for it, with `flexible-fuel` in `fitted`, are outside the rule.

    ## Hint
    the ceiling is 10.0 vol % (40 CFR 80.1504, second-hand), unless `flexible-fuel` is fitted

    ## Bad
    ```yaml
    # kb/values/fuel.ethanol-limit.yaml
    title: Ethanol limit
    quantity: concentration
    plate: engine
    fuel_ethanol: yes
    sources: [bench-notes]
    # kb/engines/ell-e212.yaml
    title: Ell E212
    summary: A four-stroke engine.
    plate: {where: above the recoil starter}
    values:
      fuel.ethanol-limit: {is: 15 vol %, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/fuel.ethanol-limit.yaml
    title: Ethanol limit
    quantity: concentration
    plate: engine
    fuel_ethanol: yes
    sources: [bench-notes]
    # kb/engines/ell-e212.yaml
    title: Ell E212
    summary: A four-stroke engine.
    plate: {where: above the recoil starter}
    values:
      fuel.ethanol-limit: {is: 10 vol %, basis: demo}
    sources: [bench-notes]
    ```
    """
    names = {name for name, kind in linked.book.values.items() if kind.fuel_ethanol}
    advice = "the ceiling is 10.0 vol % (40 CFR 80.1504, second-hand), unless `flexible-fuel` is fitted"
    for recorded in recorded_values(linked, names):
        highest = recorded.quantity.exact_bounds_in("vol %")[1]
        flexible = FLEXIBLE_FUEL in linked.book.get(*recorded.holder).fitted  # type: ignore[union-attr]
        if not flexible and (highest is None or highest > ETHANOL_CEILING_PERCENT):
            message = (
                f"`{recorded.quantity}` ethanol is above the 10 % that gasoline for these engines may hold"
            )
            yield Fault(recorded.file, recorded.path, message, advice)
    if not names:
        return
    for file, path, text in _texts_on_fuel(linked, names):
        for offset, blend in strong_blends(text):
            message = f"`{blend}` is above the 10 % ethanol that gasoline for these engines may hold"
            told = "name one of at most 10 %, or write `never` right before the stronger one"
            yield Fault(file, path, message, told, offset=offset)


def _texts_on_fuel(linked: LinkedBook, names: Set[str]) -> Iterator[tuple[str, FieldPath, str]]:
    """Yield file, field and text of what fuel is asked for, in parts and in steps, where an engine is not certified for more ethanol."""
    machines_for = linked.applicability.machines_for
    for part_id in linked.asked("part"):
        part = linked.book.parts[part_id]
        if (
            part.consumable
            and not names.isdisjoint(part.values)
            and not _only_flexible(linked, machines_for(part.applies_to))
        ):
            yield linked.book.file_of["part", part_id].path, ("consumable",), part.consumable
    for key, work in linked.asked_work():
        for path, step in steps_of(work):
            for field, text in (("do", step.do), ("confirm", step.confirm)):
                if text and may_name_a_blend(text):
                    machines = machines_for(work.applies_to) & machines_for(step.applies_to)
                    if not _only_flexible(linked, machines):
                        yield linked.book.file_of[key].path, (*path, field), text


def _only_flexible(linked: LinkedBook, machines: Collection[str]) -> bool:
    """Whether every machine has an engine certified for more ethanol."""
    return bool(machines) and all(
        FLEXIBLE_FUEL in linked.applicability.machines[machine].features for machine in machines
    )


ENGINE_RULES: Final[tuple[AnyRule, ...]] = (displacement_against_bore_and_stroke, ethanol_above_ten_percent)
