"""Finds the symptom that is meant: by its id, or by words when the search leaves no doubt."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from contextlib import closing
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, todays_id

_CLEAR_LEAD: Final = 1.25  # the best must score so many times the second best to be taken without asking
_CLEAR_WORDS: Final = 2
_SHOWN: Final = 4


def find_symptom(linked: LinkedBook, words: Sequence[str], machine: str | None) -> str:
    """Return the id of a symptom; raises `UserError` with the nearest ones when it is not clear which is meant."""
    text = todays_id(linked, "symptom", " ".join(words))
    if text in linked.book.symptoms:
        return text
    advice = did_you_mean(text, linked.book.symptoms) if "-" in text and " " not in text else None
    if advice:
        raise UserError(f"there is no symptom `{text}`; {advice}")
    return _by_words(linked, text, machine)


def _by_words(linked: LinkedBook, text: str, machine: str | None) -> str:
    from shearpin.search.cache import index_of
    from shearpin.search.ranking import rank

    with closing(index_of(linked.book.kb)) as index:
        found = rank(index, text, machine, 20, kinds=("symptom",), fitting=True)
    hits = [hit for hit in found.hits.values() if hit.id in linked.book.symptoms]
    if not hits:
        raise UserError(f"no symptom is found by “{text}”; `shearpin find` searches the whole book")
    is_lead = len(hits) == 1 or hits[0].score >= _CLEAR_LEAD * hits[1].score
    # A guessed spelling, or one word among many pages, is no complaint that a repair may be built on.
    is_clear = (
        found.plan.corrected is None and sum(not unit.weak for unit in found.plan.units) >= _CLEAR_WORDS
    )
    if not (is_lead and is_clear):
        nearest = "".join(f"\n  {hit.id}  {hit.title}" for hit in hits[:_SHOWN])
        raise UserError(f"“{text}” may be one of several symptoms; name one by its id:{nearest}")
    print(f"taken as: {hits[0].title} ({hits[0].id})", file=sys.stderr)
    return hits[0].id
