"""`shearpin diagnose`: causes by chance and tests in order, for a symptom on a machine."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, known_machine, load_book_or_fail, new_parser, print_json, todays_id
from shearpin.diagnosis.model import SOMETHING_ELSE, DiagnosisModel, build_model
from shearpin.diagnosis.plan import Plan, make_plan, posterior


def run(words: Sequence[str]) -> int:
    """Print causes and tests; answers already known condition both."""
    parser = new_parser("diagnose", "Causes by chance and tests in order, for a symptom on a machine.")
    parser.add_argument("symptom", metavar="SYMPTOM", help="id of a symptom")
    parser.add_argument("--machine", metavar="ID", help="id of the machine; without it all machines count")
    parser.add_argument(
        "--answer",
        metavar="TEST=RESULT",
        action="append",
        default=[],
        help="what a test showed; may be repeated",
    )
    parser.add_argument(
        "--model", action="store_true", help="with --json: also the numbers it was computed from"
    )
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    options.symptom = todays_id(linked, "symptom", options.symptom)
    symptom = linked.book.symptoms.get(options.symptom)
    if symptom is None:
        advice = did_you_mean(options.symptom, linked.book.symptoms) or "`shearpin find` searches by words"
        raise UserError(f"there is no symptom `{options.symptom}`; {advice}")
    machine = known_machine(linked, options.machine)
    if machine is not None:
        against = linked.applicability.reason_against(symptom.applies_to, machine)
        if against is not None:
            raise UserError(f"`{options.symptom}` does not occur on {machine}: {against}", 1)
    model = build_model(linked, options.symptom, machine)
    seen = _answers(linked, options.answer, model)
    try:
        chances = posterior(model, seen)
    except ValueError as error:
        raise UserError(str(error)) from error
    plan = make_plan(model, seen)
    if options.json:
        print_json(_as_json(linked, model, chances, plan, options.model))
    else:
        _print_for_people(linked, model, chances, plan)
    return 0


def _answers(linked: LinkedBook, given: Sequence[str], model: DiagnosisModel) -> dict[str, str]:
    tests = {test.id: test for test in model.tests}
    seen: dict[str, str] = {}
    for answer in given:
        test, _, result = answer.partition("=")
        test = todays_id(linked, "test", test)
        if test not in tests:
            advice = did_you_mean(test, tests) or "tests: " + ", ".join(tests)
            raise UserError(f"`{test}` is no test of this symptom; {advice}")
        if result not in tests[test].results:
            raise UserError(f"`{test}` has no result `{result}`; it has: {', '.join(tests[test].results)}")
        if seen.get(test, result) != result:
            raise UserError(f"`{test}` is answered twice, with `{seen[test]}` and with `{result}`")
        seen[test] = result
    return seen


def _ordered(chances: dict[str, float]) -> list[tuple[str, float]]:
    return sorted(chances.items(), key=lambda pair: (-pair[1], pair[0]))


def _as_json(
    linked: LinkedBook, model: DiagnosisModel, chances: dict[str, float], plan: Plan, with_model: bool
) -> dict[str, object]:
    symptom = linked.book.symptoms[model.symptom]
    document: dict[str, object] = {
        "symptom": model.symptom,
        "machine": model.machine,
        "take_out_of_use": symptom.take_out_of_use,
        "causes": [{"id": cause, "probability": chance} for cause, chance in _ordered(chances)],
        "plan": [
            {"test": item.test, "minutes": item.minutes, "reach_probability": item.reach_probability}
            for item in plan.tests
        ],
        "expected_minutes": plan.expected_minutes,
        "method": plan.method,
    }
    if with_model:
        document["model"] = {
            "priors": dict(model.priors),
            "tests": [
                {
                    "id": test.id,
                    "minutes": test.minutes,
                    "access": list(test.access),
                    "live": test.live,
                    "results": list(test.results),
                    "likelihood": {cause: list(row) for cause, row in test.likelihood.items()},
                }
                for test in model.tests
            ],
            "access_minutes": dict(model.access_minutes),
        }
    return document


def _print_for_people(
    linked: LinkedBook, model: DiagnosisModel, chances: dict[str, float], plan: Plan
) -> None:
    symptom = linked.book.symptoms[model.symptom]
    where = linked.book.machines[model.machine].title if model.machine else "any machine"
    print(f"{symptom.title} ({where})")
    if symptom.take_out_of_use:
        print(f"\nTAKE THE MACHINE OUT OF USE: {plain_text(linked, symptom.take_out_of_use, model.machine)}")
    _print_safety(linked, model)
    print("\nCauses by chance:")
    for cause_id, chance in _ordered(chances):
        cause = linked.book.causes.get(cause_id)
        title = (
            "something not in this book" if cause_id == SOMETHING_ELSE else cause.title if cause else cause_id
        )
        print(f"  {chance * 100:3.0f} %  {title}")
    print(f"\nTests, best chance per minute first (about {plan.expected_minutes:.0f} min expected):")
    for number, item in enumerate(plan.tests, 1):
        test = linked.book.tests[item.test]
        print(f"  {number}. {test.title} ({item.minutes:.0f} min)  {item.test}")
        for result in test.results:
            print(f"       {result.id}: {plain_text(linked, result.seen, model.machine)}")


def _print_safety(linked: LinkedBook, model: DiagnosisModel) -> None:
    print("\nSafety first:")
    for item in linked.safety.required("symptom", model.symptom):
        caution = linked.book.cautions[item.id]
        if model.machine is None or model.machine in linked.applicability.machines_for(caution.applies_to):
            message = " ".join((caution.hazard, *caution.avoidance))
            print(f"  {item.signal_word.value}: {plain_text(linked, message, model.machine)}")
