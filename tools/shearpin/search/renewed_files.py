"""Files of an index that is renewed: those that are others than before, and the names of all."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence

from shearpin.search.cards import CardRow
from shearpin.search.made import Made
from shearpin.search.shards import card_file, term_file
from shearpin.search.term_files import TermFiles


def names(made: Made, terms: TermFiles, cards: int, lengths: Iterable[int]) -> dict[str, None]:
    """Return the names of all files of an index with these terms, so many files of cards, and words of these lengths."""
    others = (name for name in made.stamps if not name[1:].isdigit())
    return dict.fromkeys(
        [
            *others,
            *(f"t{number:04}" for number in range(len(terms.firsts))),
            *(f"c{number:03}" for number in range(cards)),
            *(f"w{length:02}" for length in lengths),
        ]
    )


def term_texts(
    made: Made, terms: TermFiles, lists: list[str], touched: list[str]
) -> Iterator[tuple[str, str]]:
    """Yield name and text of each script of terms that is another."""
    former = made.terms
    for number in range(len(terms.firsts)):
        start, end = terms.ends(number)
        here = terms.terms[start:end]
        if number < len(former.firsts) and terms.rows[number] == former.rows[number]:
            first, last = former.ends(number)
            if former.terms[first:last] == here and not _any_between(touched, here):
                continue
        yield term_file(number, terms, lists[start:end])


def card_texts(made: Made, cards: list[CardRow], per_file: int) -> Iterator[tuple[str, str]]:
    """Yield name and text of each script of cards that is another."""
    former, as_before = made.cards, per_file == made.head["cards"]
    for start in range(0, len(cards), per_file):
        end = start + per_file
        if not as_before or cards[start:end] != former[start:end]:
            yield card_file(start // per_file, per_file, cards)


def _any_between(terms: Sequence[str], others: Sequence[str]) -> bool:
    """Whether one of these terms is among others that follow one another in order."""
    return bool(others) and bisect_left(terms, others[0]) < bisect_left(terms, others[-1] + "\0")
