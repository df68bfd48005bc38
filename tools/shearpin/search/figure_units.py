"""The units that people ask for a figure in: their dimension and their factor to the SI unit."""

from __future__ import annotations

from shearpin.model.units import QuantityKind, unit_named

# Kinds of quantity that people ask for by their figure, by the name in the index.
DIMENSIONS = {
    "torque": (QuantityKind.TORQUE,),
    "length": (QuantityKind.LENGTH,),
    "pressure": (QuantityKind.PRESSURE,),
    "volume": (QuantityKind.VOLUME, QuantityKind.DISPLACEMENT),
    "rate": (QuantityKind.ROTATIONAL_SPEED,),
    "resistance": (QuantityKind.RESISTANCE,),
    "voltage": (QuantityKind.VOLTAGE,),
}

_FIGURE_UNITS = """
newtonmetre torque N·m; poundfoot torque lbf·ft; poundinch torque lbf·in; millimetre length mm; centimetre length cm;
inch length in; foot length ft; metre length m; kilopascal pressure kPa; psi pressure psi; bar pressure bar;
rpm rotational-speed rpm; cubiccentimetre volume cm³; millilitre volume mL; litre volume L; quart volume US~qt;
ounce volume US~fl~oz; ohm resistance Ω; kiloohm resistance kΩ; megaohm resistance MΩ; volt voltage V
"""


def _figure_units(rows: str) -> dict[str, tuple[str, float]]:
    names = {kind: name for name, kinds in DIMENSIONS.items() for kind in kinds}
    found = {}
    for row in rows.split(";"):
        token, kind, symbol = row.split()
        unit = unit_named(QuantityKind(kind), symbol.replace("~", " "))
        found[token] = (names[unit.kind], float(unit.factor))
    return found


# Dimension of each unit token and its factor to the SI unit.
FIGURE_UNITS = _figure_units(_FIGURE_UNITS)
