from __future__ import annotations

import pint
import pytest

from shearpin.search.conversion import conversion_answer

# What is asked, and the answer; None where no conversion is asked for, or one between kinds. Figures that the test below
# does not compute are worked by hand from the inch of 25.4 mm and the pound-force of 4.4482216152605 N.
CONVERSIONS = {
    "24 Nm in ft lb": "24 N·m = 17.7 lbf·ft",
    "24 nm to ft-lb": "24 N·m = 17.7 lbf·ft",
    "how many ft lb is 24 nm": "24 N·m = 17.7 lbf·ft",
    "18 ft lb in nm": "18 lbf·ft = 24.4 N·m",
    "24 ± 2 Nm in lbf ft": "22 N·m to 26 N·m = 16.23 lbf·ft to 19.18 lbf·ft",
    "0.030 in to mm": "0.03 in = 0.762 mm",
    "3 in in mm": "3 in = 76.2 mm",
    "how many mm in 3/8 in?": "0.375 in = 9.525 mm",
    "0.7 mm in inches": "0.7 mm = 0.02756 in",
    "-25 C in F": "−25 °C = −13 °F",
    "68 f to c": "68 °F = 20 °C",
    "convert 32 psi to kPa": "32 psi = 220.6 kPa",
    "what is 20 oz in ml": "20 US fl oz = 591.5 mL",
    "16 oz in g": "16 oz = 453.6 g",
    "5 qt to l": "5 US qt = 4.732 L",
    "212 cc in cubic inches": "212 cm³ = 12.94 in³",
    "3600 rpm to r/s": "3600 rpm = 60 r/s",
    "7 ft 6 in in m": "90 in = 2.286 m",
    "24 Nm in mm": None,
    "water in fuel": None,
    "≤ 10 mm in in": None,
    "set plug gap to 0.7": None,
    "12 volts to starter": None,
    "how many in": None,
}


@pytest.mark.parametrize(("query", "answer"), CONVERSIONS.items())
def test_a_conversion_that_is_asked_for_is_answered(query: str, answer: str | None) -> None:
    assert conversion_answer(query) == answer


@pytest.mark.parametrize(
    ("query", "value", "unit", "target"),
    [
        ("37 Nm in lbf in", 37, "newton * meter", "force_pound * inch"),
        ("9.5 lbf ft to kgf m", 9.5, "force_pound * foot", "kilogram_force * meter"),
        ("0.1 bar in psi", 0.1, "bar", "psi"),
        ("3 gal to l", 3, "gallon", "liter"),
        ("5 hp in kW", 5, "horsepower", "kilowatt"),
        ("12 mph in km/h", 12, "mile / hour", "kilometer / hour"),
    ],
)
def test_conversions_agree_with_pint(query: str, value: float, unit: str, target: str) -> None:
    answer = conversion_answer(query)
    assert answer is not None
    there = pint.UnitRegistry().Quantity(value, unit).to(target).magnitude
    assert float(answer.split(" = ")[1].split()[0]) == pytest.approx(there, rel=6e-4)
