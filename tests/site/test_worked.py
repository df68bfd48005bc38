"""Worked lines of the built pages: computed anew from the records, on value, machine and procedure pages."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from bs4 import BeautifulSoup, Tag

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.values import ResolvedValue
from shearpin.mechanics.calculations import calculation_named, compute
from shearpin.site import worked_inputs
from shearpin.site.bodies.data_sheet import sheet_address
from shearpin.site.view import View, address
from shearpin.site.worked import of_value, symbols, workings
from tests.sound_book import read_over, swap

KB = Path(__file__).resolve().parents[2] / "kb"
D24 = "machines/brook-d24.yaml"
ENTRY = "  auger-shear-bolt.torque: {is: 8 N·m, basis: demo}\n"


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


@cache
def soup(path: Path) -> BeautifulSoup:
    return BeautifulSoup(path.read_text(encoding="utf-8"), "lxml")


def first(page: Tag, selector: str) -> Tag:
    tag = page.select_one(selector)
    assert tag is not None, selector
    return tag


def mark(tag: Tag, name: str) -> str:
    value = tag[name]
    assert isinstance(value, str)
    return value


def row_machine(tag: Tag) -> str:
    row = tag.find_parent("tr")
    assert row is not None
    return mark(row, "data-for")


def _fact(page: Tag, name: str) -> list[str]:
    rows = [row for row in page.select(".facts > div") if first(row, "dt").get_text() == name]
    return [first(row, "dd").get_text() for row in rows]


def _figure(linked: LinkedBook, name: str, machine: str) -> str:
    found = linked.values.resolve(name, machine)
    assert isinstance(found, ResolvedValue)
    return str(found.quantity)


def test_a_torque_says_what_it_does_to_its_bolt(built_site: Path, linked: LinkedBook) -> None:
    page = soup(built_site / "values" / "auger-shear-bolt.torque.html")
    lines = page.select("#worked tr[data-for] [data-worked='auger-shear-bolt.torque']")
    assert [mark(line, "data-machine") for line in lines] == list(
        linked.values.machines_with("auger-shear-bolt.torque")
    )
    for line in lines:
        machine = mark(line, "data-machine")
        inputs = {
            part: _figure(linked, f"auger-shear-bolt.{part}", machine)
            for part in ("torque", "thread", "grade")
        }
        assert line.get_text() == compute("bolt-preload", inputs).worked
        assert row_machine(line) == machine
    section = first(page, "#worked")
    calculation = calculation_named("bolt-preload")
    assert _fact(section, "Symbols") == [calculation.symbols]
    assert _fact(section, "Source") == [calculation.source]
    assert _fact(section, "Mind") == [calculation.caution]
    assert "Fmax = (1 + Γ)·(T + ΔT)/(K·d)" in _fact(section, "Formula")[0]
    assert (
        "K 0.20: condition not stated, Shigley 9th ed., section 8-8, from memory."
        in _fact(section, "Taken")[0]
    )


@pytest.mark.parametrize(
    ("name", "calculation", "inputs", "lead"),
    [
        ("auger-belt.length", "belt-length", {"large": "auger-driven-pulley.diameter", "small": "auger-drive-pulley.diameter", "centre-distance": "auger-pulley.center-distance"}, "round the two pulleys alone "),
        ("engine.displacement", "displacement", {"bore": "engine.bore", "stroke": "engine.stroke"}, ""),
        ("auger.speed", "gearbox-speed", {"speed": "impeller.speed", "ratio": "auger-gearbox.ratio"}, "by the gearbox "),
        ("impeller.speed", "surface-speed", {"diameter": "impeller.diameter", "speed": "impeller.speed"}, "at the tips "),
        ("auger-shear-bolt.grade", "shear-release", {"grade": "auger-shear-bolt.grade", "thread": "auger-shear-bolt.thread", "shaft-diameter": "auger-shaft.diameter"}, "lets go at "),
    ],
)  # fmt: skip
def test_other_values_say_what_they_follow_from(
    built_site: Path, linked: LinkedBook, name: str, calculation: str, inputs: dict[str, str], lead: str
) -> None:
    page = soup(built_site / address("value", name))
    lines = page.select(f"#worked [data-calculation='{calculation}']")
    assert [mark(line, "data-machine") for line in lines] == list(linked.values.machines_with(name))
    for line in lines:
        texts = {key: _figure(linked, other, mark(line, "data-machine")) for key, other in inputs.items()}
        assert line.get_text() == lead + compute(calculation, texts).worked


def test_a_speed_behind_a_belt_takes_the_middle_of_the_governed_speed(built_site: Path) -> None:
    page = soup(built_site / "values" / "impeller.speed.html")
    line = first(page, "#worked [data-calculation='pulley-speed'][data-machine='osmere-d24']")
    assert line.get_text() == "by the pulleys 1150 rpm: 3600 rpm, 76 to 238 mm, slip 0 %"


def test_a_data_sheet_shows_every_value_of_its_machine_once(built_site: Path, linked: LinkedBook) -> None:
    for machine in linked.book.machines:
        shown = [
            mark(cell, "data-value")
            for cell in soup(built_site / sheet_address(machine)).select(".sheets .value")
        ]
        expected = [name for name in linked.book.values if machine in linked.values.machines_with(name)]
        assert sorted(shown) == sorted(expected)
        assert len(shown) > 80
        machine_page = soup(built_site / address("machine", machine))
        assert machine_page.select_one(f'#values a[href="../{sheet_address(machine)}"]') is not None


def test_a_data_sheet_leads_to_the_workings_of_its_values(built_site: Path, linked: LinkedBook) -> None:
    view = View(linked, "../")
    worked = 0
    for machine in linked.book.machines:
        sheet = soup(built_site / sheet_address(machine))
        for name in (name for name in linked.book.values if machine in linked.values.machines_with(name)):
            first(sheet, f'.figures a[href="../{address("value", name)}"]')
            page = soup(built_site / address("value", name))
            shown = [line.get_text() for line in page.select(f"#worked a.worked[data-machine='{machine}']")]
            found = workings(view, name, machine)
            assert shown == [f"{working.lead} {working.result.worked}".strip() for working in found]
            worked += len(shown)
    assert worked > 100


def test_a_procedure_says_why_its_figures_are_what_they_are(built_site: Path, linked: LinkedBook) -> None:
    worked = 0
    for record_id in linked.book.procedures:
        page = soup(built_site / address("procedure", record_id))
        used = {mark(tag, "data-value") for tag in page.select("#values [data-value]")}
        joints = {name for name in used if linked.book.values[name].fastener is not None}
        lines = page.select("#why-figures tr[data-for] [data-worked]")
        assert {mark(line, "data-worked") for line in lines} >= joints, record_id
        for line in lines:
            assert row_machine(line) == mark(line, "data-machine")
        if lines:
            section = first(page, "#why-figures")
            for part in ("Formula", "Symbols", "Source"):
                told = len(_fact(section, part))
                # A page that would outweigh its budget leaves them to the calculators, to which each line leads.
                long = (built_site / address("procedure", record_id)).stat().st_size > 45_000
                assert told == len({mark(line, "data-calculation") for line in lines}) or (long and told == 0)
        worked += len(lines)
    assert worked > 100


def test_a_line_leads_to_its_calculator_with_the_same_figures(built_site: Path) -> None:
    page = soup(built_site / "values" / "auger-shear-bolt.torque.html")
    line = first(page, "#worked a.worked[data-machine='osmere-t28']")
    parts = urlsplit(mark(line, "href"))
    assert (parts.path, parts.fragment) == ("../calculators.html", "bolt-preload")
    inputs = {key: texts[0] for key, texts in parse_qs(parts.query).items()}
    assert compute("bolt-preload", inputs).worked == line.get_text()


def _with_joint(tmp_path: Path, torque: str, nut_factor: str = "") -> View:
    kind = "title: {0}\nquantity: designation\nplate: machine\napplies_to: {{machines: brook-d24}}\n"
    fastener = f"fastener: {{thread: auger-shear-bolt.thread, grade: auger-shear-bolt.grade{nut_factor}}}\n"
    figures = (
        f"  auger-shear-bolt.torque: {{is: {torque}, basis: demo}}\n"
        "  auger-shear-bolt.thread: {is: M8, basis: demo}\n"
        "  auger-shear-bolt.grade: {is: class 8.8, basis: demo}\n"
    )
    files = {
        "values/auger-shear-bolt.torque.yaml": f"title: Torque\nquantity: torque\nplate: machine\n{fastener}",
        "values/auger-shear-bolt.thread.yaml": kind.format("Thread"),
        "values/auger-shear-bolt.grade.yaml": kind.format("Grade"),
        **swap(D24, ENTRY, figures),
    }
    return View(read_over(tmp_path, dict(files)), "../")


@pytest.mark.parametrize(
    ("torque", "worked"),
    [
        ("20–24 N·m", "22 N·m: M8, class 8.8, K 0.20, 64.8 % of proof load"),
        ("≤ 22 N·m", "22 N·m: M8, class 8.8, K 0.20, 64.8 % of proof load"),
        ("16 lbf·ft", "21.7 N·m: M8, class 8.8, K 0.20, 63.9 % of proof load"),
        ("22 N·m ± 10 %", "22 N·m: M8, class 8.8, K 0.20, 64.8 % of proof load"),
    ],
)
def test_ranges_limits_and_other_units_are_worked(torque: str, worked: str, tmp_path: Path) -> None:
    (working,) = workings(_with_joint(tmp_path, torque), "auger-shear-bolt.torque", "brook-d24")
    assert working.result.worked == worked


def test_a_nut_factor_of_the_book_names_its_source(tmp_path: Path) -> None:
    view = _with_joint(tmp_path, "20 N·m", ", nut_factor: {is: 0.18, source: bench-notes}")
    (working,) = workings(view, "auger-shear-bolt.torque", "brook-d24")
    assert "K 0.18" in working.result.worked
    assert f"K 0.18: {view.title('source', 'bench-notes')}." in working.notes


@pytest.mark.parametrize("torque", ["0 N·m", "20 mm", "fingertight"])
def test_what_cannot_be_worked_out_leaves_no_line(torque: str, tmp_path: Path) -> None:
    view = _with_joint(tmp_path, torque)
    assert workings(view, "auger-shear-bolt.torque", "brook-d24") == ()
    assert of_value(view, "auger-shear-bolt.torque", ["brook-d24", "brook-t28"]) == ""


def test_indices_are_set_low_and_text_stays_text() -> None:
    assert symbols("S_u,fitted/S_u < 1") == "S<sub>u,fitted</sub>/S<sub>u</sub> &lt; 1"


def test_the_calculators_page_is_complete_without_scripts(built_site: Path) -> None:
    page = soup(built_site / "calculators.html")
    assert "this browser runs no scripts" in first(page, "[data-without-scripts]").get_text()
    for section in page.select("details[data-calculation]"):
        calculation = calculation_named(mark(section, "data-calculation"))
        assert mark(section, "id") == calculation.name
        assert first(section, "summary").get_text() == calculation.title
        assert first(section, ".calc-caution").get_text() == calculation.caution
        assert _fact(section, "Formula")[0] == calculation.formula.replace("_", "")
        assert _fact(section, "Symbols")[0] == calculation.symbols.replace("_", "")
        assert _fact(section, "Source") == [calculation.source]
        for item in calculation.inputs:
            assert item.title in _fact(section, "Needs")[0]
        for output in calculation.outputs:
            assert output.title in _fact(section, "Gives")[0]


def test_no_value_that_follows_from_others_is_passed_over() -> None:
    """A relation that is calculated with and not listed would show no worked line."""
    source = Path(worked_inputs.__file__).read_text(encoding="utf-8")
    assert {*re.findall(r"\bkind\.(\w+)", source)} == {*worked_inputs.FOLLOWS_FROM}
