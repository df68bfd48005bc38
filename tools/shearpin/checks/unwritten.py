"""The marks that a new record bears until its writer has replaced them, and the rule that keeps them off pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.checks.wording import texts_of
from shearpin.model.machines import Machine
from shearpin.model.reading import RecordFile

_MARK: Final = re.compile(r"<write [^<>]*>")
_MARKED_ID: Final = re.compile(r"write-the-[a-z0-9-]+-here")


def unwritten(what: str) -> str:
    """Return the mark that stands where a writer will say something."""
    return f"<write {what}>"


def unwritten_id(what: str) -> str:
    """Return the id that stands where a writer names a record or a class: no record has it, so that a check asks for it."""
    return f"write-the-{what}-here"


def waits_for_an_id(name: str) -> bool:
    """Whether an id is such a mark."""
    return _MARKED_ID.fullmatch(name) is not None


@rule("LNG030")
def unwritten_passage(file: RecordFile) -> Iterator[Fault]:
    """A passage that `shearpin new` left for the writer.

    ## Why
    A page with `<write …>` in it tells its reader nothing where an answer belongs, and looks finished in a list.

    ## Hint
    write them

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: <write what it is for>
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    if isinstance(file.record, Machine) and waits_for_an_id(file.record.class_):
        advice = "write the kind of machine: one that the book has, or a new one"
        yield Fault(file.path, ("class",), f"`{file.record.class_}` still waits for its word", advice)
    if file.record is None or file.usual_characters:
        return
    for path, text in texts_of(file.record):
        found = _MARK.search(text) if "<write " in text else None
        if found is not None:
            message = f"`{found.group()}` still waits for its words"
            yield Fault(file.path, path, message, "write them", offset=found.start())


UNWRITTEN_RULES: Final[tuple[AnyRule, ...]] = (unwritten_passage,)
