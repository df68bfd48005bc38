"""Rules on values: dimension, plausibility, provenance, and where one is missing."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from typing import Final

from shearpin.book.book import Key
from shearpin.book.holes import HOLES
from shearpin.book.linked import LinkedBook
from shearpin.book.values import quantity_of
from shearpin.checks.file_rules import field_faults
from shearpin.checks.nearest import did_you_mean, some_of
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import MACHINE_FACTS, AnyRule, Fault, Wording, rule
from shearpin.model.fields import Basis, Plate
from shearpin.model.finding import Severity
from shearpin.model.inline import values_in
from shearpin.model.machines import Plated, Value, ValueEntry
from shearpin.model.position import FieldPath
from shearpin.model.quantity import QuantityError, WrongKind, parse_quantity
from shearpin.model.steps import Step, Work

_SHOWING: Final = ("procedure", "test")
_OF_SHOWN: Final = ("machine", "engine", "value", *_SHOWING)
"""Kinds of the records that say what is recorded and for which plates it should be, and of those that show it."""
_FEW: Final = 6
"""Missing values are told one by one; where a record lacks more, it is told once."""


def _holders(linked: LinkedBook) -> Iterator[tuple[Key, str, Plated]]:
    """Yield every machine and engine that is asked about with its key and the path of its file."""
    for kind in ("machine", "engine"):
        for record_id in linked.asked(kind):
            record = linked.book.of_kind(kind)[record_id]
            assert isinstance(record, Plated)
            yield (kind, record_id), linked.book.file_of[(kind, record_id)].path, record


def _entries(linked: LinkedBook) -> Iterator[tuple[Key, str, str, ValueEntry, Value]]:
    """Yield every recorded value whose kind is known: holder, file, name, entry, kind."""
    for key, path, record in _holders(linked):
        for name, entry in record.values.items():
            kind = linked.book.values.get(name)
            if kind is not None:
                yield key, path, name, entry, kind


def _quantity_fault(path: str, field: FieldPath, text: str, kind: Value) -> tuple[bool, Fault] | None:
    """Return whether the dimension is wrong, and the fault; None when the text reads well."""
    try:
        parse_quantity(text, kind.quantity)
    except QuantityError as error:
        fault = Fault(path, field, str(error), error.hint, offset=error.offset)
        return isinstance(error, WrongKind), fault
    return None


def _all_quantity_faults(linked: LinkedBook) -> Iterator[tuple[bool, Fault]]:
    for _, path, name, entry, kind in _entries(linked):
        found = _quantity_fault(path, ("values", name, "is"), entry.is_, kind)
        if found is not None:
            yield found
    for name in linked.asked("value"):
        kind = linked.book.values[name]
        if kind.band is not None:
            found = _quantity_fault(linked.book.file_of[("value", name)].path, ("band",), kind.band, kind)
            if found is not None:
                yield found


@rule("QTY001", wording=Wording.OWN, titles_of=(), bones_of=("value",))
def unreadable_quantity(linked: LinkedBook) -> Iterator[Fault]:
    """A quantity that cannot be read.

    ## Why
    A figure without a readable unit cannot be checked or converted, and a reader may guess the wrong unit.

    ## Hint
    did you mean `min`?

    ## Bad
    ```yaml
    # kb/procedures/replace-auger-shear-bolt.yaml
    title: Replace an auger shear bolt
    purpose: The bolt has sheared as designed.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    remedies: [auger-shear-bolt-sheared]
    before: [make-machine-safe]
    time: 15 minits
    tools: [pin-punch, torque-wrench]
    parts: [{part: auger-shear-bolt}]
    steps:
      - do: Drive the broken bolt out with a pin punch.
      - do: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/replace-auger-shear-bolt.yaml
    title: Replace an auger shear bolt
    purpose: The bolt has sheared as designed.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    remedies: [auger-shear-bolt-sheared]
    before: [make-machine-safe]
    time: 15 min
    tools: [pin-punch, torque-wrench]
    parts: [{part: auger-shear-bolt}]
    steps:
      - do: Drive the broken bolt out with a pin punch.
      - do: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
    sources: [bench-notes]
    ```
    """
    for file in linked.asked_files():
        yield from field_faults(file, "QTY001")
    for wrong_kind, fault in _all_quantity_faults(linked):
        if not wrong_kind:
            yield fault


@rule("QTY002", wording=Wording.OWN, titles_of=(), bones_of=("value",))
def wrong_dimension(linked: LinkedBook) -> Iterator[Fault]:
    """A value whose unit measures something else.

    ## Why
    A gap in newton-metres, or a torque in pounds, is either a slip of the unit or a figure in the wrong place.

    ## Hint
    write torque in `N·m`, `lbf·ft` or `lbf·in`

    ## Bad
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 mm, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
    sources: [bench-notes]
    ```
    """
    for file in linked.asked_files():
        yield from field_faults(file, "QTY002")
    for wrong_kind, fault in _all_quantity_faults(linked):
        if wrong_kind:
            yield fault


@rule("QTY003", wording=Wording.OWN, titles_of=(), bones_of=("value",))
def value_outside_its_band(linked: LinkedBook) -> Iterator[Fault]:
    """A value outside what is plausible for its kind.

    ## Why
    A slipped decimal point or a wrong unit makes a figure that breaks bolts or seizes an engine; the band catches it.

    ## Hint
    correct the figure, or widen `band` with its source

    ## Bad
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 80 N·m, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
    sources: [bench-notes]
    ```
    """
    for _, path, name, entry, kind in _entries(linked):
        quantity = quantity_of(kind, entry)
        if kind.band is None or quantity is None:
            continue
        try:
            band = parse_quantity(kind.band, kind.quantity)
        except QuantityError:
            continue
        if not band.contains(quantity):
            open_end = (quantity.low is None and band.low is not None) or (
                quantity.high is None and band.high is not None
            )
            advice = "correct the figure, or widen `band` with its source"
            if open_end:
                advice = "write the bound alone, without ≤ or ≥, where the name says which bound it is; or leave that end of `band` open"
            yield Fault(
                path, ("values", name, "is"),
                f"`{quantity}` is {'open where' if open_end else 'outside'} the plausible range {band} of `{name}`{' ends' if open_end else ''}",
                advice,
                related=((linked.book.file_of[("value", name)].path, ("band",)),),
            )  # fmt: skip


@rule("VAL001", wording=Wording.NONE, titles_of=(), bones_of=_OF_SHOWN, groundwork=HOLES)
def value_missing_for_a_machine(linked: LinkedBook) -> Iterator[Fault]:
    """A procedure or test needs a value that a machine it applies to does not have.

    ## Why
    At that step the page can only say that the figure is not recorded, and the work stops at the bench.

    ## Hint
    add `auger-shear-bolt.torque: {is: …, basis: …}`, or limit `applies_to`

    ## Bad
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
    sources: [bench-notes]
    ```
    """
    holes = _holes(linked)
    needed = linked.once(_needed) if holes else {}
    waiting: dict[tuple[Key, str], dict[Key, None]] = {}
    for name in holes.keys() & needed.keys():
        for machine_id, holder in holes[name].items():
            users = [user for machines, found in needed[name] if machine_id in machines for user in found]
            if users:
                waiting.setdefault((holder, name), {}).update(dict.fromkeys(users))
    missing: dict[Key, dict[str, list[Key]]] = {}
    for (holder, name), found in sorted(waiting.items()):
        missing.setdefault(holder, {})[name] = sorted(found)
    for holder, names in missing.items():
        file = linked.book.file_of[holder].path
        if len(names) > _FEW:
            works = sorted({user[1] for users in names.values() for user in users})
            message = f"{len(names)} values are missing here: {some_of(list(names))}; waiting for them: {some_of(works)}"
            yield Fault(file, ("values",), message, _sheet(holder), on_key=True)
            continue
        for name, users in names.items():
            yield Fault(
                file, ("values",), f"`{name}` is missing here; waiting for it: {some_of([user[1] for user in users])}",
                f"add `{name}: {{is: …, basis: …}}`, or limit `applies_to`", on_key=True,
            )  # fmt: skip


def _sheet(holder: Key) -> str:
    """Return what to do about many missing values of a machine or an engine."""
    chosen = f" --{holder[0]} {holder[1]}"
    return f"`shearpin sheet out FILE.xlsx{chosen} --missing` lists all to be filled in; or limit `applies_to` of values"


def _holes(linked: LinkedBook) -> dict[str, dict[str, Key]]:
    """Return for each value the machines that should have it, and the record in which there is nothing of it.

    Where it is there and cannot be read that is another finding.
    """
    holes: dict[str, dict[str, Key]] = {}
    for name, machines in linked.laid(HOLES).lacking.items():
        for machine_id in machines:
            holder = _holder_of(linked, name, machine_id)
            owner = linked.book.get(*holder) if holder is not None else None
            if holder is None or not isinstance(owner, Plated):
                continue
            if name not in owner.values and name not in linked.book.file_of[holder].loose_words:
                holes.setdefault(name, {})[machine_id] = holder
    return holes


def _holder_of(linked: LinkedBook, name: str, machine_id: str) -> Key | None:
    """Return the record that would tell this value of a machine; None where the book has none."""
    if linked.book.values[name].plate is Plate.MACHINE:
        return "machine", machine_id
    engine = linked.book.machines[machine_id].engine
    return ("engine", engine) if engine is not None and engine in linked.book.engines else None


_Shown = list[tuple[frozenset[str], dict[Key, None]]]
"""Machines for which steps show a value, with the procedures and tests that do."""


def _shown_by(linked: LinkedBook, keys: Iterable[Key]) -> Iterator[tuple[Key, str, frozenset[str]]]:
    """Yield these procedures and tests with each value that their steps show, and the machines of these steps."""
    machines_for, known = linked.applicability.machines_for, linked.book.values
    for key in keys:
        shows = linked.book.gist(*key).shows
        heading = linked.book.heading(*key) if shows else None
        if heading is None:
            continue
        here = machines_for(heading.applies_to)
        for condition, names in shows:
            machines = here & machines_for(condition)
            yield from ((key, name, machines) for name in names if name in known)


def _needed(linked: LinkedBook) -> dict[str, _Shown]:
    """Return, for each value that a step shows, for which machines and by which procedures and tests."""
    groups: dict[tuple[str, frozenset[str]], dict[Key, None]] = {}
    keys = [(kind, record_id) for kind in _SHOWING for record_id in linked.book.of_kind(kind)]
    for key, name, machines in _shown_by(linked, keys):
        groups.setdefault((name, machines), {})[key] = None
    needed: dict[str, _Shown] = {}
    for (name, machines), users in groups.items():
        needed.setdefault(name, []).append((machines, users))
    return needed


def _values_in(linked: LinkedBook, step: Step) -> dict[str, None]:
    """Return the values that a step shows, each once, in the order of its text."""
    return {
        name: None
        for text in (step.do, step.confirm, step.note)
        if text and "{" in text
        for name in values_in(text)
        if name in linked.book.values
    }


@rule("VAL002", wording=Wording.OWN, titles_of=(), bones_of=())
def value_without_provenance(linked: LinkedBook) -> Iterator[Fault]:
    """A value that does not say where it comes from.

    ## Why
    “Where does this torque come from?” is the first question when a bolt breaks; a figure without an answer must not
    be published by accident.

    ## Hint
    add `basis:`, and `source:` where there is one

    ## Bad
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: maker, source: bench-notes}
    sources: [bench-notes]
    ```
    """
    unsourced = (Basis.DEMO, Basis.COMMON_PRACTICE)
    for _, path, record in _holders(linked):
        for name, entry in record.values.items():
            if entry.basis is None:
                message = f"`{name}` does not say where it comes from"
                yield Fault(
                    path,
                    ("values", name),
                    message,
                    "add `basis:`, and `source:` where there is one",
                    on_key=True,
                )
            elif entry.basis not in unsourced and entry.source is None:
                message = f"`{name}` is `{entry.basis.value}` and names no source"
                yield Fault(
                    path, ("values", name, "basis"), message, "add `source:` with the id of a source record"
                )


@rule("VAL003", wording=Wording.NONE)
def value_nobody_defines(linked: LinkedBook) -> Iterator[Fault]:
    """A text shows a value that the book does not define.

    ## Why
    The page would have no figure where the reader needs one.

    ## Hint
    did you mean `auger-shear-bolt.torque`?

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Stop at {auger-shear-bolt.tork}.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Stop at {auger-shear-bolt.torque}.
    ```
    """
    for use in linked.links.dead():
        if use.kinds == ("value",) and use.offset:
            known = linked.book.values
            advice = did_you_mean(use.id, known) or f"write `kb/values/{use.id}.yaml`, or correct the name"
            path = linked.book.file_of[use.origin].path
            yield Fault(path, use.path, f"nobody defines the value `{use.id}`", advice, offset=use.offset)


@rule("VAL004", wording=Wording.OWN, titles_of=(), bones_of=("value",))
def value_on_the_wrong_plate(linked: LinkedBook) -> Iterator[Fault]:
    """A value recorded on the machine though the engine's plate decides it, or the other way about.

    ## Why
    One engine serves several machines: an engine's figure kept with a machine is missed for its sisters, and a
    machine's figure kept with the engine is shown for all of them.

    ## Hint
    move it to the machine's record

    ## Bad
    ```yaml
    # kb/engines/ell-e212.yaml
    title: Ell E212
    summary: A four-stroke engine.
    plate: {where: above the recoil starter}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/engines/ell-e212.yaml
    title: Ell E212
    summary: A four-stroke engine.
    plate: {where: above the recoil starter}
    sources: [bench-notes]
    ```
    """
    for key, path, name, _, kind in _entries(linked):
        if kind.plate.value != key[0]:
            message = (
                f"`{name}` is decided by the {kind.plate.value} plate, and this is a record of a {key[0]}"
            )
            yield Fault(
                path, ("values", name), message, f"move it to the {kind.plate.value}'s record", on_key=True
            )


@rule("VAL005", Severity.WARNING, wording=Wording.OWN, titles_of=(), bones_of=("value", MACHINE_FACTS))
def value_the_machine_cannot_have(linked: LinkedBook) -> Iterator[Fault]:
    """A machine records a value of something it does not have.

    ## Why
    It is never shown, so it is either in the wrong record or the value's `applies_to` is too narrow.

    ## Hint
    drop it here, or widen `applies_to` of the value

    ## Bad
    ```yaml
    # kb/values/auger-gearbox.ratio.yaml
    title: Ratio of the auger gearbox
    quantity: ratio
    plate: machine
    applies_to: {fitted: tracks}
    sources: [bench-notes]
    # kb/machines/brook-t28.yaml
    title: Brook T28
    summary: A two-stage snow thrower on tracks.
    class: two-stage
    engine: ell-e212
    fitted: [tracks]
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 9 N·m, basis: demo}
      auger-gearbox.ratio: {is: "10:1", basis: demo}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    fitted: [friction-drive]
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      auger-gearbox.ratio: {is: "10:1", basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/auger-gearbox.ratio.yaml
    title: Ratio of the auger gearbox
    quantity: ratio
    plate: machine
    applies_to: {class: two-stage}
    sources: [bench-notes]
    # kb/machines/brook-t28.yaml
    title: Brook T28
    summary: A two-stage snow thrower on tracks.
    class: two-stage
    engine: ell-e212
    fitted: [tracks]
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 9 N·m, basis: demo}
      auger-gearbox.ratio: {is: "10:1", basis: demo}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    fitted: [friction-drive]
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      auger-gearbox.ratio: {is: "10:1", basis: demo}
    sources: [bench-notes]
    ```
    """
    for key, path, name, _, kind in _entries(linked):
        if kind.plate.value != key[0]:
            continue
        with_it = linked.applicability.machines_for(kind.applies_to)
        here = (
            {key[1]}
            if key[0] == "machine"
            else {m for m, r in linked.book.machines.items() if r.engine == key[1]}
        )
        if here and not here & with_it:
            message = f"`{name}` does not apply to this {key[0]}"
            yield Fault(
                path,
                ("values", name),
                message,
                "drop it here, or widen `applies_to` of the value",
                on_key=True,
            )


@rule("VAL006", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=_OF_SHOWN, groundwork=HOLES)
def value_never_recorded(linked: LinkedBook) -> Iterator[Fault]:
    """A machine or engine lacks a value that its kind says it has, though no step waits for it yet.

    ## Why
    The table of the value has a hole; a technician who looks it up finds nothing.

    ## Hint
    add it, or limit `applies_to` of the value

    ## Bad
    ```yaml
    # kb/values/auger.speed.yaml
    title: Auger speed
    quantity: rotational-speed
    plate: machine
    applies_to: {class: two-stage}
    sources: [bench-notes]
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Not for {auger.speed}.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    holes = _holes(linked)
    needed = linked.once(_needed) if holes else {}
    idle: dict[Key, dict[str, None]] = {}
    for name, machines in holes.items():
        for machine_id, holder in machines.items():
            if not any(machine_id in shown for shown, _ in needed.get(name, ())):
                idle.setdefault(holder, {})[name] = None
    for holder, names in idle.items():
        file = linked.book.file_of[holder].path
        if len(names) > _FEW:
            message = f"{len(names)} values are not recorded here: {some_of(list(names))}"
            yield Fault(file, ("values",), message, _sheet(holder), on_key=True)
            continue
        for name in names:
            advice = "add it, or limit `applies_to` of the value"
            yield Fault(file, ("values",), f"`{name}` is not recorded here", advice, on_key=True)


@rule("VAL008", wording=Wording.OWN, titles_of=(), bones_of=("value", MACHINE_FACTS))
def step_with_a_value_its_machine_cannot_have(linked: LinkedBook) -> Iterator[Fault]:
    """A step shows a value of something that a machine it is for does not have.

    ## Why
    A trainee at a machine without an engine reads “tighten the engine bolts to”, and then that there is no such figure: the
    step does not belong on that machine. Steps of a record that are wrong for the same machines share a finding.

    ## Hint
    give the step the `applies_to` of `engine-bolt.torque`, or limit the record

    ## Bad
    ```yaml
    # kb/values/engine-bolt.torque.yaml
    title: Torque of the engine bolts
    quantity: torque
    plate: machine
    applies_to: {not_fitted: tracks}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    fitted: [friction-drive]
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      engine-bolt.torque: {is: 20 N·m, basis: demo}
    sources: [bench-notes]
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start or turn while you work.
    systems: [auger-drive]
    isolates: [rotating-auger]
    time: 2 min
    tools: [torque-wrench]
    steps:
      - do: Stop the engine, and take the key out.
      - do: Tighten the engine bolts to {engine-bolt.torque}.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/engine-bolt.torque.yaml
    title: Torque of the engine bolts
    quantity: torque
    plate: machine
    applies_to: {not_fitted: tracks}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    fitted: [friction-drive]
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      engine-bolt.torque: {is: 20 N·m, basis: demo}
    sources: [bench-notes]
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start or turn while you work.
    systems: [auger-drive]
    isolates: [rotating-auger]
    time: 2 min
    tools: [torque-wrench]
    steps:
      - do: Stop the engine, and take the key out.
      - do: Tighten the engine bolts to {engine-bolt.torque}.
        applies_to: {not_fitted: tracks}
    sources: [bench-notes]
    ```
    """
    users: dict[Key, dict[str, None]] = {}
    keys = [(kind, record_id) for kind in _SHOWING for record_id in linked.asked(kind)]
    for key, name, machines in _shown_by(linked, keys):
        if machines & linked.once(_Without)[name]:
            users.setdefault(key, {})[name] = None
    for key, names in users.items():
        work = linked.book.get(*key)
        assert isinstance(work, Work)
        elsewhere: dict[tuple[str, ...], list[tuple[FieldPath, str]]] = {}
        for path, name, machines_without in _shown_elsewhere(linked, work, names):
            elsewhere.setdefault(machines_without, []).append((path, name))
        file = linked.book.file_of[key].path
        for machines_without, found in elsewhere.items():
            paths, values = list(dict(found)), list(dict.fromkeys(name for _, name in found))
            several = len(paths) > 1
            yield Fault(
                file, paths[0],
                f"{f'{len(paths)} steps of this record are' if several else 'this step is'} also for "
                f"{some_of(machines_without)}, which cannot have {some_of(values)}",
                f"give {'each' if several else 'the step'} the `applies_to` of {'its value' if several else some_of(values)}, "
                "or limit the record",
                related=tuple((file, path) for path in paths[1:])
                or tuple((linked.book.file_of["value", name].path, ()) for name in values),
            )  # fmt: skip


def _shown_elsewhere(
    linked: LinkedBook, work: Work, names: Container[str]
) -> Iterator[tuple[FieldPath, str, tuple[str, ...]]]:
    """Yield each of these values in a step, with the machines of the step that cannot have it."""
    here = linked.applicability.machines_for(work.applies_to)
    for place, step in steps_of(work):
        machines = here & linked.applicability.machines_for(step.applies_to)
        for name in _values_in(linked, step):
            without = tuple(sorted(machines & linked.once(_Without)[name])) if name in names else ()
            if without:
                yield (*place, "do"), name, without


class _Without(dict[str, frozenset[str]]):
    """The machines that cannot have a value, by its name, found when they are first asked for."""

    def __init__(self, linked: LinkedBook) -> None:
        super().__init__()
        self._values, self._applicability = linked.book.values, linked.applicability

    def __missing__(self, name: str) -> frozenset[str]:
        value, machines = self._values[name], self._applicability.machines
        without = self._applicability.everywhere - self._applicability.machines_for(value.applies_to)
        if value.plate is Plate.ENGINE:
            without |= {machine_id for machine_id, facts in machines.items() if facts.engine is None}
        self[name] = without
        return without


VALUE_RULES: Final[tuple[AnyRule, ...]] = (
    unreadable_quantity,
    wrong_dimension,
    value_outside_its_band,
    value_missing_for_a_machine,
    value_without_provenance,
    value_nobody_defines,
    value_on_the_wrong_plate,
    value_the_machine_cannot_have,
    value_never_recorded,
    step_with_a_value_its_machine_cannot_have,
)
