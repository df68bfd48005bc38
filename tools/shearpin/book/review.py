"""Reviews: each tied by a digest to what was read, so that it lapses when the record says something else."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum, StrEnum
from functools import cache, lru_cache
from typing import Any, Final

from shearpin.book.book import Book, Key
from shearpin.book.gist import Reviewed
from shearpin.book.safety import Safety
from shearpin.book.values import quantity_of
from shearpin.model.fields import Chance, Fields
from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.machines import Value, ValueEntry
from shearpin.model.quantity import Quantity, QuantityError, parse_quantity

_DIGITS: Final = 16  # 64 bits: two texts that meet by chance are out of the question; it is no signature


class ReviewState(StrEnum):
    """How far a reader may take a record as read by somebody who knows."""

    REVIEWED = "reviewed"  # and what was read is what stands there
    LAPSED = "lapsed"  # it has changed since
    UNBOUND = "unbound"  # reviewed, but nobody can tell whether this text
    DRAFT = "draft"  # nobody has reviewed it
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class Standing:
    """The state of review of one record, by which role and when."""

    state: ReviewState
    by: str | None = None
    on: str | None = None

    def __reduce__(self) -> tuple[type[Standing], tuple[object, ...]]:
        # That of every record is kept: quicker than by its fields.
        return Standing, (self.state, self.by, self.on)


_DRAFT: Final = Standing(ReviewState.DRAFT)


@lru_cache(maxsize=512)
def standing_without_digest(review: Reviewed | None) -> Standing | None:
    """Return the standing that follows from a review alone; None where it hangs on what was read."""
    if review is None or review.state == "draft":
        return _DRAFT
    if review.state == "withdrawn":
        return Standing(ReviewState.WITHDRAWN, review.by, review.on)
    return Standing(ReviewState.UNBOUND, review.by, review.on) if review.digest is None else None


class Reviews:
    """The standing of every record of a book, each worked out when first asked for."""

    def __init__(self, book: Book, safety: Safety) -> None:
        self._book = book
        self._safety = safety
        self._known: dict[Key, Standing] = {}

    def of(self, kind: str, record_id: str) -> Standing:
        """Return the standing of a record; one that the book does not have, or cannot read, is a draft."""
        key = (kind, record_id)
        if key not in self._known:
            self._known[key] = self._work_out(key)
        return self._known[key]

    def _work_out(self, key: Key) -> Standing:
        review = self._book.gist(*key).review
        found = standing_without_digest(review)
        if found is not None or review is None:
            return found or _DRAFT
        holds = review.digest == self.digest(*key)
        return Standing(ReviewState.REVIEWED if holds else ReviewState.LAPSED, review.by, review.on)

    def digest(self, kind: str, record_id: str) -> str:
        """Return the digest of what a reviewer of this record reads; raises `KeyError` where there is none.

        It covers every field but `review`, as meant and not as written: figures in their canonical spelling, blanks
        and defaults left out, so that `shearpin format` changes nothing. It covers the drawing of a figure, and which
        cautions a page must show, for no other review would notice that one is gone. It does not cover the text of
        those cautions, nor the figures of machines that a page shows: they are reviewed where they are recorded, and
        say themselves when that review has lapsed.
        """
        record = self._book.get(kind, record_id)
        if record is None:
            raise KeyError(f"{kind}/{record_id}")
        content: dict[str, Any] = {"kind": kind, "id": record_id, "record": dict(self._fields(record))}
        if kind in ("procedure", "test", "symptom"):
            content["cautions"] = sorted(item.id for item in self._safety.required(kind, record_id))
        if kind == "figure":
            content["drawing"] = self._drawing(record_id)
        text = json.dumps(content, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
        return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:_DIGITS]

    def _fields(self, owner: Fields) -> Iterator[tuple[str, Any]]:
        for name, default in _defaults(type(owner)).items():
            value = getattr(owner, name)
            if name == "review" or value == default:
                continue
            if isinstance(owner, Value) and name == "band":
                yield name, _figure(owner, value)
            elif name == "values" and isinstance(value, dict):
                yield name, {inner: self._entry(inner, entry) for inner, entry in value.items()}
            else:
                yield name, self._meaning(value)

    def _entry(self, name: str, entry: ValueEntry) -> dict[str, Any]:
        kind = self._book.values.get(name)
        quantity = quantity_of(kind, entry) if kind is not None else None
        return dict(self._fields(entry)) | ({"is_": str(quantity)} if quantity is not None else {})

    def _meaning(self, value: Any) -> Any:
        if type(value) is str:
            return " ".join(value.split())
        if isinstance(value, Fields):
            return dict(self._fields(value))
        if isinstance(value, dict):
            return {str(name): self._meaning(inner) for name, inner in value.items()}
        if isinstance(value, tuple):
            return [self._meaning(inner) for inner in value]
        if isinstance(value, (Quantity, Chance)):
            return str(value)
        return value.value if isinstance(value, Enum) else value

    def _drawing(self, figure_id: str) -> str:
        path = self._book.kb / "figures" / f"{figure_id}.svg"
        if os.path.islink(path) or not os.path.isfile(path):
            return ""
        try:
            with open(path, "rb") as stream:
                drawing = stream.read(MAX_BYTES)
        except OSError:
            return ""
        return hashlib.sha256(drawing.replace(b"\r\n", b"\n")).hexdigest()


@cache
def _defaults(owner: type[Fields]) -> dict[str, Any]:
    return {
        name: owner.model_fields[name].get_default(call_default_factory=True)
        for name in sorted(owner.model_fields)
    }


def _figure(kind: Value, text: str) -> str:
    try:
        return str(parse_quantity(text, kind.quantity))
    except QuantityError:
        return " ".join(text.split())
