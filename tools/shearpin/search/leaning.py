"""What kind of page the plain words of a query lean to: "the pin that …" is a part, "going over …" is work to do.

What is asked for (`intent`) goes by few sure words. Beside it every word, every two neighbours and a few traits of the query
push each kind up or down a little; `leaning_words.py` says how far.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from shearpin.search import tables

_APOSTROPHES: Final = re.compile("['’`]")
_WORD: Final = re.compile("[a-z0-9]+")
_MIN_ING: Final = 5
_FEW: Final = 3
# The first length of each class of lengths.
_LENGTHS: Final = (9, 6, 4, 3, 2, 1)

# 256ths: a factor that changes nothing.
SAME: Final = 256
NO_PUSH: Final = "m"


def kind_factors(typed: Sequence[str], intent: str) -> dict[str, int]:
    """By what a kind's score is multiplied, in 256ths; a kind that is not named has SAME."""
    leaning = dict.fromkeys(tables.LEANING_KINDS, 0)
    for trait in traits(typed, intent):
        pushes = tables.LEANINGS.get(trait)
        if pushes:
            for kind, letter in zip(tables.LEANING_KINDS, pushes, strict=True):
                leaning[kind] += ord(letter) - ord(NO_PUSH)
    factors = {kind: factor * 16 for kind, factor in tables.KIND_FACTORS[intent].items()}
    most = len(tables.LEANING_FACTORS) // 2
    words = max(len(plain_words(typed)), tables.MOST_LEANING_WORDS)
    for kind, sum_ in leaning.items():
        push = sum_ * tables.MOST_LEANING_WORDS // words
        step = max(-most, min(most, push)) + most
        factors[kind] = factors.get(kind, SAME) * tables.LEANING_FACTORS[step] // SAME
    return factors


def traits(typed: Sequence[str], intent: str) -> list[str]:
    """What a query is told by, each once: words, neighbours (`a_b`), first (`^a`) and last word (`a$`), and traits (`~a`)."""
    words = plain_words(typed)
    if not words:
        return []
    first, last = words[0], words[-1]
    found = [*words, *map("_".join, pairwise(words)), f"^{first}", f"{last}$"]
    found.append(f"~{next(length for length in _LENGTHS if len(words) >= length)}")
    groups = tables.LEANING_GROUPS
    negated = any(word in groups["not"] for word in words)
    is_so = {
        "ing": first.endswith("ing") and len(first) >= _MIN_ING,
        "not": negated,
        "who": any(word in groups["who"] for word in words),
        "whether": first in groups["whether"],
        "question": first in groups["question"],
        "the": first in groups["the"],
        "where": not negated
        and intent not in ("do", "do-value")
        and any(w in groups["where"] for w in words),
        "few": not negated and intent == "complaint" and len(words) <= _FEW,
        "part": not negated and last in groups["part"],
    }
    found += [f"~{name}" for name, so in is_so.items() if so] + [f"~{intent}"]
    return list(dict.fromkeys(found))


def plain_words(typed: Sequence[str]) -> list[str]:
    """Letters and figures only; `#` for a number, `@` for what has figures in it, such as the number of a model."""
    found = _WORD.findall(_APOSTROPHES.sub("", " ".join(typed).lower()))
    return ["#" if w.isdigit() else w if w.isalpha() else "@" for w in found]
