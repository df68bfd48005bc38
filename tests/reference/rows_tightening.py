"""Published rows on tightening and on adapters: nut factors K, worked examples W, torques G, wrenches X."""

from __future__ import annotations

from collections.abc import Iterator

from shearpin.mechanics.strength import load_n, parse_grade, strength_at
from shearpin.mechanics.threads import parse_thread, stress_area_mm2
from shearpin.mechanics.tightening import (
    GENERAL_TORQUE_TOLERANCE,
    NUT_FACTORS,
    SCATTER_DRY,
    SCATTER_LUBRICATED,
    TORQUE_REDUCTIONS,
    PreloadRange,
    helix_angle_deg,
    long_nut_factor,
    preload_range_n,
    reduced_torque_nm,
    target_preload_n,
    tightening_passes_nm,
    torque_for_preload_nm,
    turn_of_nut_deg,
)
from shearpin.mechanics.wrench import effective_lever_mm, torque_at_fastener_nm, wrench_setting_nm
from tests.reference.published_row import (
    MM_PER_IN,
    MPA_PER_PSI,
    N_PER_LBF,
    NM_PER_LBF_FT,
    NM_PER_LBF_IN,
    Basis,
    PublishedRow,
)

SHIGLEY_K = "Shigley 9th ed. Table 8-15"
BICKFORD = "Bickford & Nassar, Handbook of Bolts and Bolted Joints, ch. 2 Table 1"
WENTZELL = "Wentzell, Machine Design, ch. 6"
SHIGLEY_83 = "Shigley 9th ed. Example 8-3"
TM_H1 = "TM 5-3895-367-14&P Table H-1"

# The single torque column agrees with grade 5, K = 0.20, 75 % of proof.
_TM_TORQUES_LBF_FT = (
    ("G01", "1/4-20", 8), ("G02", "1/4-28", 10), ("G03", "5/16-18", 17), ("G04", "5/16-24", 19),
    ("G05", "3/8-16", 31), ("G06", "3/8-24", 35), ("G07", "7/16-14", 49), ("G08", "7/16-20", 55),
    ("G09", "1/2-13", 75), ("G10", "1/2-20", 85), ("G11", "9/16-12", 110), ("G12", "9/16-18", 120),
    ("G13", "5/8-11", 150), ("G14", "5/8-18", 170), ("G15", "3/4-10", 270), ("G16", "3/4-16", 295),
)  # fmt: skip

# K = 0.20, 75 % of 580 MPa, areas as ISO 898-1 prints them.
_METRIC_TORQUES_NM = (
    ("G80", 5, 14.2, 6.18), ("G81", 6, 20.1, 10.49), ("G82", 8, 36.6, 25.47), ("G83", 10, 58.0, 50.46),
    ("G84", 12, 84.3, 88.01), ("G85", 14, 115, 140.07), ("G86", 16, 157, 218.54),
)  # fmt: skip


def _nut_factor(name: str) -> float:
    return next(factor.value for factor in NUT_FACTORS if factor.name == name)


def _reduction(name: str) -> float:
    return next(reduction.share for reduction in TORQUE_REDUCTIONS if reduction.name == name)


def _k_rows() -> Iterator[PublishedRow]:
    for row_id, name, printed, source in (
        ("K01", "black", 0.30, SHIGLEY_K),
        ("K02", "zinc-shigley", 0.20, SHIGLEY_K),
        ("K03", "lubricated", 0.18, SHIGLEY_K),
        ("K04", "cadmium-shigley", 0.16, SHIGLEY_K),
        ("K05", "anti-seize", 0.12, SHIGLEY_K),
        ("K07", "bare-bickford", 0.20, BICKFORD),
        ("K07", "cadmium-dry-bickford", 0.20, BICKFORD),
        ("K07", "zinc-dry-bickford", 0.295, BICKFORD),
    ):
        yield PublishedRow(
            row_id, name, Basis.SECOND_HAND, source, lambda name=name: _nut_factor(name), printed
        )  # fmt: skip
    yield PublishedRow(
        "K08", "scatter of a torque wrench", Basis.SECOND_HAND, "NASA-STD-5020B Table 3",
        lambda: (SCATTER_DRY, SCATTER_LUBRICATED), (0.35, 0.25),
    )  # fmt: skip
    for name, printed in (("oiled", 90.0), ("new-plated", 80.0), ("into-aluminium", 70.0)):
        yield PublishedRow(
            "K09", f"100 N·m dry, {name}", Basis.READ,
            "TM 5-3895-367-14&P App. H, TM 9-6115-604-34 Table 1-2",
            lambda name=name: reduced_torque_nm(100, _reduction(name)), printed,
        )  # fmt: skip
    yield PublishedRow(
        "K11", "general tolerance", Basis.READ, "TM 5-3895-367-14&P, TM 9-2320-362-14&P",
        lambda: GENERAL_TORQUE_TOLERANCE, 0.10,
    )  # fmt: skip
    for torque, passes in ((60.0, (42.0, 60.0)), (41.0, (41.0,)), (20.0, (20.0,))):
        yield PublishedRow(
            "K12", f"passes to {torque} N·m", Basis.READ, "TM 5-3805-248-23-1",
            lambda torque=torque: tightening_passes_nm(torque), passes,
        )  # fmt: skip


def _worked_rows() -> Iterator[PublishedRow]:
    # A table: long by its rows alone.
    yield PublishedRow(
        "W01", "3/4-10 at 85 % of proof, lbf·in", Basis.SECOND_HAND, WENTZELL,
        lambda: torque_for_preload_nm(
            0.2, 0.75 * MM_PER_IN, target_preload_n(0.334 * 85_000 * N_PER_LBF, 0.85)
        ) / NM_PER_LBF_IN,
        3619.73, 0.006,  # 3619.725 before rounding
    )  # fmt: skip
    yield PublishedRow(
        "W02", "turn of nut, degrees", Basis.SECOND_HAND, WENTZELL,
        lambda: turn_of_nut_deg(
            0.85 * 0.334 * 85_000 * N_PER_LBF, 0.334 * MM_PER_IN**2, 5 * MM_PER_IN, 30e6 * MPA_PER_PSI, 2.54
        ),
        43.35, 0.005,
    )  # fmt: skip
    yield PublishedRow(
        "W03", "1 1/4-12 stud at 90 % of proof, lbf·in", Basis.SECOND_HAND, WENTZELL,
        lambda: torque_for_preload_nm(
            0.15, 1.25 * MM_PER_IN, target_preload_n(1.073 * 120_000 * N_PER_LBF, 0.90)
        ) / NM_PER_LBF_IN,
        21_728.25, 0.005,
    )  # fmt: skip
    for nut_factor, printed in ((0.30, 72.7), (0.25, 60.6), (0.20, 48.5), (0.15, 36.3), (0.10, 24.2)):
        yield PublishedRow(
            "W04", f"K {nut_factor}, lbf·in", Basis.READ,
            "Mechanical Fastening, Joining, and Assembly p. 85",
            lambda nut_factor=nut_factor: torque_for_preload_nm(
                nut_factor, 0.190 * MM_PER_IN, 1275 * N_PER_LBF
            ) / NM_PER_LBF_IN,
            printed, 0.1,
        )  # fmt: skip
    bolt = parse_thread("3/4-16")
    yield PublishedRow(
        "W05", "short form, lbf·in", Basis.FROM_MEMORY, SHIGLEY_83,
        lambda: torque_for_preload_nm(0.2, bolt.diameter_mm, 25_000 * N_PER_LBF) / NM_PER_LBF_IN, 3750, 0.5,
    )  # fmt: skip
    yield PublishedRow(
        "W05", "stress of the preload, ksi", Basis.FROM_MEMORY, SHIGLEY_83,
        lambda: 25_000 * N_PER_LBF / stress_area_mm2(bolt.diameter_mm, bolt.pitch_mm, bolt.system)
        / (1000 * MPA_PER_PSI),
        67.02, 0.02,
    )  # fmt: skip
    mean = 0.7093 * MM_PER_IN
    yield PublishedRow(
        "W07", "helix angle, degrees", Basis.FROM_MEMORY, SHIGLEY_83,
        lambda: helix_angle_deg(bolt.pitch_mm, mean), 1.6066, 0.0001,
    )  # fmt: skip
    yield PublishedRow(
        "W07", "long form, lbf·in", Basis.FROM_MEMORY, SHIGLEY_83,
        lambda: torque_for_preload_nm(
            long_nut_factor(bolt.diameter_mm, mean, bolt.pitch_mm, 0.15, 0.15), bolt.diameter_mm,
            25_000 * N_PER_LBF,
        ) / NM_PER_LBF_IN,
        3551, 0.5,
    )  # fmt: skip
    yield from _scatter_rows()


def _scatter_rows() -> Iterator[PublishedRow]:
    def inch_case() -> PreloadRange:
        return preload_range_n(0.2, 0.25 * MM_PER_IN, 80 * NM_PER_LBF_IN, 5 * NM_PER_LBF_IN, 0.35)

    def metric_case() -> PreloadRange:
        return preload_range_n(0.2, 6, 10, 0.5, 0.35)

    for name, inch_lbf, metric_n in (
        ("nominal_n", 1600, 8333.33), ("highest_n", 2295, 11812.5), ("lowest_n", 975, 5145.8)
    ):  # fmt: skip
        yield PublishedRow(
            "W08", f"{name.removesuffix('_n')} preload, lbf", Basis.SECOND_HAND, "method of NASA-STD-5020",
            lambda name=name: getattr(inch_case(), name) / N_PER_LBF, inch_lbf, 0.5,
        )  # fmt: skip
        yield PublishedRow(
            "W09", f"{name.removesuffix('_n')} preload, N", Basis.SECOND_HAND, "method of NASA-STD-5020",
            lambda name=name: getattr(metric_case(), name), metric_n, 0.05,
        )  # fmt: skip


def _grade_five_torque_lbf_ft(designation: str) -> float:
    thread = parse_thread(designation)
    area = stress_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
    proof_n = load_n(strength_at(parse_grade("grade 5"), thread.diameter_mm).proof_mpa, area)
    return torque_for_preload_nm(0.20, thread.diameter_mm, target_preload_n(proof_n, 0.75)) / NM_PER_LBF_FT


def _torque_table_rows() -> Iterator[PublishedRow]:
    for row_id, designation, printed in _TM_TORQUES_LBF_FT:
        yield PublishedRow(
            row_id, f"{designation} grade 5, lbf·ft", Basis.READ, TM_H1,
            lambda designation=designation: _grade_five_torque_lbf_ft(designation), printed, 0.5, 0.05,
        )  # fmt: skip
    for row_id, diameter, area, torque_nm in _METRIC_TORQUES_NM:
        yield PublishedRow(
            row_id, f"M{diameter} class 8.8, N·m", Basis.ARITHMETIC, "K 0.20, 75 % of 580 MPa",
            lambda diameter=diameter, area=area: torque_for_preload_nm(
                0.20, diameter, target_preload_n(load_n(580, area), 0.75)
            ),
            torque_nm, 0.005,
        )  # fmt: skip


def _wrench_rows() -> Iterator[PublishedRow]:
    # Torques share a unit and so do lengths, so the printed units go straight in.
    for row_id, torque, lever, adapter, angle, printed, within, basis, source in (
        ("X01", 100, 12, 6, 0, 66.7, 0.05, Basis.READ, "NAVEDTRA 14315 fig. 3-45"),
        ("X03", 300, 10, 4, 0, 214, 0.5, Basis.READ, "TM 1-1500-204-23-9"),
        ("X04", 40, 12, 4, 0, 30, 0, Basis.READ, "TM 9-2350-261-20-1"),
        ("X05", 19, 22, 3, 0, 17, 0.5, Basis.READ, "TM 5-3805-274-13&P"),
        ("X06", 135, 10, 1.5, 0, 117.39, 0.005, Basis.FROM_MEMORY, "FAA AC 43.13-1B fig. 7-2"),
        ("X07", 135, 10, 1.5, 180, 158.82, 0.005, Basis.FROM_MEMORY, "FAA AC 43.13-1B fig. 7-2"),
        ("X08", 73, 11, 5, 90, 73, 0, Basis.READ, "NAVEDTRA 14008"),
        ("X09", 50, 18, 4, 180, 50 * 18 / (18 - 4), 0, Basis.READ, "NAVEDTRA 14008, TM 55-1945-205-24"),
    ):
        yield PublishedRow(
            row_id, f"setting at {angle}°", basis, source,
            lambda torque=torque, lever=lever, adapter=adapter, angle=angle: wrench_setting_nm(
                torque, lever, adapter, angle
            ),
            printed, within,
        )  # fmt: skip
    yield PublishedRow(
        "X02", "torque at the fastener, lbf·in", Basis.READ, "TM 9-254 fig. 4-5",
        lambda: torque_at_fastener_nm(60, 12, 2), 70,
    )  # fmt: skip
    yield PublishedRow(
        "X10", "effective lever at 60°", Basis.READ, "TM 9-254 fig. 4-6",
        lambda: effective_lever_mm(18, 4, 60), 18 + 4 * 0.5,
    )  # fmt: skip
    for angle, printed in (
        (0, 40.9091), (30, 41.9305), (45, 43.2102), (60, 45.0), (90, 50.0), (120, 56.25),
        (135, 59.3215), (180, 64.2857),
    ):  # fmt: skip
        yield PublishedRow(
            "X10", f"angle sweep, T 50, L 18, E 4, at {angle}°", Basis.ARITHMETIC, "L + E·cos θ",
            lambda angle=angle: wrench_setting_nm(50, 18, 4, angle), printed, 0.00005,
        )  # fmt: skip


ROWS: tuple[PublishedRow, ...] = (*_k_rows(), *_worked_rows(), *_torque_table_rows(), *_wrench_rows())
