"""Bench calculations on gears, chain, friction disc, clutch and shafts, in words."""

from __future__ import annotations

from shearpin.mechanics.calculation import Answer, Calculation, Input, Output, Readings
from shearpin.mechanics.guards import ImpossibleInputError, require_count, shown, with_unit
from shearpin.mechanics.speeds import (
    GearMesh,
    clutch_torque_nm,
    friction_disc_rpm,
    gear_train,
    geared_speed_rpm,
    power_w,
    shaft_torque_nm,
    teeth_ratio,
    worm_ratio,
)

_GROUP = "drives"
_SPEED = Input("speed", "speed in", "rotational-speed", "rpm", note="above 0 rpm")
_STANDSTILL = "Keep clear of turning parts, and wait until they stand still."


def _teeth(name: str, title: str, optional: bool = False) -> Input:
    return Input(name, title, "count", "", "" if optional else None, note="a whole number of teeth")


def _gears(readings: Readings) -> Answer:
    meshes = [GearMesh(readings.count("driver-teeth"), readings.count("driven-teeth"))]
    for order in ("second", "third"):
        driver, driven = f"{order}-driver-teeth", f"{order}-driven-teeth"
        if readings.has(driver) != readings.has(driven):
            missing = driven if readings.has(driver) else driver
            raise ImpossibleInputError(
                missing.replace("-", "_"), f"a {order} pair of gears needs both of them"
            )
        if readings.has(driver):
            for key in (driver, driven):
                require_count(**{key.replace("-", "_"): readings.count(key)})
            meshes.append(GearMesh(readings.count(driver), readings.count(driven)))
    out = gear_train(readings.number("speed"), readings.number("torque"), meshes)
    direction = "backwards" if out.speed_rpm < 0 else "forwards"
    pairs = " · ".join(f"{mesh.driven_teeth}/{mesh.driver_teeth}" for mesh in meshes)
    worked = f"{with_unit(abs(out.speed_rpm), 'rpm')} {direction}: ratio {shown(out.ratio)} = {pairs}"
    return Answer((out.speed_rpm, out.torque_nm, out.ratio, direction), worked)


def _worm(readings: Readings) -> Answer:
    teeth, starts = readings.count("wheel-teeth"), readings.count("starts")
    ratio = worm_ratio(teeth, starts)
    speed = readings.number("speed") / ratio
    worked = f"{with_unit(speed, 'rpm')}: ratio {shown(ratio)} = {teeth}/{starts}"
    return Answer((speed, ratio), worked)


def _gearbox(readings: Readings) -> Answer:
    speed, ratio = readings.number("speed"), readings.number("ratio")
    out = geared_speed_rpm(speed, ratio)
    return Answer((out,), f"{with_unit(out, 'rpm')}: {with_unit(speed, 'rpm')}, ratio {shown(ratio)}:1")


def _chain(readings: Readings) -> Answer:
    driver, driven = readings.count("driver-teeth"), readings.count("driven-teeth")
    ratio = teeth_ratio(driver, driven)
    speed = readings.number("speed") / ratio
    return Answer((speed, ratio), f"{with_unit(speed, 'rpm')}: ratio {shown(ratio)} = {driven}/{driver}")


def _friction_disc(readings: Readings) -> Answer:
    position, radius = readings.number("position"), readings.number("wheel-radius")
    speed = friction_disc_rpm(readings.number("plate"), position, radius)
    direction = "standing still" if speed == 0 else "forwards" if speed > 0 else "reverse"
    worked = (
        f"{with_unit(abs(speed), 'rpm')} {direction}: plate {with_unit(readings.number('plate'), 'rpm')}, "
        f"wheel of {with_unit(radius, 'mm')} radius at {with_unit(position, 'mm')}"
    )
    return Answer((speed, direction), worked)


def _clutch(readings: Readings) -> Answer:
    torque = clutch_torque_nm(
        readings.number("friction"),
        readings.number("clamp"),
        readings.number("outer"),
        readings.number("inner"),
        readings.count("faces"),
    )
    worked = (
        f"{with_unit(torque, 'N·m', 3)}: lining {shown(readings.number('inner'))} to "
        f"{with_unit(readings.number('outer'), 'mm')} radius, "
        f"friction {shown(readings.number('friction'), 3)}"
    )
    return Answer((torque,), worked)


def _shaft_power(readings: Readings) -> Answer:
    torque, speed = readings.number("torque"), readings.number("speed")
    power = power_w(torque, speed)
    return Answer(
        (power,), f"{with_unit(power, 'W', 3)}: {with_unit(torque, 'N·m', 3)} at {with_unit(speed, 'rpm')}"
    )


def _shaft_torque(readings: Readings) -> Answer:
    power, speed = readings.number("shaft-power"), readings.number("speed")
    torque = shaft_torque_nm(power, speed)
    return Answer(
        (torque,), f"{with_unit(torque, 'N·m', 3)}: {with_unit(power, 'W', 3)} at {with_unit(speed, 'rpm')}"
    )


_SPEED_OUT = Output("speed", "speed out", "rotational-speed", "rpm")
_RATIO = Output("ratio", "ratio", "number")

CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="gear-train",
        title="Speed and torque behind gears",
        group=_GROUP,
        formula="ratio = Π z_driven/z_driver; n2 = n1/ratio; T2 = T1·ratio",
        symbols="z teeth; n rotation, turned round by every pair; T torque",
        inputs=(
            _SPEED,
            Input("torque", "torque in", "torque", "N·m", "1 N·m", note="a torque above 0 N·m"),
            _teeth("driver-teeth", "teeth of the first driving gear"),
            _teeth("driven-teeth", "teeth of the first driven gear"),
            _teeth("second-driver-teeth", "teeth of the second driving gear", optional=True),
            _teeth("second-driven-teeth", "teeth of the second driven gear", optional=True),
            _teeth("third-driver-teeth", "teeth of the third driving gear", optional=True),
            _teeth("third-driven-teeth", "teeth of the third driven gear", optional=True),
        ),
        outputs=(
            _SPEED_OUT,
            Output("torque", "torque out", "torque", "N·m"),
            _RATIO,
            Output("direction", "direction", "text"),
        ),
        source="Wentzell, Machine Design, Examples 11.1 and 11.2 (second-hand)",
        caution="External gears without losses.",
        function=_gears,
    ),
    Calculation(
        name="gearbox-speed",
        title="Speed behind a gearbox",
        group=_GROUP,
        formula="n2 = n1/i",
        symbols="i ratio of the gearbox; n rotation",
        inputs=(_SPEED, Input("ratio", "ratio", "ratio", ":1", note="a ratio above 0, such as 10:1")),
        outputs=(_SPEED_OUT,),
        source="definition; Wentzell, Machine Design, Example 13.4 (second-hand)",
        caution=_STANDSTILL,
        function=_gearbox,
    ),
    Calculation(
        name="worm-gear",
        title="Speed behind a worm",
        group=_GROUP,
        formula="n2 = n1·s/z",
        symbols="s starts of the worm; z teeth of the wheel; n rotation",
        inputs=(
            _SPEED,
            _teeth("wheel-teeth", "teeth of the wheel"),
            Input("starts", "starts of the worm", "count", "", "1", note="a whole number, one or more"),
        ),
        outputs=(_SPEED_OUT, _RATIO),
        source="Wentzell, Machine Design, Example 13.4 (second-hand)",
        caution=_STANDSTILL,
        function=_worm,
    ),
    Calculation(
        name="chain-drive",
        title="Speed behind a chain",
        group=_GROUP,
        formula="n2 = n1·z1/z2",
        symbols="z1 driving, z2 driven sprocket; n rotation",
        inputs=(
            _SPEED,
            _teeth("driver-teeth", "teeth of the driving sprocket"),
            _teeth("driven-teeth", "teeth of the driven sprocket"),
        ),
        outputs=(_SPEED_OUT, _RATIO),
        source="Wentzell, Machine Design, Example 14.4 (second-hand)",
        caution=_STANDSTILL,
        function=_chain,
    ),
    Calculation(
        name="friction-disc",
        title="Speed of a friction disc drive",
        group=_GROUP,
        formula="n = n1·x/r",
        symbols="n1 rotation of the plate; x signed distance from its centre; r radius of the friction wheel",
        inputs=(
            Input("plate", "speed of the plate", "rotational-speed", "rpm", note="above 0 rpm"),
            Input(
                "position", "distance from the centre", "length", "mm", note="negative on the reverse side"
            ),
            Input("wheel-radius", "radius of the friction wheel", "length", "mm", note="a radius above 0 mm"),
        ),
        outputs=(
            Output("speed", "speed of the friction wheel", "rotational-speed", "rpm"),
            Output("direction", "direction", "text"),
        ),
        source="rolling without slip",
        caution="A ring of real width always slips a little, most near the centre.",
        function=_friction_disc,
    ),
    Calculation(
        name="clutch-torque",
        title="Torque of a disc clutch",
        group=_GROUP,
        formula="T = m·f·N·(r_o + r_i)/2",
        symbols="m faces; f friction; N clamp force; r_o outer, r_i inner radius",
        inputs=(
            Input("friction", "friction of the lining", "number", note="0.01 to 1.5, about 0.3"),
            Input("clamp", "clamp force", "force", "N", note="a force above 0 N"),
            Input("outer", "outer radius of the lining", "length", "mm", note="a radius above 0 mm"),
            Input("inner", "inner radius of the lining", "length", "mm", note="below the outer radius"),
            Input("faces", "friction faces", "count", "", "1", note="a whole number, one or more"),
        ),
        outputs=(Output("torque", "torque", "torque", "N·m"),),
        source="Wentzell, Machine Design, Example 16.1 (second-hand)",
        caution="A worn-in lining, dry and clean.",
        function=_clutch,
    ),
    Calculation(
        name="shaft-power",
        title="Power of a shaft",
        group=_GROUP,
        formula="P = T·2π·n",
        symbols="T torque; n rotation",
        inputs=(Input("torque", "torque", "torque", "N·m", note="a torque above 0 N·m"), _SPEED),
        outputs=(Output("power", "power", "power", "W"),),
        source="definition",
        caution=_STANDSTILL,
        function=_shaft_power,
    ),
    Calculation(
        name="shaft-torque",
        title="Torque of a shaft",
        group=_GROUP,
        formula="T = P/(2π·n)",
        symbols="P power; n rotation",
        inputs=(Input("shaft-power", "power", "power", "W", note="a power above 0 W"), _SPEED),
        outputs=(Output("torque", "torque", "torque", "N·m"),),
        source="definition",
        caution=_STANDSTILL,
        function=_shaft_torque,
    ),
)
