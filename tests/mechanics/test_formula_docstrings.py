"""Every public formula says what it computes, in which units, where it holds, when it refuses, and who says so."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from types import ModuleType

import pytest

from shearpin.mechanics import (
    belts,
    electrics,
    engine,
    fuel,
    oil,
    shear,
    speeds,
    strength,
    thread_series,
    threads,
    tightening,
    wrench,
)

MODULES: tuple[ModuleType, ...] = (
    belts, electrics, engine, fuel, oil, shear, speeds, strength, thread_series, threads, tightening, wrench
)  # fmt: skip
FORMULAS: tuple[tuple[str, Callable[..., object]], ...] = tuple(
    (f"{module.__name__.rpartition('.')[2]}.{name}", function)
    for module in MODULES
    for name, function in inspect.getmembers(module, inspect.isfunction)
    if function.__module__ == module.__name__ and not name.startswith("_")
)


@pytest.mark.parametrize(("name", "function"), FORMULAS, ids=[name for name, _ in FORMULAS])
def test_the_docstring_has_every_part(name: str, function: Callable[..., object]) -> None:
    text = inspect.getdoc(function) or ""
    for part in ("Formula:", "Symbols:", "Valid:", "Errors:", "Source:"):
        assert f"\n{part} " in text, f"{name} lacks {part}"


def test_there_are_formulas_to_look_at() -> None:
    assert len(FORMULAS) > 50
