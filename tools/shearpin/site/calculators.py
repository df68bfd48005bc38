"""The page of bench calculators: every calculation in words, and the tables from which a script works them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import Final

from shearpin.mechanics.calculation import Calculation, Choice, Input, Output
from shearpin.mechanics.calculations import CALCULATIONS
from shearpin.site.calculator_tables import tables
from shearpin.site.common import article
from shearpin.site.html import facts, section, text
from shearpin.site.packed import script
from shearpin.site.safety import DEFERENCE
from shearpin.site.view import View
from shearpin.site.worked import symbols

DATA_FILE: Final = "calculators-data.js"
SCRIPTS: Final = (
    "look/calculators-reading.js",
    "look/calculators-formulas.js",
    "look/calculators.js",
)
"""In the order in which they need one another."""

_INTRODUCTION: Final = (
    "Type what you have, and the result follows. A number alone is taken in the unit that stands beside the field; "
    "any unit of the trade may be written after it, such as 18 lbf·ft, 3/8 in or 1 US gal."
)
_WITHOUT_SCRIPTS: Final = (
    "Nothing is computed here, for this browser runs no scripts. Every formula stands below with its symbols and its "
    "source; the same calculations run on a terminal as shearpin compute."
)


def page(view: View) -> str:
    """Return the page of bench calculators."""
    groups: dict[str, list[Calculation]] = {}
    for calculation in CALCULATIONS:
        groups.setdefault(calculation.group, []).append(calculation)
    jumps = "".join(f'<a href="#{_group_id(group)}">{text(group.capitalize())}</a>' for group in groups)
    content = [
        '<header class="page-head"><h1>Bench calculators</h1></header>',
        f'<section class="safety" aria-label="Safety"><p class="deference">{text(DEFERENCE)} '
        "<b>A figure in the maker’s manual or in this book goes before any figure computed here.</b></p></section>",
        f'<p class="purpose">{text(_INTRODUCTION)}</p>',
        f"<p data-without-scripts>{text(_WITHOUT_SCRIPTS)}</p>",
        f'<nav class="jumps" aria-label="On this page">{jumps}</nav>',
        *(
            section(group.capitalize(), "".join(map(_calculator, members)), _group_id(group), "calculators")
            for group, members in groups.items()
        ),
        *(f'<script src="{view.root}{file}"></script>' for file in (DATA_FILE, *SCRIPTS)),
    ]
    return article("page", "calculators", "".join(content))


def _group_id(group: str) -> str:
    return f"group-{group.replace(' ', '-')}"


def _calculator(calculation: Calculation) -> str:
    """Return one calculation: its caution, the place of its form, and what it does in words."""
    words = facts(
        [
            ("Formula", symbols(calculation.formula)),
            ("Symbols", symbols(calculation.symbols)),
            ("Needs", _listed(map(_input_words, calculation.inputs))),
            ("Gives", _listed(map(_output_words, calculation.outputs))),
            ("Source", text(calculation.source)),
        ]
    )
    return (
        f'<details class="calculator" id="{calculation.name}" data-calculation="{calculation.name}">'
        f"<summary><h3>{text(calculation.title)}</h3></summary>"
        f'<p class="calc-caution">{text(calculation.caution)}</p><div data-calculator-form></div>{words}</details>'
    )


def _listed(items: Iterable[str]) -> str:
    return text("; ".join(items))


def _input_words(item: Input) -> str:
    unit = f" in {item.unit}" if item.unit and item.kind != "choice" else ""
    if item.default == "":
        return f"{item.title}{unit}, may be left out"
    return f"{item.title}{unit}" + (
        f", {_default_words(item)} when left out" if item.default is not None else ""
    )


def _default_words(item: Input) -> str:
    chosen: Choice | None = next((choice for choice in item.choices if choice.name == item.default), None)
    return chosen.title if chosen is not None else str(item.default)


def _output_words(output: Output) -> str:
    return f"{output.title} in {output.unit}" if output.unit and output.unit != ":1" else output.title


@cache
def data_script() -> str:
    """Return the script that hands the tables to the page."""
    return script("shearpinCalculatorTables", tables())
