"""Rules on steps and the machines that they are for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.record_rules import steps_of
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.model.inline import Link, parse_inline
from shearpin.model.steps import Work


@rule("APP003")
def step_calls_work_for_other_machines(linked: LinkedBook) -> Iterator[Fault]:
    """A step sends the reader to a procedure or a test that does not hold for the machine on the bench.

    ## Why
    “Start the engine by that procedure” on a machine without an engine ends at a page that says it is for others, with the
    work half done. What a `note` names is information, and may be for others.

    ## Hint
    give the step an `applies_to`, or let `free-track` hold there too

    ## Bad
    ```yaml
    # kb/procedures/free-track.yaml
    title: Free a frozen track
    purpose: Ice holds the track.
    applies_to: {fitted: tracks}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 5 min
    steps:
      - do: Knock the ice off the track.
    sources: [bench-notes]
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
      - do: If the machine is frozen to the ground, follow {procedure:free-track}.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/free-track.yaml
    title: Free a frozen track
    purpose: Ice holds the track.
    applies_to: {fitted: tracks}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 5 min
    steps:
      - do: Knock the ice off the track.
    sources: [bench-notes]
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
      - do: If the machine is frozen to the ground, follow {procedure:free-track}.
        applies_to: {fitted: tracks}
    sources: [bench-notes]
    ```
    """
    machines_for = linked.applicability.machines_for
    for key, work in linked.book.work():
        here = machines_for(work.applies_to)
        for place, step in steps_of(work):
            for field, text in (("do", step.do), ("confirm", step.confirm)):
                if text is None or "{" not in text:
                    continue
                for link in parse_inline(text):
                    called = linked.book.get(link.kind, link.id) if isinstance(link, Link) else None
                    if not isinstance(link, Link) or not isinstance(called, Work):
                        continue
                    left = sorted(here & machines_for(step.applies_to) - machines_for(called.applies_to))
                    if left:
                        listed = ", ".join(f"`{machine}`" for machine in left[:3])
                        more = f" and {len(left) - 3} more" if len(left) > 3 else ""
                        yield Fault(
                            linked.book.file_of[key].path, (*place, field),
                            f"`{link.id}` does not hold on {listed}{more}, which this step is for",
                            f"give the step an `applies_to`, or let `{link.id}` hold there too",
                            offset=link.offset,
                        )  # fmt: skip


STEP_RULES: Final[tuple[AnyRule, ...]] = (step_calls_work_for_other_machines,)
