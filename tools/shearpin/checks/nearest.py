"""Did-you-mean: the nearest known name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from itertools import islice
from typing import Final

_MOST_LISTED: Final = 12


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return ``did you mean `x`?`` for the closest known name, or an empty text when nothing is near."""
    folded = {name.lower().replace("_", "-"): name for name in known}
    near = get_close_matches(word.lower().replace("_", "-").replace(" ", "-"), folded, n=1, cutoff=0.6)
    return f"did you mean `{folded[near[0]]}`?" if near else ""


def nearest_or_all(word: str, known: Iterable[str], what: str) -> str:
    """Return the did-you-mean, else what there is: the first dozen of the known names, called `what`, and how many."""
    names = list(known)
    advice = did_you_mean(word, names)
    if advice or not names:
        return advice or f"the book has no {what} yet"
    more = f" and {len(names) - _MOST_LISTED} more" if len(names) > _MOST_LISTED else ""
    return f"{what}: {', '.join(islice(names, _MOST_LISTED))}{more}"


def some_of(names: Sequence[str], most: int = 3) -> str:
    """Return the first names, marked as code, and how many more there are: ``` `a`, `b`, `c` and 4 more ```."""
    shown = ", ".join(f"`{name}`" for name in names[:most])
    return f"{shown} and {len(names) - most:,} more" if len(names) > most else shown
