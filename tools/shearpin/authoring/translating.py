"""Translation files as text: the one that a translator begins with, and the usual form of any."""

from __future__ import annotations

import json
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from shearpin.authoring.formatting import plain_data
from shearpin.model.fields import Record
from shearpin.model.translation import TranslationText, texts_to_translate

_HEAD: Final = """\
# Translate each `from` in the `to` below it. Leave `from` as it is: it says from which words you translated.
# Whatever stands in braces, and every figure, stands in the translation too.
state: draft
texts:
"""


def begun(record: Record, words: Mapping[str, str] = MappingProxyType({})) -> str:
    """Return the text of a translation file for a record, with the translations that are known already."""
    return _HEAD + "".join(_row(text, words.get(text, "")) for text in texts_to_translate(record))


def usual_form(raw: bytes, record: Record) -> bytes:
    """Return a translation file in its usual form: pairs in the order of the record, texts in double quotes.

    Pairs of words that the record does not have any more stay, at the end: whoever mends the translation needs them. A file
    with comments of its own is returned as it is, and so is one that would not read back as the same.
    Raises `ValueError` for a file that cannot be read.
    """
    data = plain_data(raw.decode("utf-8"))
    content = TranslationText.model_validate(data)
    comments = [line for line in raw.decode("utf-8").splitlines() if line.lstrip().startswith("#")]
    if not set(comments) <= set(_HEAD.splitlines()):
        return raw
    place = {text: n for n, text in enumerate(texts_to_translate(record))}
    pairs = sorted(content.texts, key=lambda pair: place.get(pair.from_, len(place)))
    by = f"by: {_plain_or_quoted(content.by)}\n" if content.by is not None else ""
    head = _HEAD.replace("state: draft\n", f"state: {content.state}\n{by}")
    new = head + "".join(_row(pair.from_, pair.to) for pair in pairs)
    again = TranslationText.model_validate(plain_data(new))
    same = (again.state, again.by) == (content.state, content.by) and set(again.texts) == set(content.texts)
    return new.encode("utf-8") if same else raw


def _row(text: str, own: str) -> str:
    return f"  - from: {_quoted(text)}\n    to: {_quoted(own)}\n"


def _plain_or_quoted(text: str) -> str:
    return text if text.replace(" ", "").isalnum() and not text[0].isdigit() else _quoted(text)


def _quoted(text: str) -> str:
    """Return a text in double quotes, as JSON and YAML both read it."""
    return json.dumps(text, ensure_ascii=False)
