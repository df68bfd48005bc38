"""Data for scripts of pages: small, and by machine only where machines differ."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text, value_words
from shearpin.model.fields import AppliesTo
from shearpin.model.inline import ValueMention, parse_inline


def script(name: str, data: Mapping[str, object]) -> str:
    """Return a classic script that puts the data on the window; nothing in it can end the element it stands in."""
    packed = json.dumps(data, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.{name}={packed};\n"


def fits(linked: LinkedBook, condition: AppliesTo | None) -> list[str] | int:
    """Return the machines a condition holds for, 0 when all."""
    here = linked.applicability.machines_for(condition)
    return 0 if here == linked.applicability.everywhere else sorted(here)


def by_machine(linked: LinkedBook, line: str, machines: Iterable[str]) -> str | dict[str, str]:
    """Return a line as plain text, by machine where its figures differ."""
    everywhere = tuple(machines)
    names = [piece.name for piece in parse_inline(line) if isinstance(piece, ValueMention)]
    if not (everywhere and names):
        return plain_text(linked, line, everywhere[0]) if everywhere else ""
    texts: dict[str, str] = {}
    told: dict[tuple[str, ...], str] = {}  # few figures serve many machines
    for machine in everywhere:
        figures = tuple([value_words(linked, name, machine) for name in names])
        if figures not in told:
            told[figures] = plain_text(linked, line, machine)
        texts[machine] = told[figures]
    return texts[everywhere[0]] if len(set(told.values())) == 1 else texts


def without_empty(fields: Mapping[str, object]) -> dict[str, object]:
    """Return the fields that say something; scripts read a missing one as empty."""
    return {name: value for name, value in fields.items() if value not in (0, "", [], {})}
