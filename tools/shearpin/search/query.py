"""From what was typed to what is looked up: part numbers, synonyms, joined words, then spelling."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import chain, zip_longest

from shearpin.search import tables
from shearpin.search.concepts import Phrase, ends_clause, line_key, meanings, near_pairs
from shearpin.search.document import ANSWER_MARK
from shearpin.search.figures import asked_terms
from shearpin.search.intent import intent_of, is_weak
from shearpin.search.leaning import kind_factors
from shearpin.search.lists import Lists
from shearpin.search.ordinary import ORDINARY
from shearpin.search.spelling import candidates
from shearpin.search.tokens import BEFORE_ALL, Token, extend
from shearpin.search.words import Analyser

# Longer than 300 lines: the steps of one plan work on one draft, in an order that matters.
_CODE = re.compile("[0-9a-z]+")
_SEPARATOR = re.compile("[.,/]")
_DIGIT = re.compile("[0-9]")
_MAX_CODE_RUN = 3
_MIN_CODE = 4
_LONG_NUMBER = 5
_MIN_ACCIDENT = 4
_SHORT_LETTERS = 3
NO_TERM = "?"


@dataclass(frozen=True, slots=True)
class Item:
    """A token of the query, and which of the typed words it comes from."""

    token: Token
    word: int


@dataclass(frozen=True, slots=True)
class Unit:
    """What one word of the query may match: terms with the eighths their match counts; `weak` when it tells little."""

    alternatives: tuple[tuple[str, int], ...]
    weak: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """What to look up. `pairs` are terms of words near one another, `line` is the term of the whole query as a title or a
    spoken phrase, `intent` a key of KIND_FACTORS. `factors` are those of kinds, as `kind_factors` gives them.

    `corrected` is the query after correction, None when nothing was corrected; `unknown` are words without a match.
    """

    units: tuple[Unit, ...]
    pairs: tuple[str, ...]
    line: str | None
    intent: str
    corrected: str | None = None
    unknown: tuple[str, ...] = field(default=())
    factors: Mapping[str, int] = field(default_factory=dict)


@dataclass(slots=True)
class _Draft:
    """A plan in the making: for each item, what it may match, whether it is part of a part number, and of a synonym of several words.

    `long_code` when one of the part numbers is too long for any other number.
    """

    items: Sequence[Item]
    alternatives: list[dict[str, int]]
    coded: list[bool]
    in_phrase: list[bool]
    long_code: bool = False


def make_plan(query: str, lists: Lists, analyser: Analyser, *, literal: bool = False) -> Plan:
    """Read `query` against the book. `literal` leaves its spelling alone."""
    typed = query.split()
    items = read_items(typed, analyser)
    draft = _Draft(items, [{} for _ in items], [False] * len(items), [False] * len(items))
    _look_up_codes(draft, lists, analyser, typed)
    _look_up_figures(draft, lists)
    corrections = _look_up_phrases(draft, lists)
    _look_up_joined(draft, lists, analyser)
    unknown = _look_up_words(draft, lists)
    if not literal:
        corrections = {**_respell(draft, lists, analyser, unknown), **corrections}
    if corrections and not literal:
        corrected = _rewrite(typed, items, corrections)
        plan = make_plan(corrected, lists, analyser, literal=True)
        return replace(plan, corrected=corrected)
    intent = intent_of([item.token for item in items], typed, draft.long_code)
    return Plan(
        _units(draft, intent),
        tuple(pair for pair in _near_pairs(items, typed, lists) if lists.find(pair)),
        _line(draft, lists, intent),
        intent,
        None,
        tuple(items[index].token.raw for index in unknown),
        kind_factors(typed, intent),
    )


def _line(draft: _Draft, lists: Lists, intent: str) -> str | None:
    """The term of the query as a line of the book; where the book has no such line, that of its telling words alone.

    "new carb for E208" is the line "carb": what only asks and what names a plate belongs to no line.
    """
    terms = [item.token.term for item in draft.items]
    whole = line_key(meanings(terms, lists.phrases))
    if not whole or lists.find(whole):
        return whole
    raws = [item.token.raw for item in draft.items]
    telling = [
        term
        for index, term in enumerate(terms)
        if not is_weak(raws, index, intent) and not lists.find(term + ANSWER_MARK)
    ]
    return line_key(meanings(telling, lists.phrases))


def _near_pairs(items: Sequence[Item], typed: Sequence[str], lists: Lists) -> list[str]:
    """Pairs of words near one another within a clause, each once."""
    clauses: list[list[str]] = []
    last = 0
    for item in items:
        if not clauses or any(ends_clause(typed[number]) for number in range(last, item.word)):
            clauses.append([])
        clauses[-1].append(item.token.term)
        last = item.word
    pairs = (near_pairs(meanings(clause, lists.phrases)) for clause in clauses)
    return list(dict.fromkeys(chain.from_iterable(pairs)))


def read_items(typed: Sequence[str], analyser: Analyser) -> list[Item]:
    """The first tokens of the query; of a long one, as a customer's message, without the words that fill a complaint."""
    tokens: list[Token] = []
    origins: list[int] = []
    before = BEFORE_ALL
    for number, text in enumerate(typed):
        last = tokens[-1] if tokens else None
        size = len(tokens)
        before = extend(tokens, before, analyser.word(text).chunks)
        if size and (len(tokens) < size or tokens[size - 1] is not last):
            size -= 1
        origins[size:] = [number] * (len(tokens) - size)
    items = [Item(token, origin) for token, origin in zip(tokens, origins, strict=True)]
    if len(items) > tables.MANY_QUERY_WORDS:
        items = [i for i in items if i.token.kind == "not" or i.token.raw not in tables.WEAK_WORDS]
    return items[: tables.MAX_QUERY_WORDS]


def _look_up_codes(draft: _Draft, lists: Lists, analyser: Analyser, typed: Sequence[str]) -> None:
    """Part numbers: written with separators or spaces, whole or only their beginning."""
    items = draft.items
    for size in range(min(_MAX_CODE_RUN + 1, len(items)), 0, -1):
        for start in range(len(items) - size + 1):
            span = range(start, start + size)
            if any(draft.coded[index] for index in span):
                continue
            code = _code_of(items[start : start + size], lists, analyser, typed)
            found = _code_terms(code, lists) if code else {}
            if found:
                for index in span:
                    draft.coded[index] = True
                draft.alternatives[start] = found
                draft.long_code = draft.long_code or (
                    len(code) >= _LONG_NUMBER and _DIGIT.search(code) is not None
                )


def _code_of(items: Sequence[Item], lists: Lists, analyser: Analyser, typed: Sequence[str]) -> str:
    """The items written as one part number, empty when they cannot be one."""
    tokens = [item.token for item in items]
    written = "".join(token.raw for token in tokens)
    code = _SEPARATOR.sub("", written)
    if not _DIGIT.search(code) or not _CODE.fullmatch(code) or len(code) < _MIN_CODE:
        return ""
    if len({item.word for item in items}) == 1 and (len(items) > 1 or code != written):
        return code if code in analyser.word(typed[items[0].word]).joined else ""
    for token in tokens:
        if token.kind == "word" and (len(token.raw) > _SHORT_LETTERS or lists.knows(token.term)):
            return ""
        if token.kind not in ("word", "number", "code"):
            return ""
    return code


def _code_terms(code: str, lists: Lists) -> dict[str, int]:
    return _exactly(code, lists, tables.WEIGHT_WORD) or _beginning_with(code, lists)


def _exactly(term: str, lists: Lists, weight: int) -> dict[str, int]:
    """The term itself, and as the name of a plate."""
    return {found: weight for found in (term, term + ANSWER_MARK) if lists.find(found)}


def _beginning_with(prefix: str, lists: Lists) -> dict[str, int]:
    """The commonest of the terms that begin with `prefix`."""
    terms = lists.beginning_with(prefix, tables.MAX_PREFIX_TERMS)
    rated = []
    for order, term in enumerate(terms):
        found = lists.find(term)
        if found:
            rated.append((found.idf, order, term))
    return {term: tables.WEIGHT_PREFIX for _, _, term in sorted(rated)[: tables.MAX_PREFIX_USED]}


def _look_up_figures(draft: _Draft, lists: Lists) -> None:
    """A number and its unit as a figure, in whatever unit the book has it; a decimal without a unit as a length."""
    tokens = [item.token for item in draft.items]
    for index, (number, after) in enumerate(zip_longest(tokens, tokens[1:])):
        if number.kind != "number" or draft.coded[index]:
            continue
        has_unit = after is not None and after.kind == "unit"
        units = (after.term,) if has_unit else tables.BARE_UNITS if "." in number.term else ()
        for term in (term for unit in units for term in asked_terms(number.term, unit)):
            if lists.find(term):
                for place in range(index, index + 1 + has_unit):
                    draft.alternatives[place][term] = tables.WEIGHT_WORD


def _look_up_phrases(draft: _Draft, lists: Lists) -> dict[int, str]:
    """Note synonyms; return known misspellings as what to write in the place of which item."""
    items = draft.items
    corrections: dict[int, str] = {}
    covered = 0
    for start, item in enumerate(items):
        matches = [p for p in lists.phrases(item.token.term) if _stands_at(p, items, start)]
        size = max((len(phrase.terms) for phrase in matches), default=0)
        if size < 2:
            _look_up_apart(draft, lists, start)
        if start + size <= covered:
            continue
        for phrase in matches:
            if len(phrase.terms) != size:
                continue
            span = range(start, start + size)
            if not phrase.preferred:
                for index in span:
                    draft.alternatives[index][phrase.concept] = tables.WEIGHT_SYNONYM
                    draft.in_phrase[index] = draft.in_phrase[index] or size > 1
            else:
                corrections.update(dict.fromkeys(span, ""))
                corrections[start] = phrase.preferred
        if size > 1:
            covered = start + size
    return corrections


def _look_up_apart(draft: _Draft, lists: Lists, start: int) -> None:
    """Note a synonym of two words that has others between them: "take the wheel off"."""
    items = draft.items
    for place in range(start + 2, min(start + tables.MAX_APART + 1, len(items))):
        term = items[place].token.term
        if term in tables.APART:
            for phrase in lists.phrases(items[start].token.term):
                if not phrase.preferred and phrase.terms[1:] == (term,):
                    for index in (start, place):
                        draft.alternatives[index][phrase.concept] = tables.WEIGHT_SYNONYM


def _stands_at(phrase: Phrase, items: Sequence[Item], start: int) -> bool:
    there = [item.token for item in items[start : start + len(phrase.terms)]]
    if phrase.preferred:
        return phrase.raws == tuple(token.raw for token in there)
    return phrase.terms == tuple(token.term for token in there)


def _look_up_joined(draft: _Draft, lists: Lists, analyser: Analyser) -> None:
    """Neighbouring words that the book has as one word, or the other way round."""
    for index in range(len(draft.items) - 1):
        pair = analyser.pair(draft.items[index].token, draft.items[index + 1].token)
        if pair and lists.find(pair):
            for there in (index, index + 1):
                draft.alternatives[there].setdefault(pair, tables.WEIGHT_JOINED)


def _look_up_words(draft: _Draft, lists: Lists) -> list[int]:
    """Look up each word by itself; return which are unknown."""
    unknown: list[int] = []
    last = len(draft.items) - 1
    for index, item in enumerate(draft.items):
        token, found = item.token, draft.alternatives[index]
        if draft.coded[index]:
            continue
        weight = tables.WEIGHT_IN_PHRASE if draft.in_phrase[index] else tables.WEIGHT_WORD
        exactly = _exactly(token.term, lists, weight)
        found.update(exactly)
        if not exactly and not found and not lists.knows(token.term):
            typing = index == last and token.kind == "word"
            if (typing or token.kind in ("number", "code")) and len(token.raw) >= tables.MIN_PREFIX:
                found.update(_beginning_with(token.raw, lists))
            if not found:
                unknown.append(index)
    return unknown


def _respell(draft: _Draft, lists: Lists, analyser: Analyser, unknown: Sequence[int]) -> dict[int, str]:
    """The likeliest word for each unknown one; of about equally likely ones, that which the book has near the others.

    A word that has a term of the book by accident is corrected only to one that fits the others where that term does not,
    an everyday word only to one that fits them.
    """
    better = {}
    terms = [item.token.term for item in draft.items]
    for index, item in enumerate(draft.items):
        by_accident = _stems_by_accident(draft, lists, index)
        if by_accident and _places(terms, index, item.token.term, lists):
            continue
        if index not in unknown and not by_accident:
            continue
        found = candidates(item.token.raw, lists.words) if item.token.kind == "word" else []
        doubtful = by_accident or item.token.raw in ORDINARY
        rated = []
        for rating, word in found:
            near = _places(terms, index, analyser.stem(word), lists) if doubtful or len(found) > 1 else 0
            if near or not doubtful:
                rated.append((rating - tables.CONTEXT_BONUS * near, word))
        if rated:
            better[index] = min(rated)[1]
    return better


def _stems_by_accident(draft: _Draft, lists: Lists, index: int) -> bool:
    """Whether a word that is none of the book's has the stem of one all the same, as "hange" has that of "hang"."""
    token = draft.items[index].token
    if token.kind != "word" or len(token.raw) < _MIN_ACCIDENT or token.raw != token.term + "e":
        return False
    words = lists.words(len(token.raw))
    return set(draft.alternatives[index]) == {token.term} and all(word != token.raw for word, _ in words)


def _places(terms: Sequence[str], index: int, term: str, lists: Lists) -> int:
    """How many of the words around it the book has near `term`, or in one synonym with it, were it at `index`."""
    with_it = meanings([*terms[:index], term, *terms[index + 1 :]], lists.phrases)
    without = meanings([*terms[:index], NO_TERM, *terms[index + 1 :]], lists.phrases)
    pairs = set(near_pairs(with_it)).difference(near_pairs(without))
    return len(without) - len(with_it) + sum(lists.find(pair) is not None for pair in pairs)


def _rewrite(typed: Sequence[str], items: Sequence[Item], corrections: dict[int, str]) -> str:
    """The query with its corrections; a word of several parts is taken apart when one of them is corrected."""
    touched = {items[index].word for index in corrections}
    words: list[str] = []
    for number, text in enumerate(typed):
        if number in touched:
            mine = (index for index, item in enumerate(items) if item.word == number)
            words.extend(corrections.get(index, items[index].token.raw) for index in mine)
        else:
            words.append(text)
    return " ".join(word for word in words if word)


def _units(draft: _Draft, intent: str) -> tuple[Unit, ...]:
    """What the words may match, each once; weak words with a small part of their weight."""
    units: dict[tuple[tuple[str, int], ...], Unit] = {}
    for index, found in enumerate(draft.alternatives):
        if found:
            weak = not draft.coded[index] and is_weak([item.token.raw for item in draft.items], index, intent)
            share = tables.WEAK_SHARE if weak else 8
            matches = tuple(sorted((term, max(1, weight * share // 8)) for term, weight in found.items()))
            units.setdefault(matches, Unit(matches, weak))
    return tuple(units.values())
