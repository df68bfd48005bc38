"""Data for scripts of pages: small, and by machine only where machines differ."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
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
    differing = any(isinstance(piece, ValueMention) for piece in parse_inline(line))
    texts = {
        machine: plain_text(linked, line, machine)
        for machine in (everywhere if differing else everywhere[:1])
    }
    return next(iter(texts.values()), "") if len(set(texts.values())) <= 1 else texts


def without_empty(fields: Mapping[str, object]) -> dict[str, object]:
    """Return the fields that say something; scripts read a missing one as empty."""
    return {name: value for name, value in fields.items() if value not in (0, "", [], {})}
