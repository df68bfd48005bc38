"""What changed from an earlier edition: every figure first, then safety messages, then records."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from shearpin.authoring.mentions import Renaming
from shearpin.book.former import former_ids
from shearpin.book.linked import LinkedBook
from shearpin.model.kinds import KINDS
from shearpin.publish.contentrecord import EditionContent, RecordContent, digests_of_fields
from shearpin.site.common import KIND_WORDS
from shearpin.site.html import bullets, cell_name, facts, section, table, text
from shearpin.site.pages import Page
from shearpin.site.view import View

_TOLD_ELSEWHERE: Final = frozenset({"values", "numbers"})  # every figure of these is compared by itself
_NOTHING: Final = "–"


@dataclass(frozen=True, slots=True)
class Change:
    """One text that differs: the record, what of it, and both texts; None where there is none."""

    record: str
    what: str
    before: str | None
    now: str | None


@dataclass(frozen=True, slots=True)
class Changes:
    """Everything that differs between two editions; records by key `kind:id`."""

    since: EditionContent
    figures: tuple[Change, ...]
    cautions: tuple[Change, ...]
    withdrawn: tuple[str, ...]
    added: tuple[str, ...]
    reworded: tuple[tuple[str, tuple[str, ...]], ...]
    renamed: tuple[tuple[str, str], ...]


def compare(since: EditionContent, now: EditionContent, packed: LinkedBook) -> Changes:
    """Return what changed from one edition to the other, whose book is `packed`. Records are compared under the ids of today."""
    today = former_ids(packed.book)
    ids = {f"{kind}:{old}": f"{kind}:{new}" for (kind, old), new in today.items()}
    renamed = tuple((old, new) for old, new in ids.items() if old in since.records and new in now.records)
    formerly = tuple(
        Renaming(kind, new, old) for (kind, old), new in today.items() if f"{kind}:{old}" in since.records
    )
    since = _as_called_today(since, ids)
    kept = [key for key in now.records if key in since.records]
    under_former_ids = _under_former_ids(packed, formerly)
    reworded = (
        (key, tuple(_fields_that_differ(since.records[key], now.records[key], under_former_ids.get(key, {}))))
        for key in kept
    )
    return Changes(
        since,
        tuple(_differing(since.figures, now.figures)),
        tuple(_differing(since.cautions, now.cautions)),
        tuple(key for key in since.records if key not in now.records),
        tuple(key for key in now.records if key not in since.records),
        tuple((key, fields) for key, fields in reworded if fields),
        renamed,
    )


def _under_former_ids(packed: LinkedBook, formerly: Sequence[Renaming]) -> dict[str, Mapping[str, str]]:
    """Return by record the digests its fields would have, had the records it mentions kept their ids."""
    mentioning = {
        origin for renaming in formerly for origin in packed.links.origins((renaming.kind, renaming.old))
    }
    records = ((key, packed.book.get(*key)) for key in sorted(mentioning))
    return {
        f"{key[0]}:{key[1]}": digests_of_fields(record, formerly)
        for key, record in records
        if record is not None
    }


def _as_called_today(since: EditionContent, ids: Mapping[str, str]) -> EditionContent:
    """Return an earlier content under the ids that its records have now."""

    def named(key: str) -> str:
        record, _, what = key.partition(" ")
        kinds = ("value", "machine", "engine")
        new = next((ids[f"{kind}:{what}"] for kind in kinds if f"{kind}:{what}" in ids), f":{what}")
        return f"{ids.get(record, record)} {new.partition(':')[2]}".rstrip()

    return replace(
        since,
        records={named(key): record for key, record in since.records.items()},
        figures={named(key): figure for key, figure in since.figures.items()},
        cautions={named(key): message for key, message in since.cautions.items()},
    )


def _differing(before: Mapping[str, str], now: Mapping[str, str]) -> Iterator[Change]:
    for key in sorted({*before, *now}):
        if before.get(key) != now.get(key):
            record, _, what = key.partition(" ")
            yield Change(record, what, before.get(key), now.get(key))


def _fields_that_differ(
    old: RecordContent, new: RecordContent, under_former_ids: Mapping[str, str]
) -> Iterator[str]:
    if old.title != new.title:
        yield "title"
    for name in sorted({*old.fields, *new.fields}):
        same = old.fields.get(name) in (
            new.fields.get(name),
            under_former_ids.get(name, new.fields.get(name)),
        )
        if not same and name not in _TOLD_ELSEWHERE:
            yield name


def changes_page(packed: LinkedBook, changes: Changes) -> Page:
    """Return the page of changes."""
    view = View(packed, "")
    since = changes.since
    named = _Names(view, since)
    parts = (
        ("Figures and order numbers", changes.figures), ("Safety messages", changes.cautions), ("Withdrawn", changes.withdrawn),
        ("Added", changes.added), ("Renamed", changes.renamed), ("Reworded", changes.reworded),
    )  # fmt: skip
    content = [
        "<h1>Changes</h1>",
        f"<p>Compared with “{text(since.title)}”, edition {text(since.number)} of {text(since.date)}.</p>",
        facts((name, str(len(found))) for name, found in parts if found) or "<p>Nothing has changed.</p>",
        section("Figures and order numbers", _figure_table(named, changes.figures), "changed-figures"),
        section("Safety messages", _caution_table(named, changes.cautions), "changed-cautions"),
        section("Withdrawn", bullets(named.record(key) for key in changes.withdrawn), "withdrawn"),
        section("Added", bullets(named.record(key) for key in changes.added), "added"),
        section(
            "Renamed",
            bullets(
                f"{named.record(new)} (formerly {text(old.partition(':')[2])})"
                for old, new in changes.renamed
            ),
            "renamed",
        ),
        section(
            "Reworded",
            bullets(f"{named.record(key)}: {text(_words(fields))}" for key, fields in changes.reworded),
            "reworded",
        ),
    ]
    body = f'<article data-kind="page" data-id="changes">{"".join(content)}</article>'
    return Page("changes.html", "Changes", body)


@dataclass(frozen=True, slots=True)
class _Names:
    """Names records as readers know them, those that are gone included."""

    view: View
    since: EditionContent

    def record(self, key: str) -> str:
        kind, _, record_id = key.partition(":")
        title = self.title(key)
        word = KIND_WORDS[kind][0] if kind in KIND_WORDS else kind
        known = kind in KINDS and self.view.book.get(kind, record_id) is not None
        return f"{text(word)}: {self.view.ref(kind, record_id) if known else text(title)}"

    def title(self, key: str) -> str:
        kind, _, record_id = key.partition(":")
        record = self.view.book.get(kind, record_id) if kind in KINDS else None
        old = self.since.records.get(key)
        return record.title if record is not None else old.title if old is not None else record_id

    def what(self, change: Change) -> str:
        """Return the name of a value, or of the machine that a number is for."""
        for kind in ("value", "machine", "engine"):
            title = self.title(f"{kind}:{change.what}")
            if title != change.what:
                return title
        return change.what


def _figure_table(named: _Names, figures: Sequence[Change]) -> str:
    rows = (
        f'<tr data-change="{text(change.record)} {text(change.what)}"><th scope="row">{named.record(change.record)}</th>'
        f"<td>{text(named.what(change))}</td>{_both(change)}</tr>"
        for change in figures
    )
    return table(
        ("Of", "What", "Before", "Now"), rows, "changes entries", "Changed figures and order numbers"
    )


def _caution_table(named: _Names, cautions: Sequence[Change]) -> str:
    rows = (
        f'<tr data-change="{text(change.record)}"><th scope="row">{named.record(change.record)}</th>'
        f"{_both(change)}</tr>"
        for change in cautions
    )
    return table(("Message", "Before", "Now"), rows, "changes entries", "Changed safety messages")


def _both(change: Change) -> str:
    return f"<td>{cell_name('Before')}{_old(change.before)}</td><td>{cell_name('Now')}{_new(change.now)}</td>"


def _old(content: str | None) -> str:
    return f"<del>{text(content)}</del>" if content is not None else _NOTHING


def _new(content: str | None) -> str:
    return f"<ins>{text(content)}</ins>" if content is not None else f"{_NOTHING} (withdrawn)"


def _words(fields: Sequence[str]) -> str:
    return ", ".join(name.replace("_", " ") for name in fields)
