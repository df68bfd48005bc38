"""What a query asks for, and which of its words say only that."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from shearpin.search import tables
from shearpin.search.tokens import Token


def intent_of(tokens: Sequence[Token], typed: Sequence[str], codes: bool) -> str:
    """What is asked for: a complaint unless the words say otherwise. `codes` when there is a part number."""
    words = [text.lower() for text in typed] or [""]
    raws = {token.raw for token in tokens} | {token.term for token in tokens}
    asked = {intent for intent, known in tables.INTENT_WORDS.items() if not raws.isdisjoint(known)}
    pairs = {"-".join(pair) for pair in pairwise(words)}
    begins = "-".join(words[:2])
    if not pairs.isdisjoint(tables.WANTS_TEST):
        return "test"
    if not pairs.isdisjoint(tables.WANTS_TOOL):
        return "tool"
    if codes or "part" in asked or words[0] in tables.PART_FIRST or not pairs.isdisjoint(tables.WANTS_PART):
        return "part"
    if words[0] in tables.CAUSE_FIRST or not pairs.isdisjoint(tables.WANTS_CAUSE):
        return "cause"
    if not pairs.isdisjoint(tables.HOW_MUCH):
        return "value"
    if begins in tables.WHERE_IS or begins == tables.HOW_IT_WORKS:
        return "theory"
    apart = {f"{words[0]}-{word}" for word in words[1:]}
    if not pairs.isdisjoint(tables.HOW_TO) or not apart.isdisjoint(tables.DONE_APART):
        asked.add("do" if "test" not in asked else "test")
    elif any(token.kind == "not" for token in tokens):
        first = tokens[0].raw
        return "do" if first in tables.INTENT_WORDS["do"] else "complaint"
    elif words[0] in tables.DO_FIRST:
        asked.add("do")
    if "do" in asked:
        return "do-value" if "value" in asked else "do"
    for intent in ("value", "test", "theory"):
        if intent in asked:
            return intent
    if begins in tables.WHETHER:
        return "test"
    return "theory" if begins in tables.WHAT_IS else "complaint"


def is_weak(raws: Sequence[str], index: int, intent: str) -> bool:
    """Whether the word at `index` of the typed words fills a complaint, names the whole machine, or only asks."""
    raw = raws[index]
    pairs = pairwise(raws[max(0, index - 1) : index + 2])
    return (
        raw in tables.WEAK_WORDS
        or raw in tables.ASKING_WORDS.get(intent, ())
        or any(f"{a}-{b}" in tables.WEAK_PAIRS for a, b in pairs)
    )
