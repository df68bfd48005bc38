"""The box to type a search into, with an example of what this book can be asked."""

from __future__ import annotations

from collections import Counter

from shearpin.model.translation import ORIGINAL
from shearpin.site.html import text
from shearpin.site.view import View

SEARCH_BOX = (
    '<form class="search-form" data-search role="search" action="{root}search.html" method="get">'
    '<label for="{identifier}">What is wrong, or what do you need?</label>'
    '<input id="{identifier}" type="search" name="q" autocomplete="off" spellcheck="false"{example}>'
    '<button type="submit">Search</button></form>'
)


def search_box(view: View, example: str) -> str:
    """Return the form; without an example the box is empty."""
    shown = f' placeholder="{text(example)}"' if example else ""
    return SEARCH_BOX.format(root=view.root, identifier="q", example=shown)


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
