"""One publication being made: the packed book, its names, its date, and the pages about it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.selection import lost_cautions, pack, select
from shearpin.checks.nearest import did_you_mean
from shearpin.model.editions import Edition
from shearpin.model.kinds import KINDS
from shearpin.publish.changes import Changes, changes_page, compare
from shearpin.publish.contentrecord import EditionContent, content_of
from shearpin.publish.faults import PublishError
from shearpin.publish.fitness import unfit_records
from shearpin.publish.language import in_its_language
from shearpin.publish.names import LONGEST_NUMBER, base_name, names_something
from shearpin.site.pages import Page

_NAMED = 8  # records named in a message; the rest are counted


@dataclass(frozen=True, slots=True)
class Issue:
    """What every format of one publication is made from."""

    id: str
    edition: Edition
    packed: LinkedBook
    settings: Path
    moment: datetime
    content: EditionContent
    chosen: frozenset[Key]
    changes: Changes | None

    @property
    def name(self) -> str:
        """What every file of it is called, before its ending."""
        return base_name(self.id, self.edition.number)

    @property
    def draft(self) -> bool:
        """Whether every page must say that it is a draft."""
        return self.edition.state == "draft"

    def pages(self) -> tuple[Page, ...]:
        """Return the pages about the edition itself, besides its record."""
        return (changes_page(self.packed, self.changes),) if self.changes is not None else ()


def prepare_issue(linked: LinkedBook, edition_id: str, settings: Path, since: EditionContent | None) -> Issue:
    """Pack an edition; raises `PublishError` where it must not be published, and `KeyError` for an unknown one."""
    edition = linked.book.editions[edition_id]
    _require_sense(linked, edition_id, edition)
    selection = select(linked, edition_id)
    packed = pack(linked, selection)
    if edition.state != "draft":
        _require_reviewed(packed)
    lost = lost_cautions(linked, packed)
    if lost:  # the selection follows every caution; if it ever does not, people could be hurt
        (kind, record_id), caution = lost[0]
        raise PublishError(
            f"the {kind} `{record_id}` would lose its caution `{caution}`, and {len(lost) - 1} more would be lost. "
            f"Nothing was published. Name these cautions in the {kind}, or choose its systems in `contents`."
        )
    if len(packed.book.files) == 1:
        raise PublishError(
            f"the edition `{edition_id}` would be empty: nothing in the book is what its `contents` names"
        )
    packed = in_its_language(packed, edition)
    content = content_of(packed, edition_id)
    changes = compare(since, content, packed) if since is not None else None
    moment = moment_of(edition, os.environ)
    return Issue(edition_id, edition, packed, settings, moment, content, selection.chosen, changes)


def _require_sense(linked: LinkedBook, edition_id: str, edition: Edition) -> None:
    """Refuse an edition whose words lead to nothing, or whose number gives its files no name of their own."""
    for name in edition.contents.kinds:
        if name not in KINDS:
            advice = did_you_mean(name, KINDS) or f"kinds: {', '.join(KINDS)}"
            raise PublishError(f"there is no kind `{name}`, which `contents` names; {advice}")
    known = sorted({machine.class_ for machine in linked.book.machines.values()})
    for name in edition.contents.classes:
        if name not in known:
            advice = did_you_mean(name, known) or f"classes: {', '.join(known) or 'none yet'}"
            raise PublishError(
                f"no machine of the book is of the class `{name}`, which `contents` names; {advice}"
            )
    if not names_something(edition.number) or len(edition.number) > LONGEST_NUMBER:
        raise PublishError(
            f"the number `{edition.number[:50]}` of the edition `{edition_id}` cannot stand in the names of its files. "
            f"Write up to {LONGEST_NUMBER} characters with at least one plain letter or digit, such as `2026.1`."
        )


def _require_reviewed(packed: LinkedBook) -> None:
    unfit = unfit_records(packed)
    if unfit:
        lines = [f"  {item.path}: {item.reason}" for item in unfit[:_NAMED]]
        more = [f"  and {len(unfit) - _NAMED} more"] if len(unfit) > _NAMED else []
        raise PublishError(
            "\n".join(
                [
                    f"the edition is final, and {len(unfit)} of its records are not:",
                    *lines,
                    *more,
                    "Have them reviewed, leave them out, or write `state: draft` in the edition: then every page says so.",
                ]
            )
        )


def moment_of(edition: Edition, environment: Mapping[str, str]) -> datetime:
    """Return the time that stands in archives: SOURCE_DATE_EPOCH, else the date of the edition."""
    given = environment.get("SOURCE_DATE_EPOCH", "")
    if given:
        try:
            return datetime.fromtimestamp(_fit_for_archives(int(given)), UTC)
        except (ValueError, OverflowError, OSError):
            raise PublishError(
                f"SOURCE_DATE_EPOCH is `{given}`; it must be a number of seconds since 1970"
            ) from None
    return datetime.fromisoformat(edition.date).replace(tzinfo=UTC)


def _fit_for_archives(seconds: int) -> int:
    """Return the time if the archives that MkDocs and we write can hold it: they have 32 bits for it."""
    if not 0 <= seconds < 1 << 32:
        raise ValueError
    return seconds
