"""Which number each document of an index has: documents of one matter follow one another, and one more moves few others.

The lists of an index hold the distances between numbers. Were these without a gap, one document more would move all behind it,
and a hundred thousand lists would be others. So now and then a document begins a block: its number is the next multiple of
a step, and those that nobody has before it take up what is added. Some blocks begin at multiples of a longer step, which takes up what a
block before it grows by. Which one begins a block its name alone decides, so an index that was made anew after an edit is
that of a clean build.
"""

from __future__ import annotations

import zlib
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import chain
from typing import Any, Final

from shearpin.search import tables
from shearpin.search.document import ANSWER_MARK, NOBODY, Document, is_answer, kind_rank
from shearpin.search.words import Analyser

_RARITY: Final = 0.003
"""A word in fewer titles than this part of the records is a rarity."""

_NO_MATTER: Final = tables.INTENT_WORDS["do"] | tables.INTENT_WORDS["test"] | {"will"}

_BLOCK: Final = 128
"""One in so many documents begins a block."""
_STEP: Final = 32
"""Blocks begin at multiples of it: one new document in so many moves what follows its block, and a tenth of all numbers is free."""
_GREAT_BLOCK: Final = 8
"""One block in so many begins at a multiple of the longer step: what follows it is hardly ever moved."""
_GREAT_STEP: Final = 256


def in_order(documents: Iterable[Document], analyser: Analyser) -> tuple[Document, ...]:
    """Return documents in the order of their numbers, NOBODY at those that none has.

    Records of one matter are next to one another, then by kind and id.
    Hits of one query then lie close together: their cards are in few of the browser's files, and their numbers differ
    by little and take few characters. The matter is told by the words of the title: first those that titles of the
    most kinds share ("auger" rather than "replace" or "slips"), of these the rarest that is not a rarity.
    Answers for some plates follow their record at once.
    """
    found = list(documents)
    order = order_of(found, [title_terms(document, analyser) for document in found])
    return tuple([NOBODY if place is None else found[place] for place in order])


def order_of(documents: Sequence[Document], titles: Sequence[Collection[str]]) -> list[int | None]:
    """Return for each number the place of the document that has it; None where nobody has. `titles` are the terms of each."""
    counts = Counter(chain.from_iterable(titles))
    kinds: dict[str, set[str]] = {term: set() for term in counts}
    for document, terms in zip(documents, titles, strict=True):
        for term in terms:
            kinds[term].add(document.kind)
    rarity = len(documents) * _RARITY
    rank = {term: (-len(kinds[term]), count < rarity, count, term) for term, count in counts.items()}

    def key(number: int) -> tuple[Any, ...]:
        document = documents[number]
        record_id, _, answer = document.id.partition(ANSWER_MARK)
        ranks = sorted([rank[term] for term in titles[number]])
        return ranks, kind_rank(document.kind), record_id, answer

    return list(_in_blocks(sorted(range(len(documents)), key=key), documents))


def _in_blocks(places: Iterable[int], documents: Sequence[Document]) -> Iterator[int | None]:
    number = 0
    for place in places:
        step = _step_before(documents[place])
        if step:
            free = -number % step
            yield from [None] * free
            number += free
        yield place
        number += 1


def _step_before(document: Document) -> int:
    """Return of what the number of a document is a multiple, where it begins a block; else nothing."""
    if is_answer(document):
        return 0  # it must follow its record at once
    rest = zlib.crc32(f"{document.kind}/{document.id}".encode(errors="surrogatepass")) % (
        _BLOCK * _GREAT_BLOCK
    )
    return (_STEP if rest else _GREAT_STEP) if rest % _BLOCK == 0 else 0


def title_terms(document: Document, analyser: Analyser) -> frozenset[str]:
    """Return the terms of a title by which its document is sorted."""
    tokens, _ = analyser.tokens(document.fields.get("title", document.title).split())
    said = (token for token in tokens if token.kind != "not" and token.raw not in _NO_MATTER)
    return frozenset(token.term for token in said)
