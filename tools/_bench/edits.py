"""Owns the edits after which a build is timed, besides the one that changes the words of a procedure."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

Change = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Edit:
    """An edit of one record of a kind: the name of its measure, what the table calls it, the folder and the change of the text.

    Where there is a `new_id`, the changed text becomes a further record of that id.
    """

    name: str
    label: str
    folder: str
    change: Change
    new_id: str = ""


def _put(pattern: str, new: str | Callable[[re.Match[str]], str]) -> Change:
    """Return the change that puts something in the place of the first match of a pattern, which must be there."""

    def change(text: str) -> str:
        changed, times = re.subn(pattern, new, text, count=1, flags=re.MULTILINE)
        if not times:
            raise ValueError(f"`{pattern}` matches nothing in this record")
        return changed

    return change


def _other(one: str, another: str) -> Callable[[re.Match[str]], str]:
    """Return what gives one text, or another where that one is there already."""
    return lambda found: another if found[0] == one else one


_RETITLED: Final = _put(r"^title: (.*)$", r"title: \1 again")
_REWORDED: Final = _put(r"^summary: >\n  ", "summary: >\n  Well. ")

EDITS: Final = (
    Edit("title", "title of a procedure", "procedures", _RETITLED),
    Edit(
        "field",
        "minutes of a procedure",
        "procedures",
        _put(r"^time: .*$", _other("time: 77 min", "time: 78 min")),
    ),
    Edit(
        "symptom",
        "a chance of a symptom",
        "symptoms",
        _put(r"chance: (?:rarely|sometimes)$", _other("chance: rarely", "chance: sometimes")),
    ),
    Edit("test", "words of a test", "tests", _put(r"^    seen: ", "    seen: Here ")),
    Edit("part", "title of a part", "parts", _RETITLED),
    Edit("value", "title of a value", "values", _RETITLED),
    Edit(
        "figure", "a figure of a machine", "machines", _put(r"(?<=\{is: 3600 ± )\d00", _other("100", "200"))
    ),
    Edit("machine", "words of a machine", "machines", _REWORDED),
    Edit("term", "another name of a term", "terms", _put(r"^also:\n  - ", "also:\n  - quite ")),
    Edit("caution", "words of a common caution", "cautions", _put(r"^hazard: ", "hazard: Well, ")),
    Edit("retitled-machine", "title of a machine", "machines", _RETITLED),
    Edit("new", "a new procedure", "procedures", _RETITLED, "a-procedure-that-is-new"),
)


def make_edit(kb: Path, edit: Edit) -> Path:
    """Make an edit in the first record of its kind in which there is something to change; return the file that is another now.

    Raises `ValueError` where no record has it.
    """
    for path in sorted((kb / edit.folder).glob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        try:
            changed = edit.change(text)
        except ValueError:
            continue
        if changed != text:
            target = path.with_name(f"{edit.new_id}.yaml") if edit.new_id else path
            target.write_text(changed, encoding="utf-8", newline="\n")
            return target
    raise ValueError(f"no record in {edit.folder} has what is to be edited: {edit.label}")
