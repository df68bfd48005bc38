"""The index cut into small classic scripts, so that a page opened from a file reads only what its query needs.

Each file calls `shearpinIndex(name, data)`; `packing` says what the strings in them mean.

`head`     tables, kinds of the records, where each term file begins
`t0000` …  terms in order, each with its idf and postings; synonyms by their first term
`c000` …   what a hit shows: id, title, excerpt, address
`w03` …    words as written, by length, for spelling
`ordinary` everyday words, which are no misspellings
`units`    units and their factors, for conversions
`m00` …    machines: the sets of machines they belong to; `sets` gives the set of each record
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any, Final

from shearpin.search import tables
from shearpin.search.cards import CardRow, card_row, cards_per_file, folders_of, packed_cards
from shearpin.search.conversion import browser_units
from shearpin.search.document import KIND_ORDER, Document, how_many, marked_kind
from shearpin.search.impacts import LEVELS, POINTS, STRONG_CODE
from shearpin.search.leaning import NO_PUSH
from shearpin.search.model import IndexModel
from shearpin.search.ordinary import ORDINARY
from shearpin.search.packing import DIGITS, HALF, after, front_coded, pack_number, script
from shearpin.search.term_files import Heads, TermFiles, cut, packed_list

_HEAD: Final = (
    "total", "kinds", "kindNames", "folders", "terms", "cards", "words", "machines", "tables",
)  # fmt: skip
"""What the head holds, in this order."""

_MAX_MACHINE_FILES: Final = 30
_MACHINE_BYTES: Final = 8_000
_LONGEST_WORD_FILE: Final = 13


class Shards:
    """The scripts of an index, with what they are cut from."""

    def __init__(self, model: IndexModel) -> None:
        documents = model.documents
        own = head_of_documents(documents)
        heads = Heads(how_many(documents))
        self.lists = [
            packed_list(found.packed, heads, pair_only=found.pair_only) for found in model.postings.values()
        ]
        self.terms = cut(list(model.postings), array("I", map(len, self.lists)), model.concepts.phrases)
        self.cards = [card_row(document, own["folders"]) for document in documents]
        self.words = model.words
        self._machines = dict(machine_files(model.machines))
        self._sets = model.machine_sets
        self.head = {
            **own,
            **head_of_files(self.terms, cards_per_file(self.cards), word_lengths(self.words)),
            "machines": list(self._machines),
            "tables": browser_tables(),
        }

    def texts(self) -> Iterator[tuple[str, str]]:
        """Yield name and text of every script."""
        yield head_file(self.head)
        for number in range(len(self.terms.firsts)):
            start, end = self.terms.ends(number)
            yield term_file(number, self.terms, self.lists[start:end])
        for number in range(0, len(self.cards), per_file := cards_per_file(self.cards)):
            yield card_file(number // per_file, per_file, self.cards)
        yield from word_files(self.words)
        yield from machine_scripts(self._machines)
        yield "ordinary", script("ordinary", front_coded(sorted(ORDINARY)))
        yield "units", script("units", browser_units())
        yield sets_file(self._sets)


def word_lengths(words: Iterable[int]) -> list[int]:
    """Return the lengths for which there is a file of words."""
    return sorted({min(length, _LONGEST_WORD_FILE) for length in words})


def head_of_documents(documents: Sequence[Document]) -> dict[str, Any]:
    """Return what the head says of all documents."""
    return {
        "total": len(documents),
        "kinds": _kind_digits(documents),
        "kindNames": _kind_names(documents),
        "folders": folders_of(documents),
    }


def sets_file(sets: Sequence[int]) -> tuple[str, str]:
    """Return name and text of the script that says for which machines each document is."""
    return "sets", script("sets", "".join(map(pack_number, sets)))


def head_of_files(terms: TermFiles, cards: int, lengths: Sequence[int]) -> dict[str, Any]:
    """Return what the head says of how terms, cards (so many a file) and words (by length) are cut into files."""
    return {"terms": front_coded(terms.firsts, " "), "cards": cards, "words": lengths}


def head_file(head: Mapping[str, Any]) -> tuple[str, str]:
    """Return name and text of the script that is read first."""
    return "head", script("head", {part: head[part] for part in _HEAD})


def term_file(number: int, terms: TermFiles, lists: Sequence[str]) -> tuple[str, str]:
    """Return name and text of a script of terms; `lists` are those of its terms, packed."""
    return f"t{number:04}", script(f"t{number:04}", terms.data(number, lists))


def card_file(number: int, per_file: int, cards: Sequence[CardRow]) -> tuple[str, str]:
    """Return name and text of a script of cards."""
    rows = cards[number * per_file : (number + 1) * per_file]
    return f"c{number:03}", script(f"c{number:03}", packed_cards(rows))


def word_files(words: Mapping[int, tuple[tuple[str, int], ...]]) -> Iterator[tuple[str, str]]:
    """Yield names and texts of the words by length; the longest share a file.

    Each stands after what it shares with the word before, and ends in a figure: how common it is.
    """
    files: dict[int, list[tuple[str, int]]] = {}
    for length, alike in sorted(words.items()):
        files.setdefault(min(length, _LONGEST_WORD_FILE), []).extend(alike)
    for length, found in files.items():
        before = ""
        parts = []
        for word, common in sorted(found):
            parts.append(f"{after(before, word)}{common}")
            before = word
        yield f"w{length:02}", script(f"w{length:02}", "".join(parts))


def browser_tables() -> dict[str, Any]:
    """The tables the browser needs, from the same source as everything else, in their shortest form."""
    names = [
        name
        for name in dir(tables)
        if name[0].isupper() and name.isupper() and name not in ("UNITS", "DIMENSIONS", "LEANINGS_TEXT")
    ]
    values = {name: _plain(getattr(tables, name)) for name in names}
    values["KIND_FACTORS"] = {
        intent: [factors.get(kind, 16) for kind in KIND_ORDER]
        for intent, factors in tables.KIND_FACTORS.items()
    }
    values["LEANINGS"] = _packed_leanings()
    return values | {"KIND_ORDER": KIND_ORDER, "POINTS": POINTS, "STRONG_CODE": STRONG_CODE, "LEVELS": LEVELS}


def _packed_leanings() -> str:
    """Each trait with the kinds that it pushes, as a sign, and how far: most push few."""
    rows = []
    for trait, pushes in tables.LEANINGS.items():
        pushed = (chr(ord("A") + kind) + push for kind, push in enumerate(pushes) if push != NO_PUSH)
        rows.append(f"{trait}={''.join(pushed)}")
    return " ".join(rows)


def _plain(value: Any) -> Any:
    if isinstance(value, frozenset):
        return sorted(value)
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    return value


def _kind_names(documents: Sequence[Document]) -> list[str]:
    return sorted({marked_kind(document) for document in documents})


def _kind_digits(documents: Sequence[Document]) -> str:
    """The number of each record's kind as a digit; a digit of the upper half repeats it, once for the lowest of them."""
    names = _kind_names(documents)
    packed = ""
    for kind, alike in groupby(names.index(marked_kind(document)) for document in documents):
        packed += DIGITS[kind]
        more = sum(1 for _ in alike) - 1
        while more:
            repeated = min(more, len(DIGITS) - HALF)
            packed += DIGITS[HALF + repeated - 1]
            more -= repeated
    return packed


def machine_scripts(files: Mapping[str, dict[str, str]]) -> Iterator[tuple[str, str]]:
    """Yield names and texts of the scripts of these files of machines."""
    for number, sets in enumerate(files.values()):
        yield f"m{number:02}", script(f"m{number:02}", sets)


def machine_files(machines: Mapping[str, Sequence[int]]) -> Iterator[tuple[str, dict[str, str]]]:
    """Yield for each file of machines the first of them, and all with the sets that they are in, packed."""
    packed = {machine: "".join(map(pack_number, sets)) for machine, sets in machines.items()}
    size = max(_MACHINE_BYTES, sum(map(len, packed.values())) // _MAX_MACHINE_FILES + 1)
    group: dict[str, str] = {}
    filled = 0
    for machine, sets in packed.items():
        if filled >= size:
            yield next(iter(group)), group
            group, filled = {}, 0
        group[machine] = sets
        filled += len(machine) + len(sets)
    if group:
        yield next(iter(group)), group
