"""From the book's records to documents of the search."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.plaintext import plain_text
from shearpin.book.values import ResolvedValue
from shearpin.model.editions import Edition
from shearpin.model.fields import BASIS_WORDS, AppliesTo, Record
from shearpin.model.inline import TOKEN
from shearpin.model.kinds import KINDS
from shearpin.model.knowledge import Cause, Caution, Figure, Source, Symptom, System, Term, Tool
from shearpin.model.machines import Engine, Machine, Part, Plated, Value
from shearpin.model.quantity import QuantityKind, dual_text
from shearpin.model.steps import Procedure, Step, Test, Work
from shearpin.search.document import ANSWER_MARK, Document, Synonym
from shearpin.search.figures import figure_terms
from shearpin.search.held import MAX_ANSWERS, Held, shown_of, told_of, with_basis
from shearpin.search.pages import excerpt, pages_of
from shearpin.search.thesaurus import COMMON

_Texts = Mapping[str, Sequence[str]]


def documents_of(linked: LinkedBook) -> list[Document]:
    """Every record as a document, each figure of a value that differs by plate, and the pages of prose."""
    writer = _Writer(linked)
    documents = list(writer.documents())
    documents.extend(writer.answers())
    documents.extend(pages_of(linked.book))
    return documents


def some_documents(linked: LinkedBook, keys: Iterable[Key]) -> Iterator[Document]:
    """Yield the documents of some records, of which those that there are not have none; answers included."""
    writer = _Writer(linked)
    for key in keys:
        record = linked.book.get(*key)
        if record is not None:
            yield writer.document(*key, record)
        if key[0] == "value" and record is not None:
            yield from writer.answers_of(key[1])


def record_documents(linked: LinkedBook) -> Iterator[Document]:
    """Yield the documents of records alone, one at a time, in the order of the book."""
    return _Writer(linked).documents()


def synonyms_of(linked: LinkedBook) -> list[Synonym]:
    """What people say for the book's words: its terms, and what is common to every workshop."""
    terms = linked.book.terms.values()
    return [*COMMON, *(Synonym(term.title, term.also + term.avoid, term.misspellings) for term in terms)]


class _Writer:
    """Writes documents of one book."""

    def __init__(self, linked: LinkedBook) -> None:
        self._linked = linked
        self._book = linked.book
        self._known_figures: dict[str, dict[str, Held]] = {}
        self._figure_words: dict[tuple[QuantityKind, str], tuple[str, list[str]]] = {}
        self._mentions: dict[str, str] = {}
        self._writers: Mapping[type[Record], Callable[[Any], _Texts]] = MappingProxyType(
            {
                Symptom: self._symptom,
                Cause: self._cause,
                Test: self._work,
                Procedure: self._work,
                Caution: self._caution,
                Machine: self._plated,
                Engine: self._plated,
                System: self._system,
                Value: self._value,
                Part: self._part,
                Tool: self._tool,
                Term: self._term,
                Source: self._source,
                Figure: self._figure,
                Edition: self._edition,
            }
        )

    def documents(self) -> Iterator[Document]:
        """Yield the document of each record."""
        for (kind, record_id), record in self._book.records():
            yield self.document(kind, record_id, record)

    def document(self, kind: str, record_id: str, record: Record) -> Document:
        """The document of one record."""
        texts = self._writers[type(record)](record)
        fields = {name: "\n".join(lines) for name, lines in texts.items() if lines}
        fields["title"] = record.title
        url = f"{KINDS[kind].folder}/{record_id}.html"
        machines = self._machines(kind, record_id, record)
        shown = excerpt(fields.get("summary", ""))
        if isinstance(record, Value) and (figures := self._figures(record_id)):
            fields["body"] = "\n".join([fields.get("body", ""), "; ".join(told_of(figures))])
            fields["figures"] = " ".join(sorted({term for held in figures.values() for term in held.terms}))
            shown = shown_of(figures, of_some=machines is not None)
        return Document(record_id, kind, record.title, url, shown, fields, machines)

    def answers(self) -> Iterator[Document]:
        """Each figure of a value that differs by plate, so that a question for one plate is answered at once."""
        for name in self._book.values:
            yield from self.answers_of(name)

    def answers_of(self, name: str) -> Iterator[Document]:
        """The same of one value."""
        value, figures = self._book.values[name], self._figures(name)
        if not 1 < len(figures) <= MAX_ANSWERS:
            return
        url = f"{KINDS['value'].folder}/{name}.html"
        for number, (figure, held) in enumerate(figures.items()):
            title = f"{value.title}, {', '.join(held.holders)}"
            # Titled as the value itself, so that only the plates tell the two apart.
            fields = {"title": value.title, "also": "\n".join(value.also)}
            fields["summary"] = f"{figure} {', '.join(held.holders)}"
            # Whoever asks knows the machine; the engine in it is for the book to know.
            plates = dict.fromkeys([*held.holders, *self._titles("machine", held.machines)])
            fields["plates"] = "\n".join(plates)
            fields["figures"] = " ".join(held.terms)
            told, machines = with_basis(figure, held), frozenset(held.machines)
            yield Document(f"{name}{ANSWER_MARK}{number}", "value", title, url, told, fields, machines)

    def _figures(self, name: str) -> dict[str, Held]:
        """Each figure of a value, with the condition noted for it, and for which plates it holds."""
        if name in self._known_figures:
            return self._known_figures[name]
        found: dict[str, Held] = {}
        by_entry: dict[tuple[str, str | None], Held] = {}  # many plates share an entry's words
        for machine_id in self._linked.values.machines_with(name):
            value = self._linked.values.resolve(name, machine_id)
            if isinstance(value, ResolvedValue):
                key = (value.entry.is_, value.entry.note)
                if key not in by_entry:
                    words, terms = self._words_of(value)
                    figure = ", ".join([words, *self._prose(value.entry.note)])
                    by_entry[key] = found.setdefault(figure, Held(terms=terms))
                basis = value.entry.basis
                by_entry[key].basis.setdefault(BASIS_WORDS[basis] if basis else "no source")
                by_entry[key].holders.setdefault(self._title(*value.holder))
                by_entry[key].machines.append(machine_id)
        self._known_figures[name] = found
        return found

    def _words_of(self, value: ResolvedValue) -> tuple[str, list[str]]:
        """A figure in words and its terms, both worked out once for all values that have it."""
        key = (value.quantity.kind, value.entry.is_)
        known = self._figure_words.get(key)
        if known is None:
            known = self._figure_words[key] = dual_text(value.quantity), figure_terms(value.quantity)
        return known

    def _machines(self, kind: str, record_id: str, record: Record) -> frozenset[str] | None:
        """The machines a record applies to, None for all."""
        if kind == "machine":
            return frozenset({record_id})
        if kind == "engine":
            return frozenset(m for m, machine in self._book.machines.items() if machine.engine == record_id)
        condition: AppliesTo | None = getattr(record, "applies_to", None)
        found = self._linked.applicability.machines_for(condition)
        return None if found == self._linked.applicability.everywhere else found

    def _title(self, kind: str, record_id: str) -> str:
        return self._book.title(kind, record_id)

    def _titles(self, kind: str, ids: Iterable[str]) -> list[str]:
        return [self._title(kind, record_id) for record_id in ids]

    def _prose(self, *texts: str | None) -> list[str]:
        # Most texts hold no braces, and are plain already.
        return [TOKEN.sub(self._mention, text) if "{" in text else text for text in texts if text]

    def _mention(self, match: re.Match[str]) -> str:
        """What stands in braces as plain text: the same values are named in many steps."""
        token = match[0]
        known = self._mentions.get(token)
        if known is None:
            known = self._mentions[token] = plain_text(self._linked, token)
        return known

    def _steps(self, steps: Iterable[Step]) -> list[str]:
        return self._prose(*[text for step in steps for text in (step.do, step.confirm, step.note)])

    def _symptom(self, symptom: Symptom) -> _Texts:
        causes = self._titles("cause", (suspected.cause for suspected in symptom.causes))
        notes = self._prose(*(suspected.note for suspected in symptom.causes))
        body = [*self._prose(symptom.take_out_of_use, *symptom.ask), *causes, *notes]
        return {"said": symptom.said, "summary": self._prose(symptom.summary), "body": body}

    def _cause(self, cause: Cause) -> _Texts:
        body = [*self._prose(cause.confirmed_by, cause.prevention), *self._titles("part", cause.parts)]
        return {"said": cause.said, "summary": self._prose(cause.mechanism), "body": body}

    def _work(self, work: Work) -> _Texts:
        body = [*self._titles("tool", work.tools), *self._titles("part", (use.part for use in work.parts))]
        if isinstance(work, Procedure):
            body += self._titles("cause", work.remedies)
            body += [*self._steps(work.steps), *self._steps(work.finish), *self._prose(work.outcome)]
        elif isinstance(work, Test):
            body += [*self._steps(work.steps), *self._steps(work.finish)]
            for result in work.results:
                body += self._prose(result.seen, result.then)
        return {"said": work.said, "summary": self._prose(work.purpose), "body": body}

    def _caution(self, caution: Caution) -> _Texts:
        body = [caution.signal_word.value, *self._prose(caution.consequence, *caution.avoidance)]
        return {"said": caution.said, "summary": self._prose(caution.hazard), "body": body}

    def _plated(self, plated: Plated) -> _Texts:
        body = [*self._prose(plated.plate.where), *(feature.replace("-", " ") for feature in plated.fitted)]
        if isinstance(plated, Machine):
            body += [plated.class_, *self._prose(plated.suits)]
            body += self._titles("engine", [plated.engine] if plated.engine else [])
        return {"summary": self._prose(plated.summary), "body": body}

    def _system(self, system: System) -> _Texts:
        body = []
        for section in system.theory:
            body += [section.heading, *self._prose(*section.text)]
        return {"also": system.also, "summary": self._prose(system.summary), "body": body}

    def _value(self, value: Value) -> _Texts:
        body = [value.quantity.value, *self._prose(value.band, value.measured)]
        return {"also": value.also, "summary": self._prose(value.measured), "body": body}

    def _part(self, part: Part) -> _Texts:
        numbers: list[str] = []
        notes: list[str] = []
        for holder, plate in part.numbers.items():
            numbers.append(plate.number)
            numbers += plate.formerly
            notes.append(self._title(part.plate.value, holder))
            if plate.note:
                notes += self._prose(plate.note)
        body = [*notes, *self._prose(part.consumable), f"ordered by the {part.plate.value} plate"]
        return {"also": part.also, "summary": self._prose(part.summary), "numbers": numbers, "body": body}

    def _tool(self, tool: Tool) -> _Texts:
        return {"also": tool.also, "summary": self._prose(tool.summary)}

    def _term(self, term: Term) -> _Texts:
        return {"also": term.also + term.avoid, "summary": self._prose(term.definition)}

    def _source(self, source: Source) -> _Texts:
        return {"summary": self._prose(source.summary), "body": self._prose(source.issuer)}

    def _figure(self, figure: Figure) -> _Texts:
        return {"summary": self._prose(figure.alt), "body": [label.text for label in figure.labels]}

    def _edition(self, edition: Edition) -> _Texts:
        return {"summary": self._prose(*edition.notice), "body": self._prose(*edition.cover)}
