"""Rules on threaded joints: threads and grades the standards know, torques that fit them, shear bolts left weak."""

# Longer than 300 lines: every rule carries its reason and its examples.

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.mechanics.guards import LARGEST, SMALLEST, ImpossibleInputError, shown
from shearpin.mechanics.recorded import OF_RECORDED, Joint, Recorded, companion_of, joint_of, recorded_values
from shearpin.mechanics.strength import load_n, parse_grade, percent_of_load, strength_at
from shearpin.mechanics.threads import parse_thread, stress_area_mm2
from shearpin.mechanics.tightening import NUT_FACTORS, preload_from_torque_n
from shearpin.model.finding import Severity
from shearpin.model.quantity import QuantityKind

LOWEST_PERCENT_OF_PROOF: Final = 10.0
"""Ours, no source: below a tenth of its proof load a bolt holds nothing. The usual 75 % with an inch taken for a foot
is 6 %; the lowest torque of FAA AC 43.13-1B table 7-1 (8-36 in shear) is 17 % of a grade 5 bolt's proof load."""


@rule("TRQ001", wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def thread_no_standard_has(linked: LinkedBook) -> Iterator[Fault]:
    """A thread that neither the metric nor the unified series has.

    ## Why
    A misprinted pitch or count of threads sends the reader for a bolt that does not exist, or to one that nearly fits
    and strips; and the torque of the joint cannot be checked.

    ## Hint
    read it off a thread gauge, and write it like `M8`, `M8×1` or `1/4-20 UNC`

    ## Bad
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
      auger-shear-bolt.thread: {is: 1/4-21 UNC, basis: demo}
      auger-shear-bolt.grade: {is: SAE J429 grade 5, basis: demo}
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
      auger-shear-bolt.grade: {is: SAE J429 grade 5, basis: demo}
    sources: [bench-notes]
    ```
    """
    names = {
        joint.thread
        for kind in linked.book.values.values()
        for joint in (kind.fastener, kind.shear_bolt)
        if joint is not None
    }
    for recorded in recorded_values(linked, names):
        if recorded.kind.quantity is QuantityKind.DESIGNATION:
            try:
                parse_thread(recorded.quantity.text)
            except ImpossibleInputError as error:
                advice = "read it off a thread gauge, and write it like `M8`, `M8×1` or `1/4-20 UNC`"
                yield Fault(recorded.file, recorded.path, str(error), advice)


@rule("TRQ002", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def grade_no_table_has(linked: LinkedBook) -> Iterator[Fault]:
    """A grade or class whose strength is not known, so that the torque of the joint goes unchecked.

    ## Why
    Strengths are tabled for SAE J429 grades 1, 2, 5, 7, 8 and ISO 898-1 classes 4.6 to 12.9 up to certain sizes. A
    grade beside them is a misprint more often than a special bolt, and class 8 is a nut.

    ## Hint
    read it off the head of the bolt, or suppress this where the bolt is special

    ## Bad
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
      auger-shear-bolt.thread: {is: M6, basis: demo}
      auger-shear-bolt.grade: {is: ISO 898-1 class 8.9, basis: demo}
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
      auger-shear-bolt.thread: {is: M6, basis: demo}
      auger-shear-bolt.grade: {is: ISO 898-1 class 8.8, basis: demo}
    sources: [bench-notes]
    ```
    """
    told: set[tuple[str, str]] = set()
    names = [name for name, kind in linked.book.values.items() if kind.fastener or kind.shear_bolt]
    for recorded in recorded_values(linked, names):
        for grade, thread in _grades_with_thread(linked, recorded):
            reason = _unknown_strength(grade, thread)
            if reason is not None and (grade.file, grade.name) not in told:
                told.add((grade.file, grade.name))
                advice = "read it off the head of the bolt, or suppress this where the bolt is special"
                yield Fault(grade.file, grade.path, reason, advice)


def _grades_with_thread(linked: LinkedBook, recorded: Recorded) -> Iterator[tuple[Recorded, Recorded | None]]:
    """Yield the grade that a figure is checked with, or that it is, and the thread of the same bolt."""
    designation = QuantityKind.DESIGNATION
    joint, bolt = recorded.kind.fastener, recorded.kind.shear_bolt
    if joint is not None:
        grade = companion_of(linked, recorded, joint.grade, designation)
        if grade is not None:
            yield grade, companion_of(linked, recorded, joint.thread, designation)
    if bolt is not None:
        yield recorded, companion_of(linked, recorded, bolt.thread, designation)


def _unknown_strength(grade: Recorded, thread: Recorded | None) -> str | None:
    try:
        known = parse_grade(grade.quantity.text)
        size = parse_thread(thread.quantity.text) if thread is not None else None
        if size is not None:
            strength_at(known, size.diameter_mm)
    except ImpossibleInputError as error:
        return str(error) if error.argument == "grade" else None
    return None


@rule("TRQ003", wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def torque_above_proof_load(linked: LinkedBook) -> Iterator[Fault]:
    """A tightening torque stretches the bolt past its proof load.

    ## Why
    Preload is F = T/(K·d) (Shigley, 9th ed., Eq. 8-27). Beyond the proof load (SAE J429, ISO 898-1) the bolt stays
    stretched, clamps no more, and breaks at work or at the next tightening. The highest torque that the record allows is
    taken, with K 0.20 unless the value's `fastener` names another with its source; the scatter of wrenches is left out.

    ## Hint
    correct the torque, the thread or the grade; K 0.2 is taken, for the condition is not stated

    ## Bad
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
      auger-shear-bolt.torque: {is: 82.4 N·m, basis: demo}
      auger-shear-bolt.thread: {is: M10, basis: demo}
      auger-shear-bolt.grade: {is: ISO 898-1 class 8.8, basis: demo}
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
      auger-shear-bolt.torque: {is: 50 ± 5 N·m, basis: demo}
      auger-shear-bolt.thread: {is: M10, basis: demo}
      auger-shear-bolt.grade: {is: ISO 898-1 class 8.8, basis: demo}
    sources: [bench-notes]
    ```
    """
    for recorded, joint, preload_n, proof_n in _tightened(linked):
        if preload_n > proof_n:
            preload, proof = _told_apart(preload_n / 1000, proof_n / 1000)
            message = f"preload {preload} kN exceeds proof load {proof} kN of {_named(joint)}"
            advice = f"correct the torque, the thread or the grade; {_k_words(recorded)}"
            yield Fault(recorded.file, recorded.path, message, advice, related=_places(joint))


@rule("TRQ004", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def torque_implausibly_low(linked: LinkedBook) -> Iterator[Fault]:
    """A tightening torque leaves the bolt all but loose.

    ## Why
    At less than a tenth of its proof load a bolt holds nothing against vibration. Most often the unit slipped: pounds
    times inches written for pounds times feet is a twelfth of the torque.

    ## Hint
    check figure and unit: `lbf·in` where `lbf·ft` is meant gives a twelfth

    ## Bad
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
      auger-shear-bolt.torque: {is: 37 lbf·in, basis: demo}
      auger-shear-bolt.thread: {is: M10, basis: demo}
      auger-shear-bolt.grade: {is: ISO 898-1 class 8.8, basis: demo}
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
      auger-shear-bolt.torque: {is: 37 lbf·ft, basis: demo}
      auger-shear-bolt.thread: {is: M10, basis: demo}
      auger-shear-bolt.grade: {is: ISO 898-1 class 8.8, basis: demo}
    sources: [bench-notes]
    ```
    """
    for recorded, joint, preload_n, proof_n in _tightened(linked):
        percent = percent_of_load(preload_n, proof_n)
        if percent < LOWEST_PERCENT_OF_PROOF:
            preload, proof = _told_apart(preload_n / 1000, proof_n / 1000)
            message = f"preload {preload} kN is only {shown(percent, 2)} % of proof load {proof} kN of {_named(joint)}"
            advice = "check figure and unit: `lbf·in` where `lbf·ft` is meant gives a twelfth"
            yield Fault(recorded.file, recorded.path, message, advice, related=_places(joint))


def _tightened(linked: LinkedBook) -> Iterator[tuple[Recorded, Joint, float, float]]:
    """Yield every torque whose joint is known, with its highest preload and the proof load, in newtons."""
    names = [name for name, kind in linked.book.values.items() if kind.fastener is not None]
    for recorded in recorded_values(linked, names):
        fastener = recorded.kind.fastener
        if fastener is None:
            continue
        joint = joint_of(linked, recorded, fastener.thread, fastener.grade)
        low_nm, high_nm = recorded.quantity.bounds_in("N·m")
        torque_nm = high_nm if high_nm is not None else low_nm
        if joint is None or torque_nm is None:
            continue
        thread = joint.thread
        area_mm2 = stress_area_mm2(thread.diameter_mm, thread.pitch_mm, thread.system)
        preload_n = 0.0
        if torque_nm >= SMALLEST:
            nut_factor = _nut_factor(recorded)
            preload_n = preload_from_torque_n(nut_factor, thread.diameter_mm, min(torque_nm, LARGEST))
            preload_n = min(preload_n, LARGEST)
        yield recorded, joint, preload_n, load_n(joint.strength.proof_mpa, area_mm2)


def _nut_factor(recorded: Recorded) -> float:
    fastener = recorded.kind.fastener
    if fastener is not None and fastener.nut_factor is not None:
        return float(fastener.nut_factor.is_)
    return NUT_FACTORS[0].value


def _k_words(recorded: Recorded) -> str:
    fastener = recorded.kind.fastener
    given = fastener is not None and fastener.nut_factor is not None
    said = f"K {shown(_nut_factor(recorded), 3)} is taken"
    return said if given else f"{said}, for the condition is not stated"


def _named(joint: Joint) -> str:
    return f"`{joint.thread.designation}` {joint.strength.grade.short}"


def _places(joint: Joint) -> tuple[tuple[str, tuple[str | int, ...]], ...]:
    return tuple((recorded.file, recorded.path) for recorded in joint.recorded)


def _told_apart(one: float, other: float) -> tuple[str, str]:
    """Return both numbers with three digits, or as many as it takes to tell them apart."""
    for digits in range(3, 9):
        texts = shown(one, digits), shown(other, digits)
        if texts[0] != texts[1]:
            break
    return texts


TORQUE_RULES: Final[tuple[AnyRule, ...]] = (
    thread_no_standard_has,
    grade_no_table_has,
    torque_above_proof_load,
    torque_implausibly_low,
)
