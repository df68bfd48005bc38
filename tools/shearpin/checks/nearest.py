"""Did-you-mean: the nearest known name."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return ``did you mean `x`?`` for the closest known name, or an empty text when nothing is near."""
    folded = {name.lower().replace("_", "-"): name for name in known}
    near = get_close_matches(word.lower().replace("_", "-").replace(" ", "-"), folded, n=1, cutoff=0.6)
    return f"did you mean `{folded[near[0]]}`?" if near else ""
