"""Bench calculations on belts and pulleys, in words."""

from __future__ import annotations

from shearpin.mechanics.belts import (
    approximate_belt_length_mm,
    approximate_centre_distance_mm,
    belt_power_w,
    centre_distance_mm,
    crossed_belt_length_mm,
    crossed_wrap_deg,
    open_belt_length_mm,
    slack_side_n,
    surface_speed_m_s,
    wrap_deg,
)
from shearpin.mechanics.calculation import Answer, Calculation, Input, Output, Readings
from shearpin.mechanics.guards import ImpossibleInputError, require_positive, shown, with_unit
from shearpin.mechanics.speeds import PulleyPair, driven_speed_rpm, throw_range_m

_GROUP = "belts"
_TAUT = (
    "A taut belt without idler. For V-belts take pitch diameters and pitch length; the part number decides."
)
_LARGE = Input("large", "larger pulley", "length", "mm", note="a diameter above 0 mm")
_SMALL = Input("small", "smaller pulley", "length", "mm", note="a diameter above 0 mm")
_CENTRE = Input(
    "centre-distance", "centre distance", "length", "mm", note="more than half the sum of the two diameters"
)
_SLIP = Input("slip", "slip of each belt", "ratio", "%", "0 %", note="0 to 50 %")


def _pulley_words(readings: Readings) -> str:
    return f"pulleys {shown(readings.number('large'))} and {with_unit(readings.number('small'), 'mm')}"


def _open_belt(readings: Readings) -> Answer:
    large, small, centre = (readings.number(key) for key in ("large", "small", "centre-distance"))
    length = open_belt_length_mm(large, small, centre)
    worked = f"{with_unit(length, 'mm')}: {_pulley_words(readings)}, centres {with_unit(centre, 'mm')} apart"
    return Answer(
        (
            length,
            approximate_belt_length_mm(large, small, centre),
            wrap_deg(small, large, centre),
            wrap_deg(large, small, centre),
        ),
        worked,
    )


def _crossed_belt(readings: Readings) -> Answer:
    large, small, centre = (readings.number(key) for key in ("large", "small", "centre-distance"))
    length = crossed_belt_length_mm(large, small, centre)
    worked = f"{with_unit(length, 'mm')}: {_pulley_words(readings)}, centres {with_unit(centre, 'mm')} apart"
    return Answer((length, crossed_wrap_deg(large, small, centre)), worked)


def _centre_distance(readings: Readings) -> Answer:
    length, large, small = (readings.number(key) for key in ("length", "large", "small"))
    centre = centre_distance_mm(length, large, small)
    worked = f"{with_unit(centre, 'mm')}: belt {with_unit(length, 'mm')}, {_pulley_words(readings)}"
    return Answer((centre, approximate_centre_distance_mm(length, large, small)), worked)


def _pulley_speed(readings: Readings) -> Answer:
    speed, slip = readings.number("driver-speed"), readings.number("slip") / 100
    if readings.has("second-driver") != readings.has("second-driven"):
        missing = "second_driven" if readings.has("second-driver") else "second_driver"
        raise ImpossibleInputError(missing, "a second belt needs both of its pulleys")
    pairs = [PulleyPair(readings.number("driver"), readings.number("driven"), slip)]
    if readings.has("second-driver"):
        # Named here, for the pairs themselves do not know which field they came from.
        require_positive(
            second_driver_mm=readings.number("second-driver"),
            second_driven_mm=readings.number("second-driven"),
        )
        pairs.append(PulleyPair(readings.number("second-driver"), readings.number("second-driven"), slip))
    driven = driven_speed_rpm(speed, pairs)
    sizes = ", then ".join(f"{shown(pair.driver_mm)} to {with_unit(pair.driven_mm, 'mm')}" for pair in pairs)
    worked = f"{with_unit(driven, 'rpm')}: {with_unit(speed, 'rpm')}, {sizes}, slip {shown(100 * slip, 3)} %"
    return Answer((driven, speed / driven), worked)


def _surface_speed(readings: Readings) -> Answer:
    diameter, speed = readings.number("diameter"), readings.number("speed")
    surface = surface_speed_m_s(diameter, speed)
    worked = f"{with_unit(surface, 'm/s', 3)}: {with_unit(diameter, 'mm')} at {with_unit(speed, 'rpm')}"
    return Answer((surface,), worked)


def _throw(readings: Readings) -> Answer:
    diameter, speed, angle = (readings.number(key) for key in ("diameter", "speed", "angle"))
    require_positive(speed_rpm=speed)
    tip = surface_speed_m_s(diameter, speed)
    distance = throw_range_m(tip, angle)
    worked = (
        f"never beyond {with_unit(distance, 'm', 3)}: {with_unit(diameter, 'mm')} impeller at "
        f"{with_unit(speed, 'rpm')}, tip {with_unit(tip, 'm/s', 3)}, chute at {with_unit(angle, '°', 3)}"
    )
    return Answer((distance, tip), worked)


def _belt_power(readings: Readings) -> Answer:
    tight = readings.number("tight-side")
    slack = slack_side_n(
        tight, readings.number("friction"), readings.number("wrap-degrees"), readings.number("groove")
    )
    speed = surface_speed_m_s(readings.number("diameter"), readings.number("speed"))
    power = belt_power_w(tight, slack, speed)
    worked = (
        f"{with_unit(power, 'W', 3)} before it slips: tight side {with_unit(tight, 'N', 3)}, slack side "
        f"{with_unit(slack, 'N', 3)}, {with_unit(speed, 'm/s', 3)}"
    )
    return Answer((power, slack, speed), worked)


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="belt-length",
        title="Length of a belt",
        group=_GROUP,
        formula="L = √(4C² - (D - d)²) + ½·(D·θ_D + d·θ_d); about 2C + (π/2)·(D + d) + (D - d)²/(4C)",
        symbols="D, d pulley diameters; C centre distance; θ wrap",
        inputs=(_LARGE, _SMALL, _CENTRE),
        outputs=(
            Output("length", "length", "length", "mm"),
            Output("approximate", "length by the workshop formula", "length", "mm"),
            Output("small-wrap", "wrap on the smaller pulley", "angle", "°"),
            Output("large-wrap", "wrap on the larger pulley", "angle", "°"),
        ),
        source="geometry; Wentzell, Machine Design, chapter 14 (second-hand)",
        caution=_TAUT,
        function=_open_belt,
    ),
    Calculation(
        name="crossed-belt-length",
        title="Length of a crossed belt",
        group=_GROUP,
        formula="L = √(4C² - (D + d)²) + ½·(D + d)·θ, θ = 180° + 2·asin((D + d)/2C)",
        symbols="D, d pulley diameters; C centre distance; θ wrap of both pulleys",
        inputs=(_LARGE, _SMALL, _CENTRE),
        outputs=(
            Output("length", "length", "length", "mm"),
            Output("wrap", "wrap on either pulley", "angle", "°"),
        ),
        source="geometry; Khurmi & Gupta, Theory of Machines, Example 11.6 (second-hand)",
        caution=_TAUT,
        function=_crossed_belt,
    ),
    Calculation(
        name="belt-centre-distance",
        title="Centre distance for a belt",
        group=_GROUP,
        formula="the C at which the open-belt length is L; about (B + √(B² - 32·(D - d)²))/16",
        symbols="L belt length; D, d pulley diameters; B = 4L - 2π·(D + d)",
        inputs=(
            Input(
                "length", "length of the belt", "length", "mm", note="long enough to reach round both pulleys"
            ),
            _LARGE,
            _SMALL,
        ),
        outputs=(
            Output("centre-distance", "centre distance", "length", "mm"),
            Output("approximate", "centre distance by the workshop formula", "length", "mm"),
        ),
        source="geometry; Wentzell, Machine Design, Example 14.2 (second-hand)",
        caution=_TAUT,
        function=_centre_distance,
    ),
    Calculation(
        name="pulley-speed",
        title="Speed behind one or two belts",
        group=_GROUP,
        formula="n2 = n1·(D1/D2)·(1 - s) for each belt",
        symbols="n rotation; D1 driving, D2 driven pulley; s slip",
        inputs=(
            Input("driver-speed", "speed of the first pulley", "rotational-speed", "rpm", note="above 0 rpm"),
            Input("driver", "first driving pulley", "length", "mm", note="a diameter above 0 mm"),
            Input("driven", "first driven pulley", "length", "mm", note="a diameter above 0 mm"),
            Input(
                "second-driver", "second driving pulley", "length", "mm", "", note="only with a second belt"
            ),
            Input(
                "second-driven", "second driven pulley", "length", "mm", "", note="only with a second belt"
            ),
            _SLIP,
        ),
        outputs=(
            Output("speed", "speed of the last pulley", "rotational-speed", "rpm"),
            Output("ratio", "ratio of first to last speed", "number"),
        ),
        source="Khurmi & Gupta, Theory of Machines, Example 11.1 (second-hand)",
        caution="Measure speed with the guards on.",
        function=_pulley_speed,
    ),
    Calculation(
        name="surface-speed",
        title="Speed of a belt or of a tip",
        group=_GROUP,
        formula="v = π·D·n",
        symbols="D diameter; n rotation",
        inputs=(
            Input("diameter", "diameter", "length", "mm", note="a diameter above 0 mm"),
            Input("speed", "speed", "rotational-speed", "rpm", note="0 to 1000000 rpm"),
        ),
        outputs=(Output("surface-speed", "surface speed", "speed", "m/s"),),
        source="geometry",
        caution="Keep clear of turning parts, and wait until they stand still.",
        function=_surface_speed,
    ),
    Calculation(
        name="throwing-distance",
        title="Farthest possible throw",
        group=_GROUP,
        formula="R = (π·D·n)²·sin(2α)/g",
        symbols="D impeller diameter; n rotation; α angle of the chute; g = 9.80665 m/s²",
        inputs=(
            Input("diameter", "diameter of the impeller", "length", "mm", note="a diameter above 0 mm"),
            Input("speed", "speed of the impeller", "rotational-speed", "rpm", note="above 0 rpm"),
            Input("angle", "angle above level", "angle", "°", "45°", note="0° to 90°"),
        ),
        outputs=(
            Output("distance", "upper bound of the throw", "length", "m"),
            Output("tip-speed", "tip speed", "speed", "m/s"),
        ),
        source="mechanics",
        caution="An upper bound without air: snow lands short of it, a stone hardly. Never aim at people.",
        function=_throw,
    ),
    Calculation(
        name="belt-power",
        title="Power a belt can carry",
        group=_GROUP,
        formula="P = T1·(1 - exp(-µ·θ/sin(β/2)))·v",
        symbols="T1 pull of the tight side; µ friction; θ wrap; β groove angle, 180° flat; v belt speed",
        inputs=(
            Input("tight-side", "pull of the tight side", "force", "N", note="a pull above 0 N"),
            Input("friction", "friction of belt on pulley", "number", note="0.01 to 1.5, about 0.3"),
            Input("wrap-degrees", "wrap", "angle", "°", note="1° to 720°"),
            Input("groove", "groove angle", "angle", "°", "180°", note="20° to 180°; 180° for a flat belt"),
            Input("diameter", "diameter of the pulley", "length", "mm", note="a diameter above 0 mm"),
            Input("speed", "speed of the pulley", "rotational-speed", "rpm", note="0 to 1000000 rpm"),
        ),
        outputs=(
            Output("power", "power", "power", "W"),
            Output("slack-side", "pull of the slack side", "force", "N"),
            Output("belt-speed", "belt speed", "speed", "m/s"),
        ),
        source="Khurmi & Gupta, Theory of Machines, Example 11.4 (second-hand)",
        caution="Without the pull of rotation, and without ice, oil or glaze.",
        function=_belt_power,
    ),
)
