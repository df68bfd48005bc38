"""The index after an edit: made from the last one, of which only what the changed records say is made anew.

It is the same to the byte as one made afresh. Records of which other documents say more than the title, as a value shows the
figures that machines hold, are not renewed so, nor is a record with another title or for other machines.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.search.cards import card_row, cards_per_file
from shearpin.search.concepts import build_concepts
from shearpin.search.counts import PAIR_MARK
from shearpin.search.document import Document
from shearpin.search.documents import some_documents, synonyms_of
from shearpin.search.exporting import put_files
from shearpin.search.inverting import codes_of, inverted
from shearpin.search.kept import count_again
from shearpin.search.made import Made, can_be_made_again, counts_digest, made_before, pages_digest, stamps_of
from shearpin.search.model import (
    NOWHERE,
    Postings,
    how_common,
    mean_lengths,
    posted,
    spoken_words,
    used_words,
    words_by_length,
)
from shearpin.search.shards import card_file, head_file, head_of_files, term_file, word_files, word_lengths
from shearpin.search.term_files import TermFiles, cut, packed_list
from shearpin.search.words import Analyser

_FEW: Final = 20
_SAY_MORE: Final = frozenset({"machine", "engine", "value"})
"""Kinds of which other documents show more than a title."""


def renewed_index(linked: LinkedBook, site: Path, cache_folder: Path, before: Path | None) -> int | None:
    """Write the index of a book into the folder `site` from that of the site `before`, or from the one that is there.

    Returns how many files it has; None, with nothing written, where it must be made afresh.
    """
    made = made_before(cache_folder) if can_be_made_again(linked) else None
    if made is None or not made.holds_in(before or site) or pages_digest(linked) != made.pages:
        return None
    changed = _changed(made, linked)
    if changed is None:
        return None
    if not changed:
        return len(put_files((), made.stamps, site, before))
    documents = {
        made.records[_name(key)][1]: document for key, document in some_documents(linked, changed).items()
    }
    if not all(_is_in_place(made, *each) for each in documents.items()):
        return None
    renewal = _Renewal(made, documents, linked, cache_folder)
    if not renewal.is_possible:
        return None
    texts, now = renewal.renew()
    now.records |= {
        _name(key): (linked.book.file_of[key].digest, made.records[_name(key)][1]) for key in changed
    }
    files = put_files(texts.items(), now.stamps.keys() - texts.keys(), site, before)
    replace(now, stamps=stamps_of(files)).keep(cache_folder)
    return len(files)


def _changed(made: Made, linked: LinkedBook) -> list[Key] | None:
    """Return the records whose files are others; None where more is different, or too much for this."""
    files = linked.book.file_of
    keys = list(linked.book.all_keys())
    if len(keys) != len(made.records) or any(_name(key) not in made.records for key in keys):
        return None
    changed = [key for key in keys if made.records[_name(key)][0] != files[key].digest]
    return changed if len(changed) <= _FEW and all(kind not in _SAY_MORE for kind, _ in changed) else None


def _name(key: Key) -> str:
    return "/".join(key)


def _is_in_place(made: Made, number: int, document: Document) -> bool:
    """Whether a document is found, sorted and fitted to machines as the one before."""
    row, former = card_row(document, made.head["folders"]), made.cards[number]
    return (row[0], row[1], row[3]) == (former[0], former[1], former[3]) and document.machines == made.fits(
        number
    )


class _Renewal:
    """Makes anew what some documents, by their number, change in an index."""

    def __init__(
        self, made: Made, documents: Mapping[int, Document], linked: LinkedBook, cache_folder: Path
    ) -> None:
        self._made, self._documents = made, documents
        self._analyser = Analyser()
        self._concepts = build_concepts(synonyms_of(linked), self._analyser)
        self._counted = count_again(documents, self._concepts, cache_folder)
        self._total = len(made.cards)
        earlier = self._counted.earlier
        self.is_possible = (
            bool(self._counted.rows)
            and counts_digest(earlier.digests) == made.counts
            and self._means() == earlier.means
        )

    def _means(self) -> tuple[float, ...]:
        return mean_lengths([row[0] for row in self._counted.rows])

    def renew(self) -> tuple[dict[str, str], Made]:
        """Return the files that are others, by name, and how the index is made now; of the rest `stamps` has the names alone."""
        made, counted = self._made, self._counted
        earlier = counted.earlier
        as_before = used_words(r for n, r in enumerate(counted.rows) if n not in self._documents)
        said = as_before | used_words(earlier.rows[earlier.digests[number]] for number in self._documents)
        touched = self._touched()
        self._lists = inverted(counted, earlier.means)
        counted.keep(earlier.means, self._lists)
        now = as_before | used_words(counted.rows[number] for number in self._documents)
        self._spoken = spoken_words(counted, now, self._concepts, self._analyser)
        self._only_said = {self._spoken[word] for word in self._concepts.words}
        terms, with_term, rates_differ = self._terms(touched)
        texts = dict(self._term_texts(terms, touched))
        cards, per_file = list(made.cards), 0
        for number, document in self._documents.items():
            cards[number] = card_row(document, made.head["folders"])
        per_file = cards_per_file(cards)
        texts |= dict(self._card_texts(cards, per_file))
        lengths = made.head["words"]
        if rates_differ or now != said:
            words = words_by_length(self._spoken, dict(zip(terms.terms, with_term, strict=True)))
            texts |= dict(word_files(words))
            lengths = word_lengths(words)
        head = {**made.head, **head_of_files(terms, per_file, lengths)}
        texts |= dict([head_file(head)])
        counts = counts_digest(counted.digests)
        others = [name for name in made.stamps if not name[1:].isdigit() or name[0] == "m"]
        names = [
            *others,
            *(f"t{number:04}" for number in range(len(terms.firsts))),
            *(f"c{number:03}" for number in range(-(-len(cards) // per_file))),
            *(f"w{length:02}" for length in lengths),
        ]
        return texts, replace(
            made, counts=counts, terms=terms, records_with=with_term, cards=cards, head=head,
            stamps=dict.fromkeys(names, (0, 0, 0)),
        )  # fmt: skip

    def _touched(self) -> list[str]:
        """Return in order the terms that the documents said and say otherwise now: more or less often, or not at all."""
        counted = self._counted
        earlier = counted.earlier
        numbers: set[int] = set()
        for number in self._documents:
            before = set(codes_of(earlier.rows[earlier.digests[number]], earlier.means))
            now = set(codes_of(counted.rows[number], earlier.means))
            numbers.update(term for term, _ in before ^ now)
        names = list(counted.terms)
        return sorted({names[number].removeprefix(PAIR_MARK) for number in numbers})

    def _posted(self, term: str) -> Postings | None:
        found = posted(term, self._counted.terms, self._lists, self._total)
        return NOWHERE if found is None and term in self._only_said else found

    def _terms(self, touched: Iterable[str]) -> tuple[TermFiles, array[int], bool]:
        """Return the terms as they are cut now, how many records have each, and whether a word is as common as another now."""
        former = self._made.terms
        terms, sizes = list(former.terms), array("I", former.sizes)
        with_term = array("I", self._made.records_with)
        rates_differ = False
        for term in touched:
            found = self._posted(term)
            place = bisect_left(terms, term)
            is_there = place < len(terms) and terms[place] == term
            before = with_term[place] if is_there else 0
            rates_differ = rates_differ or how_common(before) != how_common(len(found.packed) if found else 0)
            if is_there:
                del terms[place], sizes[place], with_term[place]
            if found is not None:
                terms.insert(place, term)
                sizes.insert(place, len(packed_list(found, self._total)))
                with_term.insert(place, len(found.packed))
        phrases = self._concepts.without_words_of(self._spoken.keys()).phrases
        return cut(terms, sizes, phrases), with_term, rates_differ

    def _term_texts(self, terms: TermFiles, touched: list[str]) -> Iterator[tuple[str, str]]:
        """Yield name and text of each script of terms that is another."""
        former = self._made.terms
        for number in range(len(terms.firsts)):
            start, end = terms.ends(number)
            here = terms.terms[start:end]
            if number < len(former.firsts) and terms.rows[number] == former.rows[number]:
                first, last = former.ends(number)
                if former.terms[first:last] == here and not _any_between(touched, here):
                    continue
            found = (self._posted(term) or NOWHERE for term in here)
            yield term_file(number, terms, [packed_list(each, self._total) for each in found])

    def _card_texts(self, cards: list[tuple[str, str, str, str]], per_file: int) -> Iterator[tuple[str, str]]:
        """Yield name and text of each script of cards that may be another."""
        if per_file == cards_per_file(self._made.cards):
            numbers = {number // per_file for number in self._documents}
        else:
            numbers = set(range(-(-len(cards) // per_file)))
        for number in sorted(numbers):
            yield card_file(number, per_file, cards)


def _any_between(terms: Sequence[str], others: Sequence[str]) -> bool:
    """Whether one of these terms is among others that follow one another in order."""
    return bool(others) and bisect_left(terms, others[0]) < bisect_left(terms, others[-1] + "\0")
