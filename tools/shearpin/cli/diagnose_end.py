"""The end of a diagnosis: the proven cause with its procedures, parts and minutes, or what is left without a proof."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.cli.diagnose_words import cause_title, opened_titles, percent, wrapped
from shearpin.diagnosis.model import DiagnosisModel, Remedy
from shearpin.diagnosis.plan import Plan
from shearpin.model.fields import Plate
from shearpin.model.steps import PartUse


def end_lines(
    linked: LinkedBook, model: DiagnosisModel, chances: Mapping[str, float], plan: Plan
) -> Iterator[str]:
    """Yield what to do when testing is over."""
    if plan.proven is None:
        yield from _unproven(linked, chances)
        return
    cause = linked.book.causes[plan.proven]
    yield f"\nPROVEN: {cause.title} ({percent(chances[plan.proven])})"
    yield wrapped(f"What confirms it: {plain_text(linked, cause.confirmed_by, model.machine)}", "  ", "    ")
    if linked.book.symptoms[model.symptom].take_out_of_use:
        yield wrapped("The machine stays out of use until it is mended and its function test is good.", "  ")
    remedies = model.remedies.get(plan.proven, ())
    if not remedies:
        yield "  No procedure of this book cures it on this machine. Work by the maker's manual."
    for remedy in remedies:
        yield from _remedy(linked, model, remedy)


def _remedy(linked: LinkedBook, model: DiagnosisModel, remedy: Remedy) -> Iterator[str]:
    record = linked.book.procedures[remedy.procedure]
    yield f"\n  Cure: {record.title}  {remedy.procedure}"
    before = sum((linked.book.procedures[name].time.si or 0.0) / 60.0 for name in remedy.before)
    first = f", and {before:.0f} min for: {opened_titles(linked, remedy.before)}" if remedy.before else ""
    yield wrapped(f"{remedy.minutes:.0f} min{first}", "    ", "      ")
    for use in record.parts:
        yield from _part(linked, use, model.machine)


def _part(linked: LinkedBook, use: PartUse, machine: str | None) -> Iterator[str]:
    part = linked.book.parts.get(use.part)
    if part is None or not linked.applicability.occurs((part.applies_to,), machine):
        return
    when = f", {plain_text(linked, use.if_needed, machine)}" if use.if_needed else ""
    yield wrapped(
        f"Part: {use.quantity} × {part.title}{when}: {_number(linked, use.part, machine)}", "    ", "      "
    )


def _number(linked: LinkedBook, part_id: str, machine: str | None) -> str:
    part = linked.book.parts[part_id]
    if part.consumable:
        return f"ask for {part.consumable}"
    if machine is None:
        return f"ordered by the {part.plate.value} plate"
    holder = machine if part.plate is Plate.MACHINE else linked.book.machines[machine].engine
    entry = part.numbers.get(holder or "")
    if entry is None:
        return f"no number in this book; give the dealer the number on the {part.plate.value} plate"
    return f"give {entry.number}, by the {part.plate.value} plate"


def _unproven(linked: LinkedBook, chances: Mapping[str, float]) -> Iterator[str]:
    yield "\nNOTHING IS PROVEN, and no test left is worth its minutes."
    yield "  What is left:"
    for cause_id, chance in sorted(chances.items(), key=lambda pair: (-pair[1], pair[0]))[:4]:
        yield f"  {percent(chance):>9}  {cause_title(linked, cause_id)}"
    yield wrapped(
        "Ask the customer again what happened before it. Check the tests with an unclear result once more. "
        "Then work by the maker's manual, and write down what the fault really was: it may belong in this book.",
        "  ",
    )
