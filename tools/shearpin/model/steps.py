"""Procedures and tests: what is done, step by step."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, ClassVar

from pydantic import Field, StringConstraints

from shearpin.model.fields import (
    AppliesTo,
    CauseRef,
    CautionRef,
    ChanceField,
    Count,
    Duration,
    Fields,
    FigureRef,
    Flag,
    Id,
    OneOrMore,
    PartRef,
    ProcedureRef,
    Prose,
    Record,
    SystemRef,
    Text,
    ToolRef,
)


class Step(Fields):
    """One action, with the caution that must be read before it."""

    do: Prose = Field(
        description="One action, imperative, at most 20 words. `{name}` shows a value, `{kind:id}` a link."
    )
    action: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Hazardous acts this step takes, such as run-engine; each brings its cautions."
    )
    caution: Annotated[tuple[CautionRef, ...], OneOrMore] = Field(
        (), description="Shown before the instruction."
    )
    applies_to: AppliesTo | None = Field(None, description="Machines this step is for; others skip it.")
    confirm: Prose | None = Field(None, description="How to tell that the step is right.")
    note: Prose | None = Field(None, description="Information, never an instruction.")
    figure: FigureRef | None = Field(None, description="Drawing that shows the step.")


class PartUse(Fields):
    """How many of a part a procedure uses."""

    part: PartRef
    quantity: Count = 1
    if_needed: Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)] | None = Field(
        None, description="When it is only fitted in some cases: which."
    )


Skill = Annotated[str, StringConstraints(pattern="^(trainee|mechanic|specialist)$")]


class Work(Record):
    """What procedures and tests share."""

    purpose: Prose = Field(description="Why it is done, in a sentence or two.")
    said: Annotated[tuple[Text, ...], OneOrMore] = Field(
        (), description="What people say who look for it; searched, not shown."
    )
    applies_to: AppliesTo | None = Field(None, description="Machines it holds for; left out means all.")
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = Field(
        description="Systems it touches; they bring their hazards."
    )
    before: Annotated[tuple[ProcedureRef, ...], OneOrMore] = Field(
        (), description="Procedures done first; shared between tests, their time is paid once."
    )
    time: Duration = Field(
        description="Honest working time without the procedures before it, such as 15 min."
    )
    skill: Skill = Field("trainee", description="trainee, mechanic or specialist.")
    tools: Annotated[tuple[ToolRef, ...], OneOrMore] = Field((), description="Tools needed.")
    parts: tuple[PartUse, ...] = Field((), description="Parts and supplies used.")
    cautions: Annotated[tuple[CautionRef, ...], OneOrMore] = Field(
        (), description="Cautions for the whole page, added to those that are required."
    )
    figures: Annotated[tuple[FigureRef, ...], OneOrMore] = Field(
        (), description="Drawings shown above the steps."
    )


class Procedure(Work):
    """What is done: tools, parts, values, steps, cautions ahead of the step that needs them."""

    KIND: ClassVar[str] = "procedure"

    isolates: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Energies it makes harmless; work on systems that hold them must have it in `before`."
    )
    remedies: Annotated[tuple[CauseRef, ...], OneOrMore] = Field((), description="Causes it cures.")
    trial: Flag = Field(
        False,
        description="yes when it may be done on suspicion, as a test: harmless, cheap, and its function test proves the cause.",
    )
    steps: Annotated[tuple[Step, ...], Field(min_length=1)] = Field(description="The work.")
    finish: tuple[Step, ...] = Field((), description="Function test and hand-over.")
    outcome: Prose | None = Field(None, description="What is true when it is done.")


class Result(Fields):
    """One thing the test can show, and how likely it is under each cause."""

    id: Id = Field(description="Short name of the result, used in scripts and in the log.")
    seen: Prose = Field(description="What is seen, heard or measured.")
    given: dict[CauseRef, ChanceField] = Field(
        default_factory=dict, description="How often this result shows when that cause is the fault."
    )
    otherwise: ChanceField | None = Field(None, description="How often it shows under every other cause.")
    then: Prose | None = Field(None, description="What it means and what to do next.")


class Need(StrEnum):
    """What the machine must be like during a test."""

    AS_FOUND = "as-found"  # untouched since it came in: before it is made safe and before any other test
    RUNNING_ENGINE = "running-engine"
    MAINS = "mains"  # on its mains lead
    BATTERY = "battery"  # with its charged battery pack in
    WATER = "water"  # on its water supply, with all air out
    RAISED = "raised"  # wheels or tracks off the ground, on stands
    COLD_ENGINE = "cold-engine"
    WARM_ENGINE = "warm-engine"


class Test(Work):
    """A diagnostic test: what to do, and what each result means for each cause."""

    KIND: ClassVar[str] = "test"
    __test__: ClassVar[bool] = False  # not a test case, whatever its name

    needs: Annotated[tuple[Need, ...], OneOrMore] = Field(
        (),
        description="What the machine must be like: as-found (untouched), running-engine, mains, battery, water, raised, cold-engine, warm-engine.",
    )
    access: dict[Id, Duration] = Field(
        default_factory=dict,
        description="What of its own time opens a state other tests need too, such as `spark-plug-out: 3 min`; paid once.",
    )

    steps: Annotated[tuple[Step, ...], Field(min_length=1)] = Field(description="How to do it.")
    results: Annotated[tuple[Result, ...], Field(min_length=2)] = Field(description="What it can show.")
    finish: tuple[Step, ...] = Field((), description="What is put back before going on.")
