"""A new record as a commented file: what it must have, what it can have, and the ids that fit."""

from __future__ import annotations

import re
import textwrap
import typing
from collections import Counter
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final, get_args

from pydantic.fields import FieldInfo

from shearpin.authoring.examples import example
from shearpin.authoring.order import written_order
from shearpin.authoring.suggestions import Suggestions
from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook
from shearpin.model.fields import RefTo
from shearpin.model.kinds import KINDS, Kind

_COMMENT_WIDTH: Final = 100
_IDS_SHOWN: Final = 16

# What no page of the kind is of use without, though a record can be read without it.
_WANTED: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "symptom": ("said", "causes", "sources"),
        "cause": ("sources",),
        "test": ("before", "sources"),
        "procedure": ("before", "remedies", "finish", "sources"),
        "caution": ("sources",),
        "value": ("sources",),
        "figure": ("alt",),
        "machine": ("sources",),
        "engine": ("sources",),
        "system": ("sources",),
    }
)
_BLOCKS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "steps": "steps:\n  - do: <write one action>\n    # action: run-engine\n    # caution: id-of-a-caution\n    # confirm: how to tell that it is right\n",
        "finish": "finish:\n  - do: <write the function test>\n",
        "results": (
            "results:\n"
            "  - id: as-it-should\n    seen: <write what a sound machine shows>\n    otherwise: always\n"
            "    given: {write-the-cause-here: rarely}\n"
            "  - id: faulty\n    seen: <write what a faulty one shows>\n    otherwise: never\n"
            "    given: {write-the-cause-here: usually}\n    then: <write what to do next>\n"
        ),
        "causes": "causes:\n  - cause: write-the-cause-here\n    chance: sometimes\n",
        "avoidance": "avoidance:\n  - <write what to do as a command>\n",
    }
)  # fmt: skip


def skeleton(book: Book, kind: Kind, record_id: str) -> str:
    """Return the text of a new record: it can be read without a fault, and says in marks what waits to be written."""
    hints = typing.get_type_hints(kind.record, include_extras=True)
    by_name = {
        (info.alias or attribute): (hints[attribute], info)
        for attribute, info in kind.record.model_fields.items()
    }
    guessed = _guesses(book, kind, record_id)
    fitting = _Fitting(book, record_id)
    doc = " ".join((kind.record.__doc__ or "").split())
    pieces = [
        _comment(
            f"{kind.name.capitalize()}. {doc}", "Delete what you do not need. A line without # must stay."
        ),
        "\n",
    ]
    for name in written_order(kind.record):
        if name in ("ignore", "formerly"):
            continue
        annotation, info = by_name[name]
        pieces += _field(name, annotation, info, kind, guessed)
        pieces += fitting.comments(annotation, name)
        pieces.append("\n")
    return "".join(pieces).rstrip("\n") + "\n"


def _field(
    name: str, annotation: Any, info: FieldInfo, kind: Kind, guessed: Mapping[str, str]
) -> Iterator[str]:
    active = info.is_required() or name in _WANTED.get(kind.name, ()) or name == "review"
    if info.description and name != "title":
        yield _comment(info.description)
    if name == "review":
        text = "review: {state: draft}\n"
    elif name in guessed:
        text = f"{name}: {guessed[name]}\n"
    elif name in _BLOCKS:
        text = _BLOCKS[name]
    else:
        text = f"{name}: {example(annotation, name, info)}\n"
    yield text if active else "".join(f"# {line}\n" for line in text.splitlines())


class _Fitting:
    """The ids and words that fit the fields of one new record; each kind is listed once."""

    def __init__(self, book: Book, record_id: str) -> None:
        self._suggestions = Suggestions(book)
        self._record_id = record_id
        self._uses = Counter((kind, use.id) for use in LinkedBook(book).links.uses for kind in use.kinds)
        self._told: set[tuple[str, ...]] = set()

    def comments(self, annotation: Any, name: str) -> Iterator[str]:
        """Yield what fits a field: ids that share a word with the new one first, then the most used."""
        for kinds in _references(annotation):
            known = self._suggestions.ids(kinds)
            if not known or kinds in self._told:
                continue
            self._told.add(kinds)
            shown = sorted(known, key=lambda one: self._nearness(kinds, one))[:_IDS_SHOWN]
            folders = " and ".join(f"kb/{KINDS[kind].folder}/" for kind in kinds)
            more = f" … {len(known)} in all, in {folders}" if len(known) > len(shown) else ""
            yield _comment(f"{' or '.join(kinds)} ids: {', '.join(shown)}{more}")
        words = self._suggestions.words(name)
        if words:
            yield _comment(f"used so far: {', '.join(words)}")

    def _nearness(self, kinds: tuple[str, ...], one: str) -> tuple[int, int, str]:
        return -_shared(one, self._record_id), -sum(self._uses[kind, one] for kind in kinds), one


def _references(annotation: Any) -> Iterator[tuple[str, ...]]:
    """Yield the kinds that a field can name, in itself or in its parts one level down."""
    if isinstance(annotation, RefTo):
        yield annotation.kinds
    elif isinstance(annotation, type) and hasattr(annotation, "model_fields"):
        hints = typing.get_type_hints(annotation, include_extras=True)
        if annotation.__name__ != "AppliesTo":
            for attribute in annotation.model_fields:
                yield from _references(hints[attribute])
    else:
        seen: set[tuple[str, ...]] = set()
        for argument in get_args(annotation):
            for kinds in _references(argument):
                if kinds not in seen:
                    seen.add(kinds)
                    yield kinds


def _shared(one: str, other: str) -> int:
    return len(set(re.split("[-.]", one)) & set(re.split("[-.]", other)))


def _guesses(book: Book, kind: Kind, record_id: str) -> dict[str, str]:
    """Return what can be told from the names of other values: what is measured by the end, which plate by the beginning."""
    if kind.name != "value":
        return {}
    start, _, end = record_id.rpartition(".")
    quantities = [
        value.quantity.value for name, value in book.values.items() if name.rpartition(".")[2] == end
    ]
    plates = [value.plate.value for name, value in book.values.items() if name.rpartition(".")[0] == start]
    guessed = {"quantity": max(set(quantities), key=quantities.count)} if quantities else {}
    return guessed | ({"plate": max(set(plates), key=plates.count)} if plates else {})


def _comment(*paragraphs: str) -> str:
    lines = [
        line
        for text in paragraphs
        for line in textwrap.wrap(text, _COMMENT_WIDTH, break_on_hyphens=False, break_long_words=False)
    ]
    return "".join(f"# {line}\n" for line in lines)
