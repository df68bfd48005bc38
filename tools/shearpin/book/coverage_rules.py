"""Rules on what must be there: covered hazards, machines to apply to, tests and remedies, drawings, review."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

import os
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState
from shearpin.book.selection import select
from shearpin.checks.nearest import did_you_mean
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import MACHINE_FACTS, AnyRule, Fault, Wording, rule
from shearpin.model.fields import AppliesTo
from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.position import FieldPath


@rule("SAF001", wording=Wording.OWN, titles_of=(), bones_of=("caution", "system", MACHINE_FACTS))
def hazard_without_a_caution(linked: LinkedBook) -> Iterator[Fault]:
    """An action of a step, or an energy that a system holds or a procedure isolates, that no caution covers, or none for a machine.

    ## Why
    The cautions of a page are computed from actions and energies; one that nothing covers brings no warning at all,
    whether it is misspelt or its caution is not written yet. Where all cautions that cover it are for other machines, such as
    those with an engine, the page of this machine would be without one.

    ## Hint
    write a caution whose `covers` names this action

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
        action: swing-flywheel
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Run the engine dry.
        action: run-engine
    sources: [bench-notes]
    ```
    """
    for kind in ("procedure", "test"):
        for work_id in linked.asked(kind):
            if all(map(linked.safety.by_action.__contains__, linked.book.gist(kind, work_id).actions)):
                continue
            for path, step in steps_of(linked.book.get(kind, work_id)):
                for index, action in enumerate(step.action):
                    yield from _uncovered(linked, (kind, work_id), (*path, "action", index), "action", action)
    for procedure_id in linked.asked("procedure"):
        for index, energy in enumerate(linked.book.gist("procedure", procedure_id).isolates):
            yield from _uncovered(linked, ("procedure", procedure_id), ("isolates", index), "energy", energy)
    for system_id in linked.asked("system"):
        for index, energy in enumerate(linked.book.systems[system_id].energies):
            yield from _uncovered(linked, ("system", system_id), ("energies", index), "energy", energy)
    yield from _uncovered_on_machines(linked)


def _uncovered_on_machines(linked: LinkedBook) -> Iterator[Fault]:
    """Yield one fault for each machine and each energy of its systems that only cautions for other machines cover."""
    machines_for = linked.applicability.machines_for
    holders: defaultdict[str, set[str]] = defaultdict(set)
    for system in linked.book.systems.values():
        for energy in system.energies:
            holders[energy] |= machines_for(system.applies_to)
    for energy, machines in holders.items():
        covering = linked.safety.by_energy.get(energy, ())
        if not covering or _mentioned_in_broken(linked, ("caution",), energy):
            continue
        covered = [machines_for(linked.book.cautions[caution].applies_to) for caution in covering]
        for machine in sorted(machines.difference(*covered)):
            message = f"the cautions that cover the energy `{energy}` are for other machines, and this one has it too"
            advice = "write a caution for such machines whose `covers` names this energy"
            yield Fault(linked.book.file_of["machine", machine].path, ("class",), message, advice)


def _uncovered(linked: LinkedBook, key: Key, path: FieldPath, what: str, name: str) -> Iterator[Fault]:
    known = linked.safety.by_action if what == "action" else linked.safety.by_energy
    if name in known or _mentioned_in_broken(linked, ("caution",), name):
        return
    advice = did_you_mean(name, known) or f"write a caution whose `covers` names this {what}"
    yield Fault(linked.book.file_of[key].path, path, f"no caution covers the {what} `{name}`", advice)


@rule("APP001", wording=Wording.OWN, titles_of=("engine",), bones_of=(MACHINE_FACTS,))
def applies_to_no_machine(linked: LinkedBook) -> Iterator[Fault]:
    """A record whose conditions no machine of the book meets.

    ## Why
    It can never be used: a condition is wrong, or the machine it was written for is not in the book.

    ## Hint
    drop or correct a part of it

    ## Bad
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A rod that drives out pins.
    # kb/symptoms/auger-rattles.yaml
    title: The auger rattles
    summary: A rattle from the housing.
    applies_to: {class: two-stage, not_fitted: [friction-drive, recoil-start]}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    ```

    ## Good
    ```yaml
    # kb/symptoms/auger-rattles.yaml
    title: The auger rattles
    summary: A rattle from the housing.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    ```
    """
    machines = linked.applicability
    if not machines.everywhere:
        return

    def is_met_by_none(condition: AppliesTo) -> bool:
        known = (  # what is not is another finding
            *(c in machines.classes for c in condition.classes),
            *(f in machines.features for f in (*condition.fitted, *condition.any_fitted)),
            *(m in linked.book.machines for m in condition.machines),
            *(e in linked.book.engines for e in condition.engines),
        )
        return all(known) and not machines.machines_for(condition)

    for key, path, _ in linked.conditions_that(is_met_by_none):
        message = f"no machine of the book meets this condition, so the {key[0]} is for none"
        yield Fault(linked.book.file_of[key].path, path, message, "drop or correct a part of it", on_key=True)


@rule("APP002", wording=Wording.OWN, titles_of=(), bones_of=(MACHINE_FACTS,))
def unknown_class_or_feature(linked: LinkedBook) -> Iterator[Fault]:
    """A condition names a class or a feature that no machine or engine of the book has.

    ## Why
    A misspelt feature makes a record hold for no machine, or, after `not_fitted`, for too many.

    ## Hint
    did you mean `two-stage`?

    ## Bad
    ```yaml
    # kb/symptoms/auger-rattles.yaml
    title: The auger rattles
    summary: A rattle from the housing.
    applies_to: {class: two-stages}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    ```

    ## Good
    ```yaml
    # kb/symptoms/auger-rattles.yaml
    title: The auger rattles
    summary: A rattle from the housing.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    ```
    """
    known_classes, known_features = linked.applicability.classes, linked.applicability.features
    if not linked.applicability.everywhere:
        return

    def parts(condition: AppliesTo) -> tuple[tuple[str, tuple[str, ...], frozenset[str]], ...]:
        return (
            ("class", condition.classes, known_classes),
            ("fitted", condition.fitted, known_features),
            ("any_fitted", condition.any_fitted, known_features),
            ("not_fitted", condition.not_fitted, known_features),
        )

    def has_unknown(condition: AppliesTo) -> bool:
        return any(not known.issuperset(ids) for _, ids, known in parts(condition))

    for key, path, condition in linked.conditions_that(has_unknown):
        path_of_file = linked.book.file_of[key].path
        for name, ids, known in parts(condition):
            for index, word in enumerate(ids):
                if word not in known and not _mentioned_in_broken(linked, ("machine", "engine"), word):
                    what = "class" if name == "class" else "feature"
                    message = f"no machine of the book has the {what} `{word}`"
                    advice = did_you_mean(word, known) or "known: " + ", ".join(sorted(known))
                    yield Fault(path_of_file, (*path, name, index), message, advice)


@rule("DIA001", wording=Wording.NONE, titles_of=(), bones_of=("cause", "symptom", "test"))
def cause_no_test_tells_apart(linked: LinkedBook) -> Iterator[Fault]:
    """A cause of a symptom that no test says anything about.

    ## Why
    It can be suspected but never shown: the technician would have to guess or replace parts until it stops.

    ## Hint
    name it in `given` of a test's results

    ## Bad
    ```yaml
    # kb/causes/auger-rusted.yaml
    title: Auger rusted to its shaft
    mechanism: Rust binds the tube to the shaft.
    confirmed_by: The tube cannot be turned on the shaft with the bolt out.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    # kb/procedures/free-auger.yaml
    title: Free a rusted auger
    purpose: The auger tube must slip on its shaft.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    remedies: [auger-rusted]
    before: [make-machine-safe]
    time: 30 min
    steps:
      - do: Soak the joint with penetrating oil.
    # kb/symptoms/one-side-of-auger-does-not-turn.yaml
    title: One side of the auger does not turn
    summary: One half stands still.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: usually}
      - {cause: auger-rusted, chance: rarely}
    ```

    ## Good
    ```yaml
    # kb/symptoms/one-side-of-auger-does-not-turn.yaml
    title: One side of the auger does not turn
    summary: One half stands still.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: usually}
    ```
    """
    told = linked.book.causes_of("test")
    for cause_id, file in _named_causes(linked):
        if cause_id not in told and not _mentioned_in_broken(linked, ("test",), cause_id):
            message = f"no test tells `{cause_id}` apart from other causes"
            yield Fault(file, (), message, "name it in `given` of a test's results", place=(1, 1))


@rule("DIA002", wording=Wording.NONE, titles_of=(), bones_of=("cause", "symptom", "procedure"))
def cause_no_procedure_remedies(linked: LinkedBook) -> Iterator[Fault]:
    """A cause that no procedure cures.

    ## Why
    Once it is proven the page has nothing more to say.

    ## Hint
    name it in `remedies` of a procedure

    ## Bad
    ```yaml
    # kb/causes/auger-rusted.yaml
    title: Auger rusted to its shaft
    mechanism: Rust binds the tube to the shaft.
    confirmed_by: The tube cannot be turned on the shaft with the bolt out.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    # kb/tests/turn-by-hand.yaml
    title: Turn the auger by hand
    purpose: Shows whether the tube slips on the shaft.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Take the shear bolt out.
      - do: Turn the tube on the shaft.
    results:
      - {id: stuck, seen: It does not turn., given: {auger-rusted: usually}, otherwise: rarely}
      - {id: free, seen: It turns., given: {auger-rusted: rarely}, otherwise: usually}
    # kb/symptoms/one-side-of-auger-does-not-turn.yaml
    title: One side of the auger does not turn
    summary: One half stands still.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: usually}
      - {cause: auger-rusted, chance: rarely}
    ```

    ## Good
    ```yaml
    # kb/symptoms/one-side-of-auger-does-not-turn.yaml
    title: One side of the auger does not turn
    summary: One half stands still.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: usually}
    ```
    """
    cured = linked.book.causes_of("procedure")
    for cause_id, file in _named_causes(linked):
        if cause_id not in cured and not _mentioned_in_broken(linked, ("procedure",), cause_id):
            message = f"no procedure remedies `{cause_id}`"
            yield Fault(file, (), message, "name it in `remedies` of a procedure", place=(1, 1))


def _named_causes(linked: LinkedBook) -> Iterator[tuple[str, str]]:
    """Yield (id, file) of every cause that some symptom names; an unnamed one is an unused record."""
    named = linked.book.causes_of("symptom")
    for cause_id in linked.book.causes:
        if cause_id in named:
            yield cause_id, linked.book.file_of[("cause", cause_id)].path


def _mentioned_in_broken(linked: LinkedBook, kinds: tuple[str, ...], word: str) -> bool:
    return any(word in linked.book.loose_words_of.get(kind, ()) for kind in kinds)


@rule("FIG002")
def figure_without_a_safe_drawing(linked: LinkedBook) -> Iterator[Fault]:
    """A figure record whose drawing is missing, or holds script, style or links that a drawing does not need.

    ## Why
    An empty frame teaches nothing; and a drawing is shown inside the page, so what it may do, the page does.

    ## Hint
    keep to shapes and text in UTF-8, without script or links

    ## Bad
    ```yaml
    # kb/figures/shear-bolt.svg
    <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><text>bolt</text><script>alert(1)</script></svg>
    ```

    ## Good
    ```yaml
    # kb/figures/shear-bolt.svg
    <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M0 0h9"/><text>bolt</text></svg>
    ```
    """
    for figure_id in linked.book.figures:
        path = linked.book.file_of[("figure", figure_id)].path
        drawing = linked.book.kb / "figures" / f"{figure_id}.svg"
        if os.path.islink(drawing) or not os.path.isfile(drawing):  # which answer for any name
            message = f"its drawing `{figure_id}.svg` is not beside it"
            yield Fault(path, (), message, "draw it as SVG", place=(1, 1))
            continue
        fault = _fault_of_drawing(drawing)
        if fault:
            advice = "keep to shapes and text in UTF-8, without script or links"
            yield Fault(path, (), f"its drawing `{figure_id}.svg` {fault}", advice, place=(1, 1))


def _fault_of_drawing(drawing: Path) -> str:
    try:
        with open(drawing, "rb") as stream:
            raw = stream.read(MAX_BYTES + 1)
    except OSError as error:
        return f"cannot be read: {error.strerror or error}"
    if len(raw) > MAX_BYTES:
        return f"is larger than {MAX_BYTES:,} bytes"
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError:
        return "is not UTF-8 text"
    unsafe = _UNSAFE_SVG.search(text)
    if unsafe:
        return f"holds `{unsafe.group().strip()}`"
    return "" if "<svg" in text else "is not an SVG drawing"


_UNSAFE_SVG: Final = re.compile(
    r"<\s*(?:[\w.-]+:)?(?:script|foreignObject|iframe|image|use|a|style|animate\w*|set|handler)\b"
    r"|<!(?:ENTITY|DOCTYPE)\b|\bon\w+\s*=|href\s*=|javascript:|@import|url\((?!\s*['\"]?#)",
    re.IGNORECASE,
)


@rule("EDN001", wording=Wording.NONE)
def draft_in_a_final_edition(linked: LinkedBook) -> Iterator[Fault]:
    """A final edition that would hold records which nobody has reviewed.

    ## Why
    What a school hands out as final is believed; a draft step or figure in it is believed too.

    ## Hint
    have it reviewed, or publish the edition as draft

    ## Bad
    ```yaml
    # kb/editions/winter.yaml
    title: Winter book
    number: "1"
    issuer: Brook Institute
    date: 2026-11-01
    licence: CC BY 4.0
    state: final
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    review: {state: draft}
    ```

    ## Good
    ```yaml
    # kb/editions/winter.yaml
    title: Winter book
    number: "1"
    issuer: Brook Institute
    date: 2026-11-01
    licence: CC BY 4.0
    state: draft
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    review: {state: draft}
    ```
    """
    final = [edition_id for edition_id, edition in linked.book.editions.items() if edition.state == "final"]
    if not final:
        return
    drafts = [
        key
        for key in linked.book.all_keys()
        if (review := linked.book.gist(*key).review) is not None and review.state == "draft"
    ]
    if not drafts:
        return
    held = {edition_id: select(linked, edition_id).keys for edition_id in final}
    for key in drafts:
        for edition_id in final:
            if key in held[edition_id]:
                message = f"a draft, and the edition `{edition_id}` is final"
                path: FieldPath = ("review", "state")
                yield Fault(
                    linked.book.file_of[key].path,
                    path,
                    message,
                    "have it reviewed, or publish the edition as draft",
                )
                break


@rule("EDN002")
def lapsed_review_in_a_final_edition(linked: LinkedBook) -> Iterator[Fault]:
    """A final edition that would hold records that were changed after their review.

    ## Why
    The page would name a reviewer for words and figures that this reviewer has never seen.

    ## Hint
    have it reviewed again (`shearpin review`), or publish the edition as draft

    ## Bad
    ```yaml
    # kb/editions/winter.yaml
    title: Winter book
    number: "1"
    issuer: Brook Institute
    date: 2026-11-01
    licence: CC BY 4.0
    state: final
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts, and was changed.
    review: {state: reviewed, by: lead instructor, on: 2026-10-02, digest: 0123456789abcdef}
    ```

    ## Good
    ```yaml
    # kb/editions/winter.yaml
    title: Winter book
    number: "1"
    issuer: Brook Institute
    date: 2026-11-01
    licence: CC BY 4.0
    state: final
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    review: {state: reviewed, by: lead instructor, on: 2026-10-02, digest: f0b751a8a58b4885}
    ```
    """
    final = [edition_id for edition_id, edition in linked.book.editions.items() if edition.state == "final"]
    if not final:
        return
    lapsed = [
        key
        for key in linked.book.all_keys()
        if (review := linked.book.gist(*key).review) is not None
        and review.digest is not None
        and linked.reviews.of(*key).state is ReviewState.LAPSED
    ]
    held = {edition_id: select(linked, edition_id).keys for edition_id in final if lapsed}
    for key in lapsed:
        edition_id = next((edition_id for edition_id, keys in held.items() if key in keys), None)
        if edition_id:
            message = f"changed since its review, and the edition `{edition_id}` is final"
            advice = "have it reviewed again (`shearpin review`), or publish the edition as draft"
            yield Fault(linked.book.file_of[key].path, ("review", "digest"), message, advice)


COVERAGE_RULES: Final[tuple[AnyRule, ...]] = (
    hazard_without_a_caution,
    applies_to_no_machine,
    unknown_class_or_feature,
    cause_no_test_tells_apart,
    cause_no_procedure_remedies,
    figure_without_a_safe_drawing,
    draft_in_a_final_edition,
    lapsed_review_in_a_final_edition,
)
