"""Data for scripts of pages: small, and by machine only where machines differ."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from pydantic_core import to_json

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text, value_words
from shearpin.model.fields import AppliesTo
from shearpin.model.inline import values_in


def script(name: str, data: object) -> str:
    """Return a classic script that puts the data on the window."""
    return f"window.{name}={json_text(data)};\n"


def json_text(data: object) -> str:
    """Return data as JSON that cannot end the element it stands in; pydantic writes it in half the time of Python's own."""
    return to_json(data).decode().replace("<", "\\u003c")


def fits(linked: LinkedBook, condition: AppliesTo | None) -> list[str] | int:
    """Return the machines a condition holds for, 0 when all."""
    here = linked.applicability.machines_for(condition)
    return 0 if here == linked.applicability.everywhere else sorted(here)


def by_machine(linked: LinkedBook, line: str, machines: Iterable[str]) -> str | dict[str, str]:
    """Return a line as plain text, by machine where its figures differ."""
    everywhere = tuple(machines)
    names = values_in(line) if "{" in line else []
    if not (everywhere and names):
        return plain_text(linked, line, everywhere[0]) if everywhere else ""
    texts: dict[str, str] = {}
    told: dict[tuple[str, ...], str] = {}  # few figures serve many machines
    of_machines = linked.once(_figures_of)
    figures_of = zip(*(of_machines(name, everywhere) for name in names), strict=True)
    for machine, figures in zip(everywhere, figures_of, strict=True):
        if figures not in told:
            told[figures] = plain_text(linked, line, machine)
        texts[machine] = told[figures]
    return texts[everywhere[0]] if len(set(told.values())) == 1 else texts


def _figures_of(linked: LinkedBook) -> Callable[[str, tuple[str, ...]], tuple[str, ...]]:
    """Return what tells the figures of a value for machines in words, worked out once where many lines show them."""
    return linked.shared(partial(_in_words, linked))


def _in_words(linked: LinkedBook, name: str, machines: Iterable[str]) -> tuple[str, ...]:
    return tuple([value_words(linked, name, machine) for machine in machines])


def without_empty(fields: Mapping[str, object]) -> dict[str, object]:
    """Return the fields that say something; scripts read a missing one as empty."""
    return {name: value for name, value in fields.items() if value not in (0, "", [], {})}
