"""From the book to what the search sees: one document for each record, and the book's synonyms."""

from __future__ import annotations

from collections.abc import Iterable

from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.book.values import ResolvedValue
from shearpin.model.fields import AppliesTo, Plate, Record
from shearpin.model.kinds import KINDS
from shearpin.model.knowledge import Cause, Caution, Source, Symptom, System
from shearpin.model.machines import Engine, Machine, Part, Plated, Value
from shearpin.model.references import InlineText, mentions
from shearpin.search.document import Document, Synonym

_EXCERPT = 180
_LEADS = ("summary", "purpose", "mechanism", "definition", "hazard", "measured", "alt")


def documents_of(linked: LinkedBook) -> list[Document]:
    """Return one document for each record that could be read, in the book's order."""
    return [_document(linked, kind, record_id, record) for (kind, record_id), record in linked.book.records()]


def synonyms_of(linked: LinkedBook) -> list[Synonym]:
    """Return the book's terms as synonyms, in order of their ids."""
    return [
        Synonym(term.title, term.also, term.misspellings) for _, term in sorted(linked.book.terms.items())
    ]


def _document(linked: LinkedBook, kind: str, record_id: str, record: Record) -> Document:
    lead = next((plain_text(linked, text) for name in _LEADS if (text := getattr(record, name, None))), "")
    lead = " ".join(lead.split())
    fields = {
        "title": f"{record.title}\n{record_id}" if kind in ("machine", "engine") else record.title,
        "said": "\n".join(getattr(record, "said", ())),
        "also": "\n".join(_also(linked, record)),
        "summary": lead,
        "body": "\n".join(_body(linked, record, lead)),
        "numbers": "\n".join(_numbers(record)),
    }
    return Document(
        id=record_id,
        kind=kind,
        title=record.title,
        url=f"{KINDS[kind].folder}/{record_id}.html",
        excerpt=_shortened(_shown(linked, record_id, record) or lead),
        fields={name: content for name, content in fields.items() if content},
        machines=_machines(linked, record_id, record),
    )


def _also(linked: LinkedBook, record: Record) -> Iterable[str]:
    yield from getattr(record, "also", ())
    if isinstance(record, Machine):
        yield record.class_.replace("-", " ")


def _body(linked: LinkedBook, record: Record, lead: str) -> Iterable[str]:
    for mention in mentions(record):
        if isinstance(mention, InlineText):
            text = " ".join(plain_text(linked, mention.text).split())
            if text != lead:
                yield text
    if isinstance(record, Plated):
        yield ", ".join(record.fitted).replace("-", " ")
    if isinstance(record, System):
        yield from (section.heading for section in record.theory)
    if isinstance(record, Symptom):
        yield from (linked.book.causes[s.cause].title for s in record.causes if s.cause in linked.book.causes)


def _numbers(record: Record) -> Iterable[str]:
    if isinstance(record, Part):
        for entry in record.numbers.values():
            yield entry.number
            yield from entry.formerly


def _shown(linked: LinkedBook, record_id: str, record: Record) -> str:
    """Return what says more about a record than its first sentence."""
    if isinstance(record, Value):
        figures = dict.fromkeys(
            str(found.quantity)
            for machine in linked.values.machines_with(record_id)
            if isinstance(found := linked.values.resolve(record_id, machine), ResolvedValue)
        )
        by = "engine" if record.plate is Plate.ENGINE else "machine"
        return (
            f"By the {by} plate: {', '.join(list(figures)[:4])}{' …' if len(figures) > 4 else ''}"
            if figures
            else ""
        )
    if isinstance(record, Caution):
        return f"{record.signal_word.value}: {plain_text(linked, record.hazard)}"
    if isinstance(record, Source):
        return plain_text(linked, record.summary)
    return ""


def _shortened(text: str) -> str:
    text = " ".join(text.split())
    if len(text) <= _EXCERPT:
        return text
    return (
        text[: text.rindex(" ", 0, _EXCERPT)].rstrip(",;:") + " …"
        if " " in text[:_EXCERPT]
        else text[:_EXCERPT]
    )


def _machines(linked: LinkedBook, record_id: str, record: Record) -> frozenset[str] | None:
    if isinstance(record, Machine):
        return frozenset({record_id})
    if isinstance(record, Engine):
        return frozenset(m for m, machine in linked.book.machines.items() if machine.engine == record_id)
    condition = getattr(record, "applies_to", None)
    if isinstance(record, Cause | Symptom) or isinstance(condition, AppliesTo):
        found = linked.applicability.machines_for(condition)
        return None if found == linked.applicability.everywhere else found
    return None
