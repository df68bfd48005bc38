"""Page numbers put into a document that WeasyPrint has laid out: what follows them on the line moves up, so that no gap stays.

Its own way, `target-counter`, lays out every page twice more. This one rests on how it keeps its boxes, so the version is
bound in `pyproject.toml`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from shearpin.publish.paper import ROOM

Number = Callable[[str | None], str]
"""Gives the number for the name of a place; for None how many pages there are."""

_LINE: Final = "LineBox"
_TEXT: Final = "TextBox"
_INLINE: Final = "InlineBox"
_TO_THE_RIGHT: Final = frozenset({"right", "end"})


def put_in(document: Any, places: Mapping[str, str]) -> None:
    """Write into all `ROOM` of a laid out document the number of its place, or how many pages there are."""

    def number(place: str | None) -> str:
        return str(len(document.pages)) if place is None else places[place]

    for page in document.pages:
        for box in page._page_box.descendants():
            if type(box).__name__ == _LINE and _has_room(box):
                gained = _fill(box, number, 0.0)
                if box.style["text_align_all"] in _TO_THE_RIGHT:
                    for child in box.children:
                        child.translate(dx=gained)


def _has_room(box: Any) -> bool:
    if type(box).__name__ == _TEXT:
        return ROOM in box.text
    return any(map(_has_room, getattr(box, "children", ())))


def _fill(box: Any, number: Number, gained: float) -> float:
    """Fill the room in a piece of a line, move it to the left by what was gained before it, return what is gained after it."""
    kind = type(box).__name__
    if kind not in (_LINE, _TEXT, _INLINE):
        if box.is_in_normal_flow():
            box.translate(dx=-gained)
        return gained
    if kind != _LINE:
        box.position_x -= gained
    if kind == _TEXT:
        return gained + (_written(box, number) if ROOM in box.text else 0.0)
    before = gained
    for child in box.children:
        gained = _fill(child, number, gained)
    if kind == _INLINE:
        box.width -= gained - before
    return gained


def _written(box: Any, number: Number) -> float:
    """Write the number into a text; return by how much it became narrower.

    A number that stands alone is set to the right of its room: it ends a row of a list.
    """
    from weasyprint.text.line_break import line_size

    place = box.element.get("data-place") if box.element is not None else None
    words = box.text.replace(ROOM, number(place))
    if place is not None and box.text.endswith(ROOM):
        words = words.rjust(len(box.text), ROOM[0])
    box.text = box.pango_layout.text = words
    box.pango_layout.reactivate(box.style)
    width, _ = line_size(box.pango_layout.get_first_line()[0], box.style)
    box.pango_layout.deactivate()
    box.width, gained = width, box.width - width
    return float(gained)
