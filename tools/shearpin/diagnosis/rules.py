"""Rules on diagnosis models: what cannot work."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.diagnosis.likelihood import likelihood_row
from shearpin.diagnosis.priors import SOMETHING_ELSE


@rule("DIA005", wording=Wording.OWN, titles_of=(), bones_of=())
def test_that_changes_nothing(linked: LinkedBook) -> Iterator[Fault]:
    """A test whose results are equally likely whatever is wrong.

    ## Why
    It costs minutes and tells nothing; its likelihoods are not written yet, or written alike by mistake.

    ## Hint
    say in `given` which cause makes which result likely

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
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: "0.5"}, otherwise: "0.5"}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: "0.5"}, otherwise: "0.5"}
    sources: [bench-notes]
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
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: "0.9"}, otherwise: "0.1"}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: "0.1"}, otherwise: "0.9"}
    sources: [bench-notes]
    ```
    """
    for test_id in linked.asked("test"):
        test = linked.book.tests[test_id]
        causes = sorted({cause for result in test.results for cause in result.given})
        rows = {
            tuple(round(share, 6) for share in likelihood_row(test, c)) for c in (*causes, SOMETHING_ELSE)
        }
        if len(rows) < 2:
            path = linked.book.file_of[("test", test_id)].path
            message = "every result is equally likely whatever is wrong"
            yield Fault(
                path,
                ("results",),
                message,
                "say in `given` which cause makes which result likely",
                on_key=True,
            )


@rule("DIA006", wording=Wording.OWN, titles_of=(), bones_of=())
def result_named_twice(linked: LinkedBook) -> Iterator[Fault]:
    """Two results of a test have one id.

    ## Why
    An answer given by its id would mean either of them.

    ## Hint
    rename one

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
      - {id: bolt, seen: A bolt is broken., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}
      - {id: bolt, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: rarely}, otherwise: usually}
    sources: [bench-notes]
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
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: usually}, otherwise: rarely}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: rarely}, otherwise: usually}
    sources: [bench-notes]
    ```
    """
    for test_id in linked.asked("test"):
        test = linked.book.tests[test_id]
        seen: set[str] = set()
        for index, result in enumerate(test.results):
            if result.id in seen:
                path = linked.book.file_of[("test", test_id)].path
                yield Fault(
                    path, ("results", index, "id"), f"the result `{result.id}` is named twice", "rename one"
                )
            seen.add(result.id)


DIAGNOSIS_RULES: Final[tuple[AnyRule, ...]] = (test_that_changes_nothing, result_named_twice)
