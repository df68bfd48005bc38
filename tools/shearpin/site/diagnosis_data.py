"""The script beside a symptom's page: the numbers of its diagnosis and the words of its tests.

`diagnosis-words.js` unpacks the numbers to what `shearpin diagnose --json --model` prints. Rows of likelihoods that are
alike are written once; texts whose figures differ by machine are written by machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.model.steps import Step, Test
from shearpin.site.bodies.chart import RESULT_WORDS, work_kind
from shearpin.site.bodies.diagnosis import Group, groups_of, learned_words
from shearpin.site.packed import by_machine, fits, script, without_empty
from shearpin.site.view import View, address


def data_script(view: View, symptom_id: str) -> str:
    """Return the script that hands the data of a symptom to its page."""
    record = view.book.symptoms[symptom_id]
    machines = view.machines(record.applies_to)
    groups = groups_of(view, symptom_id)
    models = [group.model for group in groups]
    tests = {test.id: test for model in models for test in model.tests}
    causes = list(dict.fromkeys(cause for model in models for cause in model.priors))
    procedures = dict.fromkeys(
        name
        for model in models
        for name in (
            *model.access_minutes,
            *(r.procedure for remedies in model.remedies.values() for r in remedies),
        )
        if name in view.book.procedures
    )
    return script(
        "shearpinDiagnosisData",
        {
            "symptom": symptom_id,
            "machines": list(machines),
            "groups": [_group(group) for group in groups],
            "terms": _terms(models),
            "causes": {
                cause: [view.title("cause", cause), address("cause", cause)]
                for cause in causes
                if cause != SOMETHING_ELSE
            },
            "tests": {test_id: _test(view, test, models, machines) for test_id, test in tests.items()},
            "procedures": {p: [view.title("procedure", p), address("procedure", p)] for p in procedures},
        },
    )


def _terms(models: Sequence[DiagnosisModel]) -> dict[str, float]:
    if not models:  # a book without a machine that shows the symptom
        return {}
    terms = models[0].terms
    return {name: getattr(terms, name) for name in terms.__dataclass_fields__}


def _group(group: Group) -> dict[str, object]:
    model = group.model
    return without_empty(
        {
            "machines": list(group.machines),
            "priors": dict(model.priors),
            "access": dict(model.access_minutes),
            "start": list(model.start),
            "opened": list(model.opened),
            "tests": {test.id: [test.minutes, list(test.access), list(test.classes)] for test in model.tests},
            "remedies": {
                cause: [[remedy.procedure, remedy.minutes] for remedy in remedies]
                for cause, remedies in model.remedies.items()
                if remedies
            },
            "learned": {cause: learned_words(learned) for cause, learned in group.learned.items()},
        }
    )


def _test(
    view: View, test: TestModel, models: Iterable[DiagnosisModel], machines: Sequence[str]
) -> dict[str, object]:
    kind = work_kind(view, test.id)
    record = view.book.tests[test.id] if kind == "test" else view.book.procedures[test.id]
    rows: dict[tuple[float, ...], int] = {test.likelihood[SOMETHING_ELSE]: 0}
    row_of: dict[str, int] = {}
    for model in models:
        for other in model.tests:
            if other.id == test.id:
                for cause, row in other.likelihood.items():
                    if (number := rows.setdefault(row, len(rows))) != 0:
                        row_of[cause] = number
    return without_empty(
        {
            "title": record.title,
            "url": address(kind, test.id),
            "purpose": by_machine(view.linked, record.purpose, machines),
            "live": int(test.live),
            "runs": int(test.runs),
            "as_found": int(test.as_found),
            "trial": int(test.trial),
            "results": list(test.results),
            "seen": _seen(view, record if isinstance(record, Test) else None, test, machines),
            "rows": [list(row) for row in rows],
            "row_of": row_of,
            "cautions": [item.id for item in view.linked.safety.required(kind, test.id) if item.own],
            **view.shared(_work)(kind, test.id, tuple(machines)),
        }
    )


def _work(view: View, kind: str, record_id: str, machines: Sequence[str]) -> dict[str, object]:
    record = view.book.tests[record_id] if kind == "test" else view.book.procedures[record_id]
    return {
        "steps": [_step(view, step, machines) for step in record.steps],
        "finish": [_step(view, step, machines) for step in record.finish],
    }


def _seen(view: View, record: Test | None, test: TestModel, machines: Sequence[str]) -> list[object]:
    if record is None:
        return [RESULT_WORDS[result][0].upper() + RESULT_WORDS[result][1:] + "." for result in test.results]
    return [by_machine(view.linked, result.seen, machines) for result in record.results]


def _step(view: View, step: Step, machines: Sequence[str]) -> dict[str, object]:
    return without_empty(
        {
            "do": by_machine(view.linked, step.do, machines),
            "confirm": by_machine(view.linked, step.confirm, machines) if step.confirm else "",
            "cautions": list(view.linked.safety.of_step(step)),
            "fits": fits(view.linked, step.applies_to),
        }
    )
