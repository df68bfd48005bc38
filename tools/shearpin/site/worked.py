"""Worked lines: how a figure of a page hangs together with the other values of the machine, by which formula."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from sys import intern
from typing import Final
from urllib.parse import urlencode

from shearpin.mechanics.calculation import CalculationError, Result
from shearpin.mechanics.calculations import calculation_named, compute
from shearpin.model.machines import Fastener
from shearpin.site.html import facts, section, table_of_groups, text
from shearpin.site.view import MANY_MACHINES, View
from shearpin.site.worked_inputs import calculations_of

_GIVEN_K = "K as entered."
_INDEX = re.compile(r"_([^\W_]+(?:,[^\W_]+)?)")


@dataclass(frozen=True, slots=True)
class Working:
    """One worked line of a value for a machine: by which calculation, from what, and what it says."""

    name: str
    machine: str
    calculation: str
    inputs: tuple[tuple[str, str], ...]
    result: Result
    lead: str
    notes: tuple[str, ...]


def workings(view: View, name: str, machine_id: str) -> tuple[Working, ...]:
    """Return the worked lines of a value; none where another value is missing or cannot be read."""
    kind = view.book.values.get(name)
    if kind is None:
        return ()
    found = []
    for calculation_name, lead, inputs in calculations_of(view, kind, name, machine_id):
        given = tuple(sorted(inputs.items()))
        result = _computed(calculation_name, given)
        if result is not None:
            notes = _notes(view, kind.fastener, result)
            found.append(Working(name, machine_id, calculation_name, given, result, lead, notes))
    return tuple(found)


def _workings(view: View, name: str, machines: Sequence[str]) -> tuple[Working, ...]:
    """Return the worked lines of a value for several machines."""
    return tuple(working for machine_id in machines for working in workings(view, name, machine_id))


def _workings_known(view: View) -> Callable[[str, str], tuple[Working, ...]]:
    return view.linked.remembered(
        "worked figures", lambda name, machines: _workings(view, name, machines.split()), kept=True
    )


KNOWN: Final = (_workings_known,)
"""Each makes known to the book of a view what pages ask for here."""


def of_value(view: View, name: str, machines: Sequence[str]) -> str:
    """Return the section of a value's page: for each calculation a line per machine, formula, symbols and source."""
    parts = []
    for calculation, members in _by_calculation(_workings(view, name, machines)).items():
        title = calculation_named(calculation).title
        shared = _shared_notes(members)
        rows = _rows(view, members, {calculation: shared})
        parts.append(f"<h3>{text(title)}</h3>{_table([rows], title)}{_formula(calculation, shared)}")
    return section("How the figure hangs together", "".join(parts), "worked", "worked-figures")


def of_work(view: View, names: Iterable[str], machines: Sequence[str]) -> str:
    """Return the section of a procedure or test that says why its figures are what they are."""
    if view.light and len(machines) > MANY_MACHINES:
        return ""  # the page of each value has its lines
    workings_of, here = _workings_known(view), intern(" ".join(machines))
    by_name = {name: workings_of(name, here) for name in names}
    groups = _by_calculation(working for found in by_name.values() for working in found)
    shared = {calculation: _shared_notes(members) for calculation, members in groups.items()}
    bodies = []
    for name, found in by_name.items():
        if found:
            head = f'<th scope="rowgroup" colspan="2">{view.ref("value", name)}</th>'
            rows = _rows(view, found, shared)
            bodies.append(f'<tr class="value-name">{head}</tr>{rows}')
    shown = _table(bodies, "Why these figures") if bodies else ""
    below = _remarks(shared) if view.light else _formulas(shared)
    return section("Why these figures", shown + below, "why-figures", "worked-figures")


def symbols(formula: str) -> str:
    """Return a formula or its symbols as markup, `S_u` with its index set low."""
    return _INDEX.sub(r"<sub>\1</sub>", text(formula))


def _by_calculation(found: Iterable[Working]) -> dict[str, list[Working]]:
    groups: dict[str, list[Working]] = {}
    for working in found:
        groups.setdefault(working.calculation, []).append(working)
    return groups


def _shared_notes(members: Sequence[Working]) -> tuple[str, ...]:
    """Return the remarks that every line has; they are said once."""
    return tuple(note for note in members[0].notes if all(note in member.notes for member in members))


def _rows(view: View, found: Sequence[Working], shared: Mapping[str, Sequence[str]]) -> str:
    """Return rows that show only while a machine of theirs, or none, is chosen."""
    known: dict[tuple[object, ...], str] = {}  # many machines have the same figures

    def line_of(w: Working) -> str:
        key = (w.name, w.calculation, w.inputs, w.lead, w.notes)
        line = known.get(key)
        if line is None:
            line = known[key] = _line(view, w, shared[w.calculation])
        return line

    lines = view.together((w.machine, line_of(w)) for w in found)
    return "".join(
        f'<tr data-for="{" ".join(ids)}"><td>{text(view.machine_names(ids))}</td>'
        f"<td>{line.replace(_MACHINES, ' '.join(ids))}</td></tr>"
        for line, ids in lines
    )


_MACHINES = "\0"  # stands in a line for the machines it is for


def _line(view: View, working: Working, shared: Sequence[str]) -> str:
    """Return a worked line, which leads to the calculator with the same figures in it."""
    address = f"{view.root}calculators.html?{urlencode(working.inputs)}#{working.calculation}"
    notes = "".join(
        f'<p class="worked-note">{text(note)}</p>' for note in working.notes if note not in shared
    )
    return f'<a{_marks(working)} href="{text(address)}">{_words(working)}</a>{notes}'


def _marks(working: Working) -> str:
    return (
        f' class="worked" data-worked="{working.name}" data-machine="{_MACHINES}"'
        f' data-calculation="{working.calculation}"'
    )


def _words(working: Working) -> str:
    return text(f"{working.lead} {working.result.worked}".strip())


def _table(groups: Sequence[str], caption: str) -> str:
    heads = '<th scope="col">Machine</th><th scope="col">Worked; a line opens its calculator</th>'
    return table_of_groups(heads, groups, "worked-table", caption)


def _formulas(shared: Mapping[str, Sequence[str]]) -> str:
    return "".join(
        f"<h3>{text(calculation_named(name).title)}</h3>{_formula(name, notes)}"
        for name, notes in shared.items()
    )


def _remarks(shared: Mapping[str, Sequence[str]]) -> str:
    """Return what was taken for each calculation; its formula stands where its lines lead."""
    return facts((calculation_named(name).title, text(" ".join(notes))) for name, notes in shared.items())


def _formula(name: str, notes: Sequence[str]) -> str:
    """Return formula, symbols, source, remarks that hold for every line, and caution of a calculation."""
    calculation = calculation_named(name)
    return facts(
        [
            ("Formula", symbols(calculation.formula)),
            ("Symbols", symbols(calculation.symbols)),
            ("Source", text(calculation.source)),
            ("Taken", text(" ".join(notes))),
            ("Mind", text(calculation.caution)),
        ]
    )


@lru_cache(maxsize=16_384)
def _computed(name: str, inputs: tuple[tuple[str, str], ...]) -> Result | None:
    """Return the result; None for inputs that are missing or impossible, which the rules report."""
    if not all(given for _, given in inputs):
        return None
    try:
        return compute(name, dict(inputs))
    except CalculationError:
        return None


def _notes(view: View, fastener: Fastener | None, result: Result) -> tuple[str, ...]:
    """Return the remarks; a nut factor that the book gives is shown with the book's own source."""
    factor = fastener.nut_factor if fastener is not None else None
    said = f"K {factor.is_}: {view.title('source', factor.source)}." if factor is not None else ""
    return tuple(said if note == _GIVEN_K else note for note in result.notes)
