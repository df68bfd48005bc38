"""The bulk export: its shape by a JSON Schema validator, its units by a UCUM library, its lines as other programs take them."""

from __future__ import annotations

import json
import math
import shutil
from fractions import Fraction
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from ucumvert import PintUcumRegistry

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.cli.main import main
from shearpin.model.ucum import ucum_code
from shearpin.model.units import UNITS, QuantityKind, Unit
from shearpin.publish.bulk import LINE_SCHEMA, as_line, records_of
from tests.sound_book import SOUND_BOOK, read_over, swap

KB = str(SOUND_BOOK)

# The library takes these two at 60 °F, and UCUM (and our table) by their conventional definitions.
OTHER_IN_THE_LIBRARY = {"inHg", "inH₂O"}


@pytest.fixture(scope="module")
def registry() -> Any:
    return PintUcumRegistry()


@pytest.fixture(scope="module")
def demo_book() -> LinkedBook:
    return load_linked(Path(__file__).resolve().parents[2] / "kb")


def test_every_line_of_the_demonstration_has_the_documented_shape(demo_book: LinkedBook) -> None:
    jsonschema.Draft202012Validator.check_schema(LINE_SCHEMA)
    validator = jsonschema.Draft202012Validator(LINE_SCHEMA)
    records = list(records_of(demo_book))
    assert {record["key"] for record in records} == {
        f"{kind}/{id}" for (kind, id), _ in demo_book.book.records()
    }
    for record in records:
        assert not list(validator.iter_errors(json.loads(as_line(record)))), record["key"]
        assert as_line(record).count("\n") == 1


def test_what_it_says_is_what_the_book_says(demo_book: LinkedBook) -> None:
    records = {record["key"]: record for record in records_of(demo_book)}
    work = records["procedure/replace-auger-shear-bolt"]
    assert work["cautions"] == [
        c.id for c in demo_book.safety.required("procedure", "replace-auger-shear-bolt")
    ]
    assert "procedure/make-machine-safe" in work["links"]
    assert all(link in records for record in records.values() for link in record["links"])
    gap = {value["machine"]: value for value in records["value/spark-plug.gap"]["values"]}["osmere-d24"]
    assert (gap["unit"], gap["ucum"], gap["basis"]) == ("mm", "mm", "demo")
    assert 0.5 < gap["low"] <= gap["high"] < 1.0


def test_a_count_has_bounds_too(tmp_path: Path) -> None:
    kind = "title: Shear bolts\nquantity: count\nplate: machine\napplies_to: {machines: brook-d24}\n"
    machine = "machines/brook-d24.yaml"
    book = read_over(
        tmp_path,
        {
            "values/shear.bolts.yaml": kind,
            **swap(machine, "values:\n", "values:\n  shear.bolts: {is: 2 to 4, basis: demo}\n"),
        },
    )
    (value,) = next(r for r in records_of(book) if r["key"] == "value/shear.bolts")["values"]
    assert (value["unit"], value["low"], value["high"]) == ("", 2.0, 4.0)


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.kind}-{unit.symbol}")
def test_a_ucum_code_means_the_same_unit(unit: Unit, registry: Any) -> None:
    """Against ucumvert, which reads UCUM by the grammar of its specification and computes with pint."""
    code = ucum_code(unit.kind, unit.symbol)
    assert code is not None
    if unit.symbol in OTHER_IN_THE_LIBRARY:
        return
    ours = float(unit.to_base(Fraction(1)))
    theirs = registry.from_ucum(code).to_base_units().magnitude
    if unit.kind is QuantityKind.ANGLE:
        ours *= 2 * math.pi  # the table's base is a turn, UCUM's a radian
    assert theirs == pytest.approx(ours, rel=1e-9), code


def test_a_designation_has_no_unit() -> None:
    assert ucum_code(QuantityKind.DESIGNATION, "") is None


def test_two_exports_are_the_same_bytes_and_only_the_kinds_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("a", "b"):
        assert main(["export", "--kb", KB, "--out", str(tmp_path / name)]) == 0
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()
    capsys.readouterr()
    assert main(["export", "--kb", KB, "--kind", "tool", "--kind", "part"]) == 0
    assert {json.loads(line)["kind"] for line in capsys.readouterr().out.splitlines()} == {"tool", "part"}


def test_a_bulk_request_names_the_place_of_each_record_before_it(capsys: pytest.CaptureFixture[str]) -> None:
    """The lines that the bulk interface of OpenSearch documents (written from memory): action, document, action, document."""
    assert main(["export", "--kb", KB, "--format", "opensearch", "--index", "shop"]) == 0
    lines: list[dict[str, Any]] = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for action, record in zip(lines[::2], lines[1::2], strict=True):
        assert action == {"index": {"_index": "shop", "_id": record["key"]}}


def test_a_mistyped_kind_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", "--kb", KB, "--kind", "procedur"]) == 2
    assert "did you mean `procedure`" in capsys.readouterr().err


def test_a_file_that_cannot_be_read_is_said_to_be_missing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(SOUND_BOOK, tmp_path / "kb")
    broken = next((tmp_path / "kb" / "tools").glob("*.yaml"))
    broken.write_text("title: [", encoding="utf-8")
    assert main(["export", "--kb", str(tmp_path / "kb")]) == 1
    captured = capsys.readouterr()
    assert "1 file could not be read" in captured.err
    assert all(json.loads(line)["id"] != broken.stem for line in captured.out.splitlines())
    assert len(list(records_of(load_linked(tmp_path / "kb")))) == len(captured.out.splitlines())


def test_a_file_that_cannot_be_written_stays_as_it_was(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "there").mkdir()
    assert main(["export", "--kb", KB, "--out", str(tmp_path / "there")]) == 1
    assert main(["export", "--kb", KB, "--out", str(tmp_path / "nowhere" / "x.ndjson")]) == 1
    assert "cannot be written" in capsys.readouterr().err
    assert [path.name for path in tmp_path.rglob("*")] == ["there"]


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", "--schema"]) == 0
    assert json.loads(capsys.readouterr().out) == LINE_SCHEMA
