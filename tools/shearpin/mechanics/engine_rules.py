"""Rules on engines: displacement against bore and stroke, and the ethanol of gasoline."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.mechanics.engine import displacement_cm3
from shearpin.mechanics.fuel import ETHANOL_CEILING_PERCENT
from shearpin.mechanics.guards import ImpossibleInputError, shown
from shearpin.mechanics.printed import printed_range
from shearpin.mechanics.recorded import Recorded, companion_of, recorded_values
from shearpin.model.machines import Part
from shearpin.model.quantity import QuantityKind

FLEXIBLE_FUEL: Final = "flexible-fuel"
"""Feature, in `fitted`, of engines certified for it; they are outside the rule on ethanol."""

_BLEND: Final = re.compile(
    r"\bE ?-?([0-9]{2})\b|\b([0-9]{1,2}(?:\.[0-9]+)?) ?(?:%|per ?cent)(?= (?:of )?(?:ethanol|alcohol)\b)"
)
_REFUSED: Final = re.compile(
    r"\b(?:never|not|no|less than|below|under|instead of|rather than)\b", re.IGNORECASE
)
_CLAUSE: Final = re.compile(r"[.,;:!?](?=\s)|[()]")
_ALLOWED: Final = re.compile(r"\b(?:more|higher|stronger) than $|\b(?:above|over|beyond) $", re.IGNORECASE)
"""After a refusal: what is refused begins above the figure, so the figure itself is allowed."""


@rule("ENG001")
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


@rule("ENG002")
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
    for part_id, part in linked.book.parts.items():
        if part.consumable and names.intersection(part.values) and not _only_flexible(linked, part):
            for offset, blend in _strong_blends(part.consumable):
                message = f"`{blend}` is above the 10 % ethanol that gasoline for these engines may hold"
                yield Fault(linked.book.file_of["part", part_id].path, ("consumable",), message, advice, offset=offset)  # fmt: skip


def _only_flexible(linked: LinkedBook, part: Part) -> bool:
    """Whether every machine a fuel is for has an engine certified for more ethanol."""
    machines = linked.applicability.machines_for(part.applies_to)
    return bool(machines) and all(
        FLEXIBLE_FUEL in linked.applicability.machines[machine].features for machine in machines
    )


def _strong_blends(text: str) -> Iterator[tuple[int, str]]:
    """Yield place and words of every blend above the ceiling that the words before it do not refuse."""
    for match in _BLEND.finditer(text):
        clause = _CLAUSE.split(text[: match.start()])[-1]
        refused = _REFUSED.search(clause) and not _ALLOWED.search(clause)
        if not refused and float(match[1] or match[2]) > ETHANOL_CEILING_PERCENT:
            yield match.start(), match.group()


ENGINE_RULES: Final[tuple[AnyRule, ...]] = (displacement_against_bore_and_stroke, ethanol_above_ten_percent)
