"""Speed, torque and power through pulleys, gears, worm, chain, friction disc and clutch."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_count,
    require_finite,
    require_positive,
    shown,
)

STANDARD_GRAVITY_M_S2 = 9.80665


@dataclass(frozen=True, slots=True)
class PulleyPair:
    """A belt from a driving to a driven pulley: diameters in millimetres, slip as a share."""

    driver_mm: float
    driven_mm: float
    slip: float = 0.0


@dataclass(frozen=True, slots=True)
class GearMesh:
    """Two meshing gears by their teeth, the driving one first."""

    driver_teeth: int
    driven_teeth: int


@dataclass(frozen=True, slots=True)
class GearOutput:
    """What leaves a gear train. A ratio above 1 slows down; a negative speed turns backwards."""

    ratio: float
    speed_rpm: float
    torque_nm: float


def driven_speed_rpm(driver_speed_rpm: float, pairs: Sequence[PulleyPair]) -> float:
    """Speed of the last pulley of a chain of belts.

    Formula: n2 = n1·(D1/D2)·(1 - s), once for each belt.
    Symbols: n rotation, rev/min; D1 driving and D2 driven pulley, mm (pitch diameters for V-belts); s slip as
        a share.
    Valid: open belts; each slip from 0 to 0.5.
    Errors: ImpossibleInputError (a ValueError) for a speed or size at or below zero or not finite, a slip
        outside 0 to 0.5, or no belt at all.
    Source: Khurmi & Gupta, Theory of Machines, 14th ed., Example 11.1, second-hand.
    """
    require_positive(driver_speed_rpm=driver_speed_rpm)
    if not pairs:
        raise ImpossibleInputError("pairs", "a belt drive needs at least one pair of pulleys")
    speed_rpm = driver_speed_rpm
    for pair in pairs:
        require_positive(driver_mm=pair.driver_mm, driven_mm=pair.driven_mm)
        if not 0 <= pair.slip <= 0.5:
            sentence = f"a belt slips 0 to 50 %, and {shown(100 * pair.slip)} % is not in that range"
            raise ImpossibleInputError("slip", sentence)
        speed_rpm *= pair.driver_mm / pair.driven_mm * (1 - pair.slip)
    return speed_rpm


def gear_train(speed_rpm: float, torque_nm: float, meshes: Sequence[GearMesh]) -> GearOutput:
    """Speed, torque and direction behind a train of spur gears.

    Formula: ratio = Π z_driven/z_driver; n2 = n1/ratio·(-1)^m; T2 = T1·ratio.
    Symbols: z teeth; m count of external meshes; n rotation, rev/min; T torque, N·m.
    Valid: external gears, no losses.
    Errors: ImpossibleInputError for a speed or torque at or below zero or not finite, teeth below one, or no
        mesh.
    Source: Wentzell, Machine Design, Examples 11.1 and 11.2, second-hand.
    """
    require_positive(speed_rpm=speed_rpm, torque_nm=torque_nm)
    if not meshes:
        raise ImpossibleInputError("meshes", "a gear train needs at least one pair of gears")
    ratio = 1.0
    for mesh in meshes:
        ratio *= teeth_ratio(mesh.driver_teeth, mesh.driven_teeth)
    direction = -1 if len(meshes) % 2 else 1
    return GearOutput(ratio, direction * speed_rpm / ratio, torque_nm * ratio)


def teeth_ratio(driver_teeth: int, driven_teeth: int) -> float:
    """Ratio of a gear pair, or of a chain over two sprockets; above 1 slows down.

    Formula: i = z_driven/z_driver; n2 = n1/i. A chain keeps the direction, a gear pair turns it round.
    Symbols: z teeth.
    Valid: external gears; chain without slip.
    Errors: ImpossibleInputError for teeth below one or not whole.
    Source: Wentzell, Machine Design, Examples 11.1 and 14.4, second-hand.
    """
    require_count(driver_teeth=driver_teeth, driven_teeth=driven_teeth)
    return driven_teeth / driver_teeth


def worm_ratio(wheel_teeth: int, starts: int) -> float:
    """Ratio of a worm and its wheel.

    Formula: i = z/s; n2 = n1/i.
    Symbols: z teeth of the wheel; s starts (threads) of the worm.
    Valid: worm drives wheel.
    Errors: ImpossibleInputError for teeth or starts below one or not whole, or more starts than teeth.
    Source: Wentzell, Machine Design, Example 13.4, second-hand.
    """
    require_count(wheel_teeth=wheel_teeth, starts=starts)
    if starts > wheel_teeth:
        raise ImpossibleInputError("starts", "a worm cannot have more starts than its wheel has teeth")
    return wheel_teeth / starts


def geared_speed_rpm(speed_rpm: float, ratio: float) -> float:
    """Speed behind a gearbox of a known ratio.

    Formula: n2 = n1/i.
    Symbols: n rotation, rev/min; i ratio, above 1 where it slows down.
    Valid: any gears, chain or worm; no slip.
    Errors: ImpossibleInputError for a speed or ratio at or below zero or not finite.
    Source: definition of the ratio; worked in Wentzell, Machine Design, Example 13.4, second-hand.
    """
    require_positive(speed_rpm=speed_rpm, ratio=ratio)
    return speed_rpm / ratio


def friction_disc_rpm(plate_rpm: float, position_mm: float, wheel_radius_mm: float) -> float:
    """Speed of a friction wheel that rolls on the face of a turning plate.

    Formula: n = n1·x/r.
    Symbols: n1 plate rotation, rev/min; x signed distance of the wheel from the centre of the plate, mm; r
        radius of the wheel, mm; n rev/min, zero at the centre and negative on the far side (reverse).
    Valid: rolling without slip; a ring of real width always slips a little, most near the centre.
    Errors: ImpossibleInputError for a plate speed or radius at or below zero, or numbers not finite.
    Source: rolling without slip; Orthwein (handbook chapter abstract) for the slip of a finite width.
    """
    require_positive(plate_rpm=plate_rpm, wheel_radius_mm=wheel_radius_mm)
    require_finite(position_mm=position_mm)
    return plate_rpm * position_mm / wheel_radius_mm


def clutch_torque_nm(
    friction: float, clamp_n: float, outer_mm: float, inner_mm: float, faces: int = 1
) -> float:
    """Torque a worn-in disc clutch can carry.

    Formula: T = m·f·N·(r_o + r_i)/2.
    Symbols: m friction faces; f friction; N clamp force, N; r_o outer and r_i inner radius of the lining, mm
        (taken in m); T N·m.
    Valid: uniform wear; friction 0.01 to 1.5.
    Errors: ImpossibleInputError for impossible sizes or loads, an inner radius not below the outer, or no
        face.
    Source: Wentzell, Machine Design, Example 16.1, second-hand.
    """
    require_between(0.01, 1.5, friction=friction)
    require_positive(clamp_n=clamp_n, outer_mm=outer_mm, inner_mm=inner_mm)
    require_count(faces=faces)
    if inner_mm >= outer_mm:
        raise ImpossibleInputError(
            "inner_mm", "the inner radius of a clutch lining must be below the outer radius"
        )
    return faces * friction * clamp_n * (outer_mm + inner_mm) / 2 / 1000


def power_w(torque_nm: float, speed_rpm: float) -> float:
    """Power of a turning shaft.

    Formula: P = T·2π·n.
    Symbols: T torque, N·m; n rotation, rev/min (taken per second); P watts.
    Valid: steady running.
    Errors: ImpossibleInputError for a torque or speed at or below zero or not finite.
    Source: definition.
    """
    require_positive(torque_nm=torque_nm, speed_rpm=speed_rpm)
    return torque_nm * 2 * math.pi * speed_rpm / 60


def shaft_torque_nm(shaft_power_w: float, speed_rpm: float) -> float:
    """Torque of a shaft that carries a power.

    Formula: T = P/(2π·n).
    Symbols: P watts; n rotation, rev/min (taken per second); T N·m.
    Valid: steady running.
    Errors: ImpossibleInputError for a power or speed at or below zero or not finite.
    Source: definition; books print 63 000·hp/n in lbf·in, 0.04 % low.
    """
    require_positive(shaft_power_w=shaft_power_w, speed_rpm=speed_rpm)
    return shaft_power_w / (2 * math.pi * speed_rpm / 60)


def throw_range_m(tip_speed_m_s: float, angle_deg: float = 45.0) -> float:
    """The farthest that anything leaving at a speed could land, as an upper bound.

    Formula: R = v²·sin(2α)/g.
    Symbols: v speed of leaving, m/s; α angle above level, degrees; g = 9.80665 m/s²; R m.
    Valid: no air drag, no slip on the vanes, landing at the height of leaving; real snow lands far short of
        it. It falls with the square of speed, so a belt that slips 10 % costs 19 %.
    Errors: ImpossibleInputError for a speed at or below zero or not finite, or an angle outside 0° to 90°.
    Source: mechanics.
    """
    require_positive(tip_speed_m_s=tip_speed_m_s)
    require_between(0, 90, angle_deg=angle_deg)
    return tip_speed_m_s**2 * math.sin(math.radians(2 * angle_deg)) / STANDARD_GRAVITY_M_S2
