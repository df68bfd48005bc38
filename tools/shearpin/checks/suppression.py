"""Suppressions: a rule that does not hold for one record, with the reason, and never silently."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shearpin.checks.nearest import did_you_mean
from shearpin.checks.rule import Fault, rule
from shearpin.model.fields import Suppression
from shearpin.model.finding import Severity


@dataclass(frozen=True, slots=True)
class SuppressionUse:
    """The suppressions of one file, the codes that they held back in this run, and all codes there are."""

    file: str
    entries: tuple[Suppression, ...]
    used: frozenset[str]
    known: frozenset[str]


@rule("SUP001", Severity.WARNING)
def unfounded_suppression(use: SuppressionUse) -> Iterator[Fault]:
    """A suppression that suppresses nothing, or names a code that no rule has.

    ## Why
    It would hide the next fault of that kind, which nobody has looked at.

    ## Hint
    delete the suppression

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ignore: [{code: LNG001, reason: the sentence was long once}]
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    for index, entry in enumerate(use.entries):
        if entry.code not in use.known:
            advice = did_you_mean(entry.code, use.known) or "`shearpin explain` lists them"
            yield Fault(use.file, ("ignore", index, "code"), f"no rule has the code `{entry.code}`", advice)
        elif entry.code not in use.used:
            message = f"`{entry.code}` finds nothing here, so there is nothing to suppress"
            yield Fault(use.file, ("ignore", index, "code"), message, "delete the suppression")
