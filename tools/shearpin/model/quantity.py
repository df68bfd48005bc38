"""Quantities of the trade: reads what writers type, computes with it exactly, prints it in both systems."""

from __future__ import annotations

from functools import lru_cache

from shearpin.model.quantity_convert import convert, dual_parts, dual_text
from shearpin.model.quantity_value import Quantity, QuantityError, WrongKind
from shearpin.model.units import QuantityKind, Unit, unit_table, units_of

__all__ = [
    "Quantity",
    "QuantityError",
    "QuantityKind",
    "Unit",
    "WrongKind",
    "canonical",
    "convert",
    "dual_parts",
    "dual_text",
    "parse_quantity",
    "unit_table",
    "units_of",
]


def parse_quantity(text: str, kind: QuantityKind | None = None) -> Quantity:
    """Read a quantity as the trade writes it: `24 ± 2 N·m`, `3/8 in`, `≤ 10 %`, `1 h 30 min`, `5W-30`.

    A comma between thousands is read where it cannot be a decimal comma: with a second one or a point after
    it, in a rotational speed and in a count. Gallons and fluid ounces without a country are US customary; the
    canonical text says so. Without a kind the unit decides; whole numbers without a unit are counts. Raises
    WrongKind for a unit of another kind and QuantityError for anything else that is no quantity, with the
    index of the offending character.
    """
    return _parse(text, kind)


@lru_cache(maxsize=16_384)
def _parse(text: str, kind: QuantityKind | None) -> Quantity:
    # Here, because its patterns take longer to compile than all else takes to load, and a cached book needs none.
    from shearpin.model.quantity_parse import read_quantity

    return read_quantity(text, kind)


def canonical(text: str, kind: QuantityKind | None = None) -> str:
    """Return the canonical spelling of a quantity, which reads back as the same. Raises as parsing does."""
    return str(parse_quantity(text, kind))
