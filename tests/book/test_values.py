"""Values: the figure of the machine at hand, through its engine where that plate decides, or why there is none."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook
from shearpin.book.values import MissingValue, ResolvedValue
from tests.sound_book import read_over, swap

D24, T28, CART = "brook-d24", "brook-t28", "brook-cart"
TORQUE, GAP = "auger-shear-bolt.torque", "plug.gap"


@pytest.fixture
def linked(tmp_path: Path) -> LinkedBook:
    """The sound book with a plug gap on the engine's plate, and a machine without an engine."""
    return read_over(
        tmp_path,
        {
            "values/plug.gap.yaml": "title: Plug gap\nquantity: length\nplate: engine\n",
            **swap(
                "engines/ell-e212.yaml", "sources", "values:\n  plug.gap: {is: 0.7 mm, basis: demo}\nsources"
            ),
            f"machines/{CART}.yaml": "title: Brook Cart\nsummary: A.\nclass: cart\nplate: {where: b}\n"
            "values:\n  plug.gap: {is: 9 mm, basis: demo}\n  auger-shear-bolt.torque: {is: 5 N·m, basis: demo}\n",
        },
    )


def _found(linked: LinkedBook, name: str, machine: str) -> ResolvedValue:
    value = linked.values.resolve(name, machine)
    assert isinstance(value, ResolvedValue), value
    return value


def _missing(linked: LinkedBook, name: str, machine: str) -> MissingValue:
    value = linked.values.resolve(name, machine)
    assert isinstance(value, MissingValue), value
    return value


@pytest.mark.parametrize(("machine", "shown"), [(D24, "8 N·m"), (T28, "9 ± 1 N·m")])
def test_each_machine_has_its_own_figure(linked: LinkedBook, machine: str, shown: str) -> None:
    value = _found(linked, TORQUE, machine)
    assert str(value.quantity) == shown
    assert value.holder == ("machine", machine)
    assert value.entry.is_ == shown


@pytest.mark.parametrize("machine", [D24, T28])
def test_an_engines_figure_reaches_every_machine_with_that_engine(linked: LinkedBook, machine: str) -> None:
    value = _found(linked, GAP, machine)
    assert str(value.quantity) == "0.7 mm"
    assert value.holder == ("engine", "ell-e212")


def test_an_engines_figure_kept_with_the_machine_is_not_shown(linked: LinkedBook) -> None:
    """The cart has no engine; the 9 mm stand on the wrong plate (VAL004)."""
    missing = _missing(linked, GAP, CART)
    assert missing.reason == "Brook Cart has no engine"
    assert not missing.applies


def test_a_figure_recorded_for_a_machine_that_cannot_have_it_is_not_shown(linked: LinkedBook) -> None:
    missing = _missing(linked, TORQUE, CART)
    assert missing.reason == "Brook Cart has no such value: it is for two-stage machines; this one is cart"
    assert not missing.applies


def test_a_value_nobody_defines_is_missing(linked: LinkedBook) -> None:
    missing = _missing(linked, "plug.gasket", D24)
    assert missing.reason == "the book has no value called plug.gasket"
    assert not missing.applies


def test_a_figure_that_is_not_recorded_is_missing_whatever_its_sister_has(tmp_path: Path) -> None:
    entry = "values:\n  auger-shear-bolt.torque: {is: 9 ± 1 N·m, basis: demo}\n"
    linked = read_over(tmp_path, swap("machines/brook-t28.yaml", entry, ""))
    missing = _missing(linked, TORQUE, T28)
    assert missing.reason == "not recorded for Brook T28"
    assert missing.applies
    assert str(_found(linked, TORQUE, D24).quantity) == "8 N·m"


@pytest.mark.parametrize("text", ["9 furlongs", "9 mm", "nine", "9"])
def test_a_figure_that_cannot_be_read_is_missing(text: str, tmp_path: Path) -> None:
    linked = read_over(tmp_path, swap("machines/brook-t28.yaml", "9 ± 1 N·m", text))
    missing = _missing(linked, TORQUE, T28)
    assert missing.reason == "what is recorded for Brook T28 cannot be read"
    assert missing.applies


def test_a_machine_whose_engine_cannot_be_read_is_not_said_to_have_none(tmp_path: Path) -> None:
    linked = read_over(
        tmp_path,
        {
            "values/plug.gap.yaml": "title: Plug gap\nquantity: length\nplate: engine\n",
            "engines/ell-e212.yaml": "title: [\n",
        },
    )
    missing = _missing(linked, GAP, D24)
    assert missing.reason == "the record of the engine of Brook D24 cannot be read"
    assert missing.applies


def test_an_engine_without_the_figure_is_named(tmp_path: Path) -> None:
    linked = read_over(tmp_path, {"values/plug.gap.yaml": "title: Gap\nquantity: length\nplate: engine\n"})
    assert _missing(linked, GAP, D24).reason == "not recorded for Ell E212"


def test_a_machine_that_is_not_in_the_book_is_an_error_of_the_caller(linked: LinkedBook) -> None:
    with pytest.raises(KeyError):
        linked.values.resolve(TORQUE, "brook-x1")


def test_machines_with_a_value_are_those_it_applies_to(linked: LinkedBook) -> None:
    assert linked.values.machines_with(TORQUE) == (D24, T28)
    assert linked.values.machines_with(GAP) == (CART, D24, T28)
    assert linked.values.machines_with("plug.gasket") == ()
