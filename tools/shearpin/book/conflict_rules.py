"""Rules on what two places say differently: a figure against its value, one fastener with two torques, one word for two."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.values import ResolvedValue
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.checks.wording import phrase
from shearpin.model.finding import Severity
from shearpin.model.quantity import QuantityKind

_OF_FIGURES: Final = ("value", "machine", "engine", "part")
"""Kinds of the records that say which figure is meant where one is written out, and what it should be."""


@rule("CON001", wording=Wording.OWN, titles_of=("value", "machine"), bones_of=_OF_FIGURES)
def figure_against_its_value(linked: LinkedBook) -> Iterator[Fault]:
    """A figure in a text contradicts the value that is recorded for a machine the text is for.

    ## Why
    The reader sees two figures for one bolt or gap and may take the wrong one; a figure in a text also stays behind
    when the value is corrected.

    ## Hint
    write `{auger-shear-bolt.torque}`, which shows the figure of the reader's machine

    ## Bad
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first. Tighten the auger shear bolt to 14 N·m.
    ```

    ## Good
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first. Tighten the auger shear bolt to {auger-shear-bolt.torque}.
    ```
    """
    for figure in linked.written_figures:
        value = figure.against
        if value is not None:
            holder = linked.book.file_of[value.holder].path
            title = linked.book.machines[value.machine].title
            message = f"`{figure.text}` contradicts `{value.name}`, which is {value.quantity} for {title}"
            yield Fault(
                linked.book.file_of[figure.key].path,
                figure.path,
                message,
                f"write `{{{value.name}}}`, which shows the figure of the reader's machine",
                offset=figure.offset,
                related=((holder, ("values", value.name, "is")),),
            )


@rule("CON002", Severity.WARNING, wording=Wording.OWN, titles_of=("value",), bones_of=_OF_FIGURES)
def figure_written_out_beside_its_value(linked: LinkedBook) -> Iterator[Fault]:
    """A figure stands in a text though a named value says the same, or a torque stands there that no value names.

    ## Why
    Today both agree. When the value is corrected, or a machine is added, the text goes on telling the old figure.

    ## Hint
    write `{auger-shear-bolt.torque}`, so that a correction reaches this text

    ## Bad
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first. Tighten the auger shear bolt of the small machine to 8.5 N·m.
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower for drives and yards.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    fitted: [recoil-start, friction-drive]
    values:
      auger-shear-bolt.torque: {is: 8–9 N·m, basis: demo}
    ```

    ## Good
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first. Tighten the auger shear bolt to {auger-shear-bolt.torque}.
    ```
    """
    for figure in linked.written_figures:
        if figure.against is not None:
            continue
        if figure.name is not None:
            message = f"`{figure.text}` is written out, though `{figure.name}` holds it"
            advice = f"write `{{{figure.name}}}`, so that a correction reaches this text"
        else:
            message = f"the torque `{figure.text}` is written out, and no value names it"
            advice = "write a value for that fastener in `kb/values/`, and name it here in braces"
        file = linked.book.file_of[figure.key].path
        yield Fault(file, figure.path, message, advice, offset=figure.offset)


def _same_thing(linked: LinkedBook) -> Iterator[tuple[str, str, str]]:
    """Yield pairs of value kinds that mean one thing on one machine, with the reason."""
    groups: dict[tuple[object, ...], list[str]] = defaultdict(list)
    reasons: dict[tuple[object, ...], str] = {}
    for name, value in linked.book.values.items():
        said = {
            word for word in phrase(value.title) if word not in (*value.quantity.words.split(), "tightening")
        }
        called = ("name", value.quantity, frozenset(said))
        groups[called].append(name)
        reasons[called] = "have one title"
        if value.fastener is not None and value.quantity is QuantityKind.TORQUE:
            joint = ("joint", value.fastener.thread, value.fastener.grade)
            groups[joint].append(name)
            reasons[joint] = f"tighten one joint, `{value.fastener.thread}`"
    for group, names in groups.items():
        # More than a handful under one title is one fault, told once for each neighbour.
        pairs = combinations(names, 2) if len(names) < 5 else pairwise(names)
        for first, second in pairs:
            shared = set(linked.values.machines_with(first)) & set(linked.values.machines_with(second))
            if shared:
                yield first, second, reasons[group]


def _differ(linked: LinkedBook, first: str, second: str) -> tuple[ResolvedValue, ResolvedValue] | None:
    for machine in linked.values.machines_with(first):
        one, other = linked.values.resolve(first, machine), linked.values.resolve(second, machine)
        if (
            isinstance(one, ResolvedValue)
            and isinstance(other, ResolvedValue)
            and (one.quantity.low_si, one.quantity.high_si) != (other.quantity.low_si, other.quantity.high_si)
        ):
            return one, other
    return None


@rule("CON003", wording=Wording.NONE, titles_of=("value", "machine"), bones_of=("value", "machine", "engine"))
def one_thing_with_two_figures(linked: LinkedBook) -> Iterator[Fault]:
    """Two values mean the same fastener or measure of one machine, and their figures differ.

    ## Why
    One page shows the one, another page the other; whoever tightens by the wrong one leaves a loose or a strained bolt.

    ## Hint
    find out which is right, and delete the other value

    ## Bad
    ```yaml
    # kb/values/shear-bolt-of-the-auger.torque.yaml
    title: Tightening torque of the auger shear bolt
    quantity: torque
    plate: machine
    applies_to: {class: two-stage}
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower for drives and yards.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    fitted: [recoil-start, friction-drive]
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      shear-bolt-of-the-auger.torque: {is: 14 N·m, basis: demo}
    # kb/machines/brook-t28.yaml
    title: Brook T28
    summary: A two-stage snow thrower on tracks.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    fitted: [recoil-start, tracks]
    values:
      auger-shear-bolt.torque: {is: 9 N·m, basis: demo}
      shear-bolt-of-the-auger.torque: {is: 9 N·m, basis: demo}
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first, tightened to {shear-bolt-of-the-auger.torque}.
    ```

    ## Good
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first, tightened to {auger-shear-bolt.torque}.
    ```
    """
    for first, second, reason in _same_thing(linked):
        found = _differ(linked, first, second)
        if found is not None:
            one, other = found
            machine = linked.book.machines[one.machine].title
            message = f"`{first}` ({one.quantity}) and `{second}` ({other.quantity}) {reason}, and differ on {machine}"
            yield Fault(
                linked.book.file_of[other.holder].path,
                ("values", second, "is"),
                message,
                "find out which is right, and delete the other value",
                related=((linked.book.file_of[one.holder].path, ("values", first, "is")),),
            )


@rule(
    "CON004",
    Severity.WARNING,
    wording=Wording.NONE,
    titles_of=("value", "machine"),
    bones_of=("value", "machine", "engine"),
)
def one_thing_under_two_names(linked: LinkedBook) -> Iterator[Fault]:
    """Two value records mean the same fastener or measure.

    ## Why
    Their figures agree as yet; the next correction will reach only one of them.

    ## Hint
    keep one, or say in the titles what tells them apart

    ## Bad
    ```yaml
    # kb/values/shear-bolt-of-the-auger.torque.yaml
    title: Tightening torque of the auger shear bolt
    quantity: torque
    plate: machine
    applies_to: {machines: brook-d24}
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower for drives and yards.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    fitted: [recoil-start, friction-drive]
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      shear-bolt-of-the-auger.torque: {is: 8 N·m, basis: demo}
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first, tightened to {shear-bolt-of-the-auger.torque}.
    ```

    ## Good
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt made to break first, tightened to {auger-shear-bolt.torque}.
    ```
    """
    for first, second, reason in _same_thing(linked):
        if _differ(linked, first, second) is None:
            yield Fault(
                linked.book.file_of[("value", second)].path,
                ("title",),
                f"`{first}` and `{second}` {reason}",
                "keep one, or say in the titles what tells them apart",
                related=((linked.book.file_of[("value", first)].path, ("title",)),),
            )


CONFLICT_RULES: Final[tuple[AnyRule, ...]] = (
    figure_against_its_value,
    figure_written_out_beside_its_value,
    one_thing_with_two_figures,
    one_thing_under_two_names,
)
