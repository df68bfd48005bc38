"""From text to index terms: the one analysis that records, queries and the browser share."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from itertools import chain

from shearpin.search import tables
from shearpin.search.stemming import stem
from shearpin.search.tokens import BEFORE_ALL, CONTEXT, NOT_TOKEN, Before, Chunk, Token, Word, extend

# Letters after NFKD and removal of accents. ES2017 has no \p{L}, so the browser needs these same plain ranges.
_LETTERS = r"a-z\u00df-\u00f6\u00f8-\u02af\u0370-\u1fff\u2c60-\u2dff\u3040-\ud7ff"
_CHUNK = re.compile(rf"(?:\.(?=[0-9]))?[{_LETTERS}0-9]+(?:[-'./,·][{_LETTERS}0-9]+)*")
_MARKS = re.compile(r"[\u0300-\u036f]")
_VULGAR_FRACTION = re.compile(r"([\u00bc-\u00be\u2150-\u215e])")
_INCH_MARK = re.compile("([0-9]) ?(?:\"|″|′′|'')")
_SEPARATORS = re.compile(r"[-'./,·]")
_HAS_DIGIT = re.compile("[0-9]")
_NUMBER_WITH_UNIT = re.compile(rf"([0-9]+(?:[.,][0-9]+)?|\.[0-9]+|[0-9]+/[0-9]+)-?([{_LETTERS}].*)")
_FRACTION = re.compile("[0-9]+/[0-9]+")
_DECIMAL = re.compile("[0-9]*[.,][0-9]+")
_THOUSANDS = re.compile("[0-9]{1,3}(?:,[0-9]{3})+")
_DOTTED_PART_NUMBER = re.compile(r"[0-9]{3,}\.[0-9]{3,}")
_BRITISH_S = re.compile("^([a-z]{5,})is(e|ed|es|er|ers|ing|ation|ations)$")
_PUNCTUATION = '.,;:!?()[]"'
# Of these, what changes nothing in how a word is read when it stands before or after it: a point makes ".5", a mark inches.
_BEFORE, _AFTER = "([", ".,;:!?)]"

_SAME_CHARACTER = str.maketrans(
    {"’": "'", "‘": "'", "ʼ": "'", "`": "'", "⁄": "/", "⋅": "·", "∙": "·", "ß": "ss", "ς": "σ"}
    | dict.fromkeys("‐‑‒–—−", "-")
)


def fold(text: str) -> str:
    """Compatibility forms, case, accents and look-alike signs removed; `½` becomes `1/2`, `3"` becomes `3 inch`."""
    if not text.isascii():
        text = unicodedata.normalize("NFKD", _VULGAR_FRACTION.sub(r" \1", text)).lower()
        text = _MARKS.sub("", text).translate(_SAME_CHARACTER)
    else:
        text = text.lower().replace("`", "'")
    if '"' in text or "'" in text or "′" in text or "″" in text:
        text = _INCH_MARK.sub(r"\1 inch ", text)
    return text


_porter2 = lru_cache(maxsize=65_536)(stem)
"""Stems for every analyser of this process: a preview makes one for each build."""


class Analyser:
    """The analysis, with what it has worked out so far: a book repeats its words thousands of times."""

    def __init__(self) -> None:
        self._words: dict[str, Word] = {}
        self._stems: dict[str, str] = {}
        self._parts: dict[str, tuple[Token, ...]] = {}
        self._pairs: dict[tuple[str, str], str] = {}
        self._variants: dict[str, str] = {}
        self._variants = {self.stem(k): self.stem(v) for k, v in tables.SPELLING_VARIANTS.items()}
        self._stems.clear()

    def stem(self, typed: str) -> str:
        """Porter 2 stem, with British and American spellings made one; words with other letters stay as they are."""
        known = self._stems.get(typed)
        if known is None:
            word = typed
            if "is" in word:
                word = _BRITISH_S.sub(r"\1iz\2", word)
            known = tables.OWN_STEMS.get(word) or (
                _porter2(word) if word.isascii() and word.isalpha() else word
            )
            known = self._variants.get(known, known)
            self._stems[typed] = known
        return known

    def pair(self, first: Token, second: Token) -> str | None:
        """Two neighbouring words as one term, equal to the term of the two written as one word."""
        if first.kind not in ("word", "not") or second.kind not in ("word", "not"):
            return None
        if (
            len(first.raw) == 1 or len(second.raw) == 1
        ):  # initials, and what is left of "'d": no compound word
            return None
        key = (first.raw, second.raw)
        joined = self._pairs.get(key)
        if joined is None:
            joined = self._pairs[key] = self.stem(_base(first.raw) + _base(second.raw))
        return joined

    def word(self, text: str) -> Word:
        """The reading of what stands between two spaces, by itself."""
        known = self._words.get(text)
        if known is None:
            held = core(text)
            known = self._words[text] = self.word(held) if held != text else self.read(text)
        return known

    def read(self, text: str) -> Word:
        """As `word`, for what is its own `core`; nothing is remembered, for whoever asks but once."""
        if text.isascii() and text.isalpha() and len(text) <= tables.MAX_CHUNK:
            return _alone(self._plain(text))
        found = [text.lower()] if _is_one_chunk(text) else _CHUNK.findall(fold(text))
        chunks = tuple([self._parse(chunk) for chunk in found if len(chunk) <= tables.MAX_CHUNK])
        if len(chunks) == 1:
            return _alone(chunks[0])
        tokens: list[Token] = []
        leaves = extend(tokens, BEFORE_ALL, chunks)
        joined = tuple([term for chunk in chunks for term in chunk.joined])
        in_context = any(chunk.text in CONTEXT for chunk in chunks)
        return Word(chunks, tuple(tokens), joined, in_context, leaves)

    def _plain(self, word: str) -> Chunk:
        """The reading of a word of plain small letters."""
        unit = tables.UNITS.get(word)
        return Chunk(word, (Token(unit, word, "unit"),) if unit else self._word(word))

    def tokens(self, words: Iterable[str]) -> tuple[list[Token], list[str]]:
        """The tokens of `words` (a text split at spaces) in order, and the extra terms of words written as one."""
        tokens: list[Token] = []
        joined: list[str] = []
        before = BEFORE_ALL
        for text in words:
            word = self.word(text)
            if word.in_context:
                before = extend(tokens, before, word.chunks)
            else:
                tokens += word.tokens
                before = word.leaves
            joined += word.joined
        return tokens, joined

    def _parse(self, chunk: str) -> Chunk:
        text = chunk
        if chunk in tables.UNITS:
            return Chunk(text, (Token(tables.UNITS[chunk], chunk, "unit"),))
        if "'" in chunk:
            whole, _, ending = chunk.rpartition("'")
            if ending == "t" and whole in tables.NEGATION_STEMS:
                return Chunk(text, (NOT_TOKEN,))
            if ending in ("s", "re", "ll", "ve", "d", "m"):
                chunk = whole
        if _HAS_DIGIT.search(chunk):
            return self._parse_number(chunk)
        parts = [part for part in _SEPARATORS.split(chunk) if part]
        tokens = tuple(chain.from_iterable(map(self._word, parts)))
        joined: tuple[str, ...] = ()
        if len(tokens) == len(parts) > 1 and ("-" in chunk or "'" in chunk):
            joined = tuple(filter(None, map(self.pair, tokens, tokens[1:])))
        return Chunk(text, tokens, joined)

    def _word(self, word: str) -> tuple[Token, ...]:
        known = self._parts.get(word)
        if known is None:
            if word in tables.NEGATIONS:
                known = (NOT_TOKEN,)
            else:
                known = () if word in tables.STOP_WORDS else (Token(self.stem(word), word, "word"),)
            self._parts[word] = known
        return known

    def _parse_number(self, chunk: str) -> Chunk:
        if chunk.isascii() and chunk.isalnum() and not chunk[0].isdigit():
            return Chunk(chunk, (Token(chunk, chunk, "code"),))
        if _is_digits(chunk):
            return Chunk(chunk, (Token(chunk, chunk, "number"),))
        glued = _NUMBER_WITH_UNIT.fullmatch(chunk) if chunk[0] in ".0123456789" else None
        if glued:
            unit = tables.UNITS.get(glued[2]) or tables.UNITS_AFTER_NUMBER.get(glued[2])
            if unit:
                return Chunk(chunk, (*self._number(glued[1]), Token(unit, glued[2], "unit")))
        tokens: list[Token] = []
        pieces = 0
        exact = True
        for piece in filter(None, chunk.split("-")):
            if piece.isascii() and piece.isalpha():
                tokens.extend(self._word(piece))
                pieces += 1
                continue
            if _is_digits(piece):
                tokens.append(Token(piece, piece, "number"))
                pieces += 1
                continue
            number = self._number(piece)
            if number:
                tokens.extend(number)
                pieces += 1
                exact = False
                continue
            for part in filter(None, _SEPARATORS.split(piece)):
                pieces += 1
                if _HAS_DIGIT.search(part):
                    tokens.append(Token(part, part, "number" if _is_digits(part) else "code"))
                else:
                    tokens.extend(self._word(part))
        code = _SEPARATORS.sub("", chunk)
        long_enough = len(code) >= 5 or (len(code) >= 4 and not _is_digits(code))
        if (pieces > 1 and exact and long_enough) or _DOTTED_PART_NUMBER.fullmatch(chunk):
            return Chunk(chunk, tuple(tokens), (code,))
        return Chunk(chunk, tuple(tokens))

    def _number(self, text: str) -> tuple[Token, ...]:
        """The number that `text` is, in its one spelling; nothing when it is none."""
        if _is_digits(text) or _FRACTION.fullmatch(text):
            return (Token(text, text, "number"),)
        if _THOUSANDS.fullmatch(text):
            return (Token(text.replace(",", ""), text, "number"),)
        if _DECIMAL.fullmatch(text):
            whole, _, fraction = text.replace(",", ".").partition(".")
            fraction = fraction.rstrip("0")
            whole = whole.lstrip("0") or "0"
            return (Token(f"{whole}.{fraction}" if fraction else whole, text, "number"),)
        return ()


def core(text: str) -> str:
    """What stands between two spaces without the signs and capitals that change nothing in how it is read."""
    plain = text.strip(_PUNCTUATION)
    if plain.isascii() and plain.isalpha() and len(plain) <= tables.MAX_CHUNK:
        return plain.lower()
    return text.rstrip(_AFTER).lstrip(_BEFORE)


def _alone(chunk: Chunk) -> Word:
    """The reading of a word of one chunk, which has nothing before it that could change it."""
    return Word(
        (chunk,), chunk.tokens, chunk.joined, chunk.text in CONTEXT, Before(chunk.text, bool(chunk.tokens))
    )


def _is_one_chunk(text: str) -> bool:
    """Whether a text is surely one chunk as it stands: letters and digits with hyphens between."""
    return (
        text.isascii() and text.replace("-", "").isalnum() and text[0] != "-" != text[-1] and "--" not in text
    )


def _is_digits(text: str) -> bool:
    return text.isascii() and text.isdigit()


def _base(word: str) -> str:
    """Singular and American, as far as it takes to write two words as one."""
    if len(word) > 3 and word[-1] == "s" and word[-2] not in "sui":
        word = word[:-1]
    return tables.SPELLING_VARIANTS.get(word, word)
