"""The inverted index in memory: every term's postings, as both the Whoosh index and the browser's shards hold them."""

from __future__ import annotations

from array import array
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, groupby
from pathlib import Path
from typing import Final, NamedTuple

from shearpin.search import tables
from shearpin.search.blocks import in_order
from shearpin.search.concepts import Concepts, build_concepts
from shearpin.search.counts import PAIR_MARK
from shearpin.search.document import Document, Synonym, how_many
from shearpin.search.impacts import CODE_BITS, rounded_idf
from shearpin.search.inverting import inverted
from shearpin.search.kept import Counted, count_all
from shearpin.search.keptlists import Lists
from shearpin.search.words import Analyser

# Shorter words are not suggested as corrections.
_MIN_WORD = 3

# Words of questions and of negation may be misspelt as well, whether or not the book uses them.
_COMMON_WORDS = frozenset().union(tables.STOP_WORDS, tables.NEGATIONS, *tables.INTENT_WORDS.values())


class Postings(NamedTuple):
    """Where a term occurs: record number · 128 + code (see `impacts.POINTS`), ascending.

    `pair_only` when the term is nowhere one word, only two neighbouring ones. A term without postings is a word that
    the synonyms use and the book does not. A named tuple, for a large book has a hundred thousand.
    """

    idf: int
    packed: Sequence[int]
    pair_only: bool = False


NOWHERE: Final = Postings(1, ())
"""Those of a word that only synonyms use."""


@dataclass(frozen=True, slots=True)
class IndexModel:
    """Everything the search knows, ready to be written.

    `documents` are in the order of their numbers, NOBODY at those that none has. `words` are the book's words as written with how common each is
    (bits of the number of records), by length. `machine_sets` gives each record the number of its set of machines, 0
    for all machines; `machines` gives each machine the numbers of the sets it is in. `digests` tell what each document says.
    """

    documents: tuple[Document, ...]
    postings: Mapping[str, Postings]
    concepts: Concepts
    words: Mapping[int, tuple[tuple[str, int], ...]]
    machine_sets: tuple[int, ...]
    machines: Mapping[str, tuple[int, ...]]
    digests: Sequence[bytes] = ()


def build_model(
    documents: Iterable[Document], synonyms: Iterable[Synonym], cache_folder: Path | None = None
) -> IndexModel:
    """Analyse and invert `documents`; `cache_folder` keeps what need not be done again next time."""
    analyser = Analyser()
    ordered = in_order(documents, analyser)
    concepts = build_concepts(synonyms, analyser)
    return invert(ordered, count_all(ordered, concepts, cache_folder), concepts, analyser)


def invert(
    documents: tuple[Document, ...], counted: Counted, concepts: Concepts, analyser: Analyser
) -> IndexModel:
    """Turn what each record says into where each term occurs."""
    means = counted.totals.means()
    lists, _ = inverted(counted, means)
    counted.keep(means, lists)
    return model_of(documents, counted, lists, concepts, analyser)


def model_of(
    documents: tuple[Document, ...],
    counted: Counted,
    lists: Lists,
    concepts: Concepts,
    analyser: Analyser,
) -> IndexModel:
    """Name what the lists hold; the counts are given up."""
    counted.forget_rows()  # a quarter of what is held here, and all is in the lists
    postings = _named_postings(tuple(counted.terms), lists, how_many(documents))
    spoken = spoken_words(counted, concepts, analyser)
    for word in concepts.words:
        postings.setdefault(spoken[word], NOWHERE)
    return IndexModel(
        documents,
        {term: postings[term] for term in sorted(postings)},
        concepts.without_words_of(spoken.keys()),
        words_by_length(spoken, {term: len(found.packed) for term, found in postings.items()}),
        *machine_sets(documents),
        counted.digests,
    )


def spoken_words(counted: Counted, concepts: Concepts, analyser: Analyser) -> dict[str, str]:
    """Return the plain words that records have, and those of synonyms, as written, with their terms."""
    spoken = dict(chain.from_iterable([counted.plain[number] for number in counted.totals.words()]))
    spoken.update((word, analyser.stem(word)) for word in concepts.words)
    return spoken


def _named_postings(terms: Sequence[str], lists: Lists, total: int) -> dict[str, Postings]:
    words: dict[str, array[int]] = {}
    pairs: dict[str, array[int]] = {}
    for term, packed in zip(terms, lists, strict=True):
        if packed and term.startswith(PAIR_MARK):
            pairs[term[len(PAIR_MARK) :]] = packed
        elif packed:
            words[term] = packed
    for term in words.keys() & pairs.keys():
        words[term] = _merge(words[term], pairs.pop(term))
    postings = {term: Postings(rounded_idf(total, len(packed)), packed) for term, packed in words.items()}
    for term, packed in pairs.items():
        postings[term] = Postings(rounded_idf(total, len(packed)), packed, pair_only=True)
    return postings


def posted(
    term: str, numbers: Mapping[str, int], list_of: Callable[[int], array[int]]
) -> tuple[array[int], bool] | None:
    """Return the postings of one term, from the lists of all by their numbers, and whether it is a pair only.

    None where it occurs nowhere.
    """
    number, of_pair = numbers.get(term), numbers.get(PAIR_MARK + term)
    words = list_of(number) if number is not None and not term.startswith(PAIR_MARK) else None
    pairs = list_of(of_pair) if of_pair is not None else None
    if words:
        return (_merge(words, pairs) if pairs else words), False
    return (pairs, True) if pairs else None


def _merge(first: array[int], second: array[int]) -> array[int]:
    """Postings of both lists; where a record is in both, the higher code."""
    by_document = {posting >> CODE_BITS: posting for posting in sorted(first + second)}
    return array("I", by_document.values())


def how_common(records: int) -> int:
    """Return how common a word is that so many records have, from 0 to 9."""
    return min(9, records.bit_length())


def words_by_length(
    words: Mapping[str, str], records: Mapping[str, int]
) -> dict[int, tuple[tuple[str, int], ...]]:
    """Words with their terms, as words with how common they are; `records` says how many have a term."""
    rated = [
        (len(word), word, how_common(records.get(term, 0)))
        for word, term in words.items()
        if len(word) >= _MIN_WORD
    ]
    common = {word for word in _COMMON_WORDS if len(word) >= _MIN_WORD and word.isalpha()}
    rated = [row for row in rated if row[1] not in common]
    rated += [(len(word), word, tables.COMMON_WORD) for word in common]
    rated.sort()
    return {
        length: tuple((word, rate) for _, word, rate in group)
        for length, group in groupby(rated, key=lambda item: item[0])
    }


def machine_sets(documents: Iterable[Document]) -> tuple[tuple[int, ...], dict[str, tuple[int, ...]]]:
    """Return for each document the number of its set of machines, 0 for all, and for each machine the numbers of its sets.

    The commonest set has the lowest number, so that it takes the fewest characters."""
    sets = [None if d.machines is None else tuple(sorted(d.machines)) for d in documents]
    counts = Counter(found for found in sets if found is not None)
    ranked = sorted(counts, key=lambda found: (-counts[found], found))
    numbers = {found: number for number, found in enumerate(ranked, start=1)}
    machines: dict[str, list[int]] = {}
    for found, number in numbers.items():
        for machine in found:
            machines.setdefault(machine, []).append(number)
    return (
        tuple(0 if found is None else numbers[found] for found in sets),
        {machine: tuple(found) for machine, found in sorted(machines.items())},
    )
