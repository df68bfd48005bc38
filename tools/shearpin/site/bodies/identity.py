"""Machines, engines and values: what is decided by a plate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from shearpin.book.service_plan import due_words
from shearpin.book.values import ResolvedValue
from shearpin.model.fields import BASIS_WORDS, Plate
from shearpin.model.machines import Engine, Machine, Plated, Value
from shearpin.site import apart, calendar_form, common, value_chart, worked
from shearpin.site.apart import LongList
from shearpin.site.bodies import data_sheet, parts
from shearpin.site.html import bullets, facts, section, table, text
from shearpin.site.view import View


def machine(view: View, record_id: str) -> str:
    """Return the body of a machine's page: both plates, its symptoms, service plan, parts, what can be done to it."""
    record = view.book.machines[record_id]
    engine = view.book.engines.get(record.engine or "")
    mine = (record_id,)
    plates = _plates(view, record, engine, mine)
    listed = partial(_listed, view, record_id, apart.lists(view.linked, "machine", record_id))
    sections = [
        section(
            "Two plates, two numbers" if engine else "The plate",
            plates + common.figures(view, record.figures),
            "plates",
        ),
        section("Symptoms on this machine", listed("symptoms"), "symptoms"),
        section(
            "Service plan", _service(view, record, engine) + calendar_form.form(view, record_id), "service"
        ),
        section("Values", data_sheet.way_to(view, record_id), "values"),
        section("What can be done to it", listed("procedures"), "procedures"),
        section("Parts by the machine plate", listed("machine-parts"), "machine-parts"),
        section("Parts by the engine plate", listed("engine-parts"), "engine-parts"),
    ]
    content = [
        common.head(view, "machine", record.title),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.summary, mine)}</p>',
        f'<p class="suits">{view.prose(record.suits, mine)}</p>' if record.suits else "",
        f'<p class="choose"><button type="button" data-choose-machine="{record_id}" hidden>Work on this machine</button></p>',
        common.jumps(sections),
        *sections,
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("machine", record_id, "".join(content), mine)


def _plates(view: View, record: Machine, engine: Engine | None, mine: Sequence[str]) -> str:
    """Return where both plates are, and what the machine is."""
    return facts(
        [
            ("Machine plate", _plate(view, record, mine)),
            ("Engine plate", _plate(view, engine, mine) if engine else "this machine has no engine"),
            ("Engine", view.ref("engine", record.engine) if record.engine else ""),
            (
                "Class",
                text(record.class_.replace("-", " ") if record.class_.count("-") > 1 else record.class_),
            ),
            (
                "Fitted with",
                text(", ".join((*record.fitted, *(engine.fitted if engine else ()))).replace("-", " ")),
            ),
        ]
    )


def engine(view: View, record_id: str) -> str:
    """Return the body of an engine's page."""
    record = view.book.engines[record_id]
    users = _users_of_engine(view, record_id)
    long = apart.lists(view.linked, "engine", record_id).get("values")
    values = (
        bullets([common.way_to_list(view, "engine", record_id, long)])
        if long
        else engine_values(view, record_id, tuple(record.values))
    )
    content = [
        common.head(view, "engine", record.title),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.summary, users)}</p>',
        facts(
            [
                ("Engine plate", _plate(view, record, users)),
                ("On", view.refs("machine", users)),
                ("Fitted with", text(", ".join(record.fitted).replace("-", " "))),
            ]
        ),
        common.figures(view, record.figures),
        section(
            "Values by the engine plate",
            values,
            "values",
        ),
        section("Service plan", _service(view, record), "service"),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("engine", record_id, "".join(content), users)


def _users_of_engine(view: View, engine_id: str) -> tuple[str, ...]:
    engine_of = view.linked.applicability.engine_of
    return tuple(m for m in view.machine_order if engine_of(m) == engine_id)


def engine_values(view: View, engine_id: str, names: Sequence[str]) -> str:
    """Return the table of values that an engine's plate decides."""
    users = _users_of_engine(view, engine_id)
    rows = []
    for name in names:
        entry = view.book.engines[engine_id].values[name]
        kind = view.book.values.get(name)
        if ("value", name) in view.book.outside:
            continue
        found = view.linked.values.resolve(name, users[0]) if users and kind else None
        shown = view.value_text(name, users[0]) if isinstance(found, ResolvedValue) else text(entry.is_)
        note = view.prose(entry.note, users)
        rows.append(
            f'<tr><th scope="row">{view.ref("value", name)}</th><td class="value">{shown}</td>'
            f"<td>{text(BASIS_WORDS[entry.basis] if entry.basis else '')}</td><td>{note}</td></tr>"
        )
    return table(
        ("Value", "Figure", "From", "Note"), rows, "values of-engine entries", "Values of this engine"
    )


def _plate(view: View, record: Plated, machines: Sequence[str]) -> str:
    reads = f" <span>It reads like</span> <b>{text(record.plate.reads)}</b>." if record.plate.reads else ""
    return f"{view.prose(record.plate.where, machines)}{reads}"


def _service(view: View, *records: Plated | None) -> str:
    rows = [
        f'<tr><th scope="row">{text(due_words(item))}</th><td>{view.refs("procedure", item.do)}</td></tr>'
        for record in records
        for item in (record.service if record is not None else ())
    ]
    return table(("When", "Do"), rows, "service", "What is done when")


_PLATE_OF = {f"{plate.value}-parts": plate for plate in Plate}
_KIND_OF = {"symptoms": "symptom", "procedures": "procedure"}


def _listed(view: View, machine_id: str, long: Mapping[str, LongList], name: str) -> str:
    """Return one of the lists of a machine's page, or the way to it where it is too long for the page."""
    if name in long:
        return bullets([common.way_to_list(view, "machine", machine_id, long[name])])
    if name in _KIND_OF:
        kind = _KIND_OF[name]
        return bullets(view.ref(kind, each) for each in apart.fitting(view.linked, kind, machine_id))
    plate = _PLATE_OF[name]
    return parts.parts_table(view, machine_id, plate, apart.parts_by(view.linked, machine_id, plate))


def value(view: View, record_id: str) -> str:
    """Return the body of a value's page: one table over all machines that have it."""
    record = view.book.values[record_id]
    machines = view.linked.values.machines_with(record_id)
    ordered = [machine for machine in view.machine_order if machine in machines]
    content = [
        common.head(view, "value", record.title, text(", ".join(record.also))),
        common.draft_banner(view, record, record_id),
        section("By machine", _by_machine(view, record_id, record, ordered), "by-machine"),
        worked.of_value(view, record_id, ordered),
        facts(
            [
                ("Measures", text(record.quantity.words)),
                ("Decided by", text(view.plate_words(record.plate))),
                ("Plausible range", _band(view, record)),
                ("How it is measured", view.prose(record.measured, ordered)),
                ("With", view.refs("tool", record.tools)),
                ("Systems", view.refs("system", record.systems)),
                ("Tightens", _joint(view, record)),
            ]
        ),
        common.used_by(
            view,
            "value",
            record_id,
            [("procedure", "Procedures"), ("test", "Diagnostic tests"), ("part", "Parts")],
        ),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("value", record_id, "".join(content), ordered)


def _joint(view: View, record: Value) -> str:
    """Return the thread and the grade of the joint that a torque tightens."""
    if record.fastener is None:
        return ""
    return f"{view.ref('value', record.fastener.thread)}, {view.ref('value', record.fastener.grade)}"


def _band(view: View, record: Value) -> str:
    """Return the plausible range of a value with its source, where it has one."""
    if not record.band:
        return ""
    source = f" ({view.ref('source', record.band_source)})" if record.band_source else ""
    return f"{text(record.band)}{source}"


def _by_machine(view: View, record_id: str, record: Value, machines: Sequence[str]) -> str:
    """Return the table of a value and, where figures differ, the chart below it."""
    noted = _are_noted(view, record_id, machines)
    rows = _value_rows(view, record_id, record, machines, noted=noted)
    by_engine = ("Engine",) if record.plate is Plate.ENGINE else ()
    columns = ("Machine", "Figure", *by_engine, "From", *_NOTE[: int(noted)])
    return table(columns, rows, "values entries", record.title) + value_chart.chart(view, record_id, machines)


_NOTE = ("Note",)


def _are_noted(view: View, name: str, machines: Sequence[str]) -> bool:
    """Return whether any machine's figure has a note: a column of nothing is left out."""
    found = (view.linked.values.resolve(name, machine_id) for machine_id in machines)
    return any(isinstance(each, ResolvedValue) and each.entry.note for each in found)


def _value_rows(
    view: View, record_id: str, record: Value, machines: Sequence[str], *, noted: bool
) -> list[str]:
    """Return a row per machine: figure, where it comes from, under which condition."""
    rows = []
    for machine_id in machines:
        found = view.linked.values.resolve(record_id, machine_id)
        entry = found.entry if isinstance(found, ResolvedValue) else None
        basis = BASIS_WORDS[entry.basis] if entry and entry.basis else ""
        source = (
            f" ({view.ref('source', entry.source)}{', ' + text(entry.place) if entry.place else ''})"
            if entry and entry.source
            else ""
        )
        engine_id = view.linked.applicability.engine_of(machine_id)
        by = (
            f"<td>{view.ref('engine', engine_id) if engine_id else ''}</td>"
            if record.plate is Plate.ENGINE
            else ""
        )
        note = f"<td>{view.prose(entry.note, (machine_id,)) if entry else ''}</td>" if noted else ""
        rows.append(
            f'<tr data-row-machine="{machine_id}"><th scope="row">{view.ref("machine", machine_id)}</th>'
            f"{view.value_cell(record_id, machine_id, element='td')}{by}<td>{text(basis)}{source}</td>{note}</tr>"
        )
    return rows
