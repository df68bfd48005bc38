"""Codes of UCUM, the Unified Code for Units of Measure (ucum.org, version 2), for the units of the trade's table."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from shearpin.model.units import QuantityKind

# Braces hold a note that means nothing to a computer. UCUM has no metric horsepower and no prefix for psi: a number
# before the unit is UCUM's own way to write them.
_CODES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "N·m": "N.m", "lbf·ft": "[lbf_av].[ft_i]", "lbf·in": "[lbf_av].[in_i]", "ozf·in": "[oz_av].[g].[in_i]",
        "kgf·m": "kgf.m", "kgf·cm": "kgf.cm", "N·cm": "N.cm",
        "mm": "mm", "in": "[in_i]", "cm": "cm", "m": "m", "ft": "[ft_i]", "μm": "um", "thou": "[mil_i]",
        "mL": "mL", "L": "L", "m³": "m3", "cm³": "cm3", "in³": "[cin_i]",
        "MPa": "MPa", "N/mm²": "N/mm2", "kPa": "kPa", "psi": "[psi]", "bar": "bar", "mbar": "mbar", "Pa": "Pa",
        "kgf/cm²": "kgf/cm2", "inHg": "[in_i'Hg]", "inH₂O": "[in_i'H2O]", "ksi": "1000.[psi]",
        "km/h": "km/h", "mph": "[mi_i]/h", "m/s": "m/s", "ft/min": "[ft_i]/min", "ft/s": "[ft_i]/s",
        "rpm": "{rev}/min", "r/s": "{rev}/s",
        "kg": "kg", "lb": "[lb_av]", "g": "g", "oz": "[oz_av]",
        "N": "N", "lbf": "[lbf_av]", "kN": "kN", "kgf": "kgf", "ozf": "[oz_av].[g]",
        "Ω": "Ohm", "kΩ": "kOhm", "MΩ": "MOhm", "mΩ": "mOhm",
        "V": "V", "mV": "mV", "kV": "kV", "A": "A", "mA": "mA", "W": "W", "kW": "kW", "hp": "[HP]", "PS": "75.kgf.m/s",
        "min": "min", "h": "h", "s": "s", "ms": "ms", "day": "d", "week": "wk", "month": "mo", "year": "a",
        "°": "deg", "turn": "circ", "%": "%", "vol %": "%", ":1": "1", "": "1",
        "mm²": "mm2", "in²": "[sin_i]", "cm²": "cm2", "m²": "m2", "ft²": "[sft_i]",
        "mL/L": "mL/L", "US fl oz/US gal": "[foz_us]/[gal_us]", "imp fl oz/imp gal": "[foz_br]/[gal_br]",
        "US fl oz": "[foz_us]", "US pt": "[pt_us]", "US qt": "[qt_us]", "US gal": "[gal_us]",
        "imp fl oz": "[foz_br]", "imp pt": "[pt_br]", "imp qt": "[qt_br]", "imp gal": "[gal_br]",
        "°C": "Cel", "°F": "[degF]", "K": "K",
        "L/min": "L/min", "US gal/min": "[gal_us]/min", "L/h": "L/h", "m³/h": "m3/h",
        "Ah": "A.h", "mAh": "mA.h", "Wh": "W.h", "kWh": "kW.h", "J": "J", "kJ": "kJ", "Hz": "Hz", "kHz": "kHz",
    }
)  # fmt: skip
# A difference has no zero point: Celsius and Fahrenheit would bring theirs.
_DIFFERENCES: Final[Mapping[str, str]] = MappingProxyType({"°C": "K", "°F": "[degR]", "K": "K"})
_WITHOUT_UNIT: Final = (QuantityKind.DESIGNATION, QuantityKind.VISCOSITY_GRADE)


def ucum_code(kind: QuantityKind, symbol: str) -> str | None:
    """Return the UCUM code of a unit by its symbol in `UNITS`; None for a designation. Raises KeyError for an unknown one."""
    if kind in _WITHOUT_UNIT:
        return None
    return (_DIFFERENCES if kind is QuantityKind.TEMPERATURE_DIFFERENCE else _CODES)[symbol]
