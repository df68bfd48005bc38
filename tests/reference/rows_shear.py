"""Published rows on shear bolts: H."""

from __future__ import annotations

from collections.abc import Iterator

from shearpin.mechanics.shear import (
    HOLDS_BELOW_RATIO,
    SHEARS_ABOVE_RATIO,
    ShearState,
    grade_swap_ratio,
    release_torque_nm,
    shank_area_mm2,
    shear_force_n,
    shear_state,
    shear_stress_mpa,
)
from shearpin.mechanics.speeds import shaft_torque_nm
from tests.reference.published_row import (
    MM_PER_IN,
    MPA_PER_PSI,
    N_PER_LBF,
    NM_PER_LBF_FT,
    NM_PER_LBF_IN,
    W_PER_HP,
    Basis,
    PublishedRow,
)

KSI = 1000 * MPA_PER_PSI
PIN = "Wentzell, Machine Design, Example 3.3"


def _inch_shear_lbf(diameter_in: float, tensile_ksi: float, ratio: float) -> float:
    return shear_force_n(tensile_ksi * KSI, shank_area_mm2(diameter_in * MM_PER_IN), ratio) / N_PER_LBF


def _shear_rows() -> Iterator[PublishedRow]:
    # A table: long by its rows alone.
    yield PublishedRow(
        "H03",
        "screening band",
        Basis.SECOND_HAND,
        PIN,
        lambda: (HOLDS_BELOW_RATIO, SHEARS_ABOVE_RATIO),
        (0.5, 0.6),
    )

    def pin_stress() -> float:
        return shear_stress_mpa(20_000 * N_PER_LBF, shank_area_mm2(0.5 * MM_PER_IN), 2)

    yield PublishedRow(
        "H04", "stress of the pin, psi", Basis.SECOND_HAND, PIN, lambda: pin_stress() / MPA_PER_PSI, 50_930, 1
    )
    yield PublishedRow(
        "H04",
        "verdict",
        Basis.SECOND_HAND,
        PIN,
        lambda: shear_state(pin_stress(), 80 * KSI),
        ShearState.SHEARS,
    )
    yield PublishedRow(
        "H05", "torque of 5 hp at 1750 rpm, lbf·in (63 000·hp/n)", Basis.SECOND_HAND,
        "Wentzell, Machine Design, Example 15.1",
        lambda: shaft_torque_nm(5 * W_PER_HP, 1750) / NM_PER_LBF_IN, 180, relative=0.001,
    )  # fmt: skip
    for row_id, size, tensile, energy, handbook in (
        ("H10", 0.25, 74, 2096, 2179), ("H10", 0.25, 120, 3399, 3534), ("H10", 0.25, 150, 4249, 4418),
        ("H11", 0.3125, 74, 3275, 3405),
    ):  # fmt: skip
        for ratio, printed in ((0.577, energy), (0.60, handbook)):
            yield PublishedRow(
                row_id, f"{size} in at {tensile} ksi, k {ratio}, lbf", Basis.ARITHMETIC, "k·S_u·πd²/4",
                lambda size=size, tensile=tensile, ratio=ratio: _inch_shear_lbf(size, tensile, ratio),
                printed, 0.6,
            )  # fmt: skip
    for tensile, energy, handbook in (
        (400, 6526, 6786),
        (500, 8157, 8482),
        (800, 13051, 13572),
        (1000, 16314, 16965),
    ):
        for ratio, printed in ((0.577, energy), (0.60, handbook)):
            yield PublishedRow(
                "H12", f"M6 at {tensile} MPa, k {ratio}, N", Basis.ARITHMETIC, "k·S_u·πd²/4",
                lambda tensile=tensile, ratio=ratio: shear_force_n(tensile, shank_area_mm2(6), ratio),
                printed, 0.6,
            )  # fmt: skip
    yield PublishedRow(
        "H10", "1/4-20 grade 2 sheared through the thread, k 0.60, lbf", Basis.ARITHMETIC, "k·S_u·A_r",
        lambda: shear_force_n(74 * KSI, 0.0269 * MM_PER_IN**2, 0.60) / N_PER_LBF, 1194, 0.6,
    )  # fmt: skip
    for grade, tensile, printed in (("2", 74, 136), ("5", 120, 221), ("8", 150, 276)):
        yield PublishedRow(
            "H10", f"release torque, 1/4 in grade {grade} across 3/4 in, lbf·ft",
            Basis.ARITHMETIC, "2·F·D/2",
            lambda tensile=tensile: release_torque_nm(
                shear_force_n(tensile * KSI, shank_area_mm2(0.25 * MM_PER_IN), 0.60), 0.75 * MM_PER_IN, 2
            ) / NM_PER_LBF_FT,
            printed, 0.5,
        )  # fmt: skip
    for tensile, times in ((120, 1.62), (150, 2.03)):
        yield PublishedRow(
            "H10", f"swap of 74 for {tensile} ksi", Basis.ARITHMETIC, "ratio of strengths",
            lambda tensile=tensile: grade_swap_ratio(tensile * KSI, 74 * KSI), times, 0.005,
        )  # fmt: skip


ROWS: tuple[PublishedRow, ...] = tuple(_shear_rows())
