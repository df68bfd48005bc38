"""The page of a job: a frame for the script, and the data from which it makes one list of several procedures."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.job import powers_up, seconds_of
from shearpin.model.conditiontext import condition_of, text_of
from shearpin.model.kinds import KINDS
from shearpin.site.common import article
from shearpin.site.html import text
from shearpin.site.interface import signal_word
from shearpin.site.packed import by_machine, fits, script, without_empty
from shearpin.site.safety import DEFERENCE
from shearpin.site.view import View, address

DATA_FILE: Final = "job-data.js"

_WHAT: Final = (
    "Several procedures on one machine as one list: safety messages, work with shared preparations once, tools, parts by "
    "the plate that orders them, and minutes."
)
_ALIKE: Final = ("fits", "against", "cautions", "tools")
"""Fields of which few different ones serve many records."""

_HOLDS: Final = "holds"
"""Stands in what is remembered of a record for its condition, as text: the machines that meet it would take many times the room."""
_TOLD_OF: Final = MappingProxyType({"procedure": ("fits", "against")})
"""What is told of a condition, by the kind of the record; of the others only which machines meet it."""

_WITHOUT_SCRIPTS: Final = (
    "This list is put together by a script, and scripts are switched off here. Without them, open and print each "
    "procedure: all of it stands there. The same list comes on a terminal from shearpin job."
)


def page(view: View) -> str:
    """Return the page."""
    listing = f"{view.root}procedures/index.html"
    return article(
        "page",
        "job",
        '<header class="page-head"><h1>Job</h1></header>'
        f'<p class="purpose">{text(_WHAT)}</p>'
        f"<p data-without-scripts>{text(_WITHOUT_SCRIPTS)} "
        f'<a href="{listing}">All procedures</a></p>'
        f'<div data-job-sheet></div><p class="deference">{text(DEFERENCE)}</p>'
        f'<script src="{view.root}{DATA_FILE}"></script><script src="{view.root}look/job-list.js"></script>',
    )


def add_link(view: View, procedure: str) -> str:
    """Return the link from a procedure to the job; a script puts the procedure into its address, and what is in the job already."""
    return (
        f'<p class="to-job" data-work-acts><a data-add-to-job="{procedure}" href="{view.root}job.html">'
        "Put it in the job</a></p>"
    )


class JobData:
    """The data from which the page makes one list; each record's part is remembered for itself.

    So a record whose words changed leaves the script as it is.
    """

    def __init__(self, linked: LinkedBook) -> None:
        self._linked = linked
        self._conditions = linked.shared(partial(_condition, linked))
        self._parts: dict[str, Callable[..., object]] = {
            kind: linked.remembered(f"{kind} of jobs", partial(work, linked), kept=True)
            for kind, work in _WORKERS.items()
        }

    def script(self) -> str:
        """Return the script that hands the data to the page; `job-list.js` says what its short names mean."""
        alike = _Alike()
        data = {
            KINDS[kind].folder: {
                record_id: alike.numbered(self._told(kind, part(record_id)))
                for record_id in self._linked.book.of_kind(kind)
            }
            for kind, part in self._parts.items()
        }
        return script("shearpinJobData", {**data, "alike": alike.tables})

    def _told(self, kind: str, record: object) -> object:
        """Return a record with the machines of its condition, of a procedure why it is for no other too, in place of the condition."""
        if not isinstance(record, dict):
            return record
        told: dict[str, object] = {}
        for field, value in record.items():
            if field == _HOLDS:
                fitting = self._conditions(value)
                told |= {name: fitting[name] for name in _TOLD_OF.get(kind, ("fits",)) if fitting[name]}
            else:
                told[field] = value
        return told


class _Alike:
    """What many records hold alike, once each: in their place they have its number, from 1.

    Most of a large book's data would be the same few lists of machines, and reasons against them.
    """

    def __init__(self) -> None:
        self._numbers: dict[str, dict[str, int]] = {field: {} for field in _ALIKE}
        self._met: dict[tuple[str, int], tuple[object, int]] = {}
        self.tables: dict[str, list[object]] = {field: [] for field in _ALIKE}

    def numbered(self, record: object) -> object:
        """Return a record with numbers in place of such fields."""
        if not isinstance(record, dict):
            return record
        found = dict(record)
        for field in (each for each in _ALIKE if each in found):
            found[field] = self._number(field, found[field])
        return found

    def _number(self, field: str, value: object) -> int:
        # By identity first: to tell a list of a hundred machines takes long, and most records share one.
        met = self._met.get((field, id(value)))
        if met is not None:
            return met[1]
        numbers, told = self._numbers[field], repr(value)
        if told not in numbers:
            self.tables[field].append(value)
            numbers[told] = len(numbers) + 1
        number = numbers[told]
        self._met[field, id(value)] = value, number  # with the value: else its identity may pass to another
        return number


def _machine(linked: LinkedBook, machine: str) -> list[str | None]:
    record = linked.book.machines[machine]
    return [record.title, record.engine]


def _tool(linked: LinkedBook, tool: str) -> list[str | int]:
    record = linked.book.tools[tool]
    return [record.title, int(record.special)]


def _condition(linked: LinkedBook, holds: str) -> Mapping[str, object]:
    """Return which machines meet a condition, given as text, and in words why none of the others does."""
    condition = condition_of(holds)
    reasons = {
        machine: linked.applicability.reason_against(condition, machine) for machine in linked.book.machines
    }
    against = {machine: reason for machine, reason in reasons.items() if reason is not None}
    return {"fits": fits(linked, condition), "against": against}


def _procedure(linked: LinkedBook, procedure: str) -> dict[str, object]:
    record = linked.book.procedures[procedure]
    return without_empty(
        {
            "title": record.title,
            "url": address("procedure", procedure),
            "seconds": seconds_of(linked, procedure),
            "before": [p for p in linked.book.preparations(record) if p in linked.book.procedures],
            _HOLDS: text_of(record.applies_to),
            "cautions": [item.id for item in linked.safety.required("procedure", procedure)],
            "tools": list(record.tools),
            "parts": [
                [use.part, use.quantity, *([use.if_needed] if use.if_needed else [])] for use in record.parts
            ],
            "isolates": int(bool(record.isolates)),
            "live": int(powers_up(linked, procedure)),
        }
    )


def _caution(linked: LinkedBook, caution: str) -> dict[str, object]:
    record = linked.book.cautions[caution]
    lines = (record.hazard, record.consequence, *record.avoidance)
    said = signal_word(linked.book, record.signal_word)
    return without_empty(
        {
            "word": record.signal_word.value,
            "said": said if said != record.signal_word.value else "",
            "lines": [by_machine(linked, line, linked.book.machines) for line in lines],
            _HOLDS: text_of(record.applies_to),
        }
    )


def _part(linked: LinkedBook, part: str) -> dict[str, object]:
    record = linked.book.parts[part]
    return without_empty(
        {
            "title": record.title,
            "url": address("part", part),
            "plate": record.plate.value,
            "numbers": {holder: entry.number for holder, entry in record.numbers.items()},
            "ask": record.consumable or "",
            _HOLDS: text_of(record.applies_to),
        }
    )


_WORKERS: Final[Mapping[str, Callable[[LinkedBook, str], object]]] = MappingProxyType(
    {"machine": _machine, "caution": _caution, "tool": _tool, "part": _part, "procedure": _procedure}
)
