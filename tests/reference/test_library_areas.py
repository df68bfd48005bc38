"""Stress areas against PyPI me_toolbox 0.0.18, `fasteners.Bolt.stress_area`.

Frozen, not imported: the package needs icecream without declaring it, and its torque formula is wrong (it takes the
secant of the full thread angle), so only the area is compared.
"""

from __future__ import annotations

import pytest

from shearpin.mechanics.threads import ThreadSystem, stress_area_mm2

AREAS = (
    (5, 0.8, 14.1825),
    (6, 1, 20.1234),
    (8, 1.25, 36.6085),
    (8, 1, 39.1671),
    (10, 1.5, 57.9896),
    (10, 1.25, 61.1986),
    (12, 1.75, 84.2665),
    (12, 1.5, 88.1260),
    (14, 2, 115.4394),
    (16, 2, 156.6684),
)
"""Diameter and pitch in mm, area in mm²."""


@pytest.mark.parametrize(("diameter_mm", "pitch_mm", "area_mm2"), AREAS)
def test_metric_stress_area_is_the_library_s(diameter_mm: float, pitch_mm: float, area_mm2: float) -> None:
    assert stress_area_mm2(diameter_mm, pitch_mm, ThreadSystem.METRIC) == pytest.approx(area_mm2, rel=1e-5)
