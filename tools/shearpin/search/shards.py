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

import json
import re
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import Any

from shearpin.search import tables
from shearpin.search.concepts import Phrase
from shearpin.search.conversion import browser_units
from shearpin.search.document import ANSWER_MARK, KIND_ORDER, Document, marked_kind
from shearpin.search.impacts import LEVELS, POINTS, STRONG_CODE
from shearpin.search.leaning import NO_PUSH
from shearpin.search.model import IndexModel, Postings
from shearpin.search.ordinary import ORDINARY
from shearpin.search.packing import DIGITS, HALF, is_dense, pack_number, pack_postings

# The address of most records is this folder, the id and this ending; only others are written out.
_PAGE = ".html"

_PAIR_MARK = "+"
_ARTICLES = ("a", "an", "the")

# Files a site may have, and what fills one of each sort when the book is small.
_MAX_TERM_FILES = 1_300
_MAX_CARD_FILES = 900
_MAX_MACHINE_FILES = 30
_TERM_BYTES = 2_800
_CARD_BYTES = 2_200
# In a small book few files are read sooner than many, and their bytes do not matter.
_SMALL_BOOK = 2_000
_SMALL_BOOK_CARD_BYTES = 6_500
_MACHINE_BYTES = 8_000
_LONGEST_WORD_FILE = 13
# In cards, where the sign that tells it need not be a capital: up to `z`.
_MOST_SHARED = 57

# A long list does not join a file that it would fill beyond this.
_OVERFULL = 1.5


def shard_texts(model: IndexModel) -> Iterator[tuple[str, str]]:
    """Name and text of every script."""
    terms = list(_term_files(model))
    cards, per_file = _card_files(model)
    machines = list(_machine_files(model))
    words = _word_files(model)
    head = {
        "total": len(model.documents),
        "kinds": _kind_digits(model.documents),
        "kindNames": _kind_names(model.documents),
        "folders": _folders(model.documents),
        "terms": _front_coded([first for first, _ in terms], " "),
        "cards": per_file,
        "words": sorted(words),
        "machines": [first for first, _ in machines],
        "tables": browser_tables(),
    }
    yield "head", _script("head", head)
    for number, (_, data) in enumerate(terms):
        yield f"t{number:04}", _script(f"t{number:04}", data)
    for number, rows in enumerate(cards):
        yield f"c{number:03}", _script(f"c{number:03}", rows)
    for length, packed in words.items():
        yield f"w{length:02}", _script(f"w{length:02}", packed)
    for number, (_, sets) in enumerate(machines):
        yield f"m{number:02}", _script(f"m{number:02}", sets)
    yield "ordinary", _script("ordinary", _front_coded(sorted(ORDINARY)))
    yield "units", _script("units", browser_units())
    yield "sets", _script("sets", "".join(map(pack_number, model.machine_sets)))


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


def _script(name: str, data: Any) -> str:
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    # These two end a line in ES2017 strings.
    text = text.replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    return f'shearpinIndex("{name}",{text});\n'


def _term_files(model: IndexModel) -> Iterator[tuple[str, Any]]:
    """First term and data of each file, cut where the size is reached."""
    total = len(model.documents)
    entries = [(term, _packed_list(postings, total)) for term, postings in model.postings.items()]
    size = max(_TERM_BYTES, sum(len(entry) for _, entry in entries) // _MAX_TERM_FILES + 1)
    groups: list[list[tuple[str, str]]] = []
    filled = size
    for term, entry in entries:
        if filled >= size or (filled and filled + len(entry) > _OVERFULL * size):
            groups.append([])
            filled = 0
        groups[-1].append((term, entry))
        filled += len(entry)
    firsts = [""]
    for group, after in pairwise(groups):
        firsts.append(_shortest_between(group[-1][0], after[0][0]))
    phrases: list[list[Any]] = [[] for _ in firsts]
    for first, found in model.concepts.phrases.items():
        there = phrases[bisect_right(firsts, first) - 1]
        there.extend([_phrase_row(p) for p in found])
    for first, group, synonyms in zip(firsts, groups or [[]], phrases, strict=True):
        yield first, [_packed_terms(group), synonyms]


def _phrase_row(phrase: Phrase) -> list[str]:
    row = [" ".join(phrase.terms), phrase.concept]
    return [*row, phrase.preferred, " ".join(phrase.raws)] if phrase.preferred else row


def _shortest_between(last: str, first: str) -> str:
    """The shortest beginning of `first` that sorts after `last`."""
    return next(first[:size] for size in range(1, len(first) + 1) if first[:size] > last)


def _packed_list(postings: Postings, total: int) -> str:
    """What follows a term: a mark when it is a pair only, a space, twice the idf (plus one in a list of the dense form),
    and the list."""
    mark = _PAIR_MARK if postings.pair_only else ""
    dense = is_dense(len(postings.packed), total)
    head = pack_number(2 * postings.idf + dense)
    return f"{mark} {head}{pack_postings(postings.packed, dense=dense)}"


def _packed_terms(entries: Sequence[tuple[str, str]]) -> str:
    """Terms with their lists, each after what it shares with the term before; divided by spaces."""
    before = ""
    parts = []
    for term, packed in entries:
        parts.append(_after(before, term) + packed)
        before = term
    return " ".join(parts)


def _front_coded(words: Sequence[str], between: str = "") -> str:
    """Words, each after what it shares with the one before."""
    return between.join(_after(before, word) for before, word in pairwise(["", *words]))


def _after(before: str, word: str, most: int = 25) -> str:
    """`word` as what it shares with the word before it, as a sign (A for nothing), and the rest."""
    shared = 0
    # A script counts signs beyond U+FFFF twice.
    while shared < min(most, len(word), len(before)) and word[shared] == before[shared] < "\U00010000":
        shared += 1
    return chr(ord("A") + shared) + word[shared:]


def _card_files(model: IndexModel) -> tuple[list[list[str]], int]:
    folders = _folders(model.documents)
    rows = []
    for document in model.documents:
        usual = folders.get(document.kind, "") + document.id.partition(ANSWER_MARK)[0] + _PAGE
        rows.append(
            (document.id, document.title, document.excerpt, "" if document.url == usual else document.url)
        )
    size = sum(len(text) for row in rows for text in row)
    wanted = _CARD_BYTES if len(rows) > _SMALL_BOOK else _SMALL_BOOK_CARD_BYTES
    files = min(_MAX_CARD_FILES, size // wanted + 1)
    per_file = max(1, -(-len(rows) // files))
    return [
        _packed_cards(rows[start : start + per_file]) for start in range(0, len(rows), per_file)
    ], per_file


def _packed_cards(rows: Sequence[tuple[str, str, str, str]]) -> list[str]:
    """Four texts of each row. Ids (empty where the title gives them) and titles stand after what they share with those
    of the row before: figures of one value for many plates differ in their ends alone."""
    packed: list[str] = []
    id_before = title_before = ""
    for id, title, excerpt, url in rows:
        packed.append("" if id == plain_id(title) else _after(id_before, id, _MOST_SHARED))
        packed += [_after(title_before, title, _MOST_SHARED), excerpt, url]
        id_before, title_before = id, title
    return packed


def plain_id(title: str) -> str:
    """The id that most titles give: their words without articles. Empty when the title is not plain ASCII."""
    words = re.findall("[a-z0-9]+", title.lower()) if title.isascii() else []
    return "-".join(word for word in words if word not in _ARTICLES)


def _folders(documents: Sequence[Document]) -> dict[str, str]:
    """The folder of each kind's pages, from the first record whose address ends in its id."""
    folders: dict[str, str] = {}
    for document in documents:
        if document.kind not in folders and document.url.endswith(document.id + _PAGE):
            folders[document.kind] = document.url[: -len(document.id + _PAGE)]
    return folders


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


def _word_files(model: IndexModel) -> dict[int, str]:
    """Words by length; the longest share a file. Each stands after what it shares with the word before, and ends in a
    figure: how common it is."""
    files: dict[int, list[tuple[str, int]]] = {}
    for length, words in sorted(model.words.items()):
        files.setdefault(min(length, _LONGEST_WORD_FILE), []).extend(words)
    packed = {}
    for length, found in files.items():
        before = ""
        parts = []
        for word, common in sorted(found):
            parts.append(f"{_after(before, word)}{common}")
            before = word
        packed[length] = "".join(parts)
    return packed


def _machine_files(model: IndexModel) -> Iterator[tuple[str, dict[str, str]]]:
    packed = {machine: "".join(map(pack_number, sets)) for machine, sets in model.machines.items()}
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
