"""Blends of gasoline with ethanol as people write them: “E15”, “15 % ethanol”, “an alcohol content of fifteen percent”."""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from shearpin.mechanics.fuel import ETHANOL_CEILING_PERCENT
from shearpin.mechanics.refusals import refused

_WORDS: Final = MappingProxyType(
    {
        "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "twenty": 20, "twenty-five": 25,
        "thirty": 30, "fifty": 50, "eighty-five": 85,
    }
)  # fmt: skip
_FIGURE: Final = rf"(?:[0-9]{{1,3}}(?:\.[0-9]+)?|{'|'.join(sorted(_WORDS, key=len, reverse=True))})"
_PERCENT: Final = r" ?(?:vol\.? ?)?(?:%|per ?cent\b)"
_ETHANOL: Final = r"(?:bio)?(?:ethanol|alcohol)\b"
_BETWEEN: Final = r"(?:(?!%|per ?cent|gasoline|petrol|fuel|water|oil\b)[^.;,!?]){0,40}?"
"""What may stand between the figure and the ethanol: nothing that is itself measured so."""

_BLEND: Final = re.compile(
    rf"\b(?:E[ -]?|e-?)(?P<code>[0-9]{{1,3}})\b"
    rf"|(?<![\w.])(?P<figure>{_FIGURE}){_PERCENT}(?= ?{_BETWEEN}\b{_ETHANOL})"
    rf"|\b{_ETHANOL}:?{_BETWEEN}(?<![\w.])(?P<content>{_FIGURE}{_PERCENT})(?! (?:gasoline|petrol))",
    re.IGNORECASE,
)
_MAY_NAME: Final = re.compile(r"ethanol|alcohol|\be[ -]?[0-9]", re.IGNORECASE)


def may_name_a_blend(text: str) -> bool:
    """Whether it is worth while to look closely."""
    return _MAY_NAME.search(text) is not None


def strong_blends(text: str) -> Iterator[tuple[int, str]]:
    """Yield place and words of every blend above the ceiling that the text does not refuse."""
    for match in _BLEND.finditer(text):
        group = match.lastgroup or "figure"
        start, end = match.span(group) if group == "content" else match.span()
        percent = _percent(match[group])
        if percent > ETHANOL_CEILING_PERCENT and not refused(text, start, end, _BLEND):
            yield start, text[start:end]


def _percent(words: str) -> float:
    figure = re.sub(_PERCENT, "", words, flags=re.IGNORECASE).lower()
    return float(_WORDS[figure]) if figure in _WORDS else float(figure)
