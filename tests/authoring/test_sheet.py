"""`shearpin sheet`: values to a spreadsheet and back, every fault by its cell, the records' comments untouched."""

from __future__ import annotations

import csv
import io
import json
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from shearpin.authoring import sheetfile
from shearpin.authoring.entries import with_entry
from shearpin.authoring.sheet import COLUMNS, mark_of
from shearpin.authoring.sheetcells import guarded, looks_like_date, place, text_cell
from shearpin.cli.main import main
from shearpin.model.yamltext import parse
from tests.sound_book import lay_over

TORQUE = "auger-shear-bolt.torque"
D24 = "machine/brook-d24"
MACHINE = """\
# the first one we bought
title: Brook D24
summary: A thrower.
class: two-stage
engine: ell-e212
plate: {where: Rear frame.}
sources: [bench-notes]
# figures below
values:  # from the bench
  # checked twice
  auger-shear-bolt.torque: {is: 9 ± 1 N·m, basis: demo}  # on the bench
  # end of figures
"""


@pytest.fixture
def kb(tmp_path: Path) -> Path:
    return lay_over(tmp_path, {"machines/brook-d24.yaml": MACHINE})


def sheet(kb: Path, way: str, path: Path, *words: str) -> int:
    return main(["sheet", way, str(path), "--kb", str(kb), *words])


def read_csv(path: Path, delimiter: str = ",") -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8-sig")), delimiter=delimiter))


def give(
    kb: Path, lines: list[list[str]], name: str = "in.csv", coding: str = "utf-8", separator: str = ","
) -> Path:
    """Write lines under the usual needed columns."""
    stream = io.StringIO()
    csv.writer(stream, delimiter=separator, lineterminator="\r\n").writerows(
        [["record", "value", "is", "basis", "source", "place", "note"], *lines]
    )
    path = kb.parent / name
    path.write_bytes(stream.getvalue().encode(coding))
    return path


def taken(kb: Path, path: Path, capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    capsys.readouterr()
    code = sheet(kb, "in", path, "--json", *words)
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert code == (
        1 if document["problems"] or any(f["severity"] == "error" for f in document["findings"]) else 0
    )
    return document


class TestOut:
    def test_holds_what_is_recorded_and_what_should_be(self, kb: Path, tmp_path: Path) -> None:
        (kb / "machines" / "brook-d24.yaml").write_text(MACHINE.split("# figures")[0], encoding="utf-8")
        assert sheet(kb, "out", tmp_path / "a.csv") == 0
        found = {
            (row["record"], row["is"], row["basis"])
            for row in read_csv(tmp_path / "a.csv")
            if row["value"] == TORQUE
        }
        assert found == {(D24, "", ""), ("machine/brook-t28", "9 ± 1 N·m", "demo")}
        assert sheet(kb, "out", tmp_path / "b.csv", "--missing", "--value", "auger-*") == 0
        assert [row["record"] for row in read_csv(tmp_path / "b.csv")] == [D24]

    def test_of_one_machine_has_its_engine_too(self, tmp_path: Path) -> None:
        book = Path(__file__).resolve().parents[2] / "kb"
        assert (
            sheet(book, "out", tmp_path / "a.csv", "--machine", "osmere-d24", "--separator", "semicolon") == 0
        )
        found = read_csv(tmp_path / "a.csv", ";")
        assert {row["record"] for row in found} == {"machine/osmere-d24", "engine/ellvane-e212"}
        gap = next(row for row in found if row["value"] == "spark-plug.gap")
        assert (gap["is"], gap["plausible"], gap["measures"]) == (
            "0.70–0.80 mm",
            "0.6–0.8 mm",
            "length (mm, in, cm)",
        )

    @pytest.mark.parametrize("name", ["a.csv", "a.xlsx"])
    def test_and_back_changes_nothing(
        self, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        book = Path(__file__).resolve().parents[2] / "kb"
        assert sheet(book, "out", tmp_path / name, "--machine", "osmere-t28") == 0
        document = taken(book, tmp_path / name, capsys)
        assert (document["changes"], document["problems"], document["notices"]) == ([], [], [])
        assert document["unchanged"] > 100

    @pytest.mark.parametrize("name", ["a.csv", "a.xlsx"])
    def test_of_an_empty_book_has_its_columns(self, name: str, tmp_path: Path) -> None:
        (tmp_path / "kb").mkdir()
        assert sheet(tmp_path / "kb", "out", tmp_path / name) == 0
        assert (tmp_path / name).stat().st_size

    def test_overwrites_nothing_unless_told_to(
        self, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = tmp_path / "a.csv"
        path.write_text("mine", encoding="utf-8")
        assert sheet(kb, "out", path) == 2
        assert "say --replace" in capsys.readouterr().err
        assert path.read_text(encoding="utf-8") == "mine"
        assert sheet(kb, "out", path, "--replace") == 0

    @pytest.mark.parametrize(
        ("words", "message"),
        [
            (["--machine", "brook-d25"], "did you mean `brook-d24`?"),
            (["--engine", "ell-e21"], "did you mean `ell-e212`?"),
            (["--value", "bogus.value"], "no value is called `bogus.value`"),
        ],
    )
    def test_refuses_unknown_names(
        self, words: list[str], message: str, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert sheet(kb, "out", tmp_path / "a.csv", *words) == 2
        assert message in capsys.readouterr().err

    @pytest.mark.parametrize("note", ["=HYPERLINK(1)", "+1 turn", "-5 turns", "@SUM(A1)"])
    def test_no_cell_is_a_formula(
        self, note: str, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        text = MACHINE.replace("basis: demo}", f'basis: demo, note: "{note}"}}')
        (kb / "machines" / "brook-d24.yaml").write_text(text, encoding="utf-8")
        assert sheet(kb, "out", tmp_path / "a.csv") == 0
        assert sheet(kb, "out", tmp_path / "a.xlsx") == 0
        assert f"'{note}" in (tmp_path / "a.csv").read_text(encoding="utf-8-sig")
        cells = [
            cell
            for row in load_workbook(tmp_path / "a.xlsx")["Values"].iter_rows()
            for cell in row
            if cell.value
        ]
        assert {(cell.data_type, cell.number_format) for cell in cells} == {("s", "@")}
        assert [cell.quotePrefix for cell in cells if cell.value == note] == [True]
        for name in ("a.csv", "a.xlsx"):
            assert taken(kb, tmp_path / name, capsys)["changes"] == []


class TestIn:
    def test_shows_what_would_change_and_writes_nothing(
        self, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = give(kb, [[D24, TORQUE, "8 +- 1 Nm", "measured", "bench-notes", "page 3", ""]])
        assert sheet(kb, "in", path) == 0
        assert capsys.readouterr().out == (
            f"{D24}  {TORQUE}  (in!C2)\n    is: 9 ± 1 N·m → 8 ± 1 N·m\n    basis: demo → measured\n"
            "    source: (nothing) → bench-notes\n    place: (nothing) → page 3\n1 to change, 0 as recorded\n"
            "Nothing was written yet: --apply writes it into the records.\n"
        )
        assert (kb / "machines" / "brook-d24.yaml").read_text(encoding="utf-8") == MACHINE

    def test_writes_into_the_record_and_keeps_its_comments(
        self, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = give(kb, [[D24, TORQUE, "8 ± 1 N·m", "measured", "bench-notes", "", "dry: clean"]])
        assert taken(kb, path, capsys, "--apply")["applied"]
        expected = '{is: 8 ± 1 N·m, basis: measured, source: bench-notes, note: "dry: clean"}'
        assert (kb / "machines" / "brook-d24.yaml").read_text(encoding="utf-8") == MACHINE.replace(
            "{is: 9 ± 1 N·m, basis: demo}", expected
        )
        assert taken(kb, path, capsys)["unchanged"] == 1

    def test_adds_a_figure_behind_the_others(self, kb: Path, capsys: pytest.CaptureFixture[str]) -> None:
        extra = "title: Bolt length\nquantity: length\nplate: machine\nsources: [bench-notes]\n"
        (kb / "values" / "auger-shear-bolt.length.yaml").write_text(extra, encoding="utf-8")
        path = give(kb, [[D24, "auger-shear-bolt.length", "1 3/4 in", "demo", "", "", ""]])
        assert taken(kb, path, capsys, "--apply")["problems"] == []
        assert (kb / "machines" / "brook-d24.yaml").read_text(encoding="utf-8") == MACHINE.replace(
            "# on the bench\n", "# on the bench\n  auger-shear-bolt.length: {is: 1 3/4 in, basis: demo}\n"
        )

    @pytest.mark.parametrize(
        ("line", "place_", "message"),
        [
            ([D24, TORQUE, "24 lb", "demo"], "in!C2", "is a unit of mass"),
            ([D24, TORQUE, "9 Nn", "demo"], "in!C2", "unknown unit `Nn`"),
            ([D24, TORQUE, "9 N·m", "demoo"], "in!D2", "`demoo` is no basis"),
            ([D24, TORQUE, "9 N·m", "measured", "bench-note"], "in!E2", "there is no source `bench-note`"),
            ([D24, "auger-shear-bolt.torq", "9 N·m"], "in!B2", "there is no value `auger-shear-bolt.torq`"),
            (["machine/brook-d25", TORQUE, "9 N·m"], "in!A2", "there is no machine or engine"),
            (["engine/ell-e212", TORQUE, "9 N·m"], "in!B2", "the machine plate decides"),
            ([D24, TORQUE, "", "demo"], "in!C2", "an empty cell does not delete it"),
            ([D24, TORQUE, "03. Jun", "demo"], "in!C2", "looks like a date"),
            ([D24, TORQUE, "=9*1", "demo"], "in!C2", "holds a formula"),
            ([D24, TORQUE, "9 N·m", "demo", "", "", "@x"], "in!G2", "holds a formula"),
            ([D24, TORQUE, "#REF!", "demo"], "in!C2", "holds the error #REF!"),
            ([D24, TORQUE, "1,250 N·m", "demo"], "in!C2", ""),
        ],
    )
    def test_names_each_fault_by_its_cell(
        self, line: list[str], place_: str, message: str, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        document = taken(kb, give(kb, [line]), capsys, "--apply")
        assert [problem["place"] for problem in document["problems"]] == [place_]
        assert message in document["problems"][0]["message"]
        assert not document["applied"]
        assert (kb / "machines" / "brook-d24.yaml").read_text(encoding="utf-8") == MACHINE

    def test_names_what_a_check_would_find_by_its_cell(
        self, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        document = taken(kb, give(kb, [[D24, TORQUE, "90 N·m", "demo"]]), capsys, "--apply")
        assert [(f["place"], f["code"]) for f in document["findings"]] == [("in!C2", "QTY003")]
        assert not document["applied"]

    def test_one_fault_holds_back_every_row(self, kb: Path, capsys: pytest.CaptureFixture[str]) -> None:
        lines = [[D24, TORQUE, "8 N·m", "demo"], ["machine/brook-t28", TORQUE, "8 Nn", "demo"]]
        assert not taken(kb, give(kb, lines), capsys, "--apply")["applied"]
        assert (kb / "machines" / "brook-d24.yaml").read_text(encoding="utf-8") == MACHINE

    def test_a_row_that_stands_twice_is_told(self, kb: Path, capsys: pytest.CaptureFixture[str]) -> None:
        lines = [[D24, TORQUE, "8 N·m", "demo"], ["brook-d24", TORQUE, "9 N·m", "demo"]]
        problem = taken(kb, give(kb, lines), capsys)["problems"][0]
        assert (problem["place"], problem["message"]) == (
            "in!B3",
            f"`{TORQUE}` of brook-d24 stands in in!C2 already",
        )

    @pytest.mark.parametrize(
        ("header", "message"),
        [
            ("record;value;iz", "no column is called `iz`"),
            ("record;value;value;is", "there are two columns `value`"),
            ("record;value", "the column `is` is missing"),
            ("a;b", "the first line does not name the columns"),
            ("", "the first line does not name the columns"),
        ],
    )
    def test_columns_that_are_not_understood_are_told(
        self, header: str, message: str, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = kb.parent / "in.csv"
        path.write_text(f"{header}\n{D24};{TORQUE};9 N·m\n", encoding="utf-8")
        assert message in taken(kb, path, capsys)["problems"][0]["message"]

    def test_a_column_that_is_left_out_is_left_alone(
        self, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = kb.parent / "in.csv"
        path.write_text(f"Value, IS ,Record\n{TORQUE},8 N·m,{D24}\n,,\n", encoding="utf-8")
        assert taken(kb, path, capsys)["changes"][0]["fields"] == {"is": {"old": "9 ± 1 N·m", "new": "8 N·m"}}

    def test_a_note_that_was_emptied_is_taken_out(self, kb: Path, capsys: pytest.CaptureFixture[str]) -> None:
        text = MACHINE.replace("basis: demo}", "basis: demo, note: old}")
        (kb / "machines" / "brook-d24.yaml").write_text(text, encoding="utf-8")
        assert taken(kb, give(kb, [[D24, TORQUE, "9 ± 1 N·m", "demo"]]), capsys, "--apply")["applied"]
        assert (kb / "machines" / "brook-d24.yaml").read_text(encoding="utf-8") == MACHINE


class TestDialects:
    @pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16"])
    @pytest.mark.parametrize("separator", [",", ";", "\t"])
    def test_of_csv_are_read_alike(
        self, coding: str, separator: str, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = give(kb, [[D24, TORQUE, "8 ± 1 N·m", "demo"]], coding=coding, separator=separator)
        assert taken(kb, path, capsys)["changes"][0]["fields"] == {
            "is": {"old": "9 ± 1 N·m", "new": "8 ± 1 N·m"}
        }

    def test_the_hint_of_a_separator_is_followed_and_counted(
        self, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = kb.parent / "in.csv"
        path.write_text(f"sep=|\r\nrecord|value|is\r\n{D24}|{TORQUE}|8 Nn\r\n", encoding="utf-8")
        assert taken(kb, path, capsys)["problems"][0]["place"] == "in!C3"

    def test_a_decimal_comma_is_read_where_it_can_be_nothing_else(
        self, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = give(kb, [[D24, TORQUE, "8,5 ± 0,5 N·m", "demo"]], separator=";")
        document = taken(kb, path, capsys)
        assert document["changes"][0]["fields"]["is"]["new"] == "8.5 ± 0.5 N·m"
        assert document["notices"] == [
            {"place": "in!C2", "message": "`8,5 ± 0,5 N·m` is read as `8.5 ± 0.5 N·m`", "help": ""}
        ]

    @pytest.mark.parametrize(
        ("raw", "message"),
        [
            (
                "record;value;is\nx;y;9 ± 1\n".encode("cp1252"),
                "line 2 is not UTF-8 text; save the file as `CSV UTF-8`",
            ),
            (b"record,value,is\nx,y,\x00\n", "bytes of zero"),
            (b'record,value,is\nx,"y,9\n', "this is not CSV"),
            (b"record," * 101, "columns"),
        ],
    )
    def test_that_cannot_be_read_are_refused(
        self, raw: bytes, message: str, kb: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        path = kb.parent / "in.csv"
        path.write_bytes(raw)
        assert sheet(kb, "in", path) == 1
        assert message in capsys.readouterr().err

    @pytest.mark.parametrize(
        ("name", "message"),
        [
            ("a.ods", "neither a .csv nor an .xlsx"),
            ("no.csv", "cannot read"),
            ("bad.xlsx", "cannot be read as a workbook"),
        ],
    )
    def test_other_files_are_refused(
        self, name: str, message: str, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        (tmp_path / "bad.xlsx").write_bytes(b"PK\x03\x04 not a workbook")
        (tmp_path / "a.ods").write_bytes(b"x")
        assert sheet(kb, "in", tmp_path / name) == 1
        assert message in capsys.readouterr().err

    def test_a_guard_before_a_sign_is_taken_away_and_another_apostrophe_is_not(self) -> None:
        assert text_cell("A1", guarded("-5 turns")).text == "-5 turns"
        assert text_cell("A1", "'s Gravenhage").text == "'s Gravenhage"
        assert text_cell("A1", "−5 °C").fault == text_cell("A1", "- 5 °C").fault == ""

    @pytest.mark.parametrize(
        "text",
        [
            "03. Jun",
            "6-Mar",
            "Jun-03",
            "06.03.2026",
            "3/6/26",
            "2026-06-03 00:00:00",
            "1. Mai 2026",
            "janv.-26",
            "10:01",
            "10:01:00",
        ],
    )
    def test_figures_that_became_dates_are_known(self, text: str) -> None:
        assert looks_like_date(text)

    @pytest.mark.parametrize(
        "text",
        [
            "3–6 mm",
            "3-6 mm",
            "10:1",
            "1/4-20 UNC",
            "5W-30",
            "M8",
            "70",
            "1.5",
            "SAE 30",
            "1 h 30 min",
            "mar 5 mm",
        ],
    )
    def test_figures_are_no_dates(self, text: str) -> None:
        assert not looks_like_date(text)

    def test_cells_are_named_as_spreadsheet_programs_do(self) -> None:
        assert [place("S", 0, column) for column in (0, 25, 26, 701, 702)] == [
            "S!A1",
            "S!Z1",
            "S!AA1",
            "S!ZZ1",
            "S!AAA1",
        ]


class TestWorkbook:
    @pytest.mark.parametrize(
        ("value", "number_format", "message"),
        [
            (datetime(2026, 6, 3), "DD. MMM", "has made a date or time of this (3 June)"),
            (date(2026, 6, 3), "yyyy-mm-dd", "has made a date or time of this (3 June)"),
            (0.1, "0%", "keeps this as a share of one (10 % as 0.1)"),
            ("=1+1", "General", "holds a formula"),
            (True, "General", "holds a yes/no"),
            (9, "General", "`9` has no unit"),
        ],
    )
    def test_what_is_no_text_is_told_by_its_cell(
        self,
        value: Any,
        number_format: str,
        message: str,
        kb: Path,
        tmp_path: Path,
        capsys: pytest.CaptureFixture[str],
    ) -> None:
        book = Workbook()
        book.active.title = "My figures"
        book.active.append(["record", "value", "is", "basis"])
        book.active.append([D24, TORQUE, value, "demo"])
        book.active["C2"].number_format = number_format
        book.create_sheet("Notes").append(["not for the program"])
        book.save(tmp_path / "in.xlsx")
        problems = taken(kb, tmp_path / "in.xlsx", capsys)["problems"]
        assert [problem["place"] for problem in problems] == ["My figures!C2"]
        assert message in problems[0]["message"] + problems[0]["help"]

    def test_that_unpacks_beyond_measure_is_refused(
        self, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        assert sheet(kb, "out", tmp_path / "a.xlsx") == 0
        monkeypatch.setattr(sheetfile, "_MAX_UNPACKED", 1000)
        assert sheet(kb, "in", tmp_path / "a.xlsx") == 1
        assert "unpacks to more than 1,000 bytes" in capsys.readouterr().err

    def test_comes_back_with_its_changes(
        self, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert sheet(kb, "out", tmp_path / "a.xlsx") == 0
        book = load_workbook(tmp_path / "a.xlsx")
        row = next(row for row in book["Values"].iter_rows(min_row=2) if row[0].value == D24)
        row[COLUMNS.index("is")].value = "8 ± 1 N·m"
        book.save(tmp_path / "a.xlsx")
        assert taken(kb, tmp_path / "a.xlsx", capsys, "--apply")["applied"]
        assert "{is: 8 ± 1 N·m, basis: demo}  # on the bench" in (
            kb / "machines" / "brook-d24.yaml"
        ).read_text(encoding="utf-8")


class TestMarks:
    """A record that changed while its sheet was with somebody."""

    def out_then_record(self, kb: Path, tmp_path: Path, figure: str) -> list[dict[str, str]]:
        assert sheet(kb, "out", tmp_path / "a.csv") == 0
        text = MACHINE.replace("9 ± 1 N·m", figure)
        (kb / "machines" / "brook-d24.yaml").write_text(text, encoding="utf-8")
        return read_csv(tmp_path / "a.csv")

    def back(self, rows: list[dict[str, str]], tmp_path: Path) -> Path:
        with open(tmp_path / "a.csv", "w", encoding="utf-8", newline="") as stream:
            writer = csv.DictWriter(stream, COLUMNS)
            writer.writeheader()
            writer.writerows(rows)
        return tmp_path / "a.csv"

    def test_keeps_its_figure_where_the_sheet_was_not_touched(
        self, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        rows = self.out_then_record(kb, tmp_path, "7 N·m")
        document = taken(kb, self.back(rows, tmp_path), capsys)
        assert (document["changes"], document["problems"], document["kept"]) == ([], [], 1)

    def test_is_told_where_both_were_changed(
        self, kb: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        rows = self.out_then_record(kb, tmp_path, "7 N·m")
        for row in rows:
            row["is"] = "8 N·m" if row["record"] == D24 else row["is"]
        problems = taken(kb, self.back(rows, tmp_path), capsys)["problems"]
        assert ["it holds `7 N·m` now" in problem["message"] for problem in problems] == [True]

    def test_of_a_figure_is_a_word_that_no_program_takes_for_a_number(self) -> None:
        assert all(mark_of({"is": f"{n} mm"}).startswith("m") for n in range(50))


class TestEntries:
    @pytest.mark.parametrize(
        ("values", "expected"),
        [
            ("", "values:\n  a.b: {is: 2 mm, note: \"x: y\"}\n"),
            ("values: {}\n", "values: \n  a.b: {is: 2 mm, note: \"x: y\"}\n"),
            ("values: {c: {is: 1 mm}}\n", "values: {c: {is: 1 mm}, a.b: {is: 2 mm, note: \"x: y\"}}\n"),
            ("values:\n    c: {is: 1 mm} # z\n", "values:\n    c: {is: 1 mm} # z\n    a.b: {is: 2 mm, note: \"x: y\"}\n"),
            ("values:\n  a.b: {note: 'o', is: 1 mm}\n", "values:\n  a.b: {note: 'x: y', is: 2 mm}\n"),
            ("values:\n  a.b: {is: \"1 mm\",\n    basis: demo}\n", "values:\n  a.b: {is: 2 mm, note: \"x: y\"}\n"),
            ("values:\n  a.b:\n    # why\n    is: 1 mm # w\n    basis: demo\n", "values:\n  a.b:\n    # why\n    is: 2 mm # w\n    note: \"x: y\"\n"),
            ("values:\n  a.b:\n    is: >-\n      1\n      mm\n    basis: demo", "values:\n  a.b:\n    is: 2 mm\n    note: \"x: y\"\n"),
        ],
    )  # fmt: skip
    def test_in_every_form_are_changed_in_that_form(self, values: str, expected: str) -> None:
        made = with_entry(f"title: T\n{values}", "a.b", {"is": "2 mm", "note": "x: y"})
        assert parse(made.encode())[0]["values"]["a.b"] == {"is": "2 mm", "note": "x: y"}
        assert made == f"title: T\n{expected}"

    @pytest.mark.parametrize(
        "values",
        [
            "values:\n  a.b: {is: 1 mm, # why\n    basis: demo}\n",
            "values:\n  a.b:\n    is: 1 mm\n    basis: demo  # why\n",
        ],
    )
    def test_are_refused_where_a_comment_would_be_lost(self, values: str) -> None:
        with pytest.raises(ValueError, match="comment"):
            with_entry(f"title: T\n{values}", "a.b", {"is": "2 mm", "note": "x"})
