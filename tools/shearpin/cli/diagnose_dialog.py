"""A diagnosis as a dialogue on a terminal: one test at a time, until a cause is proven."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.cli.diagnose_end import end_lines
from shearpin.cli.diagnose_plan import cause_lines, head_lines
from shearpin.cli.diagnose_words import (
    meaning,
    opened_titles,
    result_texts,
    step_lines,
    test_title,
    why_next,
    work_of,
    wrapped,
)
from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.plan import Plan, PlanNode, make_plan, posterior, state_after
from shearpin.diagnosis.state import Numbers

_CAUSES_SHOWN = 5
_CANNOT_BE = "cannot be, after what was seen before: check again"
_HELP = "a number is the answer; c: could not check; u: undo; w: all causes; q: stop"

Move = tuple[str, str | None]
"""A test and its result, None when it could not be checked."""


def hold_dialog(
    linked: LinkedBook,
    model: DiagnosisModel,
    seen: Mapping[str, str],
    skipped: Sequence[str],
    model_for: Callable[[str], DiagnosisModel],
) -> int:
    """Ask test by test; returns 0. `model_for` gives the model of the machine, once it is known."""
    print("\n".join(head_lines(linked, model)))
    if model.machine is None and linked.book.machines:
        chosen = _choose_machine(linked, model)
        if chosen is None:
            return 0
        model = model_for(chosen)
    print("\n".join(_questions(linked, model)))
    moves: list[Move] = [*seen.items(), *((test, None) for test in skipped)]
    moves = [move for move in moves if any(test.id == move[0] for test in model.tests)]
    while True:
        answers = {test: result for test, result in moves if result is not None}
        chances = posterior(model, answers)
        plan = make_plan(model, answers, [test for test, result in moves if result is None])
        print("\nCauses by chance:")
        print("\n".join(cause_lines(linked, chances, _CAUSES_SHOWN)))
        if plan.tree is None:
            print("\n".join(end_lines(linked, model, chances, plan)))
            print("\nu: undo the last answer; q: end")
        else:
            print("\n".join(_test_lines(linked, model, plan, plan.tree, answers)))
        if not _take_answer(linked, model, plan, chances, moves):
            return 0


def _take_answer(
    linked: LinkedBook, model: DiagnosisModel, plan: Plan, chances: Mapping[str, float], moves: list[Move]
) -> bool:
    """Read until something changes `moves`; returns False to end."""
    test = next((test for test in model.tests if plan.tree is not None and test.id == plan.tree.test), None)
    results = test.results if test is not None else ()
    while True:
        said = _read("> ")
        if said is None or said in ("q", "quit"):
            return False
        if said in ("u", "undo"):
            if moves:
                print(f"taken back: {moves.pop()[0]}")
                return True
            print("there is nothing to take back")
        elif said in ("w", "causes"):
            print("\n".join(cause_lines(linked, chances)))
        elif test is not None and said in ("c", "could not check"):
            moves.append((test.id, None))
            return True
        elif test is None or (result := _chosen(said, results)) is None:
            print(_HELP if test is not None else "u: undo the last answer; q: end")
        elif _contradicts(model, moves, (test.id, result)):
            print(f"{_CANNOT_BE}, or u to take an answer back")
        else:
            moves.append((test.id, result))
            return True


def _chosen(said: str, choices: Sequence[str]) -> str | None:
    """Return the choice that was named, by itself or by its number from 1 on."""
    if said in choices:
        return said
    is_number = said.isascii() and said.isdigit() and len(said) < 5
    return choices[int(said) - 1] if is_number and 1 <= int(said) <= len(choices) else None


def _contradicts(model: DiagnosisModel, moves: Sequence[Move], move: tuple[str, str]) -> bool:
    """Tell whether no cause can show a result after those before it."""
    answers = {test: result for test, result in moves if result is not None}
    try:
        posterior(model, {**answers, move[0]: move[1]})
    except ValueError:
        return True
    return False


def _read(prompt: str) -> str | None:
    try:
        return input(prompt).strip().lower()
    except EOFError:
        print()
        return None


def _choose_machine(linked: LinkedBook, model: DiagnosisModel) -> str | None:
    """Ask for the machine among those the symptom occurs on; None ends the dialogue."""
    condition = linked.book.symptoms[model.symptom].applies_to
    machines = [m for m in linked.book.machines if m in linked.applicability.machines_for(condition)]
    print("\nWhich machine is it? Read the machine plate.")
    for number, machine in enumerate(machines, 1):
        print(f"  {number}  {linked.book.machines[machine].title}")
    while True:
        said = _read("> ")
        if said is None or said == "q":
            return None
        chosen = _chosen(said, machines)
        if chosen is not None:
            return chosen
        print(f"a number from 1 to {len(machines)}, or q to end")


def _questions(linked: LinkedBook, model: DiagnosisModel) -> Iterator[str]:
    asked = linked.book.symptoms[model.symptom].ask
    if asked:
        yield "\nAsk the customer first:"
        yield from (wrapped(f"- {plain_text(linked, line, model.machine)}", "  ", "    ") for line in asked)


def _test_lines(
    linked: LinkedBook, model: DiagnosisModel, plan: Plan, node: PlanNode, answers: Mapping[str, str]
) -> Iterator[str]:
    test = next(test for test in model.tests if test.id == node.test)
    record = work_of(linked, test)
    yield f"\nNEXT: {test_title(linked, test)} ({node.minutes:.0f} min)  {test.id}"
    yield wrapped(plain_text(linked, record.purpose, model.machine), "  ")
    yield "  Why this one:"
    yield from (wrapped(f"- {reason}", "    ", "      ") for reason in why_next(linked, model, plan, node))
    if node.opens:
        yield wrapped(f"First, if it is not so yet: {opened_titles(linked, node.opens)}.", "  ")
    yield "  Do:"
    yield from step_lines(linked, record.steps, model.machine)
    if record.finish:
        yield "  Afterwards:"
        yield from step_lines(linked, record.finish, model.machine)
    yield "  What do you find?"
    yield from _answer_lines(linked, model, test, answers)
    yield f"  ({_HELP})"


def _answer_lines(
    linked: LinkedBook, model: DiagnosisModel, test: TestModel, answers: Mapping[str, str]
) -> Iterator[str]:
    before = posterior(model, answers)
    numbers = Numbers(model)
    for number, (result, text, then) in enumerate(result_texts(linked, test, model.machine), 1):
        yield wrapped(f"{number}  {text}", "    ", "       ")
        try:
            after = posterior(model, {**answers, test.id: result})
        except ValueError:
            yield f"       {_CANNOT_BE}"
            continue
        proven = numbers.proven_cause(state_after(numbers, {**answers, test.id: result}))
        yield wrapped(meaning(linked, before, after, proven), "       ")
        if then is not None:
            yield wrapped(then, "       ")
