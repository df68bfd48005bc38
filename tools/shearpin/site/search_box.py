"""The search boxes of the front page and the search page, with what one may ask of this book."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final, TypeVar

from shearpin.model.fields import Record
from shearpin.model.translation import ORIGINAL
from shearpin.site.html import text
from shearpin.site.view import View

_R = TypeVar("_R", bound=Record)

_BOX: Final = (
    '<form class="search-form" data-search role="search" action="{root}search.html" method="get">'
    '<label for="q">What is wrong, or what do you need?</label>'
    '<input id="q" type="search" name="q" autocomplete="off" spellcheck="false"{example}>'
    '<button type="submit">Search</button></form>'
)


def complaint_box(view: View) -> str:
    """Return the box with a complaint in it."""
    return _box(view, _example(view, view.book.symptoms, lambda symptom: symptom.said))


def value_box(view: View) -> str:
    """Return the box with a question for a value in it."""
    return _box(view, _example(view, view.book.values, lambda value: value.also))


def _box(view: View, example: str) -> str:
    shown = f' placeholder="{text(example)}"' if example else ""
    return _BOX.format(root=view.root, example=shown)


def _example(view: View, records: Mapping[str, _R], spoken: Callable[[_R], Sequence[str]]) -> str:
    """Return how people say the first record, by title; nothing for no records.

    What people say is not translated, so another language shows the title.
    """
    first = min(records.values(), key=lambda record: record.title, default=None)
    if first is None:
        return ""
    said = spoken(first) if view.book.language == ORIGINAL else ()
    return next(iter(said), first.title)
