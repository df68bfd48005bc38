"""Boundary cases of the rules that calculate (QTY004, VAL007, TRQ, DRV, ENG)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, Files, found, silent
from tests.sound_book import sound, swap

PUNCH = "tools/pin-punch.yaml"
D24 = "machines/brook-d24.yaml"
T28 = "machines/brook-t28.yaml"
E212 = "engines/ell-e212.yaml"
BOLT = "parts/auger-shear-bolt.yaml"
REPLACE = "procedures/replace-auger-shear-bolt.yaml"
ENTRY = "  auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n"
ENTRY_T28 = "  auger-shear-bolt.torque: {is: 9 ± 1 N·m, basis: demo}\n"


def _punch(text: str) -> dict[str, str]:
    return {PUNCH: f"title: Pin punch\nsummary: {text}\n"}


def _kind(
    name: str, quantity: str, more: str = "", machines: str = "{machines: brook-d24}"
) -> dict[str, str]:
    """A value kind of machine plates, of one machine unless said otherwise."""
    return {
        f"values/{name}.yaml": f"title: {name}\nquantity: {quantity}\nplate: machine\napplies_to: {machines}\n{more}"
    }


def _entries(**figures: str) -> str:
    return "".join(f"  {name}: {{is: {text}, basis: demo}}\n" for name, text in figures.items())


def _joint(torque: str, thread: str, grade: str, more: str = "") -> Files:
    """A torque of the D24 with the joint it tightens; the figures stand in lines 8 to 10."""
    torque_kind = _kind(
        "auger-shear-bolt.torque",
        "torque",
        f"fastener: {{thread: auger-shear-bolt.thread, grade: auger-shear-bolt.grade{more}}}\n",
        "{class: two-stage}",
    )
    figures = _entries(
        **{
            "auger-shear-bolt.torque": torque,
            "auger-shear-bolt.thread": thread,
            "auger-shear-bolt.grade": grade,
        }
    )
    return {
        **torque_kind,
        **_kind("auger-shear-bolt.thread", "designation"),
        **_kind("auger-shear-bolt.grade", "designation"),
        **swap(D24, ENTRY, figures),
    }


def _shear(
    d24: str = "SAE J429 grade 2", t28: str = "SAE J429 grade 2", note: str = "", thread: str = "1/4-20 UNC"
) -> dict[str, str]:
    """Shear bolts of both machines, of these grades; `note` goes to the grade of the D24."""
    both = "{class: two-stage}"
    names = [f"  auger-shear-bolt.thread: {{is: {thread}, basis: demo}}\n"]
    said = f", note: {note}" if note else ""
    d24_lines = ENTRY + names[0] + f"  auger-shear-bolt.grade: {{is: {d24}, basis: demo{said}}}\n"
    t28_lines = ENTRY_T28 + names[0] + f"  auger-shear-bolt.grade: {{is: {t28}, basis: demo}}\n"
    return {
        **_kind("auger-shear-bolt.thread", "designation", machines=both),
        **_kind(
            "auger-shear-bolt.grade", "designation", "shear_bolt: {thread: auger-shear-bolt.thread}\n", both
        ),
        **swap(D24, ENTRY, d24_lines),
        **swap(T28, ENTRY_T28, t28_lines),
        **swap(BOLT, "values: [", "values: [auger-shear-bolt.grade, "),
    }


def _part(old: str, new: str) -> dict[str, str]:
    """The part of the shear bolt with its grade among its values, and a passage changed."""
    text = sound(BOLT).replace("values: [", "values: [auger-shear-bolt.grade, ")
    if text.count(old) != 1:
        raise ValueError(f"{old!r} does not stand once in {BOLT}")
    return {BOLT: text.replace(old, new)}


def _belt(length: str, drive: str = "76 mm", driven: str = "238 mm", distance: str = "300 mm") -> Files:
    """A belt of the D24 with its pulleys; the figures stand in lines 9 to 12."""
    belt = "belt: {drive: drive.diameter, driven: driven.diameter, center_distance: pulley.distance}\n"
    figures = {
        "drive-belt.length": length,
        "drive.diameter": drive,
        "driven.diameter": driven,
        "pulley.distance": distance,
    }
    return {
        **_kind("drive-belt.length", "length", belt),
        **_kind("drive.diameter", "length"),
        **_kind("driven.diameter", "length"),
        **_kind("pulley.distance", "length"),
        **swap(D24, ENTRY, ENTRY + _entries(**figures)),
    }


def _speed(fan: str, top: str = "3600 rpm", drive: str = "80.0 mm", driven: str = "240.0 mm") -> Files:
    """A speed of the D24 behind a belt; it stands in line 9."""
    behind = "behind_belt: {speed: top.speed, drive: drive.diameter, driven: driven.diameter}\n"
    figures = {"fan.speed": fan, "top.speed": top, "drive.diameter": drive, "driven.diameter": driven}
    return {
        **_kind("fan.speed", "rotational-speed", behind),
        **_kind("top.speed", "rotational-speed"),
        **_kind("drive.diameter", "length"),
        **_kind("driven.diameter", "length"),
        **swap(D24, ENTRY, ENTRY + _entries(**figures)),
    }


def _geared(auger: str, ratio: str) -> Files:
    """A speed of the D24 behind a gearbox; it stands in line 9."""
    figures = {"auger.speed": auger, "fan.speed": "1200 rpm", "gearbox.ratio": f'"{ratio}"'}
    return {
        **_kind(
            "auger.speed", "rotational-speed", "behind_gears: {speed: fan.speed, ratio: gearbox.ratio}\n"
        ),
        **_kind("fan.speed", "rotational-speed"),
        **_kind("gearbox.ratio", "ratio"),
        **swap(D24, ENTRY, ENTRY + _entries(**figures)),
    }


def _engine_kind(name: str, quantity: str, more: str = "") -> dict[str, str]:
    return {f"values/{name}.yaml": f"title: {name}\nquantity: {quantity}\nplate: engine\n{more}"}


def _engine(figures: str, more: str = "") -> dict[str, str]:
    """The engine with these values, which stand from line 5 on."""
    return swap(E212, "sources:", f"values:\n{figures}{more}sources:")


def _cylinder(displacement: str, bore: str, stroke: str, count: str = "") -> Files:
    figures = _entries(**{"engine.displacement": displacement, "engine.bore": bore, "engine.stroke": stroke})
    return {
        **_engine_kind("engine.displacement", "displacement", f"cylinder: {{bore: engine.bore, stroke: engine.stroke{count}}}\n"),
        **_engine_kind("engine.bore", "length"),
        **_engine_kind("engine.stroke", "length"),
        **_engine(figures),
    }  # fmt: skip


def _ethanol(limit: str, more: str = "") -> dict[str, str]:
    return {
        **_engine_kind("fuel.ethanol-limit", "concentration", "fuel_ethanol: yes\n"),
        **_engine(_entries(**{"fuel.ethanol-limit": limit}), more),
    }


GASOLINE = "parts/gasoline.yaml"
USED = swap(
    REPLACE, "parts: [{part: auger-shear-bolt}]", "parts: [{part: auger-shear-bolt}, {part: gasoline}]"
)


def _gasoline(ask_for: str, more: str = "", limit: str = "10 vol %") -> Files:
    text = f"title: Gasoline\nsummary: Fuel.\nplate: engine\nvalues: [fuel.ethanol-limit]\nconsumable: {ask_for}\n"
    return {**_ethanol(limit, more), **USED, GASOLINE: text}


# M10 class 8.8: 57.99 mm² times 580 MPa is 33.63 kN; at K 0.20 that is 67.27 N·m, a tenth of it 6.73 N·m.
MECHANICS: Final[tuple[Case, ...]] = (
    found("QTY004", "TM 5-4310-360-14 misprint", _punch("Set it to 0.030 inch (.08382 cm)."), f"{PUNCH}:2:32"),
    found("QTY004", "TM 9-6115-604-34 Table 1-3 misprint", _punch("± At least 5.0 lbf·in (0.46 N·m)."), f"{PUNCH}:2:33"),
    silent("QTY004", "TM 9-6115-604-34 Table 1-3, the all-metal column", _punch("At least 5.0 lbf·in (0.56 N·m).")),
    silent("QTY004", "U60 TM 5-3805-274-13&P", _punch("Tighten to 19 lbf·ft / 25.8 N·m.")),
    silent("QTY004", "U61 TM 5-3805-274-13&P", _punch("Tighten to 17 lbf·ft / 23.0 N·m first.")),
    found("QTY004", "after a slash", _punch("Tighten to 17 lbf·ft / 24.0 N·m first."), f"{PUNCH}:2:33"),
    found("QTY004", "just beyond half a digit", _punch("Set it to 25.4 mm (1.006 in)."), f"{PUNCH}:2:29"),
    silent("QTY004", "half a digit", _punch("Set it to 25.5 mm (1.0 in), 25 mm (0.98 in), 25.40 mm (1.00 in).")),
    found("QTY004", "the upper end of a range", _punch("Set it to 0.7-0.8 mm (0.028-0.041 in)."), f"{PUNCH}:2:32"),
    silent("QTY004", "a range whose upper end is rounded inward by most of a digit", _punch("Set it to 22.5–26.9 N·m (17–19 lbf·ft).")),
    silent("QTY004", "a range rounded inward", _punch("Set it to 22–26 N·m (17–19 lbf·ft).")),
    silent("QTY004", "a difference of temperatures", _punch("It warms by 10 °C (18 °F).")),
    found("QTY004", "a temperature", _punch("Below −25 °C (−12 °F)."), f"{PUNCH}:2:24"),
    silent("QTY004", "figures that are no pair", _punch("Take 2 (of 3) for 40 N·m (70 %), M8 (8 mm), 3 min (2 steps).")),
    silent("QTY004", "a vague one", _punch("Stand about 1000 ft (300 m) off.")),
    found(
        "QTY004",
        "in a value's note, and in a list",
        {
            **swap(D24, "basis: demo}", "basis: demo, note: of 60 lbf·in (8 N·m)}"),
            **_punch("a\nalso: [drift, drift of 3/16 in (5.5 mm)]"),
        },
        f"{D24}:8:73",
        f"{PUNCH}:3:33",
    ),
    found("VAL007", "a thread that is a length", {**_joint("8 N·m", "M6", "8.8"), **_kind("auger-shear-bolt.thread", "length"), **swap(D24, ENTRY, ENTRY + _entries(**{"auger-shear-bolt.thread": "6 mm", "auger-shear-bolt.grade": "8.8"}))}, "values/auger-shear-bolt.torque.yaml:5:20"),
    found("VAL007", "a belt for a torque", {**_belt("1140 mm"), **_kind("drive-belt.length", "torque", "belt: {drive: drive.diameter, driven: driven.diameter, center_distance: pulley.distance}\n"), **swap(D24, ENTRY, ENTRY + _entries(**{"drive-belt.length": "8 N·m", "drive.diameter": "76 mm", "driven.diameter": "238 mm", "pulley.distance": "300 mm"}))}, "values/drive-belt.length.yaml:5:1"),
    found("VAL007", "an engine's value that a machine decides", {**_cylinder("212 cm³", "70 mm", "55 mm"), **_kind("engine.bore", "length", machines="{class: two-stage}"), **_engine(_entries(**{"engine.displacement": "212 cm³", "engine.stroke": "55 mm"})), **swap(D24, ENTRY, ENTRY + _entries(**{"engine.bore": "70 mm"})), **swap(T28, ENTRY_T28, ENTRY_T28 + _entries(**{"engine.bore": "70 mm"}))}, "values/engine.displacement.yaml:4:18"),
    silent("VAL007", "a machine's value that an engine decides", {**_speed("1200 rpm"), **_engine_kind("top.speed", "rotational-speed"), **swap(D24, ENTRY, ENTRY + _entries(**{"fan.speed": "1200 rpm", "drive.diameter": "80 mm", "driven.diameter": "240 mm"})), **_engine(_entries(**{"top.speed": "3600 rpm"}))}),
    found("TRQ001", "a count of threads that no series has", _joint("8 N·m", "1/4-21 UNC", "grade 5"), f"{D24}:9:33"),
    found("TRQ001", "a bolt in place of a thread", _joint("8 N·m", "M6×20", "8.8"), f"{D24}:9:33"),
    silent("TRQ001", "a fine thread in ASCII", _joint("20 N·m", "M8x1", "class 8.8")),
    found("TRQ002", "no such class", _joint("8 N·m", "M6", "class 8.9"), f"{D24}:10:32"),
    found("TRQ002", "a class that ends below the size", _joint("200 N·m", "M18", "class 9.8"), f"{D24}:10:32"),
    silent("TRQ002", "the largest size of a class", _joint("200 N·m", "M16", "class 9.8")),
    found("TRQ003", "just above", _joint("67.3 N·m", "M10", "class 8.8"), f"{D24}:8:33"),
    silent("TRQ003", "just below", _joint("67.2 N·m", "M10", "class 8.8")),
    found("TRQ003", "the top of a tolerance", _joint("60 ± 7.3 N·m", "M10", "class 8.8"), f"{D24}:8:33"),
    silent("TRQ003", "a tolerance just below", _joint("60 ± 7.2 N·m", "M10", "class 8.8")),
    found("TRQ003", "in other units", _joint("50 lbf·ft", "M10", "class 8.8"), f"{D24}:8:33"),
    silent("TRQ003", "in other units, just below", _joint("49.5 lbf·ft", "M10", "class 8.8")),
    found("TRQ003", "an upper limit", _joint("≤ 67.3 N·m", "M10", "class 8.8"), f"{D24}:8:33"),
    found("TRQ003", "with another nut factor", _joint("41 N·m", "M10", "class 8.8", ", nut_factor: {is: 0.12, source: bench-notes}"), f"{D24}:8:33"),
    silent("TRQ003", "with a nut factor of dry zinc", _joint("90 N·m", "M10", "class 8.8", ", nut_factor: {is: 0.295, source: bench-notes}")),
    found("TRQ003", "beyond anything on a bench", _joint("900000000000000 N·m", "M10", "class 8.8"), f"{D24}:8:33"),
    found("TRQ004", "just below a tenth", _joint("6.7 N·m", "M10", "class 8.8"), f"{D24}:8:33"),
    silent("TRQ004", "just above a tenth", _joint("6.8 N·m", "M10", "class 8.8")),
    found("TRQ004", "inches taken for feet", _joint("37 lbf·in", "M10", "class 8.8"), f"{D24}:8:33"),
    found("TRQ004", "nothing at all", _joint("0 N·m", "M10", "class 8.8"), f"{D24}:8:33"),
    found("TRQ005", "a note of the part", {**_shear(), **_part("B-1024}", "B-1024, note: Any grade 5 bolt will do.}")}, f"{BOLT}:7:41"),
    silent("TRQ005", "the specified grade", {**_shear(), **_part("B-1024}", "B-1024, note: Any grade 2 bolt of SAE J429.}")}),
    silent("TRQ005", "a weaker one", {**_shear("SAE J429 grade 5", "SAE J429 grade 5"), **_part("B-1024}", "B-1024, note: Once grade 2.}")}),
    silent("TRQ005", "one that is refused", {**_shear(), **_part("B-1024}", "B-1024, note: Grade 2. Never grade 5.}")}),
    found("TRQ005", "one that is the limit", {**_shear(), **_part("B-1024}", "B-1024, note: Nothing stronger than grade 5.}")}, f"{BOLT}:7:59"),
    silent("TRQ005", "the specified one as the limit", {**_shear(), **_part("B-1024}", "B-1024, note: Nothing stronger than grade 2.}")}),
    found("TRQ005", "refused only before a comma", {**_shear(), **_part("B-1024}", 'B-1024, note: "If not at hand, a class 8.8 bolt."}')}, f"{BOLT}:7:56"),
    silent("TRQ005", "a class that is no stronger", {**_shear("ISO 898-1 class 5.8", "ISO 898-1 class 5.8", thread="M8"), **_part("B-1024}", "B-1024, note: Or SAE J429 grade 2.}")}),
    found("TRQ005", "a number shared with a machine that specifies more", {**_shear(t28="SAE J429 grade 5"), **_part("B-1028", "b 1024")}, f"{BOLT}:7:23"),
    silent("TRQ005", "a number shared by machines alike", {**_shear(), **_part("B-1028", "B-1024")}),
    found("TRQ005", "a note of the value", _shear(note="grade 8 from 2020 on"), f"{D24}:10:69"),
    found("TRQ005", "a note of the value, with an engine of the same id", {**_shear(note="grade 8 from 2020 on"), "engines/brook-d24.yaml": sound("engines/ell-e212.yaml").replace("title: Ell E212", "title: Ell E90")}, f"{D24}:10:69"),
    found("TRQ005", "a step", {**_shear(), **swap(REPLACE, "Fit the new bolt,", "Fit a grade 8 shear bolt,")}, f"{REPLACE}:12:15"),
    silent("TRQ005", "a step on another bolt", {**_shear(), **swap(REPLACE, "Fit the new bolt,", "Fit the grade 8 cover bolts.\n  - do: Fit the new bolt,")}),
    silent("TRQ005", "grease", {**_shear(), **swap(REPLACE, "Fit the new bolt,", "Fit the new shear bolt with grease of NLGI grade 6,")}),
    found("DRV001", "just too short", _belt("1112.6 mm"), f"{D24}:9:27"),
    silent("DRV001", "just long enough", _belt("1112.7 mm")),
    silent("DRV001", "long enough within its digits", _belt("1113 mm")),
    found("DRV001", "a range that ends too short", _belt("1090–1108 mm"), f"{D24}:9:27"),
    found("DRV001", "in inches", _belt("43.5 in"), f"{D24}:9:27"),
    found("DRV001", "pulleys the other way round", _belt("1014 mm", "238 mm", "76 mm"), f"{D24}:9:27"),
    found("DRV002", "just overlapping", _belt("1140 mm", distance="156.0 mm"), f"{D24}:12:25"),
    silent("DRV002", "just apart", _belt("1140 mm", distance="156.5 mm")),
    found("DRV003", "just too fast", _speed("1226 rpm"), f"{D24}:9:19"),
    silent("DRV003", "as fast as digits allow", _speed("1224 rpm")),
    found("DRV003", "just too slow", _speed("1077 rpm"), f"{D24}:9:19"),
    silent("DRV003", "with a slipping belt", _speed("1081 rpm")),
    silent("DRV003", "within the tolerance of the first speed", _speed("1250 rpm", top="3600 ± 100 rpm")),
    found("DRV003", "behind a gearbox", _geared("150 rpm", "10.0:1"), f"{D24}:9:21"),
    silent("DRV003", "behind a gearbox that fits", _geared("120 rpm", "10.0:1")),
    found("ENG001", "just above", _cylinder("213 cm³", "70.0 mm", "55.0 mm"), f"{E212}:5:29"),
    silent("ENG001", "within the digits", _cylinder("212 cm³", "70.0 mm", "55.0 mm")),
    silent("ENG001", "within the digits of whole millimeters", _cylinder("216 cm³", "70 mm", "55 mm")),
    found("ENG001", "beyond whole millimeters", _cylinder("218 cm³", "70 mm", "55 mm"), f"{E212}:5:29"),
    found("ENG001", "just below", _cylinder("210 cm³", "70.0 mm", "55.0 mm"), f"{E212}:5:29"),
    silent("ENG001", "E05 in inches", _cylinder("243.3 cm³", "2.75 in", "2.50 in")),
    silent("ENG001", "two cylinders", _cylinder("423 cm³", "70.0 mm", "55.0 mm", ", count: 2")),
    found("ENG001", "two cylinders with the volume of one", _cylinder("212 cm³", "70.0 mm", "55.0 mm", ", count: 2"), f"{E212}:5:29"),
    silent("ENG002", "Q05 10.0 percent", _ethanol("10.0 vol %")),
    found("ENG002", "Q05 10.1 percent", _ethanol("10.1 vol %"), f"{E212}:5:28"),
    found("ENG002", "Q05 15 percent", _ethanol("15 %"), f"{E212}:5:28"),
    found("ENG002", "no upper limit", _ethanol("≥ 5 %"), f"{E212}:5:28"),
    silent("ENG002", "Q03 an engine certified for it", _ethanol("85 vol %", "fitted: [flexible-fuel]\n")),
    silent("ENG002", "E10 to ask for", _gasoline("Regular gasoline, E10 or less, never E15.")),
    found("ENG002", "E15 to ask for", _gasoline("Regular gasoline, E15 or less."), f"{GASOLINE}:5:31"),
    found("ENG002", "15 percent as the limit to ask for", _gasoline("Gasoline with no more than 15 % ethanol."), f"{GASOLINE}:5:40"),
    found("ENG002", "11 percent to ask for", _gasoline("Gasoline with up to 11 percent ethanol."), f"{GASOLINE}:5:33"),
    found("ENG002", "less than 15 percent to ask for", _gasoline("Gasoline with less than 15 % ethanol."), f"{GASOLINE}:5:37"),
    found("ENG002", "E15 in a step", {**_ethanol("10 %"), **swap(REPLACE, "Fit the new bolt,", "Fill the tank with E15.\n  - do: Fit the new bolt,")}, f"{REPLACE}:12:28"),
    silent("ENG002", "E15 refused in a step", {**_ethanol("10 %"), **swap(REPLACE, "Fit the new bolt,", "Fill the tank, but never with E15.\n  - do: Fit the new bolt,")}),
    silent("ENG002", "E85 for engines certified for it", _gasoline("E85.", "fitted: [flexible-fuel]\n")),
)  # fmt: skip
