"""Editions: what is published together, by whom, when and under which terms."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field, StringConstraints

from shearpin.model.fields import (
    CauseRef,
    Count,
    Date,
    Fields,
    Id,
    MachineRef,
    OneOrMore,
    ProcedureRef,
    Prose,
    Record,
    SymptomRef,
    SystemRef,
    TestRef,
    Text,
)


class Contents(Fields):
    """What an edition holds; nothing given means the whole book. What the chosen records need comes with them.

    `machines` and `class` narrow it to some machines. `systems` and `kinds` choose what belongs to these systems and
    is of these kinds; `procedures`, `symptoms`, `tests` and `causes` choose single records in addition.
    """

    kinds: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Only records of these kinds, such as procedure; what they need comes with them."
    )
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = Field(
        (), description="What belongs to one of these systems: what names it first."
    )
    machines: Annotated[tuple[MachineRef, ...], OneOrMore] = Field(
        (), description="For these machines only, and for those of `class`; left out means all."
    )
    classes: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), alias="class", description="For machines of these classes only, and for `machines`."
    )
    procedures: Annotated[tuple[ProcedureRef, ...], OneOrMore] = Field(
        (), description="These procedures, with all that they need."
    )
    symptoms: Annotated[tuple[SymptomRef, ...], OneOrMore] = Field(
        (), description="These symptoms, with the tests and procedures of their causes."
    )
    tests: Annotated[tuple[TestRef, ...], OneOrMore] = Field(
        (), description="These tests, with all that they need."
    )
    causes: Annotated[tuple[CauseRef, ...], OneOrMore] = Field((), description="These causes.")


class Quiz(Fields):
    """The questions of a course pack; they are made from its reviewed records."""

    questions: Count = Field(20, description="How many, at most.")
    seed: Text = Field("1", description="Another word gives other questions; the same word the same.")


class Edition(Record):
    """What is published together, by whom, when and under which terms."""

    KIND: ClassVar[str] = "edition"

    number: Text = Field(description="Number of this issue; change it with every publication.")
    issuer: Text = Field(description="Who issues it.")
    date: Date = Field(description="Date of issue; it stands in every file of a publication.")
    language: Annotated[str, StringConstraints(pattern="^[a-z]{2}(-[A-Z]{2})?$")] = Field(
        "en", description="Language, such as en."
    )
    licence: Text = Field(description="Under which terms it may be passed on.")
    attribution: Text | None = Field(None, description="How it is to be credited where it is passed on.")
    state: Annotated[str, StringConstraints(pattern="^(draft|final)$")] = Field(description="draft or final.")
    contents: Contents = Field(default_factory=lambda: Contents(), description="What it holds.")
    cover: tuple[Prose, ...] = Field((), description="Cover text.")
    notice: tuple[Prose, ...] = Field((), description="Safety and liability notice.")
    quiz: Quiz | None = Field(None, description="For a course pack: questions made from its records.")
