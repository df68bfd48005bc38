"""Symptoms, causes, systems and cautions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from shearpin.diagnosis.model import SOMETHING_ELSE, alike, build_model
from shearpin.diagnosis.plan import Plan, make_plan
from shearpin.model.knowledge import Symptom
from shearpin.site import common, safety
from shearpin.site.html import bullets, facts, section, table, table_with_head, text
from shearpin.site.view import View


def symptom(view: View, record_id: str) -> str:
    """Return the body of a symptom's page: safety, what to ask, the test plan, the causes by chance."""
    record = view.book.symptoms[record_id]
    machines = view.machines(record.applies_to)
    out_of_use = (
        f'<p class="out-of-use" role="note"><b>Take the machine out of use.</b> {view.prose(record.take_out_of_use, machines)}</p>'
        if record.take_out_of_use
        else ""
    )
    said = bullets((f"“{text(phrase)}”" for phrase in record.said), "said")
    sections = [
        section("Ask first", bullets(view.prose(line, machines) for line in record.ask), "ask"),
        _diagnosis(view, record_id, record, machines),
        section("People say", said, "said"),
        section("See also", bullets(view.ref("symptom", other) for other in record.see_also), "see-also"),
    ]
    content = [
        common.misfits(view, "symptom", record.applies_to),
        common.head(view, "symptom", record.title),
        common.draft_banner(view, record, record_id),
        out_of_use,
        safety.grouped(view, "symptom", record_id, machines),
        f'<p class="purpose">{view.prose(record.summary, machines)}</p>',
        facts(
            [
                ("On", common.fits_words(view, record.applies_to, machines)),
                ("First", view.refs("procedure", record.before)),
                ("Systems", view.refs("system", record.systems)),
            ]
        ),
        common.jumps(sections),
        *sections,
        common.figures(view, record.figures),
        safety.reasons(view, "symptom", record_id),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("symptom", record_id, "".join(content), machines)


def _diagnosis(view: View, symptom_id: str, record: Symptom, machines: Sequence[str]) -> str:
    """Return plan and causes; plans and chances that are the same for several machines stand there once."""
    plans: dict[str, list[str]] = {}
    chances: dict[tuple[tuple[str, float], ...], list[str]] = {}
    tests: dict[str, None] = {}
    for group in alike(view.linked, symptom_id, machines):
        model = build_model(view.linked, symptom_id, group[0])
        plan = make_plan(model)
        tests.update(dict.fromkeys(planned.test for planned in plan.tests))
        plans.setdefault(_plan_table(view, plan), []).extend(group)
        chances.setdefault(tuple(sorted(model.priors.items())), []).extend(group)
    how = (
        "<p>Cheapest informative test first: the tests stand in falling chance of showing a cause per minute. "
        "Time spent to get access is counted once. Stop when a cause is proven.</p>"
    )
    tells = "".join(
        f"<div><dt>{view.ref('test', test_id)}</dt><dd>{view.prose(view.book.tests[test_id].purpose, machines)}</dd></div>"
        for test_id in tests
    )
    explained = f'<h3>What each test tells</h3><dl class="tells">{tells}</dl>' if tells else ""
    groups = [(dict(priors), ids) for priors, ids in chances.items()]
    return section("Test in this order", how + _for_groups(view, plans) + explained, "plan") + section(
        "Causes by chance", _cause_table(view, groups, record, machines), "causes"
    )


def _for_groups(view: View, groups: dict[str, list[str]]) -> str:
    if len(groups) == 1:
        return next(iter(groups))
    return "".join(
        f'<div class="for-machines" data-for="{" ".join(ids)}"><h3>{text(view.machine_names(ids))}</h3>{content}</div>'
        for content, ids in groups.items()
    )


def _plan_table(view: View, plan: Plan) -> str:
    rows = []
    for number, planned in enumerate(plan.tests, 1):
        first = (
            f' <span class="access">after {view.refs("procedure", planned.opens)}</span>'
            if planned.opens
            else ""
        )
        rows.append(
            f'<tr data-test="{planned.test}"><td class="number">{number}</td>'
            f'<th scope="row">{view.ref("test", planned.test)}{first}</th>'
            f'<td class="minutes">{planned.minutes:.0f} min</td>'
            f'<td class="minutes">{planned.reach_probability * 100:.0f} %</td></tr>'
        )
    if not rows:
        return '<p data-missing="tests">No test in this book tells the causes apart. Work by the maker’s manual.</p>'
    total = (
        f'<p class="expected">About <b>{plan.expected_minutes:.0f} minutes</b> of testing to be expected.</p>'
    )
    return total + table(("", "Test", "Takes", "Comes to it"), rows, "plan", "Tests in order")


def _cause_table(
    view: View,
    groups: Sequence[tuple[Mapping[str, float], Sequence[str]]],
    record: Symptom,
    machines: Sequence[str],
) -> str:
    """Return causes by chance, a column for each group of machines with the same chances."""
    best = {
        cause: max(priors.get(cause, 0.0) for priors, _ in groups) for priors, _ in groups for cause in priors
    }
    suspects = {suspect.cause: suspect for suspect in record.causes}
    rows = []
    for cause_id, _ in sorted(best.items(), key=lambda pair: (pair[0] == SOMETHING_ELSE, -pair[1], pair[0])):
        having = [machine for priors, ids in groups if cause_id in priors for machine in ids]
        only = f' data-for="{" ".join(having)}"' if len(having) < len(machines) else ""
        cells = "".join(_chance_cell(priors.get(cause_id), ids, len(groups)) for priors, ids in groups)
        if cause_id == SOMETHING_ELSE:
            name, cures = "Something not in this book", ""
        else:
            note = suspects[cause_id].note
            name = view.ref("cause", cause_id) + (f"<p>{view.prose(note, machines)}</p>" if note else "")
            origins = view.linked.links.origins(("cause", cause_id), "procedure")
            cures = _cures(view, origins, machines)
        rows.append(
            f'<tr data-cause="{cause_id}"{only}><th scope="row">{name}</th>{cells}<td>{cures}</td></tr>'
        )
    heads = "".join(
        f'<th scope="col" data-for="{" ".join(ids)}">Chance: {text(view.machine_names(ids))}</th>'
        if len(groups) > 1
        else '<th scope="col">Chance</th>'
        for _, ids in groups
    )
    return table_with_head(
        f'<th scope="col">Cause</th>{heads}<th scope="col">Cured by</th>',
        rows,
        "causes",
        "Causes by chance before any test",
    )


def _cures(view: View, origins: Iterable[tuple[str, str]], machines: Sequence[str]) -> str:
    """Return procedures one below the other, those for some machines only shown for these."""
    rows = []
    for kind, procedure_id in origins:
        record = view.book.get(kind, procedure_id)
        only = view.only_for(getattr(record, "applies_to", None), machines)
        rows.append(f"<li{only}>{view.ref(kind, procedure_id)}</li>")
    return f"<ul>{''.join(rows)}</ul>" if rows else ""


def _chance_cell(chance: float | None, ids: Sequence[str], count: int) -> str:
    only = f' data-for="{" ".join(ids)}"' if count > 1 else ""
    if chance is None:
        return f'<td class="chance"{only}>–</td>'
    percent = f"{chance * 100:.0f}"
    return f'<td class="chance"{only}><meter min="0" max="100" value="{percent}"></meter> {percent} %</td>'


def cause(view: View, record_id: str) -> str:
    """Return the body of a cause's page."""
    record = view.book.causes[record_id]
    machines = view.machines(record.applies_to)
    cures = bullets(view.ref(*key) for key in view.linked.links.origins(("cause", record_id), "procedure"))
    tests = bullets(view.ref(*key) for key in view.linked.links.origins(("cause", record_id), "test"))
    content = [
        common.misfits(view, "cause", record.applies_to),
        common.head(view, "cause", record.title),
        common.draft_banner(view, record, record_id),
        facts(
            [
                ("On", common.fits_words(view, record.applies_to, machines)),
                ("Systems", view.refs("system", record.systems)),
                ("Parts", view.refs("part", record.parts)),
            ]
        ),
        section("What has happened", f"<p>{view.prose(record.mechanism, machines)}</p>", "mechanism"),
        section("What proves it", f"<p>{view.prose(record.confirmed_by, machines)}</p>{tests}", "proof"),
        section(
            "What cures it",
            cures or '<p data-missing="remedy">No procedure in this book cures it.</p>',
            "cures",
        ),
        section(
            "How to keep it from coming back",
            f"<p>{view.prose(record.prevention, machines)}</p>" if record.prevention else "",
            "prevention",
        ),
        common.figures(view, record.figures),
        common.used_by(view, "cause", record_id, [("symptom", "Symptoms it makes")]),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("cause", record_id, "".join(content), machines)


def system(view: View, record_id: str) -> str:
    """Return the body of a system's page: how it works, what belongs to it."""
    record = view.book.systems[record_id]
    machines = view.machines(record.applies_to)
    theory = "".join(
        f"<h3>{text(part.heading)}</h3>{''.join(f'<p>{view.prose(line, machines)}</p>' for line in part.text)}"
        f"{common.figure(view, part.figure) if part.figure else ''}"
        for part in record.theory
    )
    hazards = dict.fromkeys(record.hazards)
    for energy in record.energies:
        hazards.update(dict.fromkeys(view.linked.safety.by_energy.get(energy, ())))
    known = [caution for caution in hazards if caution in view.book.cautions]
    known.sort(
        key=lambda c: (
            list(type(view.book.cautions[c].signal_word)).index(view.book.cautions[c].signal_word),
            c,
        )
    )
    panels = "".join(safety.panel(view, caution, machines) for caution in known)
    content = [
        common.misfits(view, "system", record.applies_to),
        common.head(view, "system", record.title, text(", ".join(record.also))),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.summary, machines)}</p>',
        facts([("On", common.fits_words(view, record.applies_to, machines)), ("Related", view.refs("system", record.related))]),
        common.figures(view, record.figures),
        section("How it works", theory, "theory"),
        section("What can hurt", f'<div class="safety">{panels}</div>' if panels else "", "hazards"),
        common.used_by(
            view, "system", record_id,
            [("symptom", "Symptoms"), ("test", "Diagnostic tests"), ("procedure", "Procedures"), ("cause", "Causes"),
             ("value", "Values"), ("part", "Parts"), ("term", "Terms")],
        ),
        common.review_and_sources(view, record, record_id),
    ]  # fmt: skip
    return common.article("system", record_id, "".join(content), machines)


def caution(view: View, record_id: str) -> str:
    """Return the body of a caution's page."""
    record = view.book.cautions[record_id]
    machines = view.machines(record.applies_to)
    pages = view.linked.safety.pages_with().get(record_id, ())
    listed = bullets(view.ref(*key) for key in pages)
    content = [
        common.head(view, "caution", record.title),
        common.draft_banner(view, record, record_id),
        f'<div class="safety">{safety.panel(view, record_id, machines)}</div>',
        facts(
            [
                ("Brought by actions", text(", ".join(record.covers.actions).replace("-", " "))),
                ("Brought by energies", text(", ".join(record.covers.energies).replace("-", " "))),
            ]
        ),
        section("Pages that show it", listed, "pages"),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("caution", record_id, "".join(content))
