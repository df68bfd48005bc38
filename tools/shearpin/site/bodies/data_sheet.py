"""The data sheet of a machine: every value of both plates, system by system, close enough for one sheet of paper."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.values import MissingValue, ResolvedValue
from shearpin.model.fields import BASIS_WORDS, Basis, Plate
from shearpin.site import common, long_lists
from shearpin.site.html import section, text
from shearpin.site.view import View

OTHER = "Other values"


# Bytes of a row and of the remark in it, besides names and titles.
_ROW = 135
_REMARK = 55
_ROUGHLY = 1.16  # what the rows of a sheet on several pages may weigh more, with what each page says of the others: measured


def sheet_address(machine_id: str, place: int = 0) -> str:
    """Return the address of one page of a machine's data sheet, from the root; no record has a page of this name."""
    more = f".{place + 1}" if place else ""
    return f"machines/{machine_id}.data-sheet{more}.html"


def shares(view: View, machine_id: str) -> tuple[range, ...]:
    """Return which values, system by system, stand on which page of a machine's data sheet: nearly always all on one."""
    return _shares_known(view)(machine_id)


def _shares_known(view: View) -> Callable[[str], tuple[range, ...]]:
    return view.linked.remembered("pages of a data sheet", partial(_shares, view), kept=True)


def _shares(view: View, machine_id: str) -> tuple[range, ...]:
    weights = _weights(view, view.shared(_in_order)(machine_id), machine_id)
    found = long_lists.portions(weights)
    return found if len(found) == 1 else long_lists.portions([round(weight * _ROUGHLY) for weight in weights])


def _in_order(view: View, machine_id: str) -> list[str]:
    groups = _by_system(view, names_of(view, machine_id))
    return [name for members in groups.values() for name in members]


def _weights(view: View, names: Sequence[str], machine_id: str) -> list[int]:
    """Return about how many bytes the row of each value takes, without looking up what it is worked out from."""
    machine = view.book.machines[machine_id]
    engine = view.book.engines.get(machine.engine) if machine.engine else None
    weights = []
    for name in names:
        weight = _ROW + 3 * len(name) + len(machine_id) + len(view.title("value", name).encode())
        entry = machine.values.get(name) or (engine.values.get(name) if engine is not None else None)
        if entry is not None and entry.source:
            weight += _REMARK + 2 * len(entry.source) + len(view.title("source", entry.source).encode())
        if entry is not None and entry.note:
            weight += len(entry.note.encode())
        weights.append(weight)
    return weights


def way_to(view: View, machine_id: str) -> str:
    """Return a link to the data sheet of a machine; nothing for a machine without values."""
    count = len(names_of(view, machine_id))
    words = f"Data sheet: all {count} values" if count > 1 else "Data sheet: one value"
    return f'<a href="{view.root}{sheet_address(machine_id)}">{words}</a>' if count else ""


def names_of(view: View, machine_id: str) -> tuple[str, ...]:
    """Return the names of the values that a machine has, or should have."""
    return _names_known(view)(machine_id)


def _names_known(view: View) -> Callable[[str], tuple[str, ...]]:
    return view.linked.remembered("values of a machine", partial(_names_of, view.linked))


# Found for all machines at once, and then an answer for each: a page of a machine reads no more than its own.
def _names_of(linked: LinkedBook, machine_id: str) -> tuple[str, ...]:
    return _names_by_machine(linked)().get(machine_id, ())


def _names_by_machine(linked: LinkedBook) -> Callable[[], dict[str, tuple[str, ...]]]:
    return linked.remembered("values by machine", partial(_names, linked))


def _names(linked: LinkedBook) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for name in linked.book.values:
        for machine_id in linked.values.machines_with(name):
            found.setdefault(machine_id, []).append(name)
    return {machine_id: tuple(names) for machine_id, names in found.items()}


def data_sheet(view: View, machine_id: str, place: int = 0) -> str:
    """Return the body of one page of a machine's data sheet."""
    names = names_of(view, machine_id)
    usual = _usual_basis(view, names, machine_id)
    ordered = view.shared(_in_order)(machine_id)
    parts = shares(view, machine_id)
    addresses = [view.root + sheet_address(machine_id, each) for each in range(len(parts))]
    held = [ordered[part.start : part.stop] for part in parts]
    ends = [(_system_of(view, each[0]), _system_of(view, each[-1])) for each in held if each]
    ways = long_lists.ways(addresses, ends, place)
    groups = _by_system(view, held[place])
    sections = [
        section(
            view.title("system", system) if system else OTHER,
            _rows(view, members, machine_id, usual),
            f"of-{system or 'other'}",
            "sheet",
        )
        for system, members in groups.items()
    ]
    title = view.title("machine", machine_id)
    said = (
        f" Where a line does not say otherwise, its figure comes from: {BASIS_WORDS[usual]}." if usual else ""
    )
    content = [
        f'<header class="page-head"><p class="kind">{view.ref("machine", machine_id)}</p>'
        f"<h1>{text(title)}: data sheet</h1></header>",
        f'<p class="purpose">Every value of the {text(title)}. “Engine” marks those that the engine plate decides; '
        f"the machine plate decides the others. How figures hang together stands on their own pages.{said}</p>",
        ways,
        common.jumps(sections),
        '<div class="sheets">',
        *sections,
        "</div>",
    ]
    return common.article(
        "page", sheet_address(machine_id, place).removesuffix(".html"), "".join(content), (machine_id,)
    )


def _system_of(view: View, name: str) -> str:
    systems = view.book.values[name].systems
    return view.title("system", systems[0]) if systems else OTHER


def _by_system(view: View, names: Sequence[str]) -> Mapping[str, list[str]]:
    """Return the values under the first system that each names, systems by their titles."""
    groups: dict[str, list[str]] = {}
    for name in names:
        systems = view.book.values[name].systems
        groups.setdefault(systems[0] if systems else "", []).append(name)
    order = sorted(groups, key=lambda system: (not system, view.title("system", system) if system else ""))
    return {system: groups[system] for system in order}


def _usual_basis(view: View, names: Sequence[str], machine_id: str) -> Basis | None:
    """Return the basis that most figures have: it is said once for all."""
    found = (view.linked.values.resolve(name, machine_id) for name in names)
    counted = Counter(
        each.entry.basis for each in found if isinstance(each, ResolvedValue) and each.entry.basis
    )
    return counted.most_common(1)[0][0] if counted else None


def _rows(view: View, names: Sequence[str], machine_id: str, usual: Basis | None) -> str:
    rows = []
    for name in names:
        found = view.linked.values.resolve(name, machine_id)
        if isinstance(found, MissingValue) and not found.applies:
            continue
        entry = found.entry if isinstance(found, ResolvedValue) else None
        engine = " <i>Engine</i>" if view.book.values[name].plate is Plate.ENGINE else ""
        remarks = []
        if entry is not None and entry.source:
            remarks.append(view.ref("source", entry.source))
        elif entry is not None and entry.basis is not None and entry.basis is not usual:
            remarks.append(text(BASIS_WORDS[entry.basis]))
        if entry is not None and entry.note:
            remarks.append(view.prose(entry.note, (machine_id,)))
        note = f"<dd>{'; '.join(remarks)}</dd>" if remarks else ""
        rows.append(
            f"<div><dt>{view.ref('value', name)}{engine}</dt>{view.value_cell(name, machine_id, element='dd')}{note}</div>"
        )
    return f'<dl class="figures">{"".join(rows)}</dl>' if rows else ""


KNOWN: Final = (_shares_known, _names_known, lambda view: _names_by_machine(view.linked))
"""Each makes known to the book of a view what its data sheets rest on."""
