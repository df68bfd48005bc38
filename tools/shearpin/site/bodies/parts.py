"""Parts and their order numbers, by the plate that orders them."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.model.fields import Plate
from shearpin.model.machines import Part
from shearpin.site import common, fitting
from shearpin.site.html import facts, section, table, text
from shearpin.site.view import View


def parts_table(view: View, machine_id: str, plate: Plate, parts: Sequence[str]) -> str:
    """Return the table of parts of a machine that one of its plates orders, with their numbers."""
    machine_engine = view.linked.applicability.engine_of(machine_id)
    holder = machine_id if plate is Plate.MACHINE else machine_engine
    rows = []
    for part_id in parts:
        part = view.book.parts[part_id]
        entry = part.numbers.get(holder or "")
        number = f'<b class="number">{text(entry.number)}</b>' if entry else text(part.consumable or "")
        rows.append(
            f'<tr><th scope="row">{view.ref("part", part_id)}</th><td>{number or "no number recorded"}</td></tr>'
        )
    return table(("Part", "Order number"), rows, "parts", f"Parts ordered by the {plate.value} plate")


def part(view: View, record_id: str) -> str:
    """Return the body of a part's page."""
    record = view.book.parts[record_id]
    machines = view.machines(record.applies_to)
    noted = any(entry.note for entry in record.numbers.values())
    rows = _number_rows(view, record, machines, noted=noted)
    content = [
        fitting.misfits(view, "part", record.applies_to),
        common.head(view, "part", record.title, text(", ".join(record.also))),
        common.draft_banner(view, record, record_id),
        f'<p class="order-by" data-plate="{record.plate.value}">Order it by the number on the <b>{view.plate_words(record.plate)}</b>.</p>',
        f'<p class="purpose">{view.prose(record.summary, machines)}</p>',
        section(
            "Order number by machine",
            table(
                ("Machine", "Number", *(("Note",) if noted else ())),
                rows,
                "parts entries by-row",
                record.title,
            ),
            "numbers",
        ),
        section("Values", common.values_table(view, record.values, record.applies_to), "values", "to-fill"),
        facts(
            [
                ("Systems", view.refs("system", record.systems)),
                ("Renew with it", view.refs("part", record.needs)),
            ]
        ),
        common.used_by(
            view,
            "part",
            record_id,
            [("procedure", "Procedures that use it"), ("cause", "Causes"), ("part", "Renewed with")],
        ),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("part", record_id, "".join(content), machines)


def _number_rows(view: View, record: Part, machines: Sequence[str], *, noted: bool) -> list[str]:
    """Return a row per machine with its order number."""
    rows = []
    engine_of = view.linked.applicability.engine_of
    by_machine, numbers = record.plate is Plate.MACHINE, record.numbers
    without = text(record.consumable or "no number recorded; order by the plate")
    for machine_id, head in zip(machines, view.shared(_row_heads)(tuple(machines)), strict=True):
        entry = numbers.get(machine_id if by_machine else engine_of(machine_id) or "")
        number = f'<b class="number">{text(entry.number)}</b>' if entry else without
        formerly = f" formerly {text(', '.join(entry.formerly))}" if entry and entry.formerly else ""
        note = f"<td>{view.prose(entry.note, (machine_id,)) if entry else ''}</td>" if noted else ""
        rows.append(f"{head}<td>{number}{formerly}</td>{note}</tr>")
    return rows


def _row_heads(view: View, machines: Sequence[str]) -> list[str]:
    """Return how the row of each machine begins; many parts are for the same machines."""
    return [f'<tr data-for="{each}"><th scope="row">{view.ref("machine", each)}</th>' for each in machines]
