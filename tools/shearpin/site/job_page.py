"""The page of a job: a frame for the script, and the data from which it makes one list of several procedures."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.job import powers_up, seconds_of
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
        self._parts: dict[str, Callable[..., object]] = {
            kind: linked.remembered(f"{kind} of jobs", partial(work, linked))
            for kind, work in _WORKERS.items()
        }

    def script(self) -> str:
        """Return the script that hands the data to the page; `job-list.js` says what its short names mean."""
        data = {
            KINDS[kind].folder: {record_id: part(record_id) for record_id in self._linked.book.of_kind(kind)}
            for kind, part in self._parts.items()
        }
        return script("shearpinJobData", data)


def _machine(linked: LinkedBook, machine: str) -> list[str | None]:
    record = linked.book.machines[machine]
    return [record.title, record.engine]


def _tool(linked: LinkedBook, tool: str) -> list[str | int]:
    record = linked.book.tools[tool]
    return [record.title, int(record.special)]


def _procedure(linked: LinkedBook, procedure: str) -> dict[str, object]:
    record = linked.book.procedures[procedure]
    return without_empty(
        {
            "title": record.title,
            "url": address("procedure", procedure),
            "seconds": seconds_of(linked, procedure),
            "before": [p for p in linked.book.preparations(record) if p in linked.book.procedures],
            "fits": fits(linked, record.applies_to),
            "against": {
                machine: reason
                for machine in linked.book.machines
                if (reason := linked.applicability.reason_against(record.applies_to, machine)) is not None
            },
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
            "fits": fits(linked, record.applies_to),
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
            "fits": fits(linked, record.applies_to),
        }
    )


_WORKERS: Final[Mapping[str, Callable[[LinkedBook, str], object]]] = MappingProxyType(
    {"machine": _machine, "procedure": _procedure, "caution": _caution, "tool": _tool, "part": _part}
)
