"""Ids that records had before: where they lead now, and the rule that no two things are meant by one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from shearpin.book.book import Book, Key
from shearpin.book.linked import LinkedBook
from shearpin.checks.file_rules import LIST_PAGE
from shearpin.checks.rule import AnyRule, Fault, Wording, rule


def former_ids(book: Book) -> Mapping[Key, str]:
    """Return the id of today for each kind and former id; one that is in use again, or claimed twice, leads nowhere else."""
    today: dict[Key, str] = {}
    for (kind, record_id), heading in book.headings():
        for old in heading.formerly:
            if (kind, old) not in book.file_of and old != LIST_PAGE:
                today.setdefault((kind, old), record_id)
    return today


def id_today(book: Book, kind: str, given: str) -> str:
    """Return the id that a former one leads to, or the given one."""
    return former_ids(book).get((kind, given), given) if book.get(kind, given) is None else given


@rule("REF015", wording=Wording.NONE)
def former_id_in_use(linked: LinkedBook) -> Iterator[Fault]:
    """A former id that another record has, or has had.

    ## Why
    Old links and old notes lead by the former id to a page: it must be clear to which.

    ## Hint
    delete it here, or there

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    formerly: [torque-wrench]
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    formerly: [drift-punch]
    ```
    """
    book = linked.book
    claimed: dict[Key, str] = {}
    for (kind, record_id), heading in book.headings():
        path = book.file_of[kind, record_id].path
        for index, old in enumerate(heading.formerly):
            taken = _taken_by(book, (kind, record_id), old) or claimed.get((kind, old))
            if taken is not None:
                yield Fault(
                    path, ("formerly", index), f"the former id `{old}` is {taken}", "delete it here, or there"
                )
            claimed.setdefault((kind, old), f"also a former id of {kind} `{record_id}`")


def _taken_by(book: Book, key: Key, old: str) -> str | None:
    kind, record_id = key
    if old == record_id:
        return "the id that this record has now"
    if (kind, old) in book.file_of:
        return f"the id of another {kind}"
    return "the name of the list of records" if old == LIST_PAGE else None


FORMER_RULES: Final[tuple[AnyRule, ...]] = (former_id_in_use,)
