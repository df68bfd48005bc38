"""A diagnosis as a printed plan: causes by chance, tests in their order, what each result means."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.cli.diagnose_end import end_lines
from shearpin.cli.diagnose_words import (
    cause_title,
    opened_titles,
    percent,
    result_texts,
    safety_lines,
    test_title,
    wrapped,
)
from shearpin.diagnosis.model import DiagnosisModel
from shearpin.diagnosis.plan import Plan


def print_plan(
    linked: LinkedBook,
    model: DiagnosisModel,
    chances: Mapping[str, float],
    plan: Plan,
    seen: Mapping[str, str],
) -> None:
    """Print everything that is known before the next test."""
    print("\n".join(head_lines(linked, model)))
    print("\nCauses by chance:")
    print("\n".join(cause_lines(linked, chances)))
    if plan.proven is not None or (seen and not plan.tests):
        print("\n".join(end_lines(linked, model, chances, plan)))
        return
    print("\n".join(_test_lines(linked, model, plan)))


def head_lines(linked: LinkedBook, model: DiagnosisModel) -> Iterator[str]:
    """Yield title, out-of-use notice and cautions: what must be read before anything is touched."""
    symptom = linked.book.symptoms[model.symptom]
    where = linked.book.machines[model.machine].title if model.machine else "any machine"
    yield f"{symptom.title} ({where})"
    if symptom.take_out_of_use:
        reason = plain_text(linked, symptom.take_out_of_use, model.machine)
        yield "\n" + wrapped(f"TAKE THE MACHINE OUT OF USE: {reason}")
    yield "\nSafety first:"
    yield from safety_lines(linked, "symptom", model.symptom, model.machine)


def cause_lines(linked: LinkedBook, chances: Mapping[str, float], most: int | None = None) -> Iterator[str]:
    """Yield causes with their chances, the likeliest first."""
    ordered = sorted(chances.items(), key=lambda pair: (-pair[1], pair[0]))
    for cause_id, chance in ordered[:most]:
        yield f"  {percent(chance):>9}  {cause_title(linked, cause_id)}"
    if most is not None and len(ordered) > most:
        rest = sum(chance for _, chance in ordered[most:])
        yield f"  {percent(rest):>9}  {len(ordered) - most} others together"


def _test_lines(linked: LinkedBook, model: DiagnosisModel, plan: Plan) -> Iterator[str]:
    if not plan.tests:
        yield "\nNo test in this book is worth its minutes here. Work by the maker's manual."
        return
    yield (
        f"\nTests: about {plan.expected_minutes:.0f} min are to be expected, and a cause is proven in "
        f"{round(plan.proven_probability * 100)} of 100 cases."
    )
    tests = {test.id: test for test in model.tests}
    for number, item in enumerate(plan.tests, 1):
        if number > 1 and item.reach_probability < model.terms.smallest_branch:
            continue
        after = f", after: {opened_titles(linked, item.opens)}" if item.opens else ""
        yield (
            f"  {number}. {test_title(linked, tests[item.test])} ({item.minutes:.0f} min{after}; "
            f"comes up in {percent(item.reach_probability) if number > 1 else 'every case'})  {item.test}"
        )
        for result, text, _ in result_texts(linked, tests[item.test], model.machine):
            yield wrapped(f"{result}: {text}", "       ", "         ")
    yield (
        f"  When none of them proves a cause: {cause_title(linked, 'something-else')} becomes likelier. Ask the customer again, "
        "and work by the maker's manual."
    )
