"""The marks that a new record bears until its writer has replaced them, and the rule that keeps them off pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.checks.wording import texts_of
from shearpin.model.reading import RecordFile

_MARK: Final = re.compile(r"<write [^<>]*>")


def unwritten(what: str) -> str:
    """Return the mark that stands where a writer will say something."""
    return f"<write {what}>"


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
    if file.record is None or file.usual_characters:
        return
    for path, text in texts_of(file.record):
        found = _MARK.search(text) if "<write " in text else None
        if found is not None:
            message = f"`{found.group()}` still waits for its words"
            yield Fault(file.path, path, message, "write them", offset=found.start())


UNWRITTEN_RULES: Final[tuple[AnyRule, ...]] = (unwritten_passage,)
