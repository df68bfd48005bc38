"""Bench calculations on engine, fuel and oil, in words."""

from __future__ import annotations

from shearpin.mechanics.calculation import Answer, Calculation, Choice, Input, Output, Readings
from shearpin.mechanics.engine import (
    LEAK_DOWN_SUSPECT_PERCENT,
    LEAK_DOWN_TEST_PSI,
    LEAK_PATHS,
    compression_ratio,
    displacement_cm3,
    engine_class,
    leak_down_percent,
    leak_down_verdict,
    leak_meaning,
    nominal_displacement_cm3,
)
from shearpin.mechanics.fuel import (
    ethanol_after_top_up_percent,
    ethanol_allowed,
    fuel_for_oil_l,
    oil_for_fuel_ml,
    oil_share_of_mix,
    stabiliser_dose_ml,
)
from shearpin.mechanics.guards import shown, with_unit
from shearpin.mechanics.oil import oil_guidance

_FUEL_CARE = "Outdoors, engine off and cold, no flame or spark, in a can approved for fuel."
_MIX_RATIO = Input("ratio", "mix ratio", "ratio", ":1", note="parts of gasoline to one of oil, 10:1 to 200:1")


def _displacement(readings: Readings) -> Answer:
    bore, stroke, cylinders = readings.number("bore"), readings.number("stroke"), readings.count("cylinders")
    swept = displacement_cm3(bore, stroke, cylinders)
    nominal = nominal_displacement_cm3(swept)
    name = engine_class(swept, readings.name("use") == "handheld")
    worked = (
        f"{with_unit(swept, 'cm³')}: bore {shown(bore)}, stroke {with_unit(stroke, 'mm')}, "
        f"{cylinders} cylinder{'s' if cylinders > 1 else ''}, class {name}"
    )
    return Answer((swept, float(nominal), name), worked)


def _compression(readings: Readings) -> Answer:
    swept, clearance = readings.number("swept"), readings.number("clearance")
    ratio = compression_ratio(swept, clearance)
    worked = f"{shown(ratio, 3)}:1: swept {shown(swept)}, clearance {with_unit(clearance, 'cm³')}"
    return Answer((ratio,), worked)


def _leak_down(readings: Readings) -> Answer:
    supply, cylinder = readings.number("supply-pressure"), readings.number("cylinder-pressure")
    loss = leak_down_percent(supply, cylinder)
    verdict = leak_down_verdict(loss)
    path = leak_meaning(readings.name("heard-at")) if readings.has("heard-at") else None
    meaning = f"{path.heard_at}: {path.meaning}" if path else "listen where the air comes out"
    worked = f"{shown(loss, 3)} % loss, {verdict}: {shown(cylinder)} of {with_unit(supply, 'psi')} held"
    notes = (
        "Good, watch and repair (20 and 40 %) are common practice, no source.",
        f"Aviation calls a loss above {shown(LEAK_DOWN_SUSPECT_PERCENT)} % cause to suspect the cylinder "
        "(FAA AC 43.13-1B): run the engine and measure again.",
    )
    return Answer((loss, verdict, meaning), worked, notes)


def _oil_mix(readings: Readings) -> Answer:
    fuel, ratio = readings.number("fuel"), readings.number("ratio")
    oil = oil_for_fuel_ml(fuel, ratio)
    worked = f"{with_unit(oil, 'mL')} oil: {with_unit(fuel, 'L')} gasoline at {shown(ratio)}:1"
    return Answer((oil, 100 * oil_share_of_mix(ratio)), worked)


def _fuel_for_oil(readings: Readings) -> Answer:
    oil, ratio = readings.number("oil"), readings.number("ratio")
    fuel = fuel_for_oil_l(oil, ratio)
    worked = f"{with_unit(fuel, 'L')} gasoline: {with_unit(oil, 'mL')} oil at {shown(ratio)}:1"
    return Answer((fuel,), worked)


def _stabiliser(readings: Readings) -> Answer:
    fuel, label_dose, label_fuel = (readings.number(key) for key in ("fuel", "label-dose", "label-fuel"))
    dose = stabiliser_dose_ml(fuel, label_dose, label_fuel)
    worked = (
        f"{with_unit(dose, 'mL', 3)}: {with_unit(fuel, 'L')} fuel, label {with_unit(label_dose, 'mL', 3)} "
        f"to {with_unit(label_fuel, 'L')}"
    )
    return Answer((dose,), worked)


def _ethanol(readings: Readings) -> Answer:
    tank, added = readings.number("tank"), readings.number("added")
    ethanol = ethanol_after_top_up_percent(
        tank, readings.number("tank-ethanol"), added, readings.number("added-ethanol")
    )
    allowed = ethanol_allowed(ethanol, readings.name("certified") == "flexible-fuel")
    verdict = "allowed" if allowed else "not allowed"
    worked = (
        f"{shown(ethanol, 3)} % ethanol, {verdict}: {with_unit(tank, 'L')} of "
        f"{shown(readings.number('tank-ethanol'), 3)} % and {with_unit(added, 'L')} of "
        f"{shown(readings.number('added-ethanol'), 3)} %"
    )
    return Answer((ethanol, verdict), worked)


def _oil_grade(readings: Readings) -> Answer:
    lowest = readings.number("lowest")
    guidance = oil_guidance(lowest)
    grades = " or ".join(guidance.grades)
    tested = ", ".join(guidance.tested_to_crank) or "none"
    worked = f"{grades} down to {with_unit(lowest, '°C', 3)} ({guidance.source})"
    notes = tuple(
        f"SAE J300 tests {grade.name} for cranking only down to {shown(grade.cranking_c)} °C."
        for grade in guidance.untested
    )
    return Answer((grades, tested), worked, notes)


CALCULATIONS: tuple[Calculation, ...] = (
    Calculation(
        name="displacement",
        title="Displacement and engine class",
        group="engine",
        formula="V = π/4·b²·s·N",
        symbols="b bore; s stroke; N cylinders",
        inputs=(
            Input("bore", "bore", "length", "mm", note="a bore above 0 mm"),
            Input("stroke", "stroke", "length", "mm", note="a stroke above 0 mm"),
            Input("cylinders", "cylinders", "count", "", "1", note="a whole number, one or more"),
            Input(
                "use",
                "use",
                "choice",
                default="not-handheld",
                choices=(Choice("not-handheld", "not handheld"), Choice("handheld", "handheld")),
            ),
        ),
        outputs=(
            Output("displacement", "displacement", "displacement", "cm³"),
            Output("nominal", "nominal displacement", "displacement", "cm³"),
            Output("class", "engine class", "text"),
        ),
        source="geometry; 40 CFR 90.116",
        caution="The engine plate decides which parts fit, not the displacement.",
        function=_displacement,
    ),
    Calculation(
        name="compression-ratio",
        title="Compression ratio",
        group="engine",
        formula="r = (V_s + V_c)/V_c",
        symbols="V_s swept volume of one cylinder; V_c clearance volume with gasket and chamber",
        inputs=(
            Input("swept", "swept volume", "displacement", "cm³", note="a volume above 0 cm³"),
            Input("clearance", "clearance volume", "displacement", "cm³", note="a volume above 0 cm³"),
        ),
        outputs=(Output("ratio", "compression ratio", "ratio", ":1"),),
        source="definition",
        caution="A compression release makes a cranking gauge read low on a good engine.",
        function=_compression,
    ),
    Calculation(
        name="leak-down",
        title="Leak-down test",
        group="engine",
        formula="100·(1 - p_cyl/p_in)",
        symbols="p_in supply pressure; p_cyl cylinder pressure",
        inputs=(
            Input(
                "supply-pressure",
                "supply pressure",
                "pressure",
                "psi",
                f"{shown(LEAK_DOWN_TEST_PSI)} psi",
                note="above 0 psi",
            ),
            Input(
                "cylinder-pressure",
                "cylinder pressure",
                "pressure",
                "psi",
                note="0 psi up to the supply pressure",
            ),
            Input(
                "heard-at",
                "where the air is heard",
                "choice",
                default="",
                choices=tuple(Choice(path.name, path.heard_at) for path in LEAK_PATHS),
            ),
        ),
        outputs=(
            Output("loss", "loss", "ratio", "%"),
            Output("verdict", "verdict", "text"),
            Output("meaning", "meaning", "text"),
        ),
        source="FAA AC 43.13-1B paragraphs 8-14 and 8-15; bands common practice, no source",
        caution="The air can drive the piston round: hold the crankshaft, keep hands clear, "
        "take the spark plug lead off, raise the pressure slowly.",
        function=_leak_down,
    ),
    Calculation(
        name="oil-mix",
        title="Oil for two-stroke mix",
        group="fuel",
        formula="V_oil = V_fuel/R",
        symbols="R parts of gasoline to one of oil, against the gasoline and not the mix",
        inputs=(Input("fuel", "gasoline", "volume", "L", note="a volume above 0 L"), _MIX_RATIO),
        outputs=(
            Output("oil", "oil", "volume", "mL"),
            Output("oil-share", "oil in the finished mix", "ratio", "%"),
        ),
        source="definition of the ratio",
        caution=_FUEL_CARE,
        function=_oil_mix,
    ),
    Calculation(
        name="fuel-for-oil",
        title="Gasoline for an amount of oil",
        group="fuel",
        formula="V_fuel = R·V_oil",
        symbols="R parts of gasoline to one of oil",
        inputs=(Input("oil", "oil", "volume", "mL", note="a volume above 0 mL"), _MIX_RATIO),
        outputs=(Output("fuel", "gasoline", "volume", "L"),),
        source="definition of the ratio",
        caution=_FUEL_CARE,
        function=_fuel_for_oil,
    ),
    Calculation(
        name="stabiliser-dose",
        title="Fuel stabiliser",
        group="fuel",
        formula="V = V_fuel·(dose on the label)/(fuel on the label)",
        symbols="V_fuel fuel to treat",
        inputs=(
            Input("fuel", "fuel to treat", "volume", "L", note="a volume above 0 L"),
            Input("label-dose", "dose on the label", "volume", "mL", note="at most a tenth of its fuel"),
            Input("label-fuel", "fuel that dose is for", "volume", "L", note="a volume above 0 L"),
        ),
        outputs=(Output("dose", "stabiliser", "volume", "mL"),),
        source="proportion",
        caution=f"Stabiliser keeps fresh fuel; it does not mend stale fuel. {_FUEL_CARE}",
        function=_stabiliser,
    ),
    Calculation(
        name="ethanol-top-up",
        title="Ethanol after topping up",
        group="fuel",
        formula="e = (V1·e1 + V2·e2)/(V1 + V2); allowed up to 10.0 %",
        symbols="V1 fuel in the tank, V2 fuel added; e ethanol by volume",
        inputs=(
            Input("tank", "fuel in the tank", "volume", "L", note="0 L or more"),
            Input("tank-ethanol", "its ethanol", "concentration", "vol %", note="0 to 100 vol %"),
            Input("added", "fuel added", "volume", "L", note="0 L or more, but not both volumes 0"),
            Input("added-ethanol", "its ethanol", "concentration", "vol %", note="0 to 100 vol %"),
            Input(
                "certified",
                "engine certified for",
                "choice",
                default="gasoline",
                choices=(Choice("gasoline", "gasoline"), Choice("flexible-fuel", "flexible fuel")),
            ),
        ),
        outputs=(
            Output("ethanol", "ethanol", "concentration", "vol %"),
            Output("verdict", "by the United States rule", "text"),
        ),
        source="conservation of volume; 40 CFR 80.1504(a)(1) as quoted by the agency",
        caution=f"The maker's manual may ask for less ethanol. {_FUEL_CARE}",
        function=_ethanol,
    ),
    Calculation(
        name="oil-grade",
        title="Engine oil by lowest temperature",
        group="engine",
        formula="above 4 °C SAE 30; -18 to 4 °C 10W-30 or 5W-30; below -18 °C 5W-30 or 0W-30",
        symbols="lowest temperature at which the engine must start",
        inputs=(Input("lowest", "lowest temperature", "temperature", "°C", note="-60 to 60 °C"),),
        outputs=(
            Output("grades", "grades commonly filled", "text"),
            Output("tested", "winter grades tested to crank there", "text"),
        ),
        source="common practice, no source; cranking temperatures SAE J300, 2015 and later (second-hand)",
        caution="Guidance only: fill what the maker's chart names.",
        function=_oil_grade,
    ),
)
