"""The file that a translator begins with: every text of a record, in its order, with room for its translation."""

from __future__ import annotations

import json
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from shearpin.model.fields import Record
from shearpin.model.translation import texts_to_translate

_HEAD: Final = """\
# Translate each `from` in the `to` below it. Leave `from` as it is: it says from which words you translated.
# Whatever stands in braces, and every figure, stands in the translation too.
state: draft
texts:
"""


def begun(record: Record, words: Mapping[str, str] = MappingProxyType({})) -> str:
    """Return the text of a translation file for a record, with the translations that are known already."""
    rows = "".join(
        f"  - from: {_quoted(text)}\n    to: {_quoted(words.get(text, ''))}\n"
        for text in texts_to_translate(record)
    )
    return _HEAD + rows


def _quoted(text: str) -> str:
    """Return a text in double quotes, as JSON and YAML both read it."""
    return json.dumps(text, ensure_ascii=False)
