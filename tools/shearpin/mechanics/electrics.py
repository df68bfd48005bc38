"""Lamps, grips, windings, lighting coils and batteries: resistance, current, power, frequency and charge."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_count,
    require_finite,
    require_positive,
    shown,
)

# NBS Circular 31 / Handbook 100, from memory: temperature coefficient of annealed copper at 20 °C, per °C.
COPPER_COEFFICIENT_20_C = 0.00393

# Textbook constant, from memory: copper would lose all resistance here if the straight line held.
COPPER_INTERCEPT_C = -234.5

# Voltage at rest against charge of a flooded 12 V battery near 25 °C: a trade-training table, from memory.
REST_VOLTAGE_V: tuple[tuple[float, float], ...] = (
    (11.89, 0),
    (12.06, 25),
    (12.24, 50),
    (12.45, 75),
    (12.65, 100),
)
REST_VOLTAGE_BAND_V = 0.05


@dataclass(frozen=True, slots=True)
class ChargeBand:
    """State of charge in percent: what the voltage says, with the band that its uncertainty leaves."""

    lowest_percent: float
    likely_percent: float
    highest_percent: float


def coefficient_at(coefficient: float, from_c: float, to_c: float) -> float:
    """Temperature coefficient of resistance referred to another temperature.

    Formula: α_b = α_a/(1 + α_a·(t_b - t_a)).
    Symbols: α_a coefficient at t_a, per °C; t temperatures, °C.
    Valid: straight-line metals near room temperature, coefficient 0.0001 to 0.02.
    Errors: ImpossibleInputError (a ValueError) for a coefficient outside that range, numbers not finite, or a
        temperature at which the straight line gives no resistance.
    Source: algebra; 0.00393 at 20 °C gives the 0.00426 at 0 °C that textbooks print.
    """
    require_between(1e-4, 0.02, coefficient=coefficient)
    _require_temperatures(from_c=from_c)
    return coefficient / _relative_resistance(coefficient, from_c, to_c=to_c)


def resistance_at_ohm(
    resistance_ohm: float,
    from_c: float,
    to_c: float,
    coefficient: float = COPPER_COEFFICIENT_20_C,
    at_c: float = 20.0,
) -> float:
    """Resistance of a winding at another temperature, from its temperature coefficient.

    Formula: R2 = R1·(1 + α·(t2 - t0))/(1 + α·(t1 - t0)).
    Symbols: R1 resistance at t1 and R2 at t2, Ω; α coefficient at the temperature t0, per °C; t °C.
    Valid: pure metals, about -50 to 200 °C; copper by default. Not lamps: a filament runs far hotter.
    Errors: ImpossibleInputError for a resistance at or below zero, a coefficient outside 0.0001 to 0.02,
        numbers not finite, or temperatures where the straight line gives no resistance.
    Source: NBS Circular 31 / Handbook 100 for copper, from memory; worked in Kulshreshtha, Basic Electrical
        Engineering, Examples 2.17 and 2.18, and Robertson, 3rd ed., Examples 1.18 and 1.19.
    """
    require_positive(resistance_ohm=resistance_ohm)
    require_between(1e-4, 0.02, coefficient=coefficient)
    _require_temperatures(at_c=at_c)
    hot = _relative_resistance(coefficient, at_c, to_c=to_c)
    return resistance_ohm * hot / _relative_resistance(coefficient, at_c, from_c=from_c)


def resistance_by_intercept_ohm(resistance_ohm: float, from_c: float, to_c: float) -> float:
    """Resistance of a copper winding at another temperature, by the 234.5 rule.

    Formula: R2 = R1·(234.5 + t2)/(234.5 + t1).
    Symbols: R1 resistance at t1 and R2 at t2, Ω; t °C; 234.5 from the intercept of -234.5 °C.
    Valid: copper, about -50 to 200 °C; agrees with the coefficient method within 0.1 %.
    Errors: ImpossibleInputError for a resistance at or below zero, numbers not finite, or temperatures at or
        below the intercept.
    Source: textbook constant, from memory.
    """
    require_positive(resistance_ohm=resistance_ohm)
    _require_temperatures(from_c=from_c, to_c=to_c)
    for argument, temperature_c in (("from_c", from_c), ("to_c", to_c)):
        if temperature_c - COPPER_INTERCEPT_C < 1e-6:
            raise ImpossibleInputError(
                argument, f"copper has no resistance left at {shown(temperature_c)} °C by this rule"
            )
    return resistance_ohm * (to_c - COPPER_INTERCEPT_C) / (from_c - COPPER_INTERCEPT_C)


def winding_temperature_c(
    cold_ohm: float,
    cold_temperature_c: float,
    hot_ohm: float,
    coefficient: float = COPPER_COEFFICIENT_20_C,
    at_c: float = 20.0,
) -> float:
    """Temperature of a winding from its cold and hot resistance.

    Formula: t2 = t1 + (R2/R1 - 1)/α1, with α1 the coefficient referred to t1.
    Symbols: R1 at t1 cold and R2 hot, Ω; α1 per °C; t °C.
    Valid: pure metals, about -50 to 200 °C; copper by default.
    Errors: ImpossibleInputError for a resistance at or below zero, a coefficient outside 0.0001 to 0.02,
        numbers not finite, or a cold temperature where the straight line gives no resistance.
    Source: inverse of `resistance_at_ohm`; worked in Kulshreshtha, Basic Electrical Engineering, Example
        2.18.
    """
    require_positive(cold_ohm=cold_ohm, hot_ohm=hot_ohm)
    require_between(1e-4, 0.02, coefficient=coefficient)
    _require_temperatures(at_c=at_c)
    cold = _relative_resistance(coefficient, at_c, cold_temperature_c=cold_temperature_c)
    return cold_temperature_c + (hot_ohm / cold_ohm - 1) * cold / coefficient


def current_a(voltage_v: float, resistance_ohm: float) -> float:
    """Current through a resistance.

    Formula: I = V/R.
    Symbols: V voltage, V; R resistance at working temperature, Ω; I amperes.
    Valid: direct current, or effective values on a heater.
    Errors: ImpossibleInputError for a voltage or resistance at or below zero or not finite.
    Source: Ohm's law.
    """
    require_positive(voltage_v=voltage_v, resistance_ohm=resistance_ohm)
    return voltage_v / resistance_ohm


def heat_w(voltage_v: float, resistance_ohm: float) -> float:
    """Power that a resistance turns into heat.

    Formula: P = V²/R.
    Symbols: V voltage, V; R resistance at working temperature, Ω; P watts.
    Valid: direct current, or effective values on a heater.
    Errors: ImpossibleInputError for a voltage or resistance at or below zero or not finite.
    Source: Ohm's law and the definition of power.
    """
    return voltage_v * current_a(voltage_v, resistance_ohm)


def load_current_a(power_w: float, voltage_v: float) -> float:
    """Current of a lamp or heater from the power it is marked with.

    Formula: I = P/V; its working resistance is V/I.
    Symbols: P marked power, W; V voltage, V; I amperes.
    Valid: at the marked voltage; a cold filament takes several times as much at first.
    Errors: ImpossibleInputError for a power or voltage at or below zero or not finite.
    Source: definition of power.
    """
    require_positive(power_w=power_w, voltage_v=voltage_v)
    return power_w / voltage_v


def generator_frequency_hz(poles: int, speed_rpm: float) -> float:
    """Frequency of an alternator.

    Formula: f = P·n/120.
    Symbols: P poles, an even number; n rotation, rev/min; f Hz.
    Valid: synchronous alternators and lighting coils with P magnet poles.
    Errors: ImpossibleInputError for an odd or impossible count of poles, or a speed at or below zero or not
        finite.
    Source: physics.
    """
    _require_poles(poles)
    require_positive(speed_rpm=speed_rpm)
    return poles * speed_rpm / 120


def generator_speed_rpm(poles: int, frequency_hz: float) -> float:
    """Speed at which an alternator gives a frequency.

    Formula: n = 120·f/P.
    Symbols: as `generator_frequency_hz`.
    Valid: as `generator_frequency_hz`.
    Errors: ImpossibleInputError for an odd or impossible count of poles, or a frequency at or below zero or
        not finite.
    Source: physics.
    """
    _require_poles(poles)
    require_positive(frequency_hz=frequency_hz)
    return 120 * frequency_hz / poles


def state_of_charge(rest_voltage_v: float) -> ChargeBand:
    """State of charge of a rested flooded 12 V lead-acid battery.

    Formula: straight lines between 11.89 V 0 %, 12.06 V 25 %, 12.24 V 50 %, 12.45 V 75 %, 12.65 V 100 %; the
        band is the same at ±0.05 V; clamped to 0 and 100 %.
    Symbols: voltage at the posts, V; result %.
    Valid: near 25 °C, hours after charge or load; 0 to 20 V is read.
    Errors: ImpossibleInputError for a voltage outside 0 to 20 V or not finite: not a 12 V battery.
    Source: a trade-training table, from memory; no government or standards table was found.
    """
    require_between(0, 20, rest_voltage_v=rest_voltage_v)
    return ChargeBand(
        _interpolated_percent(rest_voltage_v - REST_VOLTAGE_BAND_V),
        _interpolated_percent(rest_voltage_v),
        _interpolated_percent(rest_voltage_v + REST_VOLTAGE_BAND_V),
    )


def _interpolated_percent(voltage_v: float) -> float:
    if voltage_v <= REST_VOLTAGE_V[0][0]:
        return 0.0
    for (low_v, low), (high_v, high) in pairwise(REST_VOLTAGE_V):
        if voltage_v <= high_v:
            return low + (high - low) * (voltage_v - low_v) / (high_v - low_v)
    return 100.0


def _require_temperatures(**temperatures: float) -> None:
    require_finite(**temperatures)
    for argument, temperature_c in temperatures.items():
        if temperature_c < -273.15:
            raise ImpossibleInputError(argument, f"{shown(temperature_c)} °C is below absolute zero")


def _relative_resistance(coefficient: float, at_c: float, **temperature: float) -> float:
    """Resistance at a temperature against that at `at_c`; refuses where the straight line has none left."""
    _require_temperatures(**temperature)
    ((argument, temperature_c),) = temperature.items()
    relative = 1 + coefficient * (temperature_c - at_c)
    if relative < 1e-6:
        sentence = f"by this straight line no resistance is left at {shown(temperature_c)} °C"
        raise ImpossibleInputError(argument, sentence)
    return relative


def _require_poles(poles: int) -> None:
    require_count(poles=poles)
    if poles % 2:
        raise ImpossibleInputError("poles", f"magnet poles come in pairs, and {poles} is odd")
