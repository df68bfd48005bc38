"""What a way of planning answers: the next test, and what it will cost from here on."""

from __future__ import annotations

from typing import NamedTuple

from shearpin.diagnosis.state import Check


class Choice(NamedTuple):
    """The next test, or None to stop, and the value of the state in minutes times its weight."""

    check: Check | None
    value: float


def first_of_least(options: list[tuple[Check, float]], stop: float, tolerance: float) -> Choice:
    """Return the first choice within `tolerance` of the least, in the order of ties: stopping, then by number."""
    least = min([stop, *(value for _, value in options)])
    if stop <= least + tolerance:
        return Choice(None, stop)
    check, value = min(
        ((check, value) for check, value in options if value <= least + tolerance),
        key=lambda option: option[0].number,
    )
    return Choice(check, value)
