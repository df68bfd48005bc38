"""Rules that calculate: what they say, published pairs of units, and that the demo book is sound by them."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.mechanics.rules import MECHANICS_RULES
from shearpin.model.finding import Finding
from tests.rule_cases import ALL_CASES
from tests.sound_book import check_over

KB = Path(__file__).resolve().parents[2] / "kb"

# TM 9-2320-362-14&P Table F-1, grade 8 column (U63), lbf·ft and N·m as printed.
TABLE_F1 = (
    (10, 14),
    (21, 29),
    (37, 50),
    (60, 81),
    (90, 122),
    (130, 176),
    (178, 241),
    (260, 353),
    (420, 570),
    (635, 861),
)

# TM 9-6115-604-34 Table 1-3, minimum prevailing torque of lock nuts: lbf·in and N·m as printed, all-metal and nylon.
TABLE_13 = (
    ("4.0", "0.45"), ("5.0", "0.56"), ("12", "1.4"), ("9.0", "1.0"), ("15", "1.7"), ("20", "2.3"), ("27", "3.1"),
    ("22", "2.5"), ("34", "3.8"), ("28", "3.2"), ("51", "5.8"), ("43", "4.9"),
)  # fmt: skip


def _findings(folder: Path, name: str) -> tuple[Finding, ...]:
    return check_over(folder, next(case.files for case in ALL_CASES if str(case) == name))


def _summary(folder: Path, text: str) -> tuple[Finding, ...]:
    return check_over(folder, {"tools/pin-punch.yaml": f"title: Pin punch\nsummary: {text}\n"})


@pytest.mark.parametrize(
    ("case", "message"),
    [
        ("QTY004 TM 5-4310-360-14 misprint", "`0.08382 cm` is 0.03300 in, and `0.030 in` stands beside it"),
        (
            "QTY004 TM 9-6115-604-34 Table 1-3 misprint",
            "`0.46 N·m` is 4.1 lbf·in, and `5.0 lbf·in` stands beside it",
        ),
        (
            "VAL007 a thread that is a length",
            "`auger-shear-bolt.thread` measures length, and a designation is needed",
        ),
        (
            "TRQ001 a bolt in place of a thread",
            "`M6×20` reads as a bolt 20 mm long; give the thread alone: M6",
        ),
        (
            "TRQ002 a class that ends below the size",
            "ISO 898-1 class 9.8 ends at 16 mm, and the bolt is 18 mm",
        ),
        ("TRQ003 just above", "preload 33.65 kN exceeds proof load 33.63 kN of `M10` class 8.8"),
        ("TRQ003 in other units", "preload 33.9 kN exceeds proof load 33.6 kN of `M10` class 8.8"),
        (
            "TRQ004 inches taken for feet",
            "preload 2.09 kN is only 6.2 % of proof load 33.6 kN of `M10` class 8.8",
        ),
        ("TRQ005 a note of the part", "`grade 5` is stronger than the grade 2 that the Brook D24 specifies"),
        (
            "TRQ005 a number shared with a machine that specifies more",
            "`B-1024` is also ordered for the Brook T28, which specifies grade 5; the Brook D24 specifies grade 2",
        ),
        (
            "DRV001 just too short",
            "`1112.6 mm` does not reach round pulleys of 76 mm and 238 mm 300 mm apart, which need 1113 mm",
        ),
        ("DRV002 just overlapping", "pulleys of 76 mm and 238 mm would overlap at a distance of `156.0 mm`"),
        (
            "DRV003 behind a gearbox",
            "`150 rpm` contradicts 1200 rpm and a ratio of 10.0:1, which make 119.4 to 120.7 rpm",
        ),
        ("ENG001 just above", "`213 cm³` contradicts bore 70.0 mm and stroke 55.0 mm, which make 211.7 cm³"),
        (
            "ENG002 Q05 15 percent",
            "`15 %` ethanol is above the 10 % that gasoline for these engines may hold",
        ),
        ("ENG002 E15 to ask for", "`E15` is above the 10 % ethanol that gasoline for these engines may hold"),
    ],
)
def test_messages_state_what_is_found_and_the_limit(case: str, message: str, tmp_path: Path) -> None:
    (finding,) = _findings(tmp_path, case)
    assert finding.message == message
    assert finding.help


def test_the_example_of_the_house_style_reads_as_written(tmp_path: Path) -> None:
    (rule,) = (rule for rule in MECHANICS_RULES if rule.code == "TRQ003")
    (finding,) = check_over(tmp_path, dict(rule.bad[0].files))
    assert finding.message == "preload 41.2 kN exceeds proof load 33.6 kN of `M10` class 8.8"
    assert [place.rpartition("/")[2] for place in finding.related] == [
        "brook-d24.yaml:8:33",
        "brook-d24.yaml:9:32",
    ]


@pytest.mark.parametrize(("feet", "newtons"), TABLE_F1)
def test_pairs_of_the_torque_table_agree(feet: int, newtons: int, tmp_path: Path) -> None:
    assert _summary(tmp_path, f"Tighten to {feet} lbf·ft / {newtons} N·m, no more.") == ()


@pytest.mark.parametrize(("inches", "newtons"), TABLE_13)
def test_pairs_of_the_lock_nut_table_agree(inches: str, newtons: str, tmp_path: Path) -> None:
    assert _summary(tmp_path, f"At least {inches} lbf·in ({newtons} N·m).") == ()


@pytest.mark.parametrize(
    "pair", ["22 in / 55.9 cm", "3 in / 7.6 cm", "25 in / 63.5 cm", "30 lbf·ft / 41 N·m"]
)
def test_pairs_of_two_more_manuals_agree(pair: str, tmp_path: Path) -> None:
    """U62 TM 5-3805-274-13&P and U64 TM 5-3805-248-23-1."""
    assert _summary(tmp_path, f"Take {pair} for it.") == ()


@pytest.fixture(scope="module")
def demo() -> LinkedBook:
    return load_linked(KB, "kb")


def test_the_demo_book_gives_these_rules_something_to_check(demo: LinkedBook) -> None:
    kinds = demo.book.values.values()
    for field in (
        "fastener",
        "shear_bolt",
        "belt",
        "behind_belt",
        "behind_gears",
        "tip_diameter",
        "cylinder",
        "fuel_ethanol",
    ):
        assert any(getattr(kind, field) for kind in kinds), field
    assert sum(kind.fastener is not None for kind in kinds) >= 20


@pytest.mark.parametrize("rule", MECHANICS_RULES, ids=[rule.code for rule in MECHANICS_RULES])
def test_the_demo_book_is_sound(demo: LinkedBook, rule: object) -> None:
    assert list(rule.find(demo)) == []  # type: ignore[attr-defined]


def test_every_torque_of_the_demo_book_is_found_when_its_unit_slips(demo: LinkedBook, tmp_path: Path) -> None:
    """Each torque in newton-metres written as pounds times feet or as pounds times inches, none of them passes by."""
    kb = tmp_path / "kb"
    names = [name for name, kind in demo.book.values.items() if kind.fastener is not None]
    for unit, code, share in (("kgf·m", "TRQ003", 1.0), ("lbf·in", "TRQ004", 0.9)):
        text = {}
        for kind in ("machines", "engines"):
            for path in (KB / kind).glob("*.yaml"):
                lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
                text[f"{kind}/{path.name}"] = "".join(
                    line.replace("N·m", unit) if line.strip().partition(":")[0] in names else line
                    for line in lines
                )
        slipped = _overlaid(kb / unit[:1], text)
        (rule,) = (rule for rule in MECHANICS_RULES if rule.code == code)
        found = {(fault.file, fault.path[1]) for fault in rule.find(slipped)}
        torques = sum(text[file].count(f"\n  {name}:") for file in text for name in names)
        assert len(found) >= share * torques > 50


def _overlaid(kb: Path, files: dict[str, str]) -> LinkedBook:
    for folder in ("values", "machines", "engines"):
        (kb / folder).mkdir(parents=True)
    for path in (KB / "values").glob("*.yaml"):
        (kb / "values" / path.name).write_bytes(path.read_bytes())
    for name, content in files.items():
        (kb / name).write_text(content, encoding="utf-8")
    return load_linked(kb, "kb")


def test_pulleys_that_overlap_are_named_beside_their_distance_and_nothing_else_is(tmp_path: Path) -> None:
    (finding,) = _findings(tmp_path, "DRV002 just overlapping")
    assert finding.line == 12
    assert [place.rsplit(":", 2)[1] for place in finding.related] == ["10", "11"]
