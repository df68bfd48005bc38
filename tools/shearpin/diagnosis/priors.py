"""Chances of causes before any test: from the writer's words, sharpened by counts of what was found."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.fields import Chance, ChanceWord
from shearpin.model.knowledge import Symptom

SOMETHING_ELSE: Final = "something-else"
"""The cause that is not in the book; no record can have this id, for the model adds it itself."""

STRENGTH_OF_WORDS: Final = 10.0
"""The writer's shares weigh as much as this many recorded cases. Ours, no source."""

_ELSE_WHEN_UNSAID: Final = Chance(ChanceWord.RARELY, None)


def written_priors(linked: LinkedBook, symptom: Symptom, machine_id: str | None) -> dict[str, float]:
    """Return the chances of the causes that can occur on a machine, by the writer's words; they sum to one.

    `SOMETHING_ELSE` has the share the symptom states, a tenth when it states none, however many causes are listed.
    """
    weights: dict[str, float] = {}
    for suspect in symptom.causes:
        cause = linked.book.causes.get(suspect.cause)
        if cause is None:
            continue
        conditions = (symptom.applies_to, suspect.applies_to, cause.applies_to)
        if linked.applicability.occurs(conditions, machine_id):
            weights[suspect.cause] = suspect.chance.number
    rest = (symptom.else_ or _ELSE_WHEN_UNSAID).number
    total = sum(weights.values())
    if rest >= 1.0:
        weights = dict.fromkeys(weights, 0.0)
    weights[SOMETHING_ELSE] = rest * total / (1 - rest) if total and rest < 1 else 1.0
    whole = sum(weights.values())
    return {cause: weight / whole for cause, weight in weights.items()}


def counted_priors(
    written: Mapping[str, float], counts: Mapping[str, int], strength: float = STRENGTH_OF_WORDS
) -> dict[str, float]:
    """Return the posterior means of a Dirichlet-multinomial: written shares as prior, counts of proven causes as data.

    With shares a_c, strength s and n_c cases of cause c out of N the mean is (s·a_c + n_c) / (s + N) (Gelman and others,
    Bayesian Data Analysis, 3rd ed., section 3.4; from memory). Counts of causes that cannot occur here are left out;
    `strength` is in cases and above zero.
    """
    known = {cause: counts.get(cause, 0) for cause in written}
    whole = strength + sum(known.values())
    return {cause: (strength * share + known[cause]) / whole for cause, share in written.items()}
