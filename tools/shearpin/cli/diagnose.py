"""`shearpin diagnose`: from a symptom on a machine to a proven cause, in a dialogue, as a printed plan or as JSON."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from dataclasses import asdict

from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import nearest_or_all
from shearpin.cli.common import UserError, known_machine, load_book_or_fail, new_parser, print_json, todays_id
from shearpin.cli.diagnose_dialog import hold_dialog
from shearpin.cli.diagnose_plan import print_plan
from shearpin.cli.diagnose_symptom import find_symptom
from shearpin.cli.log_file import add_log_option, logged_repairs
from shearpin.diagnosis.history import History
from shearpin.diagnosis.model import DiagnosisModel, as_numbers, build_model
from shearpin.diagnosis.plan import Plan, make_plan, posterior


def run(words: Sequence[str]) -> int:
    """Diagnose in a dialogue on a terminal; elsewhere, or with --plan or --json, print causes and tests."""
    options = _parser().parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    machine = known_machine(linked, options.machine)
    symptom = find_symptom(linked, options.symptom, machine)
    if machine is not None:
        against = linked.applicability.reason_against(linked.book.symptoms[symptom].applies_to, machine)
        if against is not None:
            raise UserError(f"`{symptom}` does not occur on {machine}: {against}", 1)

    def model_for(on: str | None) -> DiagnosisModel:
        return build_model(linked, symptom, on, _counts(linked, options.log, symptom, on))

    model = model_for(machine)
    seen = _answers(linked, options.answer, model)
    skipped = _skipped(linked, options.skip, model)
    asked = sys.stdin.isatty() and sys.stdout.isatty() and not (options.json or options.plan)
    try:
        chances = posterior(model, seen)
    except ValueError as error:
        raise UserError(str(error)) from error
    if asked:
        return hold_dialog(linked, model, seen, skipped, model_for)
    plan = make_plan(model, seen, skipped)
    if options.json:
        print_json(_as_json(linked, model, chances, plan, options.model))
    else:
        print_plan(linked, model, chances, plan, seen)
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = new_parser("diagnose", "Find the cause of a symptom with the cheapest tests, step by step.")
    parser.add_argument(
        "symptom", metavar="SYMPTOM", nargs="+", help="id of a symptom, or words that find it"
    )
    parser.add_argument("--machine", metavar="ID", help="id of the machine; without it all machines count")
    parser.add_argument(
        "--answer",
        metavar="TEST=RESULT",
        action="append",
        default=[],
        help="what a test showed; may be repeated, in the order in which it was done",
    )
    parser.add_argument(
        "--skip",
        metavar="TEST",
        action="append",
        default=[],
        help="a test that cannot be done; may be repeated",
    )
    parser.add_argument("--plan", action="store_true", help="print the plan and ask nothing")
    parser.add_argument(
        "--model", action="store_true", help="with --json: also the numbers it was computed from"
    )
    add_log_option(parser, "repair log whose counts sharpen the chances")
    return parser


def _skipped(linked: LinkedBook, given: Sequence[str], model: DiagnosisModel) -> tuple[str, ...]:
    tests = [test.id for test in model.tests]
    skipped = tuple(todays_id(linked, "test", test) for test in given)
    for test in skipped:
        if test not in tests:
            raise UserError(_no_such_test(test, tests))
    return skipped


def _counts(linked: LinkedBook, log: str | None, symptom: str, machine: str | None) -> Mapping[str, int]:
    """Return the proven causes of the log that is named; without one the book's words stand alone."""
    return History(linked, logged_repairs(log)).counts(symptom, machine) if log is not None else {}


def _answers(linked: LinkedBook, given: Sequence[str], model: DiagnosisModel) -> dict[str, str]:
    tests = {test.id: test for test in model.tests}
    seen: dict[str, str] = {}
    for answer in given:
        test, equals, result = answer.partition("=")
        if not equals:
            raise UserError(f"--answer takes TEST=RESULT; `{answer}` has no `=`")
        test = todays_id(linked, "test", test)
        if test not in tests:
            raise UserError(_no_such_test(test, list(tests)))
        if result not in tests[test].results:
            raise UserError(f"`{test}` has no result `{result}`; it has: {', '.join(tests[test].results)}")
        if seen.get(test, result) != result:
            raise UserError(f"`{test}` is answered twice, with `{seen[test]}` and with `{result}`")
        seen[test] = result
    return seen


def _no_such_test(test: str, tests: Sequence[str]) -> str:
    return f"`{test}` is no test of this symptom; {nearest_or_all(test, tests, 'tests')}"


def _as_json(
    linked: LinkedBook, model: DiagnosisModel, chances: dict[str, float], plan: Plan, with_model: bool
) -> dict[str, object]:
    ordered = sorted(chances.items(), key=lambda pair: (-pair[1], pair[0]))
    document: dict[str, object] = {
        "symptom": model.symptom,
        "machine": model.machine,
        "take_out_of_use": linked.book.symptoms[model.symptom].take_out_of_use,
        "causes": [{"id": cause, "probability": chance} for cause, chance in ordered],
        "proven": plan.proven,
        "plan": [asdict(item) for item in plan.tests],
        "expected_minutes": plan.expected_minutes,
        "proven_probability": plan.proven_probability,
        "method": plan.method,
        "value": plan.value,
        "lower_bound": plan.lower_bound,
        "tree": asdict(plan.tree) if plan.tree is not None else None,
    }
    if with_model:
        document["model"] = as_numbers(model)
    return document
