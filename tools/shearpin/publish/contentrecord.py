"""What an edition carries about its own content, for machines: enough to say later what another edition changed."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from enum import Enum
from typing import Any, Final

from shearpin.authoring.mentions import Renaming, renamed_data
from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.model.fields import Fields, Record
from shearpin.model.machines import Part, Plated
from shearpin.publish.faults import PublishError
from shearpin.site.interface import signal_word

FILE_NAME: Final = "edition.json"
FORMAT: Final = "shearpin-edition-1"
MAX_BYTES: Final = 64_000_000
_NOT_CONTENT: Final = frozenset({"review", "ignore", "sources", "formerly"})
_TEXTS: Final = ("id", "title", "number", "date", "issuer", "licence", "state", "language")
_SHORT: Final = 12  # hex digits: 48 bits tell a few thousand fields apart


@dataclass(frozen=True, slots=True)
class RecordContent:
    """One record: its title, and a digest of each of its fields."""

    title: str
    fields: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class EditionContent:
    """An edition: who issued what and when, every record, every figure and number, every safety message in full."""

    id: str
    title: str
    number: str
    date: str
    issuer: str
    licence: str
    state: str
    language: str
    records: Mapping[str, RecordContent]
    figures: Mapping[str, str]
    cautions: Mapping[str, str]
    files: Mapping[str, int] = field(default_factory=dict)


def content_of(packed: LinkedBook, edition_id: str) -> EditionContent:
    """Return the content of a packed book; keys are `kind:id`, those of figures `kind:id what`."""
    edition = packed.book.editions[edition_id]
    records = {
        f"{kind}:{record_id}": RecordContent(record.title, digests_of_fields(record))
        for (kind, record_id), record in packed.book.records()
        if kind != "edition"
    }
    cautions = {
        f"caution:{caution_id}": plain_text(
            packed,
            " ".join((f"{signal_word(packed.book, c.signal_word)}:", c.hazard, c.consequence, *c.avoidance)),
        )
        for caution_id, c in packed.book.cautions.items()
    }
    return EditionContent(
        edition_id, edition.title, edition.number, edition.date, edition.issuer, edition.licence,
        edition.state, edition.language, records, _figures(packed.book), cautions,
    )  # fmt: skip


def _figures(book: Book) -> dict[str, str]:
    """Return every figure of a machine or engine and every order number, as written."""
    found = {}
    for (kind, record_id), record in book.records():
        if isinstance(record, Plated):
            for name, entry in record.values.items():
                if name in book.values:
                    note = f" ({entry.note})" if entry.note else ""
                    found[f"{kind}:{record_id} {name}"] = f"{entry.is_}{note}"
        elif isinstance(record, Part):
            for plate, number in record.numbers.items():
                if plate in book.machines or plate in book.engines:
                    found[f"{kind}:{record_id} {plate}"] = number.number
    return found


def digests_of_fields(record: Record, formerly: Iterable[Renaming] = ()) -> dict[str, str]:
    """Return a digest of each field of a record, as if the records it mentions had other ids."""
    data = plain(record)
    for renaming in formerly:
        data, _ = renamed_data(record, data, renaming)
    digests = {}
    for name, info in type(record).model_fields.items():
        if name not in _NOT_CONTENT and name != "title" and getattr(record, name) not in (None, (), {}):
            text = json.dumps(data[info.alias or name], ensure_ascii=False, sort_keys=True)
            digests[info.alias or name] = hashlib.sha256(text.encode("utf-8")).hexdigest()[:_SHORT]
    return digests


def plain(value: Any) -> Any:
    """Return a record's value as plain data, each figure as it is written."""
    if isinstance(value, Fields):
        return {
            info.alias or name: plain(getattr(value, name)) for name, info in type(value).model_fields.items()
        }
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple | list):
        return [plain(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): plain(item) for key, item in value.items()}
    return value if value is None or isinstance(value, bool | int | str) else str(value)


def to_json(content: EditionContent) -> str:
    """Return the text of `edition.json`."""
    document = {"format": FORMAT, **asdict(content)}
    return json.dumps(document, ensure_ascii=False, sort_keys=True, indent=0, separators=(",", ":")) + "\n"


def from_json(raw: bytes, shown: str) -> EditionContent:
    """Read `edition.json`; raises `PublishError` for anything else."""
    try:
        document = json.loads(raw.decode("utf-8"))
        if document["format"] != FORMAT:
            raise ValueError
        records = {
            str(key): RecordContent(str(item["title"]), {str(k): str(v) for k, v in item["fields"].items()})
            for key, item in document["records"].items()
        }
        of = {name: str(document[name]) for name in _TEXTS}
        figures, cautions = (
            {str(k): str(v) for k, v in document[name].items()} for name in ("figures", "cautions")
        )
        files = {str(key): int(size) for key, size in document["files"].items()}
        return EditionContent(
            of["id"], of["title"], of["number"], of["date"], of["issuer"], of["licence"],
            of["state"], of["language"], records, figures, cautions, files,
        )  # fmt: skip
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise PublishError(f"{shown} is no content record of a published edition, or it is damaged") from None
