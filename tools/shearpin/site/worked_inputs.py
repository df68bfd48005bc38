"""From the values of a machine to the inputs of the calculations that they hang together by."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from typing import Final

from shearpin.book.values import ResolvedValue
from shearpin.mechanics.guards import with_unit
from shearpin.model.machines import Value
from shearpin.model.quantity import Quantity
from shearpin.site.view import View

FOLLOWS_FROM: Final = tuple("fastener shear_bolt belt behind_belt behind_gears tip_diameter cylinder".split())
"""Fields of a value that name what its figure hangs together with: most values have none of them."""

Given = tuple[str, str, Mapping[str, str]]
"""Name of a calculation, what its line says of the figure, and the inputs as texts."""


def calculations_of(view: View, kind: Value, name: str, machine_id: str) -> Iterator[Given]:
    """Yield what to calculate for all that a value follows from; a missing value is an empty input."""
    if not any(getattr(kind, field) is not None for field in FOLLOWS_FROM):
        return

    def of(other: str | None) -> Quantity | None:
        found = view.linked.values.resolve(other, machine_id) if other is not None else None
        return found.quantity if isinstance(found, ResolvedValue) else None

    own = of(name)
    if own is not None:
        yield from _of_bolts(kind, own, of)
        yield from _of_drives(kind, own, of)


def _of_bolts(kind: Value, own: Quantity, of: Callable[[str | None], Quantity | None]) -> Iterator[Given]:
    if kind.fastener is not None:
        joint = kind.fastener
        inputs = {
            "torque": _toleranced(own),
            "thread": _text(of(joint.thread)),
            "grade": _text(of(joint.grade)),
        }
        if joint.nut_factor is not None:
            inputs["nut-factor"] = joint.nut_factor.is_
        yield "bolt-preload", "", inputs
    if kind.shear_bolt is not None and kind.shear_bolt.shaft is not None:
        bolt = kind.shear_bolt
        inputs = {
            "grade": own.text,
            "thread": _text(of(bolt.thread)),
            "planes": bolt.planes,
            "shaft-diameter": _single(of(bolt.shaft)),
        }
        yield "shear-release", "lets go at", inputs


def _of_drives(kind: Value, own: Quantity, of: Callable[[str | None], Quantity | None]) -> Iterator[Given]:
    def figures(**names: str | None) -> dict[str, str]:
        return {key.replace("_", "-"): _single(of(name)) for key, name in names.items()}

    if kind.belt is not None:
        belt = kind.belt
        inputs = figures(large=belt.driven, small=belt.drive, centre_distance=belt.center_distance)
        yield "belt-length", "round the two pulleys alone", inputs
    if kind.behind_belt is not None:
        pair = kind.behind_belt
        inputs = figures(driver_speed=pair.speed, driver=pair.drive, driven=pair.driven)
        yield "pulley-speed", "by the pulleys", inputs
    if kind.behind_gears is not None:
        inputs = figures(speed=kind.behind_gears.speed, ratio=kind.behind_gears.ratio)
        yield "gearbox-speed", "by the gearbox", inputs
    if kind.tip_diameter is not None:
        inputs = {**figures(diameter=kind.tip_diameter), "speed": _single(own)}
        yield "surface-speed", "at the tips", inputs
    if kind.cylinder is not None:
        inputs = figures(bore=kind.cylinder.bore, stroke=kind.cylinder.stroke)
        yield "displacement", "", {**inputs, "cylinders": str(kind.cylinder.count)}


def _text(quantity: Quantity | None) -> str:
    return quantity.text if quantity is not None else ""


def _single(quantity: Quantity | None) -> str:
    """Return one figure to compute with: the value, the middle of a range, the limit."""
    if quantity is None:
        return ""
    if quantity.low is not None and quantity.low == quantity.high:
        return quantity.text
    return _shown(_middle(quantity), quantity)


def _toleranced(quantity: Quantity) -> str:
    """Return a torque with its tolerance: `22 ± 2 N·m` for a range from 20 to 24."""
    if quantity.nominal is not None:
        return quantity.text
    if quantity.low is None or quantity.high is None:
        return _single(quantity)
    half = with_unit(float((quantity.high - quantity.low) / 2), "", 9)
    return f"{with_unit(float(_middle(quantity)), '', 9)} ± {half} {quantity.unit}"


def _middle(quantity: Quantity) -> Fraction:
    if quantity.nominal is not None:
        return quantity.nominal
    bounds = [bound for bound in (quantity.low, quantity.high) if bound is not None]
    return sum(bounds, Fraction(0)) / len(bounds) if bounds else Fraction(0)


def _shown(value: Fraction, quantity: Quantity) -> str:
    return with_unit(float(value), quantity.unit, 9)
