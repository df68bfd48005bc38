"""The language of an edition: its book in translation, or the reason why it must not be published."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.translated import translated
from shearpin.book.translations import OpenText
from shearpin.model.editions import Edition
from shearpin.model.translation import ORIGINAL
from shearpin.publish.faults import PublishError
from shearpin.site.interface import INTERFACES

_NAMED: Final = 8  # texts named in a message; the rest are counted


def language_of(edition: Edition) -> str:
    """Return the language without its country, as folders of translations are called."""
    return edition.language.partition("-")[0]


def in_its_language(packed: LinkedBook, edition: Edition) -> LinkedBook:
    """Return the packed book in the language of the edition.

    Raises `PublishError` for a language without a table of signal words, for a safety message without a translation
    that holds, and for a final edition with translations that nobody reviewed.
    """
    language = language_of(edition)
    if language == ORIGINAL:
        return packed
    if language not in INTERFACES:
        known = ", ".join((ORIGINAL, *INTERFACES))
        raise PublishError(f"there are no signal words in `{language}`; languages of editions: {known}")
    result = translated(packed, language)
    if result.unsafe:
        raise PublishError(
            _refusal(
                f"{len(result.unsafe)} texts of safety messages have no translation into `{language}` that holds:",
                [_line(packed, item) for item in result.unsafe],
                "Translate them in these files (`shearpin translation EDITION` lists all, and begins a file), then publish again.",
            )
        )
    if edition.state != "draft" and result.drafts:
        raise PublishError(
            _refusal(
                f"the edition is final, and {len(result.drafts)} of its translations are not:",
                [f"{packed.book.shown}/{path}: no mechanic has reviewed it" for path in result.drafts],
                "Have them read and write `state: reviewed` in them, or write `state: draft` in the edition.",
            )
        )
    return result.linked


def _line(packed: LinkedBook, item: OpenText) -> str:
    reason = f"stale, it was “{item.formerly}”" if item.formerly is not None else "not translated"
    return f"{packed.book.shown}/{item.path}: “{item.text}” ({reason})"


def _refusal(head: str, lines: Sequence[str], advice: str) -> str:
    more = [f"  and {len(lines) - _NAMED} more"] if len(lines) > _NAMED else []
    return "\n".join([head, *(f"  {line}" for line in lines[:_NAMED]), *more, advice])
