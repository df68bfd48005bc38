"""The whole book for other programs: one JSON object a line for each record, in the shape of `LINE_SCHEMA`.

Lines come in the order of kinds and ids and depend on nothing but the records, so that two exports of the same book are the
same bytes. They are made one at a time.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping
from typing import Any, Final

from shearpin.book.linked import LinkedBook
from shearpin.book.values import ResolvedValue
from shearpin.model.quantity import dual_text
from shearpin.model.translation import ORIGINAL
from shearpin.model.ucum import ucum_code
from shearpin.search.documents import record_documents

SHAPE: Final = 1
_STRING: Final = {"type": "string"}
_STRINGS: Final = {"type": "array", "items": _STRING}
_NUMBER_OR_NOT: Final = {"type": ["number", "null"]}
_TEXT_OR_NOT: Final = {"type": ["string", "null"]}


def _object(properties: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": dict(properties),
        "required": list(properties),
        "additionalProperties": False,
    }


LINE_SCHEMA: Final[Mapping[str, Any]] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "A record of a repair manual, as one line of a bulk export",
    **_object(
        {
            "shape": {"const": SHAPE, "description": "number of this shape; it changes when a field does"},
            "key": {"type": "string", "description": "kind/id: tells records of one book apart"},
            "kind": _STRING,
            "id": _STRING,
            "title": _STRING,
            "url": {"type": "string", "description": "the page, from the root of the site"},
            "language": {"type": "string", "description": "BCP 47"},
            "summary": _STRING,
            "said": {**_STRINGS, "description": "what people say at the counter"},
            "also": {**_STRINGS, "description": "other names"},
            "numbers": {**_STRINGS, "description": "part numbers, former ones included"},
            "text": {"type": "string", "description": "all other prose, a line for each text"},
            "machines": {**_STRINGS, "description": "ids of the machines it holds for"},
            "cautions": {
                **_STRINGS,
                "description": "ids of the safety messages its page must show, the gravest first: never show the text without them",
            },
            "links": {**_STRINGS, "description": "keys of the records it refers to"},
            "values": {
                "type": "array",
                "description": "of a value record: its figure for each machine that has one",
                "items": _object(
                    {
                        "machine": _STRING,
                        "text": {
                            "type": "string",
                            "description": "as people read it, with the other system of units",
                        },
                        "quantity": _STRING,
                        "unit": _TEXT_OR_NOT,
                        "ucum": {**_TEXT_OR_NOT, "description": "the unit as UCUM writes it (ucum.org)"},
                        "low": _NUMBER_OR_NOT,
                        "high": _NUMBER_OR_NOT,
                        "basis": _TEXT_OR_NOT,
                        "source": _TEXT_OR_NOT,
                        "note": _TEXT_OR_NOT,
                    }
                ),
            },
            "review": _object({"state": _STRING, "by": _TEXT_OR_NOT, "on": _TEXT_OR_NOT}),
            "digest": {
                "type": "string",
                "description": "of the record's file, hexadecimal; changes with any byte",
            },
        }
    ),
}
"""JSON Schema (draft 2020-12) of one line."""


def records_of(linked: LinkedBook, kinds: Collection[str] = ()) -> Iterator[dict[str, Any]]:
    """Yield every record as `LINE_SCHEMA` has it; `kinds` leaves only these, none leaves all."""
    everywhere = sorted(linked.applicability.everywhere)
    for document in record_documents(linked):
        if kinds and document.kind not in kinds:
            continue
        key = (document.kind, document.id)
        fields = document.fields
        review = linked.reviews.of(*key)
        yield {
            "shape": SHAPE,
            "key": f"{document.kind}/{document.id}",
            "kind": document.kind,
            "id": document.id,
            "title": document.title,
            "url": document.url,
            "language": ORIGINAL,
            "summary": fields.get("summary", ""),
            "said": _lines(fields, "said"),
            "also": _lines(fields, "also"),
            "numbers": _lines(fields, "numbers"),
            "text": fields.get("body", ""),
            "machines": everywhere if document.machines is None else sorted(document.machines),
            "cautions": _cautions(linked, *key),
            "links": _links(linked, *key),
            "values": _values(linked, document.id) if document.kind == "value" else [],
            "review": {"state": review.state.value, "by": review.by, "on": review.on and str(review.on)},
            "digest": linked.book.file_of[key].digest.hex(),
        }


def as_line(record: Mapping[str, Any]) -> str:
    """Return one line of newline-delimited JSON, its end included."""
    return json.dumps(record, ensure_ascii=False, separators=(",", ":")) + "\n"


def as_bulk_lines(record: Mapping[str, Any], index: str) -> str:
    """Return the two lines by which a bulk request of OpenSearch's kind puts a record into `index`."""
    return as_line({"index": {"_index": index, "_id": record["key"]}}) + as_line(record)


def _lines(fields: Mapping[str, str], name: str) -> list[str]:
    return fields[name].split("\n") if name in fields else []


def _cautions(linked: LinkedBook, kind: str, record_id: str) -> list[str]:
    if kind not in ("procedure", "test", "symptom"):
        return []
    return [caution.id for caution in linked.safety.required(kind, record_id)]


def _links(linked: LinkedBook, kind: str, record_id: str) -> list[str]:
    return [f"{to_kind}/{to_id}" for to_kind, to_id in linked.links.targets((kind, record_id))]


def _values(linked: LinkedBook, name: str) -> list[dict[str, Any]]:
    found = []
    for machine_id in linked.values.machines_with(name):
        value = linked.values.resolve(name, machine_id)
        if not isinstance(value, ResolvedValue):
            continue
        quantity, entry = value.quantity, value.entry
        low, high = quantity.bounds_in(quantity.unit)
        found.append(
            {
                "machine": machine_id,
                "text": dual_text(quantity),
                "quantity": quantity.kind.value,
                "unit": quantity.unit,
                "ucum": ucum_code(quantity.kind, quantity.unit),
                "low": low,
                "high": high,
                "basis": entry.basis.value if entry.basis else None,
                "source": entry.source,
                "note": entry.note,
            }
        )
    return found
