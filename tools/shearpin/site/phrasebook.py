"""A table of phrases in another language, and how a text of a page is said by it.

A phrase may have places, `{0}`, `{1}`, where something is filled in. What stands in such a place is said by the table too where it
can be. `look/interface.js` does the same with what scripts write.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Final

_PLACE: Final = re.compile(r"\\?\{(\d)\\?\}")
_JOINTS: Final = ("; ", ", ")


class Phrasebook:
    """Phrases by their English ones."""

    def __init__(self, words: Mapping[str, str]) -> None:
        self.words = words
        # The phrase with the most words of its own goes first: it says the most precisely what is meant.
        with_places = sorted(
            (w for w in words if _PLACE.search(w)), key=lambda w: (-len(_PLACE.sub("", w)), w)
        )
        self._patterns = [(_pattern(english), words[english]) for english in with_places]
        self.said = cache(self._said)

    def _said(self, english: str) -> str | None:
        """Return a text in the other language, or None where the table does not know it."""
        own = self.words.get(english)
        if own is not None:
            return own
        for pattern, phrase in self._patterns:
            match = pattern.fullmatch(english)
            if match:
                return fill(phrase, [self._piece(piece) for piece in match.groups()])
        for joint in _JOINTS:
            pieces = english.split(joint)
            said = [self.said(piece) for piece in pieces] if len(pieces) > 1 else [None]
            if all(said):
                return joint.join(piece or "" for piece in said)
        return None

    def _piece(self, piece: str) -> str:
        """Return what stands in a place, its spaces around it as they were."""
        core = piece.strip()
        return piece.replace(core, self.said(core) or core, 1) if core else piece


def fill(phrase: str, pieces: tuple[object, ...] | list[str]) -> str:
    """Return a phrase with its places filled."""
    return re.sub(r"\{(\d)\}", lambda match: str(pieces[int(match[1])]), phrase)


_COUNTED: Final = re.compile(r"\{0\} [a-z]+")


def _pattern(english: str) -> re.Pattern[str]:
    """Return what finds a phrase whose places stand in the order of their numbers; one word alone is counted: `12 machines`."""
    place = r"(\\d[\\d.,]*)" if _COUNTED.fullmatch(english) else "(.*?)"
    return re.compile(_PLACE.sub(place, re.escape(english)), re.DOTALL)
