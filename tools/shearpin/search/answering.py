"""Which figure of a value a hit shows, and what is answered above the hits: never the figure of another machine."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING, Final

from shearpin.search.lists import Fit, Lists

if TYPE_CHECKING:
    from shearpin.search.ranking import Ranked

_ASKS: Final = ("value", "do-value")


def answers_of(lists: Lists, number: int) -> range:
    """Return the numbers of the answers for some plates only of the record with this number; they follow it."""
    last = number + 1
    while last < lists.total() and lists.is_answer(last):
        last += 1
    return range(number + 1, last)


def shown_of(lists: Lists, number: int, fit: Fit | None, named: Collection[int]) -> int:
    """Return the document whose words a hit shows: of a record with answers, the one for the machine.

    A query that names another plate than that of the machine wants all of them.
    """
    if fit is None or lists.is_answer(number):
        return number
    answers = answers_of(lists, number)
    own = next((answer for answer in answers if fit[0][answer] in fit[1]), None)
    wanted = own in named or not any(answer in named for answer in answers)
    return own if own is not None and wanted else number


def value_answer(lists: Lists, found: Ranked) -> str | None:
    """The first hit as an answer, where a value is asked for and no word of the query leaves a doubt which one.

    Where the figure differs by plate and no machine is known: a line for each. A machine that has none of the figures, or
    another than is asked for, gets no answer.
    """
    number = next(iter(found.hits), None)
    asked = found.plan.intent in _ASKS and not found.plan.unknown
    if number is None or not asked or lists.kind(number) != "value" or number not in found.sure:
        return None
    fit, hit = found.fit, found.hits[number]
    if fit is not None and fit[0][number] not in {0, *fit[1]}:
        return None
    shown = shown_of(lists, number, fit, found.named)
    answers = () if lists.is_answer(shown) else answers_of(lists, shown)
    if not answers:
        return f"{hit.title}: {hit.excerpt}"
    cards = [lists.card(answer) for answer in answers]
    lines = [f"{card.title.removeprefix(f'{hit.title}, ')}: {card.excerpt}" for card in cards]
    return "\n".join([f"{hit.title}:", *lines]) if fit is None else None
