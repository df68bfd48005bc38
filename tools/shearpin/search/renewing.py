"""The index after an edit: made from the last one, of which only what the edited records change is made anew.

It is the same to the byte as one made afresh. What shows the title of a record that has another title, or the figures of a
machine that has others, is written anew too, and so is what holds for other machines than before.
"""

from __future__ import annotations

from array import array
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import NamedTuple

from shearpin.book.linked import LinkedBook
from shearpin.model.shares import Afterwards, at_once
from shearpin.search.affected import affected_records
from shearpin.search.blocks import order_of
from shearpin.search.cards import card_row, cards_per_file
from shearpin.search.concepts import build_concepts
from shearpin.search.counts import PAIR_MARK
from shearpin.search.document import ANSWER_MARK, NOBODY, Document, how_many
from shearpin.search.documents import some_documents, synonyms_of
from shearpin.search.exporting import put_files
from shearpin.search.inverting import inverted
from shearpin.search.kept import digest_of, kept_counts
from shearpin.search.made import (
    Made,
    can_be_made_again,
    counts_digest,
    entries_of,
    facts_of,
    made_before,
    made_of,
    numbered_records,
    pages_digest,
    sorted_terms,
    stamps_of,
)
from shearpin.search.model import (
    how_common,
    machine_sets,
    model_of,
    posted,
    spoken_words,
    words_by_length,
)
from shearpin.search.pages import pages_of
from shearpin.search.renewed_files import card_texts, names, term_texts
from shearpin.search.shards import (
    Shards,
    head_file,
    head_of_documents,
    head_of_files,
    machine_files,
    machine_scripts,
    sets_file,
    word_files,
    word_lengths,
)
from shearpin.search.term_files import Heads, TermFiles, cut, list_head, packed_list, packed_list_again
from shearpin.search.words import Analyser


def renewed_index(
    linked: LinkedBook,
    site: Path,
    cache_folder: Path,
    before: Path | None,
    afterwards: Afterwards = at_once,
) -> int | None:
    """Write the index of a book into the folder `site` from that of the site `before`, or from the one that is there.

    Returns how many files it has; None, with nothing written, where it must be made afresh. What keeps it for the next build is
    handed to `afterwards`.
    """
    made = made_before(cache_folder) if can_be_made_again(linked) else None
    if made is None or not made.holds_in(before or site):
        return None
    if pages_digest(linked) != made.pages:
        return None
    renewal = _Renewal(linked, made, cache_folder)
    if not renewal.is_possible:
        return None
    if renewal.is_nothing:
        return len(put_files((), made.stamps, site, before))
    renewal.count()
    now = renewal.in_place(site, before)
    if now is not None:
        afterwards(renewal.keep_counts, anyway=True)
    else:
        renewal.keep_counts()  # the counts of records are given up next
        now = renewal.as_a_whole(site, before)
    afterwards(partial(now.keep, cache_folder))
    return len(now.stamps)


class _Placed(NamedTuple):
    """A document with the terms by which it is sorted, and its number before where it is none that was written anew."""

    document: Document
    terms: tuple[str, ...]
    before: int | None = None


class _Renewal:
    """Makes anew what edited records change in an index."""

    def __init__(self, linked: LinkedBook, made: Made, cache_folder: Path) -> None:
        self._linked, self._made = linked, made
        self._analyser = Analyser()
        self._concepts = build_concepts(synonyms_of(linked), self._analyser)
        self._counted = kept_counts(self._concepts, cache_folder)
        self.is_possible = counts_digest(self._counted.earlier.digests) == made.counts
        if self.is_possible:
            self._place_documents()

    def _place_documents(self) -> None:
        """Write the documents that may be others, and put all in their order."""
        made, stale = self._made, self._counted.stale
        affected = affected_records(self._linked, made)
        kinds = made.kinds
        by_hand = False
        for number, digest in enumerate(self._counted.earlier.digests if stale else ()):
            if digest in stale:
                by_hand = by_hand or kinds[number] == "page"
                affected.add((kinds[number], made.cards[number][0].partition(ANSWER_MARK)[0]))
        self.is_nothing = not affected
        self._new = list(some_documents(self._linked, sorted(affected)))
        if by_hand:
            self._new += pages_of(self._linked.book)
            affected.update(("page", document.id) for document in self._new if document.kind == "page")
        kept = [
            _Placed(document, made.titles[number], number)
            for number, document in made.documents()
            if (document.kind, document.id.partition(ANSWER_MARK)[0]) not in affected
        ]
        found = kept + [_Placed(document, sorted_terms(document, self._analyser)) for document in self._new]
        order = order_of([each.document for each in found], [each.terms for each in found])
        nobody = _Placed(NOBODY, ())
        self._placed = [nobody if place is None else found[place] for place in order]
        self._documents = tuple([each.document for each in self._placed])

    def count(self) -> None:
        """Count what the new documents say, and find where each term occurs now."""
        earlier = self._counted.earlier
        digests = [
            earlier.digests[each.before] if each.before is not None else digest_of(each.document)
            for each in self._placed
        ]
        placed = zip(digests, self._placed, strict=True)
        new = {digest: each.document for digest, each in placed if each.before is None}
        self._counted.count(digests, new)
        self._means = self._counted.totals.means()
        self._lists, self._touched = inverted(self._counted, self._means)

    def keep_counts(self) -> None:
        """Keep the counts for the next build."""
        self._counted.keep(self._means, self._lists)

    def as_a_whole(self, site: Path, before: Path | None) -> Made:
        """Write every file that is another now; return how the index is made."""
        model = model_of(self._documents, self._counted, self._lists, self._concepts, self._analyser)
        shards = Shards(model)
        files = put_files(shards.texts(), (), site, before)
        return made_of(self._linked, model, shards, files, [each.terms for each in self._placed])

    def in_place(self, site: Path, before: Path | None) -> Made | None:
        """Write the files of the terms that the edited records say otherwise now, and what else is another.

        Returns how the index is made; None where all may be others.
        """
        made, counted, (sets, machines) = self._made, self._counted, machine_sets(self._documents)
        if self._touched is None:
            return None
        self._spoken = spoken_words(counted, self._concepts, self._analyser)
        self._only_said = {self._spoken[word] for word in self._concepts.words}
        touched = self._touched_terms(self._touched)
        terms, lists, with_term, rates_differ = self._terms(touched)
        texts = dict(term_texts(self._made, terms, lists, touched))
        own = head_of_documents(self._documents)
        cards = [card_row(document, own["folders"]) for document in self._documents]
        per_file = cards_per_file(cards)
        texts |= dict(card_texts(self._made, cards, per_file))
        lengths = made.head["words"]
        words_differ = counted.totals.words() != counted.earlier.totals.words()
        if rates_differ or words_differ or counted.phrases_differ:
            words = words_by_length(self._spoken, dict(zip(terms.terms, with_term, strict=True)))
            texts |= dict(word_files(words))
            lengths = word_lengths(words)
        of_machines = dict(machine_files(machines))
        own |= {"machines": list(of_machines)}
        head = made.head | own | head_of_files(terms, per_file, lengths)
        texts |= dict([head_file(head), sets_file(sets), *machine_scripts(of_machines)])
        same = names(self._made, terms, -(-len(cards) // per_file), lengths).keys() - texts.keys()
        files = put_files(texts.items(), same, site, before)
        return replace(
            made, records=numbered_records(self._linked, self._documents), facts=facts_of(self._linked), entries=self._entries(),
            counts=counts_digest(counted.digests), kinds=[document.kind for document in self._documents],
            titles=[each.terms for each in self._placed], terms=terms, lists=lists, records_with=with_term,
            cards=cards, sets=sets, machines=machines, head=head, stamps=stamps_of(files),
        )  # fmt: skip

    def _touched_terms(self, numbers: Iterable[int]) -> list[str]:
        """Return in order the terms with these numbers, and those that weigh otherwise."""
        names = list(self._counted.terms)
        others = {names[number].removeprefix(PAIR_MARK) for number in numbers}
        # Words that only synonyms use are terms, too.
        synonyms = self._counted.earlier.spoken.symmetric_difference(self._concepts.words)
        return sorted(others.union(self._weighed_otherwise(), map(self._analyser.stem, synonyms)))

    def _weighed_otherwise(self) -> Iterator[str]:
        """Yield the terms of as many records as before that weigh more, or less, among as many records as there are now."""
        former, now = sum(map(bool, self._made.kinds)), how_many(self._documents)
        with_term = self._made.records_with
        others = {
            count for count in set(with_term) if count and list_head(count, former) != list_head(count, now)
        }
        if others:
            terms = self._made.terms.terms
            yield from (term for term, count in zip(terms, with_term, strict=True) if count in others)

    def _entries(self) -> dict[str, dict[str, bytes]]:
        """Return what machines and engines record now."""
        records, book, entries = self._made.records, self._linked.book, self._made.entries
        there = {
            f"{kind}/{each}": (kind, each) for kind in ("machine", "engine") for each in book.of_kind(kind)
        }
        same = {
            name
            for name, key in there.items()
            if name in entries and records[name][0] == book.file_of[key].digest
        }
        return {
            name: entries[name] if name in same else entries_of(self._linked, key)
            for name, key in there.items()
        }

    def _terms(self, touched: Iterable[str]) -> tuple[TermFiles, list[str], array[int], bool]:
        """Return the terms as they are cut now, with their lists, how many records have each, and whether a word is as common as another now."""
        terms, lists = list(self._made.terms.terms), list(self._made.lists)
        heads = Heads(how_many(self._documents))
        with_term = array("I", self._made.records_with)
        place_of = {term: place for place, term in enumerate(terms)}  # nearly all may be touched
        rates_differ = False
        new: dict[str, tuple[str, int]] = {}
        gone: list[int] = []
        numbers, now_of, before_of = (
            self._counted.terms,
            self._lists.__getitem__,
            self._counted.earlier.lists.before,
        )
        for term in touched:
            found, place = posted(term, numbers, now_of), place_of.get(term)
            before, now = with_term[place] if place is not None else 0, len(found[0]) if found else 0
            rates_differ = rates_differ or (before != now and how_common(before) != how_common(now))
            postings, pair_only = found or (array("I"), False)
            if found is None and term not in self._only_said:
                gone += [place] if place is not None else []
            elif place is None:
                new[term] = packed_list(postings, heads, pair_only=pair_only), now
            else:
                former = posted(term, numbers, before_of) or (array("I"), False)
                lists[place] = packed_list_again(
                    former[0], lists[place], postings, heads, pair_only=pair_only
                )
                with_term[place] = now
        for place in sorted(gone, reverse=True):
            del terms[place], lists[place], with_term[place]
        for term, (packed, count) in new.items():
            place = bisect_left(terms, term)
            terms.insert(place, term)
            lists.insert(place, packed)
            with_term.insert(place, count)
        phrases = self._concepts.without_words_of(self._spoken.keys()).phrases
        return cut(terms, array("I", map(len, lists)), phrases), lists, with_term, rates_differ
