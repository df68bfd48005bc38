"""A value of all machines at a glance: a chart in the page itself, which the table beside it says in words."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from shearpin.book.values import ResolvedValue
from shearpin.mechanics.guards import with_unit
from shearpin.model.quantity import Quantity
from shearpin.site.html import text
from shearpin.site.view import View

_ROW: Final = 44  # pixels; a name above its bar
_LEFT: Final = 2  # per cent of the width left free at both ends
_MOST_ROWS: Final = 24  # machines that can be compared at a glance
_NARROWEST: Final = Fraction(1)  # per cent; a single number is drawn this wide


def chart(view: View, name: str, machines: Sequence[str]) -> str:
    """Return a row for each machine on one scale; nothing where the figures are alike, open or not in one unit.

    Shape, place and words carry the meaning, never a colour. Figures are drawn as recorded and never converted.
    """
    bounds: dict[str, tuple[Fraction, Fraction]] = {}
    units: set[str] = set()
    for machine_id in machines:
        found = view.linked.values.resolve(name, machine_id)
        if not isinstance(found, ResolvedValue):
            continue
        quantity: Quantity = found.quantity
        if quantity.low is None or quantity.high is None:
            return ""
        bounds[machine_id] = (quantity.low, quantity.high)
        units.add(quantity.unit)
    if len(units) != 1 or len(set(bounds.values())) < 2 or len(bounds) > _MOST_ROWS:
        return ""
    return _figure(view, bounds, units.pop())


def _figure(view: View, bounds: dict[str, tuple[Fraction, Fraction]], unit: str) -> str:
    lowest, highest = min(low for low, _ in bounds.values()), max(high for _, high in bounds.values())
    per_cent = Fraction(100 - 2 * _LEFT) / (highest - lowest)
    rows = []
    for number, (machine_id, (low, high)) in enumerate(bounds.items()):
        top = number * _ROW
        width = max((high - low) * per_cent, _NARROWEST)
        start = min(_LEFT + (low - lowest) * per_cent, 100 - _LEFT - width)
        rows.append(
            f'<g data-row-machine="{machine_id}"><text x="{_LEFT}%" y="{top + 18}">{text(view.machine_name(machine_id))}</text>'
            f'<line class="scale" x1="{_LEFT}%" x2="{100 - _LEFT}%" y1="{top + 32}" y2="{top + 32}"/>'
            f'<rect class="span" x="{float(start):.4g}%" y="{top + 27}" width="{float(width):.4g}%" height="10"/></g>'
        )
    foot = len(bounds) * _ROW + 20
    ends = (
        f'<text x="{_LEFT}%" y="{foot}">{_number(lowest, unit)}</text>'
        f'<text class="end" x="{100 - _LEFT}%" y="{foot}">{_number(highest, unit)}</text>'
    )
    return (
        f'<figure class="chart"><svg aria-hidden="true" width="100%" height="{foot + 8}">{"".join(rows)}{ends}</svg>'
        "<figcaption>From the smallest to the largest figure of the table.</figcaption></figure>"
    )


def _number(number: Fraction, unit: str) -> str:
    return text(with_unit(float(number), unit, 6))
