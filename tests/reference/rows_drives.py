"""Published rows on belts and drives: B."""

from __future__ import annotations

from collections.abc import Iterator

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
from shearpin.mechanics.speeds import (
    GearMesh,
    PulleyPair,
    clutch_torque_nm,
    driven_speed_rpm,
    friction_disc_rpm,
    gear_train,
    power_w,
    shaft_torque_nm,
    teeth_ratio,
    throw_range_m,
    worm_ratio,
)
from tests.reference.published_row import (
    M_PER_FT,
    MM_PER_IN,
    N_PER_LBF,
    NM_PER_LBF_IN,
    W_PER_HP,
    Basis,
    PublishedRow,
)

FT_MIN = M_PER_FT / 60
BELT_142 = "Wentzell, Machine Design, Example 14.2"
KHURMI = "Khurmi & Gupta, Theory of Machines, 14th ed., ch. 11"
GEARS = "Wentzell, Machine Design, ch. 11"


def _length_rows() -> Iterator[PublishedRow]:
    # Lengths share a unit, so inches go straight in.
    book_143 = "Wentzell, Machine Design, Example 14.3"
    for row_id, large, small, centre, exact, approximate, within, source in (
        ("B01", 6, 4, 19, 53.76, 53.76, 0.005, BELT_142),
        ("B08", 16, 8, 20, 78.50, 78.50, 0.005, book_143),
        ("B08", 16, 8, 20, 78.5018, 78.4991, 0.00005, "geometry"),
        ("B14", 9.5, 2.75, 8, 36.6884, 36.6661, 0.00005, "geometry"),
        ("B15", 5, 5, 20, 40 + 15.707963267948966, 40 + 15.707963267948966, 0, "geometry"),
    ):
        basis = Basis.ARITHMETIC if source == "geometry" else Basis.SECOND_HAND
        for name, function, printed in (
            ("exact", open_belt_length_mm, exact),
            ("approximate", approximate_belt_length_mm, approximate),
        ):
            yield PublishedRow(
                row_id, f"{name} length over {large} and {small} at {centre} in", basis, source,
                lambda function=function, sizes=(large, small, centre): function(*sizes),
                printed, within,
            )  # fmt: skip
    for name, inverse in (("exact", centre_distance_mm), ("approximate", approximate_centre_distance_mm)):
        yield PublishedRow(
            "B02", f"{name} centre distance of a 54 in belt", Basis.SECOND_HAND, BELT_142,
            lambda inverse=inverse: inverse(54, 6, 4), 19.12, 0.005,
        )  # fmt: skip
    yield PublishedRow(
        "B03", "wrap on the small pulley, degrees", Basis.SECOND_HAND, BELT_142,
        lambda: wrap_deg(4, 6, 19.12), 174.01, 0.01,
    )  # fmt: skip
    yield PublishedRow(
        "B11", "crossed belt, m", Basis.SECOND_HAND, KHURMI,
        lambda: crossed_belt_length_mm(450, 200, 1950) / 1000, 4.975, 0.0005,
    )  # fmt: skip
    yield PublishedRow(
        "B12", "crossed wrap, degrees", Basis.ARITHMETIC, "geometry",
        lambda: crossed_wrap_deg(450, 200, 1950),
        199.19, 0.005,
    )  # fmt: skip


def _speed_rows() -> Iterator[PublishedRow]:
    for row_id, diameter_in, rpm, printed, within, basis, source in (
        ("B04", 4, 1800, 1884.96, 0.005, Basis.SECOND_HAND, BELT_142),
        ("B06", 6, 2450, 3848.45, 0.005, Basis.SECOND_HAND, "Wentzell, Machine Design, Example 14.1"),
        ("B40", 12, 1000, 3141.6, 0.05, Basis.ARITHMETIC, "π·D·n"),
        ("B41", 12, 1200, 3769.9, 0.05, Basis.ARITHMETIC, "π·D·n"),
        ("B42", 14, 1100, 4031.7, 0.05, Basis.ARITHMETIC, "π·D·n"),
        (
            "B43",
            21,
            3455.9,
            19_000,
            0.5,
            Basis.ARITHMETIC,
            "conversion only; the limit itself is from memory",
        ),
    ):
        yield PublishedRow(
            row_id, f"surface speed of {diameter_in} in at {rpm} rpm, ft/min", basis, source,
            lambda diameter_in=diameter_in, rpm=rpm: surface_speed_m_s(diameter_in * MM_PER_IN, rpm) / FT_MIN,
            printed, within,
        )  # fmt: skip
    for row_id, diameter_in, rpm, printed in (
        ("B40", 12, 1000, 15.96), ("B41", 12, 1200, 19.15), ("B42", 14, 1100, 20.48),
        ("B43", 21, 3455.9, 96.52),
    ):  # fmt: skip
        yield PublishedRow(
            row_id, f"surface speed of {diameter_in} in at {rpm} rpm, m/s", Basis.ARITHMETIC, "π·D·n",
            lambda diameter_in=diameter_in, rpm=rpm: surface_speed_m_s(diameter_in * MM_PER_IN, rpm),
            printed, 0.005,
        )  # fmt: skip
    yield PublishedRow(
        "B44", "ideal range, m", Basis.ARITHMETIC, "v²/g", lambda: throw_range_m(15.96), 25.97, 0.005
    )
    yield PublishedRow(
        "B44", "loss of range at 10 % slip", Basis.ARITHMETIC, "square of the speed",
        lambda: 1 - throw_range_m(0.9 * 15.96) / throw_range_m(15.96), 0.19,
    )  # fmt: skip


def _drive_rows() -> Iterator[PublishedRow]:
    # A table: long by its rows alone.
    yield PublishedRow(
        "B05", "ratio of 6 to 4 in", Basis.SECOND_HAND, BELT_142,
        lambda: 1800 / driven_speed_rpm(1800, (PulleyPair(4, 6),)), 1.50,
    )  # fmt: skip
    yield PublishedRow(
        "B06", "torque of 2 hp at 2450 rpm, lbf·in (63 000·hp/n)", Basis.SECOND_HAND,
        "Wentzell, Machine Design, Example 14.1",
        lambda: shaft_torque_nm(2 * W_PER_HP, 2450) / NM_PER_LBF_IN, 51.43, relative=0.001,
    )  # fmt: skip
    yield PublishedRow(
        "B07", "6 in drives 10 in, rpm", Basis.SECOND_HAND, "Wentzell, Machine Design, Example 14.1",
        lambda: driven_speed_rpm(2450, (PulleyPair(6, 10),)), 1470,
    )  # fmt: skip
    for slip, printed, within in ((0.0, 1500, 0), (0.02, 1440, 1), (0.02, 1440.6, 0.05)):
        yield PublishedRow(
            "B09", f"compound drive, slip {slip}, rpm, printed {printed}", Basis.SECOND_HAND, KHURMI,
            lambda slip=slip: driven_speed_rpm(150, (PulleyPair(750, 450, slip), PulleyPair(900, 150, slip))),
            printed, within,
        )  # fmt: skip
    yield PublishedRow(
        "B10", "belt power, kW", Basis.SECOND_HAND, KHURMI,
        lambda: belt_power_w(2500, slack_side_n(2500, 0.25, 160), surface_speed_m_s(600, 200)) / 1000,
        7.89, 0.005,
    )  # fmt: skip
    two = (GearMesh(20, 60), GearMesh(20, 60))
    three = (GearMesh(20, 65), GearMesh(20, 22), GearMesh(22, 60))
    for row_id, what, ours, printed, relative in (
        ("B20", "speed, rpm", lambda: gear_train(3600, 200, two).speed_rpm, 400, 1e-12),
        ("B20", "torque, lbf·in", lambda: gear_train(3600, 200, two).torque_nm, 1800, 1e-12),
        ("B20", "power in, hp (63 000)", lambda: power_w(200 * NM_PER_LBF_IN, 3600) / W_PER_HP, 11.43, 0.001),
        (
            "B20",
            "power out, hp (63 000)",
            lambda: power_w(1800 * NM_PER_LBF_IN, 400) / W_PER_HP,
            11.43,
            0.001,
        ),
        ("B21", "ratio", lambda: gear_train(3000, 10, three).ratio, 9.75, 1e-12),
        ("B21", "speed backwards, rpm", lambda: gear_train(3000, 10, three).speed_rpm, -307.69, 2e-5),
        ("B21", "torque", lambda: gear_train(3000, 10, three).torque_nm, 97.5, 1e-12),
    ):
        yield PublishedRow(row_id, what, Basis.SECOND_HAND, GEARS, ours, printed, relative=relative)
    for row_id, what, ours, printed, within, source in (
        ("B22", "worm ratio", lambda: worm_ratio(60, 1), 60, 0, "Wentzell, Machine Design, Example 13.4"),
        (
            "B22",
            "wheel, rpm",
            lambda: 1750 / worm_ratio(60, 1),
            29.17,
            0.005,
            "Wentzell, Machine Design, Example 13.4",
        ),
        (
            "B23",
            "chain, rpm",
            lambda: 1800 / teeth_ratio(12, 24),
            900,
            0,
            "Wentzell, Machine Design, Example 14.4",
        ),
    ):
        yield PublishedRow(row_id, what, Basis.SECOND_HAND, source, ours, printed, within)

    def clutch_nm() -> float:
        return clutch_torque_nm(0.3, 120 * N_PER_LBF, 12 * MM_PER_IN, 9 * MM_PER_IN)

    clutch = "Wentzell, Machine Design, Example 16.1"
    yield PublishedRow(
        "B24",
        "clutch torque, lbf·in",
        Basis.SECOND_HAND,
        clutch,
        lambda: clutch_nm() / NM_PER_LBF_IN,
        378,
        1e-6,
    )
    yield PublishedRow(
        "B24", "power at 2000 rpm, hp", Basis.SECOND_HAND, clutch,
        lambda: power_w(clutch_nm(), 2000) / W_PER_HP, 12.0, 0.05,
    )  # fmt: skip
    yield PublishedRow(
        "B31", "friction disc, rpm", Basis.ARITHMETIC, "n·x/r",
        lambda: friction_disc_rpm(1200, 2 * MM_PER_IN, 2.5 * MM_PER_IN), 960,
    )  # fmt: skip
    for position, printed in ((0, 0.0), (-2, -960.0)):
        yield PublishedRow(
            "B30", f"friction wheel {position} in from the centre, rpm",
            Basis.ARITHMETIC, "rolling without slip",
            lambda position=position: friction_disc_rpm(1200, position * MM_PER_IN, 2.5 * MM_PER_IN), printed,
        )  # fmt: skip


ROWS: tuple[PublishedRow, ...] = (*_length_rows(), *_speed_rows(), *_drive_rows())
