"""Bench calculations on lamps, windings, generators and batteries, in words."""

from __future__ import annotations

from shearpin.mechanics.calculation import Answer, Calculation, Input, Output, Readings
from shearpin.mechanics.electrics import (
    current_a,
    generator_frequency_hz,
    generator_speed_rpm,
    heat_w,
    load_current_a,
    resistance_at_ohm,
    resistance_by_intercept_ohm,
    state_of_charge,
    winding_temperature_c,
)
from shearpin.mechanics.guards import shown, with_unit

_GROUP = "electrics"
_POLES = Input("poles", "magnet poles", "count", "", "2", note="an even number")
_VOLTAGE = Input("voltage", "voltage", "voltage", "V", note="a voltage above 0 V")
_LOW_VOLTAGE_ONLY = "For the machine's own low voltage. Mains voltage is work for a licensed electrician."
_ENGINE_OFF = "Measure resistance with the engine off and the part unplugged."


def _resistance(readings: Readings) -> Answer:
    resistance, start, end = readings.number("resistance"), readings.number("from"), readings.number("to")
    value = resistance_at_ohm(resistance, start, end)
    worked = (
        f"{with_unit(value, 'Ω')} at {with_unit(end, '°C', 3)}: copper, {with_unit(resistance, 'Ω')} at "
        f"{with_unit(start, '°C', 3)}"
    )
    return Answer((value, resistance_by_intercept_ohm(resistance, start, end)), worked)


def _winding(readings: Readings) -> Answer:
    cold, start, hot = readings.number("cold"), readings.number("cold-temperature"), readings.number("hot")
    temperature = winding_temperature_c(cold, start, hot)
    worked = (
        f"{with_unit(temperature, '°C', 3)}: copper, {with_unit(cold, 'Ω')} at {with_unit(start, '°C', 3)}, "
        f"now {with_unit(hot, 'Ω')}"
    )
    return Answer((temperature, temperature - start), worked)


def _current(readings: Readings) -> Answer:
    voltage, resistance = readings.number("voltage"), readings.number("resistance")
    current, power = current_a(voltage, resistance), heat_w(voltage, resistance)
    worked = (
        f"{with_unit(current, 'A', 3)}, {with_unit(power, 'W', 3)}: {with_unit(voltage, 'V', 3)} across "
        f"{with_unit(resistance, 'Ω', 3)}"
    )
    return Answer((current, power), worked)


def _load(readings: Readings) -> Answer:
    power, voltage = readings.number("power"), readings.number("voltage")
    current = load_current_a(power, voltage)
    worked = f"{with_unit(current, 'A', 3)}: {with_unit(power, 'W', 3)} at {with_unit(voltage, 'V', 3)}"
    return Answer((current, voltage / current), worked)


def _frequency(readings: Readings) -> Answer:
    poles, speed = readings.count("poles"), readings.number("speed")
    frequency = generator_frequency_hz(poles, speed)
    return Answer((frequency,), f"{with_unit(frequency, 'Hz')}: {poles} poles at {with_unit(speed, 'rpm')}")


def _speed(readings: Readings) -> Answer:
    poles, frequency = readings.count("poles"), readings.number("frequency")
    speed = generator_speed_rpm(poles, frequency)
    return Answer((speed,), f"{with_unit(speed, 'rpm')}: {poles} poles, {with_unit(frequency, 'Hz')}")


def _charge(readings: Readings) -> Answer:
    voltage = readings.number("rest-voltage")
    band = state_of_charge(voltage)
    worked = (
        f"{shown(band.likely_percent, 3)} % charged ({shown(band.lowest_percent, 3)} to "
        f"{shown(band.highest_percent, 3)} %): {with_unit(voltage, 'V')} at rest"
    )
    return Answer((band.likely_percent, band.lowest_percent, band.highest_percent), worked)


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="current",
        title="Current and power of a resistance",
        group=_GROUP,
        formula="I = V/R; P = V²/R",
        symbols="V voltage; R resistance at working temperature",
        inputs=(
            _VOLTAGE,
            Input("resistance", "resistance", "resistance", "Ω", note="a resistance above 0 Ω"),
        ),
        outputs=(Output("current", "current", "current", "A"), Output("power", "power", "power", "W")),
        source="Ohm's law",
        caution=_LOW_VOLTAGE_ONLY,
        function=_current,
    ),
    Calculation(
        name="load-current",
        title="Current of a lamp or heater",
        group=_GROUP,
        formula="I = P/V; R = V²/P",
        symbols="P marked power; V voltage",
        inputs=(Input("power", "marked power", "power", "W", note="a power above 0 W"), _VOLTAGE),
        outputs=(
            Output("current", "current", "current", "A"),
            Output("resistance", "resistance at work", "resistance", "Ω"),
        ),
        source="definition of power",
        caution=f"A cold filament measures far lower than at work. {_LOW_VOLTAGE_ONLY}",
        function=_load,
    ),
    Calculation(
        name="resistance-at-temperature",
        title="Resistance of a winding at another temperature",
        group=_GROUP,
        formula="R2 = R1·(1 + α·(t2 - 20))/(1 + α·(t1 - 20)), α = 0.00393; or R1·(234.5 + t2)/(234.5 + t1)",
        symbols="R1 resistance at t1; R2 at t2; °C",
        inputs=(
            Input("resistance", "resistance measured", "resistance", "Ω", note="a resistance above 0 Ω"),
            Input("from", "temperature when measured", "temperature", "°C", "20 °C", note="above -234 °C"),
            Input("to", "temperature wanted", "temperature", "°C", note="above -234 °C"),
        ),
        outputs=(
            Output("resistance", "resistance", "resistance", "Ω"),
            Output("by-intercept", "resistance by the 234.5 rule", "resistance", "Ω"),
        ),
        source="NBS Circular 31 / Handbook 100, from memory",
        caution=f"Copper windings only, not lamps. {_ENGINE_OFF}",
        function=_resistance,
    ),
    Calculation(
        name="winding-temperature",
        title="Temperature of a winding from its resistance",
        group=_GROUP,
        formula="t2 = t1 + (R2/R1 - 1)/α1",
        symbols="R1 cold at t1; R2 hot; α1 coefficient at t1",
        inputs=(
            Input("cold", "cold resistance", "resistance", "Ω", note="a resistance above 0 Ω"),
            Input("cold-temperature", "cold temperature", "temperature", "°C", "20 °C", note="above -234 °C"),
            Input("hot", "hot resistance", "resistance", "Ω", note="a resistance above 0 Ω"),
        ),
        outputs=(
            Output("temperature", "temperature", "temperature", "°C"),
            Output("rise", "rise", "temperature-difference", "°C"),
        ),
        source="Kulshreshtha, Basic Electrical Engineering, Example 2.18 (second-hand)",
        caution=f"Copper windings only. {_ENGINE_OFF}",
        function=_winding,
    ),
    Calculation(
        name="generator-frequency",
        title="Frequency of a generator",
        group=_GROUP,
        formula="f = P·n/120",
        symbols="P magnet poles; n rotation",
        inputs=(_POLES, Input("speed", "speed", "rotational-speed", "rpm", note="above 0 rpm")),
        outputs=(Output("frequency", "frequency", "number", "Hz"),),
        source="physics",
        caution=_LOW_VOLTAGE_ONLY,
        function=_frequency,
    ),
    Calculation(
        name="generator-speed",
        title="Speed for a frequency",
        group=_GROUP,
        formula="n = 120·f/P",
        symbols="f frequency; P magnet poles",
        inputs=(_POLES, Input("frequency", "frequency", "number", "Hz", note="above 0 Hz")),
        outputs=(Output("speed", "speed", "rotational-speed", "rpm"),),
        source="physics",
        caution="Never turn a governor beyond the maker's top speed.",
        function=_speed,
    ),
    Calculation(
        name="battery-charge",
        title="State of charge of a 12 V lead-acid battery",
        group=_GROUP,
        formula="straight lines between 11.89 V 0 %, 12.06 V 25 %, 12.24 V 50 %, 12.45 V 75 %, 12.65 V 100 %",
        symbols="voltage after hours of rest, near 25 °C; band ±0.05 V",
        inputs=(Input("rest-voltage", "voltage at rest", "voltage", "V", note="0 to 20 V, a 12 V battery"),),
        outputs=(
            Output("charge", "state of charge", "ratio", "%"),
            Output("lowest", "at least", "ratio", "%"),
            Output("highest", "at most", "ratio", "%"),
        ),
        source="a trade-training table, from memory; no government or standards table was found",
        caution="Charging gas explodes: no flame or spark; eye protection on. Negative lead off first, on last.",
        function=_charge,
    ),
)
