from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.model.quantity import QuantityKind, parse_quantity
from shearpin.search.document import Document
from shearpin.search.figures import asked_terms, figure_terms
from shearpin.search.index import build_index, search


@pytest.mark.parametrize(
    ("record", "number", "unit"),
    [
        ("24 ± 2 N·m", "18", "poundfoot"),  # 24.4 N·m
        ("24 ± 2 N·m", "24", "newtonmetre"),
        ("0.70–0.80 mm", "0.03", "inch"),  # 0.762 mm
        ("10 mm", "0.39", "inch"),  # 9.906 mm
        ("9.5 mm", "3/8", "inch"),
        ("600 mL", "20", "ounce"),  # 591 mL
        ("150 kPa", "22", "psi"),  # 151.7 kPa
    ],
)
def test_a_figure_is_found_in_another_unit(record: str, number: str, unit: str) -> None:
    assert set(asked_terms(number, unit)) & set(figure_terms(parse_quantity(record)))


def test_another_figure_or_another_dimension_is_not() -> None:
    there = set(figure_terms(parse_quantity("24 ± 2 N·m", QuantityKind.TORQUE)))
    for number, unit in (("15", "poundfoot"), ("24", "millimetre"), ("2.4", "newtonmetre")):
        assert not there & set(asked_terms(number, unit))


def test_what_is_no_figure_has_no_terms() -> None:
    assert asked_terms("1/0", "inch") == asked_terms("0", "inch") == asked_terms("5", "celsius") == ()
    assert figure_terms(parse_quantity("5W-30", QuantityKind.VISCOSITY_GRADE)) == []
    assert figure_terms(parse_quantity("0–3 mm")) == []
    assert len(figure_terms(parse_quantity("1–1000 mm"))) == 2


def test_a_value_is_found_by_its_figure_in_any_unit(tmp_path: Path) -> None:
    documents = [
        Document(
            name,
            "value",
            name,
            f"values/{name}.html",
            "",
            {"title": name, "figures": " ".join(figure_terms(parse_quantity(text)))},
        )
        for name, text in (("cover", "24 ± 2 N·m"), ("spark plug", "12 ± 1 N·m"))
    ]
    with build_index(documents, [], tmp_path / "index") as index:
        assert [hit.id for hit in search(index, "18 ft lb").hits] == ["cover"]
        assert [hit.id for hit in search(index, "106 in-lb").hits] == ["spark plug"]
