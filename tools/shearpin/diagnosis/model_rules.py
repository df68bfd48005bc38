"""Rules on the models of symptoms: causes that no test can separate, or prove."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from operator import mul
from typing import Final, NamedTuple

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.diagnosis.model import DiagnosisModel, build_model
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.diagnosis.state import Numbers
from shearpin.model.finding import Severity

EVEN_CHANCE: Final = 0.5
_SURELY: Final = EVEN_CHANCE + 1e-6  # whatever is rounded on the way
_SWEEPS: Final = 4

_OF_MODELS: Final = ("symptom", "cause", "test", "procedure", "machine", "engine", "system")
"""Kinds of the records from which models are made."""

_Rows = tuple[tuple[float, ...], ...]


@rule("DIA007", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=_OF_MODELS)
def causes_every_test_sees_alike(linked: LinkedBook) -> Iterator[Fault]:
    """Two causes of a symptom look the same to every test, and no procedure cures both.

    ## Why
    Testing ends with two suspects and a guess between two repairs.

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
      - {cause: auger-shear-bolt-sheared, chance: often}
      - {cause: auger-rusted, chance: often}
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A, given: {auger-shear-bolt-sheared: always, auger-rusted: always}, otherwise: never}
      - {id: whole, seen: B, given: {auger-shear-bolt-sheared: never, auger-rusted: never}, otherwise: always}
    ```

    ## Good
    ```yaml
    # kb/symptoms/one-side-of-auger-does-not-turn.yaml
    title: One side of the auger does not turn
    summary: One half stands still.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    ```
    """
    for symptom_id in linked.asked("symptom"):
        yield from faults_of_model(linked, symptom_id).alike


@rule("DIA008", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=_OF_MODELS)
def cause_that_no_test_can_prove(linked: LinkedBook) -> Iterator[Fault]:
    """A cause stays unlikely even when every test comes out best for it, or nothing speaks for it at all.

    ## Why
    The tests only ever clear others; the technician never gets an answer that says this is it. Too high a chance
    under `otherwise` is the usual reason, or a result that is missing.

    ## Bad
    ```yaml
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: "0.6"}, otherwise: "0.5"}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: "0.4"}, otherwise: "0.5"}
    ```

    ## Good
    ```yaml
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: usually}, otherwise: never}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: rarely}, otherwise: always}
    ```
    """
    for symptom_id in linked.asked("symptom"):
        yield from faults_of_model(linked, symptom_id).unproven


class FaultsOfModel(NamedTuple):
    """What both rules find in the model of a symptom."""

    alike: tuple[Fault, ...] = ()
    unproven: tuple[Fault, ...] = ()


def faults_of_model(linked: LinkedBook, symptom_id: str) -> FaultsOfModel:
    """Ask both rules of the model of a symptom over all machines: what does not work there works on none.

    Both at once, so that the model is made for both, and is not kept. Whoever watches what is read keeps the answer.
    """
    found: FaultsOfModel = linked.remembered("faults of model", partial(_faults_in, linked), kept=True)(
        symptom_id
    )
    return found


def _faults_in(linked: LinkedBook, symptom_id: str) -> FaultsOfModel:
    model = build_model(linked, symptom_id)
    if not model.tests:
        return FaultsOfModel()
    rows = _rows(model, _told(model))
    apart = "add a test that tells them apart, or a procedure that cures both"
    proof = "add a result that shows under this cause and hardly otherwise"
    return FaultsOfModel(
        tuple([_fault(linked, symptom_id, cause, message, apart) for cause, message in _alike(model, rows)]),
        tuple(
            [_fault(linked, symptom_id, cause, message, proof) for cause, message in _unproven(model, rows)]
        ),
    )


def _alike(model: DiagnosisModel, rows: Mapping[str, _Rows]) -> Iterator[tuple[str, str]]:
    """Yield each cause that every test sees as it sees an earlier one, with what is wrong."""
    first: dict[_Rows, str] = {}
    for cause, row in rows.items():
        other = first.setdefault(row, cause)
        if other != cause and not _cured_together(model, cause, other):
            yield cause, f"every test sees `{cause}` and `{other}` alike"


def _unproven(model: DiagnosisModel, rows: Mapping[str, _Rows]) -> Iterator[tuple[str, str]]:
    """Yield each cause that no test can prove, with what is wrong."""
    numbers = Numbers(model)
    known = Counter(rows.values())
    for cause, row in rows.items():
        if known[row] > 1 or _is_soon_likely(numbers, cause):
            continue  # two that look alike are another rule's
        chance, shown = best_case(numbers, cause)
        if not shown:
            yield cause, f"no result of a test speaks for `{cause}`"
        elif chance < EVEN_CHANCE:
            yield (
                cause,
                f"even with every test in its favor, the chance of `{cause}` stays at {chance * 100:.0f} %",
            )


def _is_soon_likely(numbers: Numbers, cause: str) -> bool:
    """Whether a result speaks for a cause, and the first tests alone make it likelier than not.

    Quicker than `best_case`, which begins with the same tests and results: those after them raise the chance further.
    """
    place = numbers.causes.index(cause)
    weights = numbers.beginning().weights
    for check in numbers.checks:
        column = _raising_most(weights, [known.column for known in check.classes], place)
        if column is not None:
            weights = tuple(map(mul, weights, column))
            if weights[place] > _SURELY * sum(weights):
                return any(check.speaks >> place & 1 for check in numbers.checks)
    return False


def best_case(numbers: Numbers, cause: str) -> tuple[float, bool]:
    """Return the chance of a cause when each test shows what raises it most, and whether a result speaks for it.

    What raises it most depends on what the other tests show, so the results are chosen again until none changes. A
    test of which no result raises the chance is not done.
    """
    place = numbers.causes.index(cause)
    shown = any(known.speaks >> place & 1 for check in numbers.checks for known in check.classes)
    columns = [[known.column for known in check.classes] for check in numbers.checks]
    start = numbers.beginning().weights
    picked: list[Sequence[float] | None] = [None] * len(numbers.checks)
    whole: Sequence[float] = start
    for _ in range(_SWEEPS):
        before, whole = list(picked), start  # `whole` grows by one check after the other
        for number, known in enumerate(columns):
            rest = _product(whole, picked[number + 1 :])
            picked[number] = _raising_most(rest, known, place)
            whole = _product(whole, picked[number : number + 1])
        if picked == before or whole[place] >= EVEN_CHANCE * sum(whole):
            break
    return whole[place] / sum(whole), shown


def _raising_most(
    weights: Sequence[float], columns: Sequence[Sequence[float]], place: int
) -> Sequence[float] | None:
    """Return the first of the columns that raise one weight's share most, None where none raises it."""
    whole = sum(weights)
    best, most = None, weights[place] / whole if whole > 0.0 else 0.0
    for column in columns:
        share = _share(weights, column, place)
        if share > most:
            best, most = column, share
    return best


def _product(start: Sequence[float], columns: Sequence[Sequence[float] | None]) -> Sequence[float]:
    weights = start
    for column in columns:
        if column is not None:
            weights = list(map(mul, weights, column))
    return weights


def _share(weights: Sequence[float], column: Sequence[float], place: int) -> float:
    whole = sum(map(mul, weights, column))
    return weights[place] * column[place] / whole if whole > 0.0 else 0.0


def _told(model: DiagnosisModel) -> list[str]:
    """Return the causes that some test sees otherwise than something unknown; the others are another rule's."""
    return [
        cause
        for cause in model.priors
        if cause != SOMETHING_ELSE
        and model.priors[cause] > 0.0
        and any(test.likelihood[cause] != test.likelihood[SOMETHING_ELSE] for test in model.tests)
    ]


def _rows(model: DiagnosisModel, causes: Iterable[str]) -> dict[str, _Rows]:
    """Return all likelihoods under each cause, rounded so that equal ones compare equal; many causes share a row."""
    rounded: dict[tuple[float, ...], tuple[float, ...]] = {}
    rows: dict[str, _Rows] = {}
    for cause in causes:
        own = [test.likelihood[cause] for test in model.tests]
        for row in own:
            if row not in rounded:
                rounded[row] = tuple([round(share, 6) for share in row])
        rows[cause] = tuple([rounded[row] for row in own])
    return rows


def _cured_together(model: DiagnosisModel, one: str, other: str) -> bool:
    cures: Mapping[str, set[str]] = {c: {r.procedure for r in model.remedies[c]} for c in (one, other)}
    return bool(cures[one] & cures[other])


def _fault(linked: LinkedBook, symptom_id: str, cause: str, message: str, help_text: str) -> Fault:
    causes = [suspect.cause for suspect in linked.book.symptoms[symptom_id].causes]
    path = linked.book.file_of[("symptom", symptom_id)].path
    return Fault(path, ("causes", causes.index(cause), "cause"), message, help_text)


MODEL_RULES: Final[tuple[AnyRule, ...]] = (causes_every_test_sees_alike, cause_that_no_test_can_prove)
