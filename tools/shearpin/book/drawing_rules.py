"""Rules on drawings: a label leads somewhere, stands in the drawing, and can be read on a small screen."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.finding import Severity

SHOWN_WIDTH: Final = 358
"""How wide a drawing is shown on a screen of 390 px, in px: the margins of a page are taken off."""

LEAST_TEXT: Final = 11.0
"""Words smaller than this, in px, are not read at arm's length. Common practice, no source."""

_TEXT: Final = re.compile(r"<text\b[^>]*>(.*?)</text>", re.DOTALL)
_TAG: Final = re.compile(r"<[^>]*>")
_FONT_SIZE: Final = re.compile(r"\bfont-size\s*=\s*[\"']([0-9]+(?:\.[0-9]+)?)(?:px)?[\"']")
_VIEW_BOX: Final = re.compile(
    r"<svg\b[^>]*?\bviewBox\s*=\s*[\"']\s*\S+[\s,]+\S+[\s,]+([0-9]+(?:\.[0-9]+)?)[\s,]"
)


def _drawing(linked: LinkedBook, figure_id: str) -> str:
    """Return the text of a drawing; nothing where FIG002 has something to say."""
    path: Path = linked.book.kb / "figures" / f"{figure_id}.svg"
    try:
        # A link or a pipe is no drawing, and a pipe would be waited for.
        if path.is_symlink() or not path.is_file() or path.stat().st_size > MAX_BYTES:
            return ""
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return ""


@rule("FIG003", Severity.WARNING)
def label_without_a_target(linked: LinkedBook) -> Iterator[Fault]:
    """A label of a drawing that leads to no record.

    ## Why
    Who asks “what is this, and how do I order it?” points at the drawing; the list of labels beside it is the answer.

    ## Hint
    name its `part`, `tool`, `term` or `system`; a mere caption needs no label

    ## Bad
    ```yaml
    # kb/figures/shear-bolt.yaml
    title: A shear bolt
    alt: A bolt through the auger tube and the shaft, with a groove where it breaks.
    labels:
      - {text: bolt}
    ```

    ## Good
    ```yaml
    # kb/figures/shear-bolt.yaml
    title: A shear bolt
    alt: A bolt through the auger tube and the shaft, with a groove where it breaks.
    labels:
      - {text: bolt, part: auger-shear-bolt}
    ```
    """
    for figure_id, figure in linked.book.figures.items():
        path = linked.book.file_of[("figure", figure_id)].path
        for index, label in enumerate(figure.labels):
            if label.leads_to is None:
                advice = "name its `part`, `tool`, `term` or `system`; a mere caption needs no label"
                yield Fault(
                    path, ("labels", index, "text"), f"the label “{label.text}” leads nowhere", advice
                )


@rule("FIG004")
def label_not_in_the_drawing(linked: LinkedBook) -> Iterator[Fault]:
    """A label whose words do not stand in the drawing.

    ## Why
    The reader looks in the drawing for what the list beside it names; a part that was renamed or erased is sought in vain.

    ## Hint
    write it as it stands in the drawing

    ## Bad
    ```yaml
    # kb/figures/shear-bolt.yaml
    title: A shear bolt
    alt: A bolt through the auger tube and the shaft, with a groove where it breaks.
    labels:
      - {text: shear bolt, part: auger-shear-bolt}
    ```

    ## Good
    ```yaml
    # kb/figures/shear-bolt.yaml
    title: A shear bolt
    alt: A bolt through the auger tube and the shaft, with a groove where it breaks.
    labels:
      - {text: bolt, part: auger-shear-bolt}
    ```
    """
    for figure_id, figure in linked.book.figures.items():
        drawing = _drawing(linked, figure_id)
        if "<svg" not in drawing or not figure.labels:
            continue
        words = [html.unescape(_TAG.sub("", match)) for match in _TEXT.findall(drawing)]
        drawn = {_bare(text): text for text in words}
        path = linked.book.file_of[("figure", figure_id)].path
        for index, label in enumerate(figure.labels):
            if _bare(label.text) not in drawn:
                advice = did_you_mean(label.text, drawn.values()) or "write it as it stands in the drawing"
                message = f"“{label.text}” does not stand in `{figure_id}.svg`"
                yield Fault(path, ("labels", index, "text"), message, advice)


def _bare(words: str) -> str:
    """Return words without white space: a label on two lines is one label."""
    return "".join(words.split())


@rule("FIG005", Severity.WARNING)
def words_too_small_on_a_small_screen(linked: LinkedBook) -> Iterator[Fault]:
    """Words of a drawing that are smaller than 11 px where the screen is 390 px wide.

    ## Why
    A wide drawing shrinks on a phone and in a column of paper, and its words with it. Few words on a narrow drawing are
    read; many on a wide one are not.

    ## Hint
    draw narrower, or with larger and fewer words

    ## Bad
    ```yaml
    # kb/figures/shear-bolt.svg
    <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 300"><text y="20" font-size="16">bolt</text></svg>
    ```

    ## Good
    ```yaml
    # kb/figures/shear-bolt.svg
    <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 300"><text y="20" font-size="14">bolt</text></svg>
    ```
    """
    for figure_id in linked.book.figures:
        drawing = _drawing(linked, figure_id)
        box = _VIEW_BOX.search(drawing)
        sizes = [float(size) for size in _FONT_SIZE.findall(drawing)]
        if box is None or not sizes or not float(box.group(1)):
            continue
        shown = min(sizes) * SHOWN_WIDTH / float(box.group(1))
        if shown < LEAST_TEXT:
            path = linked.book.file_of[("figure", figure_id)].path
            message = f"words of `{figure_id}.svg` are {shown:.1f} px high on a screen of 390 px; {LEAST_TEXT:.0f} px can be read"
            advice = "draw narrower, or with larger and fewer words"
            yield Fault(path, (), message, advice, place=(1, 1))


DRAWING_RULES: Final[tuple[AnyRule, ...]] = (
    label_without_a_target,
    label_not_in_the_drawing,
    words_too_small_on_a_small_screen,
)
