"""The figures of a value as hits show them: whole ones, with who has them and where they come from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from shearpin.search.pages import excerpt

FIGURE_CHARACTERS: Final = 120
"""A hit shows a little more of figures than of prose."""
_MORE: Final = "; …"
_MOST_NAMES: Final = 60

MAX_ANSWERS: Final = 8
"""A value with more different figures than this answers by its page alone."""


@dataclass(frozen=True, slots=True)
class Held:
    """Who has a figure: titles of machines or engines, each once and in order, and ids of machines; terms to find it by; where it comes from."""

    holders: dict[str, None] = field(default_factory=dict)
    machines: list[str] = field(default_factory=list)
    terms: list[str] = field(default_factory=list)
    basis: dict[str, None] = field(default_factory=dict)


def told_of(figures: Mapping[str, Held]) -> list[str]:
    """Return each figure with its plates; one for all plates with where it comes from."""
    if len(figures) == 1:
        return [f"{figure}{_basis_of(held)}" for figure, held in figures.items()]
    return [f"{', '.join(held.holders)}: {figure}" for figure, held in figures.items()]


def shown_of(figures: Mapping[str, Held], *, of_some: bool) -> str:
    """Return what a hit shows of one or more figures: whole ones; who has the only one where only `of_some` machines."""
    told = told_of(figures)
    if len(told) > 1:
        return excerpt(_whole_ones(told), FIGURE_CHARACTERS)
    figure, held = next(iter(figures.items()))
    names = ", ".join(held.holders)
    return with_basis(figure, held, f"; {names}" if of_some and len(names) <= _MOST_NAMES else "")


def _whole_ones(told: Sequence[str]) -> str:
    """Of more than have answers of their own none is shown, for it might be that of another machine."""
    if len(told) > MAX_ANSWERS:
        return f"{len(told)} figures, by plate: this page shows which is yours."
    room = FIGURE_CHARACTERS - len(_MORE)
    some = [told[0]]
    while len(some) < len(told) and len("; ".join([*some, told[len(some)]])) <= room:
        some.append(told[len(some)])
    return "; ".join(some) + (_MORE if len(some) < len(told) else "")


def with_basis(figure: str, held: Held, names: str = "") -> str:
    """Return a figure with where it comes from, and who has it; it is the note on the figure that is cut where all is too long."""
    end = _basis_of(held) + names
    return excerpt(figure, FIGURE_CHARACTERS - len(end)) + end


def _basis_of(held: Held) -> str:
    return f"; {', '.join(held.basis)}"
