"""Published rows on engine, oil, fuel and electrics: E, J, Q and L."""

from __future__ import annotations

from collections.abc import Iterator

from shearpin.mechanics.electrics import (
    COPPER_COEFFICIENT_20_C,
    COPPER_INTERCEPT_C,
    coefficient_at,
    current_a,
    generator_speed_rpm,
    heat_w,
    resistance_at_ohm,
    resistance_by_intercept_ohm,
    state_of_charge,
    winding_temperature_c,
)
from shearpin.mechanics.engine import (
    LEAK_DOWN_SUSPECT_PERCENT,
    LEAK_DOWN_TEST_PSI,
    compression_ratio,
    displacement_cm3,
    engine_class,
    leak_down_percent,
    leak_meaning,
    nominal_displacement_cm3,
)
from shearpin.mechanics.fuel import (
    ETHANOL_CEILING_PERCENT,
    ethanol_allowed,
    oil_for_fuel_ml,
    oil_share_of_mix,
)
from shearpin.mechanics.oil import WINTER_GRADES, WinterGrade, winter_grades_for
from tests.reference.published_row import Basis, PublishedRow

CFR_90 = "40 CFR 90.116"
FAA_LEAK = "FAA AC 43.13-1B paragraphs 8-14 and 8-15"
CFR_80 = "40 CFR 80.1504(a)(1)"
J300 = "SAE J300, 2015 and later"
KULSH = "Kulshreshtha, Basic Electrical Engineering, ch. 2"
ROBERTSON = "Robertson, Fundamental Electrical and Electronic Principles, 3rd ed."
US_GAL_ML, US_FL_OZ_ML = 3785.411784, 29.5735295625
IMP_GAL_ML, IMP_FL_OZ_ML = 4546.09, 28.4130625


def _displacement_rows() -> Iterator[PublishedRow]:
    rajput = "Rajput, Internal Combustion Engines, 2nd ed., Example 3.8"
    for row_id, what, ours, printed, within, basis, source in (
        ("E01", "swept m³", lambda: displacement_cm3(250, 375) / 1e6, 0.018408, 5e-7, Basis.SECOND_HAND,
         rajput),
        ("E01", "ratio", lambda: compression_ratio(18408, 2630), 8.0, 0.05, Basis.SECOND_HAND, rajput),
        ("E01", "ratio", lambda: compression_ratio(18408, 2630), 7.999, 0.0005, Basis.SECOND_HAND, rajput),
        ("E02", "14 cylinders, in³", lambda: displacement_cm3(139.7, 139.7, 14) / 16.387064, 1829.4, 0.05,
         Basis.FROM_MEMORY, "FAA-H-8083 powerplant handbook"),
        ("E03", "cm³", lambda: displacement_cm3(68, 54), 196.1, 0.05, Basis.ARITHMETIC, "π/4·b²·s"),
        ("E04", "cm³", lambda: displacement_cm3(70, 55.5), 213.6, 0.05, Basis.ARITHMETIC, "π/4·b²·s"),
        ("E05", "in³", lambda: displacement_cm3(69.85, 63.5) / 16.387064, 14.849, 0.0005, Basis.ARITHMETIC,
         "π/4·b²·s"),
        ("E05", "cm³", lambda: displacement_cm3(69.85, 63.5), 243.3, 0.05, Basis.ARITHMETIC, "π/4·b²·s"),
    ):  # fmt: skip
        yield PublishedRow(row_id, what, basis, source, ours, printed, within)
    for swept, printed in ((196.1, 196), (213.6, 214), (224.5, 224), (225.5, 226)):
        yield PublishedRow(
            "E06", f"{swept} to whole cm³", Basis.READ, CFR_90,
            lambda swept=swept: nominal_displacement_cm3(swept), printed,
        )  # fmt: skip
    for handheld, volume, name in (
        (False, 40, "I-A"), (False, 80, "I-B"), (False, 212, "I"), (False, 306, "II"),
        (True, 19, "III"), (True, 20, "IV"), (True, 49, "IV"), (True, 50, "V"),
    ):  # fmt: skip
        yield PublishedRow(
            "E07", f"{volume} cm³, {'handheld' if handheld else 'not handheld'}", Basis.READ, CFR_90,
            lambda swept=volume, handheld=handheld: engine_class(swept, handheld), name,
        )  # fmt: skip
    for volume, name in ((65, "I-A"), (66, "I-B"), (99, "I-B"), (100, "I"), (224, "I"), (225, "II")):
        yield PublishedRow(
            "E08", f"{volume} cm³", Basis.ARITHMETIC, CFR_90, lambda swept=volume: engine_class(swept), name
        )
    for frequency, printed in ((60, 3600), (50, 3000)):
        yield PublishedRow(
            "E09", f"2 poles, {frequency} Hz, rpm", Basis.ARITHMETIC, "f = P·n/120",
            lambda frequency=frequency: generator_speed_rpm(2, frequency), printed,
        )  # fmt: skip


def _leak_rows() -> Iterator[PublishedRow]:
    yield PublishedRow("E40", "test pressure, psi", Basis.READ, FAA_LEAK, lambda: LEAK_DOWN_TEST_PSI, 80)
    yield PublishedRow("E41", "60 of 80, %", Basis.READ, FAA_LEAK, lambda: leak_down_percent(80, 60), 25)
    yield PublishedRow("E41", "limit, %", Basis.READ, FAA_LEAK, lambda: LEAK_DOWN_SUSPECT_PERCENT, 25)
    yield PublishedRow(
        "E42", "72 of 80, %", Basis.ARITHMETIC, FAA_LEAK, lambda: leak_down_percent(80, 72), 10
    )
    for path, printed in (
        ("exhaust", "exhaust valve"),
        ("intake", "intake valve"),
        ("crankcase", "piston rings"),
    ):
        yield PublishedRow(
            "E44", f"air at the {path}", Basis.READ, "aviation-press article, 2016",
            lambda path=path, printed=printed: printed in leak_meaning(path).meaning, True,
        )  # fmt: skip


def _oil_rows() -> Iterator[PublishedRow]:
    for row_id, *limits in (
        ("J01", "0W", 6200, -35, 60_000, -40),
        ("J02", "5W", 6600, -30, 60_000, -35),
        ("J03", "10W", 7000, -25, 60_000, -30),
        ("J04", "15W", 7000, -20, 60_000, -25),
        ("J05", "20W", 9500, -15, 60_000, -20),
        ("J06", "25W", 13_000, -10, 60_000, -15),
    ):
        grade = WinterGrade(*limits)  # type: ignore[arg-type]
        yield PublishedRow(
            row_id, f"limits of {grade.name}", Basis.SECOND_HAND, J300,
            lambda grade=grade: next(ours for ours in WINTER_GRADES if ours.name == grade.name), grade,
        )  # fmt: skip
        yield PublishedRow(
            row_id, f"{grade.name} at {grade.cranking_c} and one degree colder", Basis.SECOND_HAND, J300,
            lambda grade=grade: tuple(
                grade.name in {ours.name for ours in winter_grades_for(lowest)}
                for lowest in (grade.cranking_c, grade.cranking_c - 1)
            ),
            (True, False),
        )  # fmt: skip


def _fuel_rows() -> Iterator[PublishedRow]:
    # A table: long by its rows alone.
    yield PublishedRow(
        "Q01", "ceiling, vol %", Basis.SECOND_HAND, CFR_80, lambda: ETHANOL_CEILING_PERCENT, 10.0
    )
    yield PublishedRow(
        "Q03", "85 %, certified as flexible-fuel", Basis.READ, "agency answer page",
        lambda: ethanol_allowed(85, flexible_fuel=True), True,
    )  # fmt: skip
    for ethanol, printed in ((10.0, True), (10.1, False), (15.0, False)):
        yield PublishedRow(
            "Q05",
            f"{ethanol} %",
            Basis.ARITHMETIC,
            CFR_80,
            lambda ethanol=ethanol: ethanol_allowed(ethanol),
            printed,
        )
    # ratio, US fl oz per US gal, mL per L, mL per US gal (2 places), imp fl oz per imp gal
    for row_id, ratio, us_oz, per_l, per_gal, imp_oz in (
        ("Q10", 16, 8, 62.5, 236.59, 10),
        ("Q11", 25, 5.12, 40, 151.42, 6.4),
        ("Q12", 32, 4, 31.25, 118.29, 5),
        ("Q13", 40, 3.2, 25, 94.64, 4),
        ("Q14", 50, 2.56, 20, 75.71, 3.2),
        ("Q15", 100, 1.28, 10, 37.85, 1.6),
    ):
        for what, fuel_ml, per, amount, within in (
            ("US fl oz per US gal", US_GAL_ML, US_FL_OZ_ML, us_oz, 0.0),
            ("mL per L", 1000, 1, per_l, 0.0),
            ("mL per US gal", US_GAL_ML, 1, per_gal, 0.005),
            ("imp fl oz per imp gal", IMP_GAL_ML, IMP_FL_OZ_ML, imp_oz, 0.0),
        ):
            yield PublishedRow(
                row_id, f"{ratio}:1, {what}", Basis.ARITHMETIC, "definition of gallon and ounce",
                lambda ratio=ratio, fuel_ml=fuel_ml, per=per: oil_for_fuel_ml(fuel_ml / 1000, ratio) / per,
                amount, within,
            )  # fmt: skip
    yield PublishedRow(
        "Q14",
        "oil in the mix",
        Basis.ARITHMETIC,
        "ratio is oil against gasoline",
        lambda: oil_share_of_mix(50),
        1 / 51,
    )


def _electric_rows() -> Iterator[PublishedRow]:
    # A table: long by its rows alone.
    yield PublishedRow("L01", "12 V, 4 Ω, A", Basis.ARITHMETIC, "definition", lambda: current_a(12, 4), 3)
    yield PublishedRow("L01", "12 V, 4 Ω, W", Basis.ARITHMETIC, "definition", lambda: heat_w(12, 4), 36)
    for printed, within, basis in ((0.00426, 1e-5, Basis.SECOND_HAND), (0.004265, 5e-7, Basis.ARITHMETIC)):
        yield PublishedRow(
            "L04", f"coefficient at 0 °C, {printed}", basis, "Robertson; Kulshreshtha",
            lambda: coefficient_at(0.00393, 20, 0), printed, within,
        )  # fmt: skip
    yield PublishedRow(
        "L05", "intercept from the coefficient, °C", Basis.FROM_MEMORY, "textbook constant",
        lambda: 20 - 1 / COPPER_COEFFICIENT_20_C, COPPER_INTERCEPT_C, 0.06,
    )  # fmt: skip
    yield PublishedRow(
        "L06", "rise from 3.42 to 4.22 Ω, °C", Basis.SECOND_HAND, KULSH,
        lambda: winding_temperature_c(3.42, 20, 4.22, 0.00426, 0) - 20, 59.59, 0.01,
    )  # fmt: skip
    yield PublishedRow(
        "L07", "59.53 °C above 20 by the 234.5 rule, Ω", Basis.ARITHMETIC, "234.5 rule",
        lambda: resistance_by_intercept_ohm(3.42, 20, 79.53), 4.22, 0.0001,
    )  # fmt: skip
    for row_id, what, resistance, from_c, to_c, alpha, printed, within, source in (
        ("L08", "field coil", 250, 15, 45, 0.00428, 280.2, 0.05, f"{ROBERTSON} Example 1.18"),
        ("L09", "coil", 350, 0, 60, 0.00426, 439.5, 0.05, f"{ROBERTSON} Example 1.19"),
        ("L10", "line", 126, 20, -35, 0.00426, 98.80, 0.01, KULSH),
    ):
        yield PublishedRow(
            row_id, f"{what} at {to_c} °C, Ω", Basis.SECOND_HAND, source,
            lambda r=resistance, a=from_c, b=to_c, alpha=alpha: resistance_at_ohm(r, a, b, alpha, 0.0),
            printed, within,
        )  # fmt: skip
    yield PublishedRow(
        "L11", "R75/R20, coefficient", Basis.ARITHMETIC, "0.00393 at 20 °C",
        lambda: resistance_at_ohm(1, 20, 75), 1.21615, 5e-6,
    )  # fmt: skip
    yield PublishedRow(
        "L11", "R75/R20, 234.5 rule", Basis.ARITHMETIC, "234.5 rule",
        lambda: resistance_by_intercept_ohm(1, 20, 75), 1.21611, 5e-6,
    )  # fmt: skip
    yield PublishedRow(
        "L26", "charge below and above the table, %", Basis.ARITHMETIC, "clamped",
        lambda: (state_of_charge(9.0).likely_percent, state_of_charge(14.4).likely_percent), (0.0, 100.0),
    )  # fmt: skip
    yield PublishedRow(
        "L26", "charge never falls as the voltage rises", Basis.ARITHMETIC, "monotone",
        lambda: all(
            state_of_charge(v / 100).likely_percent <= state_of_charge((v + 1) / 100).likely_percent
            for v in range(1000, 1500)
        ),
        True,
    )  # fmt: skip


ROWS: tuple[PublishedRow, ...] = (
    *_displacement_rows(), *_leak_rows(), *_oil_rows(), *_fuel_rows(), *_electric_rows()
)  # fmt: skip
