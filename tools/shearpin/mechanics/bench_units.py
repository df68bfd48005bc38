"""Bench calculations that turn a figure into the other units of its kind, in words."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from shearpin.mechanics.calculation import Answer, Calculation, Input, Output, Readings
from shearpin.mechanics.guards import with_unit
from shearpin.model.quantity import QuantityKind
from shearpin.model.units import unit_named

_GROUP = "units"
_SOURCE = "legal definitions of inch, pound, gallon and standard gravity; NIST SP 811"


def _converter(kind: QuantityKind, outputs: tuple[Output, ...]) -> Callable[[Readings], Answer]:
    """Return the function that gives a figure in the unit of every output; the first is the input's own."""
    units = tuple(unit_named(kind, output.unit) for output in outputs)

    def convert(readings: Readings) -> Answer:
        number = readings.number(kind.value)
        base = units[0].to_base(Fraction(number))
        values = (number, *(float(unit.from_base(base)) for unit in units[1:]))
        shown = [with_unit(value, output.unit) for value, output in zip(values, outputs, strict=True)]
        return Answer(values, f"{shown[0]}: {', '.join(shown[1:])}")

    return convert


def _units(kind: QuantityKind, title: str, caution: str, *outputs: tuple[str, str, str]) -> Calculation:
    """A conversion; outputs are (name, title, unit), the unit of a plain number first."""
    made = tuple(Output(name, words, kind.value, unit) for name, words, unit in outputs)
    first = made[0].unit
    example = f"any unit of {kind.words}, such as {' or '.join(output.unit for output in made[:3])}"
    return Calculation(
        name=f"{kind.value}-units",
        title=title,
        group=_GROUP,
        formula="new figure = figure·(size of its unit)/(size of the new unit)",
        symbols="°C = K - 273.15; °F = K·9/5 - 459.67"
        if kind is QuantityKind.TEMPERATURE
        else "exact sizes of the units",
        inputs=(Input(kind.value, kind.words, kind.value, first, note=example),),
        outputs=made,
        source=_SOURCE,
        caution=caution,
        function=_converter(kind, made),
    )


CALCULATIONS: tuple[Calculation, ...] = (
    _units(
        QuantityKind.TORQUE,
        "Torque in other units",
        "Copy figure and unit together: lbf·ft taken for lbf·in is twelve times too much.",
        ("newton-metres", "newton times metre", "N·m"),
        ("pound-feet", "pound times foot", "lbf·ft"),
        ("pound-inches", "pound times inch", "lbf·in"),
        ("kilogram-metres", "kilogram times metre", "kgf·m"),
        ("kilogram-centimetres", "kilogram times centimetre", "kgf·cm"),
        ("ounce-inches", "ounce times inch", "ozf·in"),
    ),
    _units(
        QuantityKind.LENGTH,
        "Length in other units",
        "A limit stays a limit: round a gap inward, never beyond it.",
        ("millimetres", "millimetre", "mm"),
        ("inches", "inch", "in"),
        ("thousandths", "thousandth of an inch", "thou"),
        ("centimetres", "centimetre", "cm"),
        ("metres", "metre", "m"),
        ("feet", "foot", "ft"),
    ),
    _units(
        QuantityKind.VOLUME,
        "Volume in other units",
        "A US gallon is a sixth less than an imperial one: look which country the figure is from.",
        ("millilitres", "millilitre", "mL"),
        ("litres", "litre", "L"),
        ("us-fluid-ounces", "US fluid ounce", "US fl oz"),
        ("us-quarts", "US quart", "US qt"),
        ("us-gallons", "US gallon", "US gal"),
        ("imperial-fluid-ounces", "imperial fluid ounce", "imp fl oz"),
        ("imperial-gallons", "imperial gallon", "imp gal"),
    ),
    _units(
        QuantityKind.PRESSURE,
        "Pressure in other units",
        "Gauge pressure. Never pass the pressure that is marked on tire, tank or hose.",
        ("kilopascals", "kilopascal", "kPa"),
        ("pounds-per-square-inch", "pound per square inch", "psi"),
        ("bar", "bar", "bar"),
        ("kilograms-per-square-centimetre", "kilogram per square centimetre", "kgf/cm²"),
        ("inches-of-mercury", "inch of mercury", "inHg"),
        ("inches-of-water", "inch of water", "inH₂O"),
    ),
    _units(
        QuantityKind.FORCE,
        "Force in other units",
        "A spring scale marked in kg or lb shows the force of that weight.",
        ("newtons", "newton", "N"),
        ("pounds-force", "pound-force", "lbf"),
        ("kilograms-force", "kilogram-force", "kgf"),
        ("kilonewtons", "kilonewton", "kN"),
    ),
    _units(
        QuantityKind.MASS,
        "Weight in other units",
        "Lift with a second person or a hoist what one person cannot.",
        ("kilograms", "kilogram", "kg"),
        ("pounds", "pound", "lb"),
        ("grams", "gram", "g"),
        ("ounces", "ounce", "oz"),
    ),
    _units(
        QuantityKind.TEMPERATURE,
        "Temperature in other units",
        "A temperature, not a difference: 10 °C warmer is 18 °F warmer.",
        ("celsius", "degree Celsius", "°C"),
        ("fahrenheit", "degree Fahrenheit", "°F"),
        ("kelvin", "kelvin", "K"),
    ),
    _units(
        QuantityKind.SPEED,
        "Speed in other units",
        "Keep clear of turning parts, and wait until they stand still.",
        ("kilometres-per-hour", "kilometre per hour", "km/h"),
        ("miles-per-hour", "mile per hour", "mph"),
        ("metres-per-second", "metre per second", "m/s"),
        ("feet-per-minute", "foot per minute", "ft/min"),
    ),
    _units(
        QuantityKind.POWER,
        "Power in other units",
        "Horsepower on a label is often gross: compare figures of the same test only.",
        ("watts", "watt", "W"),
        ("kilowatts", "kilowatt", "kW"),
        ("horsepower", "horsepower of 550 ft·lbf/s", "hp"),
        ("metric-horsepower", "metric horsepower", "PS"),
    ),
    _units(
        QuantityKind.DISPLACEMENT,
        "Displacement in other units",
        "The engine plate decides which parts fit, not the displacement.",
        ("cubic-centimetres", "cubic centimetre", "cm³"),
        ("cubic-inches", "cubic inch", "in³"),
        ("litres", "litre", "L"),
    ),
)
