"""Belts: length, centre distance, wrap, speed and the power a belt can pull."""

from __future__ import annotations

import math

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_not_negative,
    require_positive,
    shown,
)


def open_belt_length_mm(large_mm: float, small_mm: float, centre_distance_mm: float) -> float:
    """Exact length of an open belt over two pulleys.

    Formula: L = √(4C² - (D - d)²) + ½·(D·θ_D + d·θ_d), θ_d = π - 2·asin((D - d)/2C), θ_D = 2π - θ_d.
    Symbols: D, d pulley diameters (pitch diameters for V-belts) and C centre distance, mm; L mm.
    Valid: a taut belt without idler; either pulley may be named first.
    Errors: ImpossibleInputError (a ValueError) for sizes at or below zero or not finite, or pulleys that
        overlap.
    Source: geometry; form as in Wentzell, Machine Design, chapter 14.
    """
    _require_pulleys(centre_distance_mm, large_mm=large_mm, small_mm=small_mm)
    difference = abs(large_mm - small_mm)
    lean = math.asin(difference / (2 * centre_distance_mm))
    straight = math.sqrt(4 * centre_distance_mm**2 - difference**2)
    return straight + math.pi / 2 * (large_mm + small_mm) + difference * lean


def approximate_belt_length_mm(large_mm: float, small_mm: float, centre_distance_mm: float) -> float:
    """Length of an open belt by the workshop formula; never longer than the exact one.

    Formula: L ≈ 2C + (π/2)·(D + d) + (D - d)²/(4C).
    Symbols: as `open_belt_length_mm`.
    Valid: close when (D - d)/2C is small; short of the exact length by about C·((D - d)/2C)⁴/12.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or pulleys that overlap.
    Source: Wentzell, Machine Design, Example 14.2, second-hand.
    """
    _require_pulleys(centre_distance_mm, large_mm=large_mm, small_mm=small_mm)
    difference = large_mm - small_mm
    return (
        2 * centre_distance_mm
        + math.pi / 2 * (large_mm + small_mm)
        + difference**2 / (4 * centre_distance_mm)
    )


def crossed_belt_length_mm(large_mm: float, small_mm: float, centre_distance_mm: float) -> float:
    """Exact length of a crossed belt, which turns its pulleys opposite ways.

    Formula: L = √(4C² - (D + d)²) + ½·(D + d)·θ, θ = π + 2·asin((D + d)/2C).
    Symbols: as `open_belt_length_mm`; θ wrap of both pulleys.
    Valid: a taut belt without idler.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or pulleys that overlap.
    Source: geometry; worked in Khurmi & Gupta, Theory of Machines, 14th ed., Example 11.6, second-hand.
    """
    _require_pulleys(centre_distance_mm, large_mm=large_mm, small_mm=small_mm)
    both = large_mm + small_mm
    straight = math.sqrt(max(4 * centre_distance_mm**2 - both**2, 0.0))
    return straight + both / 2 * math.radians(crossed_wrap_deg(large_mm, small_mm, centre_distance_mm))


def wrap_deg(pulley_mm: float, other_mm: float, centre_distance_mm: float) -> float:
    """How far an open belt lies round the first pulley.

    Formula: θ = 180° - 2·asin((D_other - D)/2C).
    Symbols: D diameter of the pulley asked for, D_other of the other, C centre distance, mm; θ degrees.
    Valid: open belt without idler; below 180° on the smaller pulley, above on the larger.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or pulleys that overlap.
    Source: geometry; worked in Wentzell, Machine Design, Example 14.2, second-hand.
    """
    _require_pulleys(centre_distance_mm, pulley_mm=pulley_mm, other_mm=other_mm)
    return 180 - 2 * math.degrees(math.asin((other_mm - pulley_mm) / (2 * centre_distance_mm)))


def crossed_wrap_deg(pulley_mm: float, other_mm: float, centre_distance_mm: float) -> float:
    """How far a crossed belt lies round either pulley.

    Formula: θ = 180° + 2·asin((D + d)/2C).
    Symbols: as `wrap_deg`; the same for both pulleys.
    Valid: crossed belt without idler.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or pulleys that overlap.
    Source: geometry; Khurmi & Gupta, Theory of Machines, 14th ed., section 11.
    """
    _require_pulleys(centre_distance_mm, pulley_mm=pulley_mm, other_mm=other_mm)
    sine = min((pulley_mm + other_mm) / (2 * centre_distance_mm), 1.0)
    return 180 + 2 * math.degrees(math.asin(sine))


def centre_distance_mm(length_mm: float, large_mm: float, small_mm: float) -> float:
    """Centre distance at which an open belt of a given length is taut.

    Formula: the C for which the exact open-belt length is L, found by halving the interval.
    Symbols: L belt length, D and d pulley diameters, mm; C mm.
    Valid: open belt without idler; pitch length and pitch diameters for V-belts.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, and for a belt too short to reach
        round the two pulleys even where they touch.
    Source: inverse of `open_belt_length_mm`.
    """
    require_positive(length_mm=length_mm, large_mm=large_mm, small_mm=small_mm)
    lowest = (large_mm + small_mm) / 2
    shortest = open_belt_length_mm(large_mm, small_mm, lowest)
    if length_mm < shortest:
        raise ImpossibleInputError(
            "length_mm",
            f"a belt of {shown(length_mm)} mm cannot reach round pulleys of {shown(large_mm)} and "
            f"{shown(small_mm)} mm; the shortest possible is {shown(math.ceil(shortest), 6)} mm",
        )
    highest = max(length_mm / 2, lowest)
    for _ in range(200):  # far more than a double has bits; ends when the interval no longer halves
        middle = (lowest + highest) / 2
        if middle in (lowest, highest):
            break
        if open_belt_length_mm(large_mm, small_mm, middle) < length_mm:
            lowest = middle
        else:
            highest = middle
    return (lowest + highest) / 2


def approximate_centre_distance_mm(length_mm: float, large_mm: float, small_mm: float) -> float:
    """Centre distance by the workshop formula.

    Formula: C = (B + √(B² - 32·(D - d)²))/16, B = 4L - 2π·(D + d).
    Symbols: as `centre_distance_mm`.
    Valid: open belt; inverse of the approximate length.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, and for a belt too short for the
        pulleys.
    Source: Wentzell, Machine Design, Example 14.2, second-hand (printed there with 6.28 for 2π).
    """
    centre_distance_mm(length_mm, large_mm, small_mm)
    b = 4 * length_mm - 2 * math.pi * (large_mm + small_mm)
    return (b + math.sqrt(max(b**2 - 32 * (large_mm - small_mm) ** 2, 0.0))) / 16


def surface_speed_m_s(diameter_mm: float, speed_rpm: float) -> float:
    """Speed of a belt on its pulley, or of the tip of an impeller or blade.

    Formula: v = π·D·n.
    Symbols: D diameter, mm (taken in m); n rotation, rev/min (taken per second); v m/s.
    Valid: no slip; a speed of zero is allowed.
    Errors: ImpossibleInputError for a diameter at or below zero, a negative speed, or numbers not finite.
    Source: geometry; worked in Wentzell, Machine Design, Example 14.1.
    """
    require_positive(diameter_mm=diameter_mm)
    require_between(0, 1e6, speed_rpm=speed_rpm)
    return math.pi * diameter_mm / 1000 * speed_rpm / 60


def slack_side_n(
    tight_side_n: float, friction: float, wrap_degrees: float, groove_deg: float = 180.0
) -> float:
    """Pull of the slack side when the belt is about to slip.

    Formula: T2 = T1·exp(-µ·θ/sin(β/2)).
    Symbols: T1 tight and T2 slack side, N; µ friction; θ wrap in radians (given in degrees); β groove angle,
        180° for a flat belt.
    Valid: without centrifugal pull; µ up to 1.5, θ up to 720°, β from 20° to 180°.
    Errors: ImpossibleInputError for a pull at or below zero, numbers not finite or outside those limits.
    Source: belt friction equation; worked in Khurmi & Gupta, Theory of Machines, 14th ed., Example 11.4.
    """
    require_positive(tight_side_n=tight_side_n)
    require_between(0.01, 1.5, friction=friction)
    require_between(1, 720, wrap_degrees=wrap_degrees)
    require_between(20, 180, groove_deg=groove_deg)
    grip = friction / math.sin(math.radians(groove_deg / 2))
    return tight_side_n * math.exp(-grip * math.radians(wrap_degrees))


def belt_power_w(tight_side_n: float, slack_side_pull_n: float, speed_m_s: float) -> float:
    """Power that a belt carries.

    Formula: P = (T1 - T2)·v.
    Symbols: T1 tight and T2 slack side, N; v belt speed, m/s; P watts.
    Valid: steady running.
    Errors: ImpossibleInputError for a pull or speed below zero or not finite, or a slack side tighter than
        the tight one.
    Source: Khurmi & Gupta, Theory of Machines, 14th ed., Example 11.4.
    """
    require_positive(tight_side_n=tight_side_n)
    require_not_negative(slack_side_pull_n=slack_side_pull_n)
    require_between(0, 1e6, speed_m_s=speed_m_s)
    if slack_side_pull_n > tight_side_n:
        raise ImpossibleInputError(
            "slack_side_pull_n", "the slack side cannot pull harder than the tight side"
        )
    return (tight_side_n - slack_side_pull_n) * speed_m_s


def _require_pulleys(centre_distance_mm: float, **pulleys_mm: float) -> None:
    require_positive(**pulleys_mm, centre_distance_mm=centre_distance_mm)
    first_mm, second_mm = pulleys_mm.values()
    if centre_distance_mm < (first_mm + second_mm) / 2 * (1 - 1e-12):
        raise ImpossibleInputError(
            "centre_distance_mm",
            f"pulleys of {shown(first_mm)} and {shown(second_mm)} mm would overlap at a centre distance of "
            f"{shown(centre_distance_mm)} mm",
        )
