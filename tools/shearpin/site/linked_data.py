"""What a page is, for programs: schema.org vocabulary as JSON-LD, from the record alone and with its cautions.

The block is data, which no browser runs, so that the pages' Content-Security-Policy needs no exception for it.
"""

from __future__ import annotations

from shearpin.book.plaintext import plain_text
from shearpin.model.fields import Record
from shearpin.model.heading import summary_of
from shearpin.model.quantity import QuantityKind
from shearpin.model.steps import Procedure, Step
from shearpin.site.packed import json_text
from shearpin.site.safety import DEFERENCE
from shearpin.site.view import View


def block(view: View, kind: str, record_id: str) -> str:
    """Return the data block of a record's page: a HowTo for a procedure, else a TechArticle."""
    record = view.book.get(kind, record_id)
    if record is None:
        return ""
    about = _how_to(view, record) if isinstance(record, Procedure) else _article(view, record)
    return f'<script type="application/ld+json">{json_text(about)}</script>'


def _article(view: View, record: Record) -> dict[str, object]:
    about: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "TechArticle",
        "headline": record.title,
        "inLanguage": "en",
    }
    description = plain_text(view.linked, summary_of(record))
    return {**about, "description": description} if description else about


def _how_to(view: View, record: Procedure) -> dict[str, object]:
    steps = view.steps_here((*record.steps, *record.finish))
    told: dict[str, int] = {}
    return {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": record.title,
        "inLanguage": "en",
        "description": plain_text(view.linked, record.purpose) + ("" if view.light else f" {DEFERENCE}"),
        **_time(record),
        **({} if view.light else _outfit(view, record)),
        "step": [_step(view, number, step, told) for number, step in enumerate(steps, 1)],
    }


def _outfit(view: View, record: Procedure) -> dict[str, object]:
    return {
        "tool": [{"@type": "HowToTool", "name": view.title("tool", tool)} for tool in record.tools],
        "supply": [{"@type": "HowToSupply", "name": view.title("part", use.part)} for use in record.parts],
    }


def _time(record: Procedure) -> dict[str, str]:
    """Return the working time as ISO 8601 writes durations; nothing for an open one."""
    if record.time.kind is not QuantityKind.TIME or record.time.high is None:
        return {}
    return {"totalTime": f"PT{record.time.minutes:g}M"}


def _step(view: View, number: int, step: Step, told: dict[str, int]) -> dict[str, object]:
    """Return a step whose text begins with its hazards: whoever lifts a step out of the page lifts them too.

    A hazard `told` at an earlier step is referred to, with its signal word: pages have a weight to keep.
    """
    said = []
    for caution_id in view.linked.safety.of_step(step):
        caution = view.book.cautions[caution_id]
        at = told.setdefault(caution_id, number)
        hazard = plain_text(view.linked, caution.hazard) if at == number else f"as at step {at}."
        said.append(f"{caution.signal_word.value}: {hazard}")
    about: dict[str, object] = {"@type": "HowToStep", "url": f"#step-{number}"}
    # Of a page that is long already the steps are told by their addresses: there they stand with their messages.
    if view.light:
        return about
    return {**about, "position": number, "text": " ".join((*said, plain_text(view.linked, step.do)))}
