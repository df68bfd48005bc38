"""Owns the list of pages that stand for their kinds wherever every kind of page is looked at."""

from __future__ import annotations

from typing import Final

PROCEDURE: Final = "procedures/replace-auger-shear-bolt.html"
KINDS_OF_PAGE: Final = (
    "index.html",
    "search.html",
    "coverage.html",
    "rules/index.html",
    "calculators.html",
    "job.html",
    "using-this-manual.html",
    "accessibility.html",
    "symptoms/index.html",
    "parts/index.html",
    "values/index.html",
    "terms/index.html",
    "machines/index.html",
    "symptoms/auger-does-not-turn.html",
    "causes/auger-shear-bolt-sheared.html",
    "tests/friction-ring-wear-check.html",
    PROCEDURE,
    "cautions/carbon-monoxide.html",
    "machines/osmere-d24.html",
    "machines/osmere-d24.data-sheet.html",
    "engines/ellvane-e212.html",
    "systems/auger-drive.html",
    "values/auger-shear-bolt.torque.html",
    "parts/auger-shear-bolt.html",
    "tools/torque-wrench.html",
    "terms/shear-bolt.html",
    "sources/common-practice.html",
    "figures/two-plates.html",
    "editions/whole-book.html",
)
