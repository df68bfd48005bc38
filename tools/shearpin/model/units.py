"""The closed table of the trade's units: kinds, symbols, spellings and exact factors."""

# Longer than 300 lines: a third of it is the table.

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple, TypedDict


class QuantityKind(StrEnum):
    """What a quantity measures. Torque is not energy; a temperature difference is not a temperature."""

    TORQUE = "torque"
    LENGTH = "length"
    VOLUME = "volume"
    PRESSURE = "pressure"
    SPEED = "speed"
    ROTATIONAL_SPEED = "rotational-speed"
    TEMPERATURE = "temperature"
    TEMPERATURE_DIFFERENCE = "temperature-difference"
    MASS = "mass"
    FORCE = "force"
    STRESS = "stress"
    RESISTANCE = "resistance"
    VOLTAGE = "voltage"
    CURRENT = "current"
    POWER = "power"
    TIME = "time"
    ANGLE = "angle"
    RATIO = "ratio"
    DISPLACEMENT = "displacement"
    AREA = "area"
    CONCENTRATION = "concentration"
    COUNT = "count"
    FLOW = "flow"
    CHARGE = "charge"
    ENERGY = "energy"
    FREQUENCY = "frequency"
    VISCOSITY_GRADE = "viscosity-grade"
    DESIGNATION = "designation"

    @property
    def words(self) -> str:
        """Return the kind as it reads inside a sentence."""
        return self.value.replace("-", " ")


class Unit(NamedTuple):
    """One unit of one kind: `base value = value * factor + offset`, exactly.

    `spellings` are what writers type besides the symbol: words separated by one space or a slash. In text a
    run of spaces, dots, middle dots, hyphens, asterisks and multiplication signs counts as that space.
    `plural` is how a unit that is a whole word reads after a number above one. (A named tuple, because the
    table is made on import.)
    """

    kind: QuantityKind
    symbol: str
    factor: Fraction
    spellings: tuple[str, ...]
    offset: Fraction = Fraction(0)
    plural: str = ""

    def to_base(self, value: Fraction) -> Fraction:
        """Return a value of this unit in the base unit of its kind."""
        return value * self.factor + self.offset

    def from_base(self, value: Fraction) -> Fraction:
        """Return a value of the base unit of its kind in this unit."""
        return (value - self.offset) / self.factor


# Legal definitions: the pound and the inch (international yard and pound agreement, 1959), standard gravity
# (third General Conference on Weights and Measures, 1901), the US gallon of 231 cubic inches, the imperial
# gallon of 4.54609 L.
_POUND = Fraction("0.45359237")  # kg
_GRAVITY = Fraction("9.80665")  # m/s²
_INCH = Fraction("0.0254")  # m
_FOOT = 12 * _INCH
_LBF = _POUND * _GRAVITY  # N
_US_GALLON = 231 * _INCH**3  # m³
_IMP_GALLON = Fraction("0.00454609")  # m³
_PSI = _LBF / _INCH**2  # Pa
_RANKINE = Fraction(5, 9)  # K


def _gallons(prefix: str, gallon: Fraction, fluid_ounces: int, also: tuple[str, ...]) -> Iterator[Unit]:
    """Yield gallon, quart, pint and fluid ounce of one country, with the prefix before or after the word."""
    parts = (
        ("fl oz", fluid_ounces, ("floz", "fluid oz", "fluid ounce", "fluid ounces")),
        ("pt", 8, ("pint", "pints", "pts")),
        ("qt", 4, ("quart", "quarts", "qts")),
        ("gal", 1, ("gallon", "gallons", "gals")),
    )
    for name, count, words in parts:
        names = (name, *words)
        spelt = tuple(f"{p} {n}" for p in (prefix, *also) for n in names)
        spelt += tuple(f"{n} {p}" for p in (prefix, *also) for n in names)
        if prefix == "US":  # without a country it is US customary; the canonical spelling then says so
            spelt += names
        yield Unit(QuantityKind.VOLUME, f"{prefix} {name}", gallon / count, spelt)


def _torques(distance: str, words: tuple[str, ...], long: str, plural: str) -> tuple[str, ...]:
    """Return the spellings of a pound-force at a foot or an inch, in either order."""
    forces = ("lbf", "lb", "lbs")
    spelt = [f"{d} {f}" for d in (distance, *words) for f in forces] + [
        f"{f} {d}" for d in (distance, *words) for f in forces
    ]
    spelt += [f"{distance}{f}" for f in forces] + [f"{f}{distance}" for f in forces]
    for force in ("pound", "pounds", "pound force", "pounds force"):
        spelt += [f"{long} {force}", f"{force} {long}", f"{force} {plural}"]
    return tuple(spelt)


def _temperatures(kind: QuantityKind, celsius_zero: Fraction, fahrenheit_zero: Fraction) -> Iterator[Unit]:
    """Yield the temperature units: points carry the offset of their zero, differences carry none."""

    def spelt(letter: str, name: str) -> tuple[str, ...]:
        return (f"° {letter}", f"deg {letter}", f"deg{letter}", f"degrees {letter}", letter, name,
                f"degrees {name}", f"degree {name}")  # fmt: skip

    yield Unit(kind, "°C", Fraction(1), ("℃", *spelt("C", "Celsius")), celsius_zero)
    yield Unit(kind, "°F", _RANKINE, ("℉", *spelt("F", "Fahrenheit")), fahrenheit_zero)
    yield Unit(kind, "K", Fraction(1), ("kelvin", "kelvins"))


_K = QuantityKind

# Kind; symbol (and its plural); factor to the base unit of the kind; further spellings, comma-separated. A
# hint names the first three of a kind. Inches of mercury and of water are the conventional ones (13 595.1 and
# 1000 kg/m³ at standard gravity); a month is a twelfth of a year of 365.25 days.
# fmt: off
_ROWS: tuple[tuple[QuantityKind, str, Fraction | int | str, str], ...] = (
    (_K.TORQUE, "N·m", 1, "Nm,NM,newton metre,newton metres,newton meter,newton meters"),
    (_K.TORQUE, "lbf·ft", _LBF * _FOOT, ",".join(_torques("ft", ("foot", "feet"), "foot", "feet"))),
    (_K.TORQUE, "lbf·in", _LBF * _INCH, ",".join(_torques("in", ("inch", "inches"), "inch", "inches"))),
    (_K.TORQUE, "ozf·in", _LBF * _INCH / 16, "oz in,ozin,in oz,in ozf,ounce inches,inch ounces"),
    (_K.TORQUE, "kgf·m", _GRAVITY, "kg m,kgm,kgfm,kp m,m kg,m kgf,mkg"),
    (_K.TORQUE, "kgf·cm", _GRAVITY / 100, "kg cm,kgcm,kgfcm,kp cm,cm kg,cm kgf"),
    (_K.TORQUE, "N·cm", "0.01", "Ncm"),
    (_K.LENGTH, "mm", "0.001", "millimetre,millimetres,millimeter,millimeters"),
    (_K.LENGTH, "in", _INCH, '",inch,inches'),
    (_K.LENGTH, "cm", "0.01", "centimetre,centimetres,centimeter,centimeters"),
    (_K.LENGTH, "m", 1, "metre,metres,meter,meters"),
    (_K.LENGTH, "ft", _FOOT, "',foot,feet"),
    (_K.LENGTH, "μm", "0.000001", "um,micron,microns,micrometre,micrometres,micrometer,micrometers"),
    (_K.LENGTH, "thou", _INCH / 1000, "thousandth,thousandths"),
    (_K.VOLUME, "mL", "0.000001", "ml,millilitre,millilitres,milliliter,milliliters"),
    (_K.VOLUME, "L", "0.001", "l,ℓ,ltr,litre,litres,liter,liters"),
    (_K.VOLUME, "m³", 1, "cubic metre,cubic metres,cubic meter,cubic meters"),
    (_K.DISPLACEMENT, "cm³", "0.000001", "cc,ccm,cu cm,cubic centimetres,cubic centimeters"),
    (_K.DISPLACEMENT, "in³", _INCH**3, "cu in,cubic inch,cubic inches,CID"),
    (_K.DISPLACEMENT, "L", "0.001", "l,ℓ,ltr,litre,litres,liter,liters"),
    (_K.DISPLACEMENT, "mL", "0.000001", "ml"),
    (_K.DISPLACEMENT, "m³", 1, "cubic metre,cubic metres,cubic meter,cubic meters"),
    (_K.VOLUME, "cm³", "0.000001", "cc,ccm,cu cm,cubic centimetres,cubic centimeters"),
    (_K.VOLUME, "in³", _INCH**3, "cu in,cubic inch,cubic inches"),
    (_K.STRESS, "MPa", 1_000_000, "megapascal,megapascals"),
    (_K.STRESS, "N/mm²", 1_000_000, "N/sq mm"),
    (_K.PRESSURE, "kPa", 1000, "kilopascal,kilopascals"),
    (_K.PRESSURE, "psi", _PSI, "psig,lb/in²,lbs/in²,lbf/in²,lb/sq in,lbf/sq in,pounds per square inch"),
    (_K.PRESSURE, "bar", 100_000, "bars"),
    (_K.PRESSURE, "mbar", 100, "millibar,millibars"),
    (_K.PRESSURE, "Pa", 1, "pascal,pascals"),
    (_K.PRESSURE, "MPa", 1_000_000, "megapascal,megapascals"),
    (_K.PRESSURE, "kgf/cm²", _GRAVITY * 10_000, "kg/cm²,kp/cm²,kgf/sq cm"),
    (_K.PRESSURE, "inHg", Fraction("13595.1") * _GRAVITY * _INCH, "in Hg,inches Hg,inches of mercury"),
    (_K.PRESSURE, "inH₂O", 1000 * _GRAVITY * _INCH, "in H2O,inches H2O,inches of water,in wc,in W C"),
    (_K.STRESS, "psi", _PSI, "lb/in²,lbs/in²,lbf/in²,lb/sq in,lbf/sq in,pounds per square inch"),
    (_K.STRESS, "ksi", 1000 * _PSI, "kpsi"),
    (_K.STRESS, "Pa", 1, "pascal,pascals"),
    (_K.SPEED, "km/h", Fraction(5, 18), "kmh,kph,km/hr,kilometres per hour,kilometers per hour"),
    (_K.SPEED, "mph", _FOOT * 5280 / 3600, "mile/h,miles/h,mi/h,mi/hr,mile per hour,miles per hour"),
    (_K.SPEED, "m/s", 1, "m/sec,metres per second,meters per second"),
    (_K.SPEED, "ft/min", _FOOT / 60, "fpm,feet per minute,feet/min"),
    (_K.SPEED, "ft/s", _FOOT, "fps,ft/sec,feet per second"),
    (_K.ROTATIONAL_SPEED, "rpm", Fraction(1, 60), "r/min,rev/min,revs/min,min⁻¹,revolutions per minute"),
    (_K.ROTATIONAL_SPEED, "r/s", 1, "rev/s,rps,s⁻¹,revolutions per second"),
    (_K.MASS, "kg", 1, "kilogram,kilograms,kilo,kilos"),
    (_K.MASS, "lb", _POUND, "lbs,lbm,pound,pounds"),
    (_K.MASS, "g", "0.001", "gram,grams,gramme,grammes"),
    (_K.MASS, "oz", _POUND / 16, "ounce,ounces"),
    (_K.FORCE, "N", 1, "newton,newtons"),
    (_K.FORCE, "lbf", _LBF, "lb force,lbs force,pound force,pounds force"),
    (_K.FORCE, "kN", 1000, "kilonewton,kilonewtons"),
    (_K.FORCE, "kgf", _GRAVITY, "kp,kg force,kilogram force,kilograms force"),
    (_K.FORCE, "ozf", _LBF / 16, "oz force,ounce force"),
    (_K.RESISTANCE, "Ω", 1, "ohm,ohms"),
    (_K.RESISTANCE, "kΩ", 1000, "KΩ,kohm,kohms,kilohm,kilohms,k ohm,k ohms"),
    (_K.RESISTANCE, "MΩ", 1_000_000, "Mohm,Mohms,megohm,megohms,megaohm,megaohms"),
    (_K.RESISTANCE, "mΩ", "0.001", "mohm,mohms,milliohm,milliohms"),
    (_K.VOLTAGE, "V", 1, "volt,volts"),
    (_K.VOLTAGE, "mV", "0.001", "millivolt,millivolts"),
    (_K.VOLTAGE, "kV", 1000, "kilovolt,kilovolts"),
    (_K.CURRENT, "A", 1, "amp,amps,ampere,amperes"),
    (_K.CURRENT, "mA", "0.001", "milliamp,milliamps,milliampere,milliamperes"),
    (_K.POWER, "W", 1, "watt,watts"),
    (_K.POWER, "kW", 1000, "kilowatt,kilowatts"),
    (_K.POWER, "hp", 550 * _LBF * _FOOT, "horsepower,bhp"),
    (_K.POWER, "PS", 75 * _GRAVITY, "metric hp,metric horsepower,hp metric"),
    (_K.TIME, "min", 60, "mins,minute,minutes"),
    (_K.TIME, "h", 3600, "hr,hrs,hour,hours"),
    (_K.TIME, "s", 1, "sec,secs,second,seconds"),
    (_K.TIME, "ms", "0.001", "msec,millisecond,milliseconds"),
    (_K.TIME, "day|days", 86_400, "d"),
    (_K.TIME, "week|weeks", 604_800, "wk,wks"),
    (_K.TIME, "month|months", 2_629_800, "mo"),
    (_K.TIME, "year|years", 31_557_600, "yr,yrs"),
    (_K.ANGLE, "°", Fraction(1, 360), "deg,degree,degrees"),
    (_K.ANGLE, "turn|turns", 1, "rev,revs,revolution,revolutions"),
    (_K.RATIO, "%", "0.01", "percent,per cent,pct"),
    (_K.RATIO, ":1", 1, ""),
    (_K.RATIO, "", 1, ""),
    (_K.AREA, "mm²", "0.000001", "sq mm,square millimetres,square millimeters"),
    (_K.AREA, "in²", _INCH**2, "sq in,square inch,square inches"),
    (_K.AREA, "cm²", "0.0001", "sq cm,square centimetres,square centimeters"),
    (_K.AREA, "m²", 1, "sq m,square metre,square metres,square meter,square meters"),
    (_K.AREA, "ft²", _FOOT**2, "sq ft,square foot,square feet"),
    (_K.CONCENTRATION, "vol %", "0.01", "vol%,% vol,%vol,% by volume,percent by volume,% v/v"),
    (_K.CONCENTRATION, "%", "0.01", "percent,per cent,pct"),
    (_K.CONCENTRATION, "mL/L", "0.001", "ml/l,mL per L,ml per l,mL per litre,mL per liter"),
    (_K.CONCENTRATION, "US fl oz/US gal", Fraction(1, 128), "fl oz/gal,fl oz per gal,US fl oz per US gal"),
    (_K.CONCENTRATION, "imp fl oz/imp gal", Fraction(1, 160), "imp fl oz per imp gal"),
    (_K.COUNT, "", 1, ""),
    (_K.FLOW, "L/min", Fraction(1, 60_000), "l/min,lpm,ltr/min,litre/min,litres per minute,liters per minute"),
    (_K.FLOW, "US gal/min", _US_GALLON / 60, "gpm,gal/min,US gpm,gallons per minute,US gallons per minute"),
    (_K.FLOW, "L/h", Fraction(1, 3_600_000), "l/h,lph,litre/h,litres per hour,liters per hour"),
    (_K.FLOW, "m³/h", Fraction(1, 3600), "cubic metres per hour,cubic meters per hour"),
    (_K.CHARGE, "Ah", 3600, "A h,amp hour,amp hours,ampere hour,ampere hours"),
    (_K.CHARGE, "mAh", "3.6", "mA h,milliamp hour,milliamp hours,milliampere hours"),
    (_K.ENERGY, "Wh", 3600, "W h,watt hour,watt hours"),
    (_K.ENERGY, "kWh", 3_600_000, "kW h,kilowatt hour,kilowatt hours"),
    (_K.ENERGY, "J", 1, "joule,joules"),
    (_K.ENERGY, "kJ", 1000, "kilojoule,kilojoules"),
    (_K.FREQUENCY, "Hz", 1, "hertz,cycles per second"),
    (_K.FREQUENCY, "kHz", 1000, "kilohertz"),
)
# fmt: on


def _from_row(kind: QuantityKind, names: str, factor: Fraction | int | str, spelt: str) -> Unit:
    symbol, _, plural = names.partition("|")
    spellings = tuple(filter(None, (plural, *spelt.split(","))))
    return Unit(kind, symbol, Fraction(factor), spellings, plural=plural)


UNITS: tuple[Unit, ...] = (
    *(_from_row(*row) for row in _ROWS),
    *_gallons("US", _US_GALLON, 128, ("U S", "USA")),
    *_gallons("imp", _IMP_GALLON, 160, ("imperial", "UK", "U K")),
    *_temperatures(QuantityKind.TEMPERATURE, Fraction("273.15"), Fraction("459.67") * _RANKINE),
    *_temperatures(QuantityKind.TEMPERATURE_DIFFERENCE, Fraction(0), Fraction(0)),
)
"""Every unit. Where one spelling serves several kinds, the first of them is meant when no kind is given."""

_BY_SYMBOL: Mapping[tuple[QuantityKind, str], Unit] = MappingProxyType({(u.kind, u.symbol): u for u in UNITS})


def units_of(kind: QuantityKind) -> tuple[Unit, ...]:
    """Return the units of a kind, the usual ones first; none for a designation or a viscosity grade."""
    return tuple(unit for unit in UNITS if unit.kind is kind)


def unit_named(kind: QuantityKind, symbol: str) -> Unit:
    """Return the unit with this canonical symbol. Raises KeyError when the kind has none such."""
    return _BY_SYMBOL[kind, symbol]


class UnitRow(TypedDict):
    """One unit as the calculators of a page read it.

    The exact integers may exceed 2**53; a page's numbers then hold the nearest double, a relative error below
    1e-15.
    """

    kind: str
    symbol: str
    plural: str
    numerator: int
    denominator: int
    offset_numerator: int
    offset_denominator: int
    spellings: list[str]


def unit_table() -> dict[str, list[UnitRow]]:
    """Return the table as plain data: `base value = value * numerator / denominator + offset`, exactly."""
    return {
        "units": [
            UnitRow(
                kind=unit.kind.value,
                symbol=unit.symbol,
                plural=unit.plural,
                numerator=unit.factor.numerator,
                denominator=unit.factor.denominator,
                offset_numerator=unit.offset.numerator,
                offset_denominator=unit.offset.denominator,
                spellings=list(unit.spellings),
            )
            for unit in UNITS
        ]
    }
