"""The box to search in, with an example from the book of what can be typed."""

from __future__ import annotations

from collections import Counter

from shearpin.model.translation import ORIGINAL
from shearpin.site.html import text
from shearpin.site.view import View

_BOX = (
    '<form class="search-form" data-search role="search" action="{root}search.html" method="get">'
    '<label for="q">What is wrong, or what do you need?</label>'
    '<input id="q" type="search" name="q" autocomplete="off" spellcheck="false"{example}>'
    '<button type="submit">Search</button></form>'
)


def search_box(view: View, example: str) -> str:
    """Return the form, which leads to the search page."""
    shown = f' placeholder="{text(example)}"' if example else ""
    return _BOX.format(root=view.root, example=shown)


def complaint(view: View) -> str:
    """Return a complaint as an example of what can be typed: of the symptom with most causes, in its book's own language."""
    chosen = max(view.book.symptoms.values(), key=lambda symptom: len(symptom.causes), default=None)
    if chosen is None:
        return ""
    said = chosen.said if view.book.language == ORIGINAL else ()
    return next((words for words in said if len(words.split()) > 2), chosen.title)


def figure(view: View) -> str:
    """Return the name of a figure as an example: of the value that most machines and engines record."""
    recorded = Counter(
        name
        for owners in (view.book.machines, view.book.engines)
        for owner in owners.values()
        for name in owner.values
    )
    names = [name for name, _ in recorded.most_common() if name in view.book.values]
    return view.book.values[names[0]].title.replace(",", "") if names else ""
