"""Symptoms, causes, systems, cautions and the book's own apparatus: tools, terms, sources, figures."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, ClassVar

from pydantic import Field, StringConstraints

from shearpin.model.fields import (
    AppliesTo,
    CauseRef,
    CautionRef,
    ChanceField,
    Fields,
    FigureRef,
    Flag,
    Id,
    OneOrMore,
    PartRef,
    ProcedureRef,
    Prose,
    Record,
    SymptomRef,
    SystemRef,
    TermRef,
    Text,
    ToolRef,
)


class Section(Fields):
    """A heading and its paragraphs."""

    heading: Text
    figure: FigureRef | None = None
    text: Annotated[tuple[Prose, ...], OneOrMore]


class System(Record):
    """A functional group: how it works, what energy is in it, which hazards it brings."""

    KIND: ClassVar[str] = "system"

    summary: Prose = Field(description="What it does, in two sentences.")
    also: Annotated[tuple[Text, ...], OneOrMore] = Field((), description="What people also call it.")
    applies_to: AppliesTo | None = Field(None, description="Machines that have it; left out means all.")
    energies: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (),
        description="Energy that can hurt, such as rotating-auger; each must have a caution that covers it.",
    )
    hazards: Annotated[tuple[CautionRef, ...], OneOrMore] = Field(
        (), description="Further cautions of all work on it."
    )
    figures: Annotated[tuple[FigureRef, ...], OneOrMore] = ()
    related: Annotated[tuple[SystemRef, ...], OneOrMore] = ()
    theory: tuple[Section, ...] = Field((), description="How it works.")


class SuspectedCause(Fields):
    """A cause of a symptom, and how often it is to blame."""

    cause: CauseRef
    chance: ChanceField = Field(description="How often it is to blame: a word, or a share.")
    applies_to: AppliesTo | None = None
    note: Prose | None = None


class Symptom(Record):
    """What is seen or heard, in the words of the shop."""

    KIND: ClassVar[str] = "symptom"

    summary: Prose = Field(description="What the complaint is and is not.")
    said: Annotated[tuple[Text, ...], OneOrMore] = Field((), description="What people say at the counter.")
    applies_to: AppliesTo | None = Field(None, description="Machines it can occur on; left out means all.")
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = Field(
        description="Systems it belongs to, the first one first."
    )
    take_out_of_use: Prose | None = Field(
        None, description="Why the machine must not be used until it is mended."
    )
    before: Annotated[tuple[ProcedureRef, ...], OneOrMore] = Field(
        (), description="Procedures before any test."
    )
    cautions: Annotated[tuple[CautionRef, ...], OneOrMore] = ()
    ask: tuple[Prose, ...] = Field((), description="What to ask the customer first.")
    causes: tuple[SuspectedCause, ...] = Field((), description="What can be wrong.")
    else_: ChanceField | None = Field(
        None,
        alias="something_else",
        description="How often it is something not in this book; `rarely` when left out.",
    )
    see_also: Annotated[tuple[SymptomRef, ...], OneOrMore] = ()
    figures: Annotated[tuple[FigureRef, ...], OneOrMore] = ()


class Cause(Record):
    """What is wrong: the mechanism, what confirms it, what prevents it."""

    KIND: ClassVar[str] = "cause"

    mechanism: Prose = Field(description="What has happened and why it makes the symptom.")
    said: Annotated[tuple[Text, ...], OneOrMore] = Field(
        (), description="What people say who name it; searched, not shown."
    )
    confirmed_by: Prose = Field(description="What proves it.")
    prevention: Prose | None = Field(None, description="How it is kept from coming back.")
    applies_to: AppliesTo | None = Field(None, description="Machines it can occur on; left out means all.")
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = Field(description="Where it sits.")
    parts: Annotated[tuple[PartRef, ...], OneOrMore] = Field((), description="The part that has failed.")
    figures: Annotated[tuple[FigureRef, ...], OneOrMore] = ()


class SignalWord(StrEnum):
    """Signal words of ANSI Z535, the gravest first."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


class Harm(StrEnum):
    """The worst credible harm to a person."""

    NONE = "none"
    MINOR = "minor"  # minor or moderate injury
    SERIOUS = "serious"  # death or serious injury


class Likelihood(StrEnum):
    """Whether the harm follows when the hazard is not avoided."""

    COULD = "could"
    WILL = "will"


class Covers(Fields):
    """What makes this caution required."""

    actions: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Steps that take one of these actions."
    )
    energies: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Systems that hold one of these energies."
    )


class Caution(Record):
    """A safety message: signal word, hazard, consequence, avoidance."""

    KIND: ClassVar[str] = "caution"

    signal_word: SignalWord = Field(
        description="DANGER, WARNING, CAUTION or NOTICE; must agree with severity and likelihood."
    )
    severity: Harm = Field(description="Worst credible harm to a person: none, minor or serious.")
    likelihood: Likelihood = Field(description="Whether that harm could or will follow.")
    hazard: Prose = Field(description="What can hurt.")
    said: Annotated[tuple[Text, ...], OneOrMore] = Field(
        (), description="What people say who run into it or ask about it; searched, not shown."
    )
    consequence: Prose = Field(description="What happens when it is not avoided.")
    avoidance: Annotated[tuple[Prose, ...], OneOrMore, Field(min_length=1)] = Field(
        description="What to do, as commands."
    )
    covers: Covers = Field(
        default_factory=lambda: Covers(), description="Actions and energies that bring it to a page."
    )
    applies_to: AppliesTo | None = Field(None, description="Machines it concerns; left out means all.")


class Tool(Record):
    """A tool, and what it is for."""

    KIND: ClassVar[str] = "tool"

    summary: Prose = Field(description="What it is for.")
    also: Annotated[tuple[Text, ...], OneOrMore] = ()
    special: Flag = Field(False, description="yes when a general workshop may not have it.")
    cautions: Annotated[tuple[CautionRef, ...], OneOrMore] = Field((), description="Cautions of using it.")


class Term(Record):
    """A word of the trade, and what people also call it."""

    KIND: ClassVar[str] = "term"

    definition: Prose
    also: Annotated[tuple[Text, ...], OneOrMore] = Field(
        (), description="Other names, slang included; searched alike."
    )
    avoid: Annotated[tuple[Text, ...], OneOrMore] = Field(
        (), description="Names this book does not use for it; found by the search, refused in records."
    )
    misspellings: Annotated[tuple[Text, ...], OneOrMore] = Field((), description="Common misspellings.")
    related: Annotated[tuple[TermRef, ...], OneOrMore] = ()
    parts: Annotated[tuple[PartRef, ...], OneOrMore] = ()
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = ()
    tools: Annotated[tuple[ToolRef, ...], OneOrMore] = ()


class Source(Record):
    """Where a fact comes from, and whether anyone here has seen it."""

    KIND: ClassVar[str] = "source"

    nature: Annotated[
        str,
        StringConstraints(
            pattern="^(standard|regulation|government|handbook|article|institute|common-practice|demo)$"
        ),
    ] = Field(
        description="standard, regulation, government, handbook, article, institute, common-practice or demo."
    )
    issuer: Text | None = None
    date: Text | None = None
    seen: Annotated[str, StringConstraints(pattern="^(read|second-hand|from-memory|own)$")] = Field(
        description="read, second-hand, from-memory, or own for what this book's writers made."
    )
    summary: Prose = Field(description="What is taken from it.")
    link: Annotated[str, StringConstraints(pattern=r"^https://[^\s<>\"']+$", max_length=300)] | None = Field(
        None, description="https address; marked on the page as needing a network."
    )


class Label(Fields):
    """Words in a drawing and the one record they lead to."""

    text: Text = Field(description="The words as they stand in the drawing.")
    part: PartRef | None = None
    system: SystemRef | None = None
    term: TermRef | None = None
    tool: ToolRef | None = None

    @property
    def leads_to(self) -> tuple[str, str] | None:
        """Kind and id of the record, the most tangible first."""
        targets = (("part", self.part), ("tool", self.tool), ("term", self.term), ("system", self.system))
        return next(((kind, target) for kind, target in targets if target is not None), None)


class Figure(Record):
    """A drawing of this book: `<id>.svg` beside the record."""

    KIND: ClassVar[str] = "figure"

    alt: Text | None = Field(None, description="What the drawing shows, for who cannot see it.")
    labels: tuple[Label, ...] = ()
