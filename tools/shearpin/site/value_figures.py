"""One figure of one machine as pages show it: with its conversion, and with what must be said beside it."""

from __future__ import annotations

from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState
from shearpin.book.values import MissingValue, ResolvedValue
from shearpin.model.quantity import Quantity, dual_parts
from shearpin.site.html import text


class ValueFigures:
    """The figures of a book."""

    def __init__(self, linked: LinkedBook) -> None:
        self._linked = linked
        self._duals: dict[str, tuple[str, str | None]] = {}

    def shown(self, name: str, machine_id: str) -> str:
        """Return a figure with its conversion, or in words why there is none."""
        found = self._linked.values.resolve(name, machine_id)
        if isinstance(found, MissingValue):
            words = f"{found.reason}; see the maker’s manual" if found.applies else found.reason
            return f'<span class="missing" data-missing="value:{text(name)}">{text(words)}</span>'
        own, converted = self._dual(found.quantity)
        extra = f" <small>({text(converted)})</small>" if converted else ""
        return f"<b>{text(own)}</b>{extra}{self._standing(found)}"

    def _dual(self, quantity: Quantity) -> tuple[str, str | None]:
        spelt = f"{quantity.kind.value} {quantity}"
        if spelt not in self._duals:  # few figures serve many machines
            self._duals[spelt] = dual_parts(quantity)
        return self._duals[spelt]

    def _standing(self, found: ResolvedValue) -> str:
        """Return what must be said beside a figure: that it is unsourced, or that nobody reviewed it as it is."""
        holder = self._linked.book.get(*found.holder)
        words = []
        if found.entry.basis is None:
            words.append("no source")
        state = self._linked.reviews.of(*found.holder).state
        if state is ReviewState.DRAFT and holder is not None and holder.review is not None:
            words.append("draft, not reviewed")
        if state is ReviewState.LAPSED:
            words.append("changed since its review")
        return f' <span class="standing" data-missing="standing">[{", ".join(words)}]</span>' if words else ""
