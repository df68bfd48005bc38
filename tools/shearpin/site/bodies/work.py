"""Procedures and tests: pages that people work from."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from shearpin.book.linked import LinkedBook
from shearpin.model.fields import AppliesTo
from shearpin.model.steps import Procedure, Step, Test
from shearpin.site import common, fitting, job_page, safety, worked
from shearpin.site.html import bullets, cell_name, facts, section, table, text
from shearpin.site.view import View

SKILL_WORDS = {
    "trainee": "a trainee can do it",
    "mechanic": "for a mechanic",
    "specialist": "for a specialist",
}

_PLANS = (("machine", "In the service plan of"),)  # which stands on the machine's page too

_ACTS = '<div class="to-job" data-work-acts></div>'  # scripts put in how to print it

_WITH_ENGINE = AppliesTo(fitted=("engine",))


def procedure(view: View, record_id: str) -> str:
    """Return the body of a procedure's page."""
    record = view.book.procedures[record_id]
    machines = view.machines(record.applies_to)
    names = common.value_names(record)
    outcome = f"<p>{view.beside_a_table().prose(record.outcome, machines)}</p>" if record.outcome else ""
    cures = bullets(view.ref("cause", cause) for cause in record.remedies)
    sections = [
        *_outfit(view, record, names),
        *_work(view, record, machines, "Steps", "Function test and hand-over"),
        section("When it is done", outcome, "outcome"),
        _sign_off(view, machines),
        worked.of_work(view, names, machines),
        section("What it cures", cures, "cures"),
        common.used_by(
            view, "procedure", record_id,
            [("procedure", "Procedures that begin with it"), ("test", "Tests that call it"), *_PLANS[: int(not view.light)]],
        ),
    ]  # fmt: skip
    return _article(view, "procedure", record_id, record, machines, sections)


def test(view: View, record_id: str) -> str:
    """Return the body of a test's page."""
    record = view.book.tests[record_id]
    machines = view.machines(record.applies_to)
    names = common.value_names(record)
    how, finish = _work(view, record, machines, "How to do it", "Put back before going on")
    symptoms = bullets(view.ref("symptom", s) for s in _symptoms(view, record))
    sections = [
        *_outfit(view, record, names),
        how,
        section("What it shows", _results(view, record, machines), "results"),
        finish,
        _sign_off(view, machines),
        worked.of_work(view, names, machines),
        section("Symptoms that call for it", symptoms, "symptoms"),
    ]
    return _article(view, "test", record_id, record, machines, sections)


def _article(
    view: View,
    kind: str,
    record_id: str,
    record: Procedure | Test,
    machines: Sequence[str],
    sections: Sequence[str],
) -> str:
    """Return head and safety messages, the way to each section, and the sections."""
    content = [
        fitting.misfits(view, kind, record.applies_to),
        common.head(view, kind, record.title),
        common.draft_banner(view, record, record_id),
        safety.grouped(view, kind, record_id, machines),
        f'<p class="purpose">{view.beside_a_table().prose(record.purpose, machines)}</p>',
        facts(
            [
                ("For", fitting.fits_words(view, record.applies_to, machines)),
                ("Time", text(str(record.time))),
                ("Skill", SKILL_WORDS[record.skill]),
                ("Systems", view.refs("system", record.systems)),
            ]
        ),
        job_page.add_link(view, record_id) if kind == "procedure" else _ACTS,
        common.jumps(sections),
        *sections,
        safety.reasons(view, kind, record_id),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article(kind, record_id, "".join(content), machines)


def _sign_off(view: View, machines: Sequence[str]) -> str:
    """Return lines to fill in by hand; they are for paper and not shown on the screen. Only an engine has a plate of its own."""
    with_engine = view.linked.applicability.machines_for(_WITH_ENGINE)
    engine = (
        f"<span{view.only_for(_WITH_ENGINE, machines)}>Engine plate, code</span>"
        if with_engine.intersection(machines)
        else ""
    )
    return (
        '<section class="sign-off" aria-hidden="true"><h2>Sign-off</h2><p><span>Machine plate, serial number</span>'
        f"{engine}<span>Done by</span><span>Date</span><span>Checked by</span></p></section>"
    )


def _outfit(view: View, record: Procedure | Test, names: Sequence[str]) -> list[str]:
    """Return what must lie ready: drawings, tools, parts, values; wide screens and paper have the drawing beside the rest."""
    tools = bullets((view.ref("tool", tool) for tool in record.tools), "tools")
    values = common.values_table(view, names, record.applies_to)
    return [
        common.figures(view, record.figures),
        section("Tools", tools, "tools"),
        section("Parts", common.parts_by_plate(view, record.parts, record.applies_to), "parts"),
        section("Values", values, "values", "to-fill"),
    ]


def _work(
    view: View, record: Procedure | Test, machines: Sequence[str], heading: str, finish_heading: str
) -> tuple[str, str]:
    """Return the sections of steps and of finishing steps, numbered through."""
    told: set[str] = set()
    before = bullets(view.ref("procedure", other) for other in record.before)
    first = f'<div class="before"><b>First:</b> {before}</div>' if before else ""
    steps = view.steps_here(record.steps)
    done = _steps(view, steps, machines, 1, told)
    finish = _steps(view, view.steps_here(record.finish), machines, len(steps) + 1, told)
    return (
        section(heading, first + done, "steps", "work"),
        section(finish_heading, finish, "finish", "work"),
    )


def _steps(view: View, steps: Sequence[Step], machines: Sequence[str], start: int, told: set[str]) -> str:
    """Return numbered steps, each with its cautions before its instruction; adds to the cautions `told`."""
    items = []
    beside = view.beside_a_table()
    for number, step in enumerate(steps, start):
        here = tuple(machines)
        if step.applies_to is not None:
            fitting = view.linked.applicability.machines_for(step.applies_to)
            here = tuple(machine for machine in machines if machine in fitting)
        extra = "".join(
            f'<p class="{css}"><b>{word}:</b> {beside.prose(content, here)}</p>'
            for css, word, content in (("confirm", "Check", step.confirm), ("note", "Note", step.note))
            if content
        )
        drawing = common.figure(view, step.figure) if step.figure is not None else ""
        cautions = view.linked.safety.of_step(step)
        # `value`: a step keeps its number when those before it are hidden for the chosen machine.
        items.append(
            f'<li data-step id="step-{number}" value="{number}"{view.only_for(step.applies_to, machines)}>'
            f"{safety.of_step(view, cautions, here, told)}"
            f'<p class="do">{view.only_for_words(step.applies_to, machines)}{beside.prose(step.do, here)}</p>{extra}{drawing}</li>'
        )
        if len(here) == len(machines):  # a step that some machines do not show has not told them
            told.update(cautions)
    begin = f' start="{start}"' if start != 1 else ""
    return f'<ol class="steps" data-steps{begin}>{"".join(items)}</ol>' if items else ""


_HOW_OFTEN = "How often under which cause"
_THEN = "Then"


def _results(view: View, record: Test, machines: Sequence[str]) -> str:
    rows = []
    beside = view.beside_a_table()
    for result in record.results:
        points = bullets(
            f'{view.ref("cause", cause)} <span class="chance">({text(str(chance))})</span>'
            for cause, chance in sorted(result.given.items(), key=lambda pair: (-pair[1].number, pair[0]))
            if chance.number >= 0.25
        )
        against = ", ".join(
            view.ref("cause", cause) for cause, chance in sorted(result.given.items()) if chance.number <= 0.1
        )
        clears = f'<p class="clears">Speaks against: {against}</p>' if against else ""
        rest = f"<p>Otherwise: {text(str(result.otherwise))}</p>" if result.otherwise is not None else ""
        rows.append(
            f'<tr data-result="{result.id}"><th scope="row">{beside.prose(result.seen, machines)}</th>'
            f"<td>{cell_name(_HOW_OFTEN)}{points}{rest}{clears}</td>"
            f"<td>{cell_name(_THEN) if result.then else ''}{beside.prose(result.then, machines)}</td></tr>"
        )
    return table(("You see", _HOW_OFTEN, _THEN), rows, "results entries", "Results and what they mean")


def _symptoms(view: View, record: Test) -> list[str]:
    suspecting = symptoms_of_cause(view)
    causes = {cause for result in record.results for cause in result.given}
    return sorted({symptom for cause in causes for symptom in suspecting(cause)})


def symptoms_of_cause(view: View) -> Callable[[str], tuple[str, ...]]:
    """Return what tells the symptoms of which a cause is suspected: a page hangs on those of its own causes."""
    return view.linked.remembered("symptoms of a cause", partial(_symptoms_of_cause, view.linked))


def _symptoms_of_cause(linked: LinkedBook, cause_id: str) -> tuple[str, ...]:
    symptoms = linked.book.symptoms
    referring = [symptom_id for _, symptom_id in linked.links.origins(("cause", cause_id), "symptom")]
    return tuple([each for each in referring if any(s.cause == cause_id for s in symptoms[each].causes)])
