"""The registry of bench calculations: every one by name, and the one way to run them from text."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches

from shearpin.mechanics import (
    bench_belts,
    bench_bolts,
    bench_drives,
    bench_electrics,
    bench_engine,
    bench_shear,
    bench_threads,
    bench_units,
    bench_wrench,
)
from shearpin.mechanics.calculation import Calculation, CalculationError, Result, run

CALCULATIONS: tuple[Calculation, ...] = (
    *bench_units.CALCULATIONS,
    *bench_bolts.CALCULATIONS,
    *bench_threads.CALCULATIONS,
    *bench_wrench.CALCULATIONS,
    *bench_shear.CALCULATIONS,
    *bench_belts.CALCULATIONS,
    *bench_drives.CALCULATIONS,
    *bench_engine.CALCULATIONS,
    *bench_electrics.CALCULATIONS,
)
"""Every calculation, grouped and in the order in which lists show them."""


def calculation_named(name: str) -> Calculation:
    """The calculation of that name. Errors: CalculationError with the nearest names when there is none."""
    for calculation in CALCULATIONS:
        if calculation.name == name:
            return calculation
    names = [calculation.name for calculation in CALCULATIONS]
    near = get_close_matches(name[:80], names, n=3)
    hint = f"did you mean {' or '.join(near)}?" if near else f"there are {', '.join(names)}"
    raise CalculationError("", f"there is no calculation `{name[:80]}`", hint)


def compute(name: str, texts: Mapping[str, str]) -> Result:
    """Run a calculation on what was typed: `compute("oil-mix", {"fuel": "1 US gal", "ratio": "50:1"})`.

    A plain number is taken in the unit of its input. An input left out or empty takes its default.

    Errors: CalculationError, which names the input at fault, for an unknown calculation or input, a missing
    input, text that is no quantity of its kind, and anything impossible.
    """
    return run(calculation_named(name), texts)
