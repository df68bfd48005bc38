"""Bench calculations on tightening with a torque wrench, in words."""

from __future__ import annotations

from shearpin.mechanics.bench_bolts import MANUAL_FIRST
from shearpin.mechanics.bench_threads import remarks
from shearpin.mechanics.calculation import Answer, Calculation, Choice, Input, Output, Readings
from shearpin.mechanics.guards import shown, with_unit
from shearpin.mechanics.tightening import (
    TORQUE_REDUCTIONS,
    reduced_torque_nm,
    tightening_passes_nm,
    with_prevailing_torque_nm,
)
from shearpin.mechanics.wrench import torque_at_fastener_nm, wrench_setting_nm

_GROUP = "fasteners"
_WRENCH_CARE = (
    "Pull with the hand where the lever was measured to. A straight extension along the drive axis changes "
    "nothing."
)
_LEVER = Input(
    "lever",
    "lever of the wrench",
    "length",
    "mm",
    note="centre of grip to centre of drive, longer than an adapter that is folded back",
)
_ADAPTER = Input(
    "adapter",
    "length of the adapter",
    "length",
    "mm",
    note="centre of drive to centre of fastener; folded back it must stay shorter than the lever",
)
_ANGLE = Input(
    "angle",
    "angle of the adapter",
    "angle",
    "°",
    "0°",
    note="0° straight out, 90° square to the wrench, 180° folded back",
)


def _passes(readings: Readings) -> Answer:
    torque = readings.number("torque")
    passes = tightening_passes_nm(torque)
    if len(passes) == 1:
        return Answer((torque, torque), f"{with_unit(torque, 'N·m', 3)} in one pass")
    worked = f"in a pattern: first {with_unit(passes[0], 'N·m', 3)}, then {with_unit(torque, 'N·m', 3)}"
    return Answer((passes[0], torque), worked)


def _prevailing(readings: Readings) -> Answer:
    torque, prevailing = readings.number("torque"), readings.number("prevailing")
    total = with_prevailing_torque_nm(torque, prevailing)
    worked = (
        f"{with_unit(total, 'N·m', 3)}: {with_unit(torque, 'N·m', 3)} and "
        f"{with_unit(prevailing, 'N·m', 3)} prevailing"
    )
    return Answer((total,), worked)


def _reduced(readings: Readings) -> Answer:
    reduction = next(item for item in TORQUE_REDUCTIONS if item.name == readings.name("condition"))
    dry = readings.number("dry-torque")
    torque = reduced_torque_nm(dry, reduction.share)
    worked = (
        f"{with_unit(torque, 'N·m', 3)}: {with_unit(dry, 'N·m', 3)} dry, less "
        f"{shown(100 * reduction.share)} %, {reduction.condition}"
    )
    return Answer((torque,), worked, remarks(reduction.note))


def _adapter_words(readings: Readings) -> str:
    return (
        f"lever {with_unit(readings.number('lever'), 'mm', 3)}, adapter "
        f"{with_unit(readings.number('adapter'), 'mm', 3)} at {with_unit(readings.number('angle'), '°', 3)}"
    )


def _adapter_setting(readings: Readings) -> Answer:
    torque = readings.number("torque")
    setting = wrench_setting_nm(
        torque, readings.number("lever"), readings.number("adapter"), readings.number("angle")
    )
    worked = (
        f"set {with_unit(setting, 'N·m', 3)} for {with_unit(torque, 'N·m', 3)}: {_adapter_words(readings)}"
    )
    return Answer((setting,), worked)


def _adapter_torque(readings: Readings) -> Answer:
    setting = readings.number("setting")
    torque = torque_at_fastener_nm(
        setting, readings.number("lever"), readings.number("adapter"), readings.number("angle")
    )
    worked = (
        f"{with_unit(torque, 'N·m', 3)} when set to {with_unit(setting, 'N·m', 3)}: "
        f"{_adapter_words(readings)}"
    )
    return Answer((torque,), worked)


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="adapter-setting",
        title="Torque wrench with an adapter: what to set",
        group=_GROUP,
        formula="S = T·L/(L + E·cos θ)",
        symbols="S setting; T torque at the fastener; L lever; E adapter; θ angle of the adapter",
        inputs=(Input("torque", "torque at the fastener", "torque", "N·m"), _LEVER, _ADAPTER, _ANGLE),
        outputs=(Output("setting", "setting of the wrench", "torque", "N·m"),),
        source="FAA AC 43.13-1B paragraph 7-40; NAVEDTRA 14315; TM 9-254",
        caution=_WRENCH_CARE,
        function=_adapter_setting,
    ),
    Calculation(
        name="adapter-torque",
        title="Torque wrench with an adapter: what the fastener got",
        group=_GROUP,
        formula="T = S·(L + E·cos θ)/L",
        symbols="T torque at the fastener; S setting; L lever; E adapter; θ angle of the adapter",
        inputs=(Input("setting", "setting of the wrench", "torque", "N·m"), _LEVER, _ADAPTER, _ANGLE),
        outputs=(Output("torque", "torque at the fastener", "torque", "N·m"),),
        source="TM 9-254 fig. 4-5 and 4-6",
        caution=_WRENCH_CARE,
        function=_adapter_torque,
    ),
    Calculation(
        name="tightening-passes",
        title="Tightening in passes",
        group=_GROUP,
        formula="above 41 N·m: 0.70·T in a pattern, then T",
        symbols="T final torque",
        inputs=(Input("torque", "final torque", "torque", "N·m"),),
        outputs=(
            Output("first", "first pass", "torque", "N·m"),
            Output("final", "final pass", "torque", "N·m"),
        ),
        source="TM 5-3805-248-23-1",
        caution="The maker's own sequence goes first.",
        function=_passes,
    ),
    Calculation(
        name="prevailing-torque",
        title="Torque on a lock nut",
        group=_GROUP,
        formula="T_set = T + T_prevailing",
        symbols="T recommended torque; T_prevailing torque that turns the nut before it seats",
        inputs=(
            Input("torque", "recommended torque", "torque", "N·m"),
            Input("prevailing", "prevailing torque", "torque", "N·m"),
        ),
        outputs=(Output("setting", "torque to set", "torque", "N·m"),),
        source="FAA AC 43.13-1B paragraph 7-40",
        caution="Never pass the maximum torque plus the prevailing torque. "
        "Replace a lock nut that turns freely by hand.",
        function=_prevailing,
    ),
    Calculation(
        name="reduced-torque",
        title="Dry torque for other threads",
        group=_GROUP,
        formula="T = (1 - s)·T_dry",
        symbols="s reduction; T_dry torque for clean dry threads",
        inputs=(
            Input("dry-torque", "torque for clean dry threads", "torque", "N·m"),
            Input(
                "condition",
                "condition",
                "choice",
                choices=tuple(
                    Choice(item.name, f"{item.condition}: {item.share:.0%} less, {item.source}")
                    for item in TORQUE_REDUCTIONS
                ),
            ),
        ),
        outputs=(Output("torque", "torque", "torque", "N·m"),),
        source="TM 5-3895-367-14&P Appendix H; TM 9-6115-604-34 Table 1-2 notes",
        caution=MANUAL_FIRST,
        function=_reduced,
    ),
)
