"""Procedures and tests: pages that people work from."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.model.steps import Step, Test, Work
from shearpin.site import common, safety
from shearpin.site.html import bullets, facts, section, table, text
from shearpin.site.view import View

SKILL_WORDS = {
    "trainee": "a trainee can do it",
    "mechanic": "for a mechanic",
    "specialist": "for a specialist",
}


def procedure(view: View, record_id: str) -> str:
    """Return the body of a procedure's page."""
    record = view.book.procedures[record_id]
    machines = view.machines(record.applies_to)
    outcome = f"<p>{view.prose(record.outcome, machines)}</p>" if record.outcome else ""
    cures = bullets(view.ref("cause", cause) for cause in record.remedies)
    content = [
        _top(view, "procedure", record_id, record, machines),
        section("Steps", _steps(view, record.steps, machines, 1), "steps", "work"),
        section("Function test and hand-over", _steps(view, record.finish, machines, len(record.steps) + 1), "finish", "work"),
        section("When it is done", outcome, "outcome"),
        section("What it cures", cures, "cures"),
        common.used_by(
            view, "procedure", record_id,
            [("procedure", "Procedures that begin with it"), ("test", "Tests that call it"), ("machine", "In the service plan of")],
        ),
        common.review_and_sources(view, record),
    ]  # fmt: skip
    return common.article("procedure", record_id, "".join(content), machines)


def test(view: View, record_id: str) -> str:
    """Return the body of a test's page."""
    record = view.book.tests[record_id]
    machines = view.machines(record.applies_to)
    content = [
        _top(view, "test", record_id, record, machines),
        section("How to do it", _steps(view, record.steps, machines, 1), "steps", "work"),
        section("What it shows", _results(view, record, machines), "results"),
        section(
            "Put back before going on",
            _steps(view, record.finish, machines, len(record.steps) + 1),
            "finish",
            "work",
        ),
        section(
            "Symptoms that call for it",
            bullets(view.ref("symptom", s) for s in _symptoms(view, record)),
            "symptoms",
        ),
        common.review_and_sources(view, record),
    ]
    return common.article("test", record_id, "".join(content), machines)


def _top(view: View, kind: str, record_id: str, record: Work, machines: Sequence[str]) -> str:
    names = common.value_names(record)
    before = view.refs("procedure", record.before)
    tools = bullets((view.ref("tool", tool) for tool in record.tools), "tools")
    return "".join(
        [
            common.misfits(view, kind, record.applies_to),
            common.head(view, kind, record.title),
            common.draft_banner(record),
            safety.grouped(view, kind, record_id, machines),
            f'<p class="purpose">{view.prose(record.purpose, machines)}</p>',
            facts(
                [
                    ("For", common.fits_words(view, record.applies_to, machines)),
                    ("Time", text(str(record.time))),
                    ("Skill", SKILL_WORDS[record.skill]),
                    ("First", before),
                    ("Systems", view.refs("system", record.systems)),
                ]
            ),
            section("Tools", tools, "tools"),
            section("Parts", common.parts_by_plate(view, record.parts, machines), "parts"),
            section("Values", common.values_table(view, names, machines), "values"),
            common.figures(view, record.figures),
        ]
    )


def _steps(view: View, steps: Sequence[Step], machines: Sequence[str], start: int) -> str:
    """Return numbered steps, each with its cautions before its instruction."""
    items = []
    for number, step in enumerate(steps, start):
        here = view.machines(step.applies_to) if step.applies_to is not None else tuple(machines)
        here = tuple(machine for machine in here if machine in machines)
        extra = "".join(
            f'<p class="{css}"><b>{word}:</b> {view.prose(content, here)}</p>'
            for css, word, content in (("confirm", "Check", step.confirm), ("note", "Note", step.note))
            if content
        )
        drawing = common.figure(view, step.figure) if step.figure is not None else ""
        items.append(
            f'<li data-step id="step-{number}"{view.only_for(step.applies_to, machines)}>'
            f"{safety.of_step(view, view.linked.safety.of_step(step), here)}"
            f'<p class="do">{view.only_for_words(step.applies_to, machines)}{view.prose(step.do, here)}</p>{extra}{drawing}</li>'
        )
    begin = f' start="{start}"' if start != 1 else ""
    return f'<ol class="steps" data-steps{begin}>{"".join(items)}</ol>' if items else ""


def _results(view: View, record: Test, machines: Sequence[str]) -> str:
    rows = []
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
            f'<tr data-result="{result.id}"><th scope="row">{view.prose(result.seen, machines)}</th>'
            f"<td>{points}{rest}{clears}</td><td>{view.prose(result.then, machines)}</td></tr>"
        )
    return table(
        ("You see", "How often under which cause", "Then"), rows, "results", "Results and what they mean"
    )


def _symptoms(view: View, record: Test) -> list[str]:
    causes = {cause for result in record.results for cause in result.given}
    return sorted(
        symptom_id
        for symptom_id, symptom in view.book.symptoms.items()
        if causes.intersection(suspect.cause for suspect in symptom.causes)
    )
