"""The rule on values that follow from other values: one that cannot give them is named."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.mechanics.recorded import OF_RECORDED, companions, measures_by_fields
from shearpin.model.fields import Plate


@rule("VAL007", wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def value_that_cannot_follow(linked: LinkedBook) -> Iterator[Fault]:
    """A value is said to follow from one that cannot give it: it measures something else, or another plate decides it.

    ## Why
    The figure would go unchecked and its page would lack the worked line, and nobody would be told.

    ## Hint
    name the value that holds it

    ## Bad
    ```yaml
    # kb/values/auger-shear-bolt.torque.yaml
    title: Auger shear bolt torque
    quantity: torque
    plate: machine
    applies_to: {class: two-stage}
    fastener: {thread: auger-shaft.diameter, grade: auger-shear-bolt.grade}
    sources: [bench-notes]
    # kb/values/auger-shaft.diameter.yaml
    title: Auger shaft diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/auger-shear-bolt.grade.yaml
    title: Auger shear bolt grade
    quantity: designation
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      auger-shaft.diameter: {is: 19 mm, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 2, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/auger-shear-bolt.torque.yaml
    title: Auger shear bolt torque
    quantity: torque
    plate: machine
    applies_to: {class: two-stage}
    fastener: {thread: auger-shear-bolt.thread, grade: auger-shear-bolt.grade}
    sources: [bench-notes]
    # kb/values/auger-shear-bolt.thread.yaml
    title: Auger shear bolt thread
    quantity: designation
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/auger-shear-bolt.grade.yaml
    title: Auger shear bolt grade
    quantity: designation
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      auger-shear-bolt.thread: {is: 1/4-20 UNC, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 2, basis: demo}
    sources: [bench-notes]
    ```
    """
    for name, kind in linked.book.values.items():
        file = linked.book.file_of["value", name].path
        for path, measures in measures_by_fields(kind):
            if kind.quantity is not measures:
                message = (
                    f"`{path[0]}` is for a {measures.words}, and this value measures {kind.quantity.words}"
                )
                yield Fault(file, path, message, "leave it out, or correct `quantity`", on_key=True)
        for companion in companions(kind):
            other = linked.book.values.get(companion.name)
            if other is None:
                continue  # a reference that leads nowhere is another finding
            if other.quantity is not companion.measures:
                message = f"`{companion.name}` measures {other.quantity.words}, and a {companion.measures.words} is needed"
                yield Fault(file, companion.path, message, "name the value that holds it")
            elif kind.plate is Plate.ENGINE and other.plate is Plate.MACHINE:
                message = (
                    f"`{companion.name}` is decided by the machine plate, and this value by the engine plate"
                )
                yield Fault(file, companion.path, message, "an engine serves several machines: name a value of the engine")  # fmt: skip


FOLLOWING_RULES: Final[tuple[AnyRule, ...]] = (value_that_cannot_follow,)
