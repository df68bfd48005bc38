"""Machines, engines, and what belongs to them by plate: values and parts."""

from __future__ import annotations

from typing import Annotated, ClassVar

from pydantic import Field, StringConstraints

from shearpin.model.fields import (
    AppliesTo,
    Basis,
    Count,
    Duration,
    EngineRef,
    Fields,
    FigureRef,
    Flag,
    Id,
    OneOrMore,
    PartRef,
    Plate,
    PlateRef,
    ProcedureRef,
    Prose,
    Record,
    SourceRef,
    SystemRef,
    Text,
    ToolRef,
    ValueRef,
)
from shearpin.model.quantity import QuantityKind


class PlateNotice(Fields):
    """Where the plate is and how to read it."""

    where: Prose = Field(description="Where to look for the plate.")
    reads: Text | None = Field(None, description="What the number looks like on it.")


class ValueEntry(Fields):
    """One figure of one machine or engine."""

    is_: Text = Field(alias="is", description="The figure as the trade writes it, such as `24 ± 2 N·m`.")
    basis: Basis | None = Field(None, description="Where it comes from.")
    source: SourceRef | None = Field(None, description="The source record, where there is one.")
    place: Text | None = Field(None, description="Page or table in the source.")
    note: Prose | None = Field(None, description="Under which conditions it holds.")


class Due(Fields):
    """Where a line of the service plan stands in the calendar."""

    season: Annotated[str, StringConstraints(pattern="^(start|end)$")] = Field(
        description="`start` for what is done before the season, `end` for what is done before storage."
    )
    years: Count = Field(1, description="Years from one time to the next; 1 when left out.")


class Service(Fields):
    """One line of the service plan."""

    when: Text | None = Field(None, description="Occasion, such as `before the season`.")
    due: Due | None = Field(
        None, description="Its place in the calendar; left out for what wear, use or running hours decide."
    )
    every: Duration | None = Field(None, description="Running hours between, such as `25 h`.")
    do: Annotated[tuple[ProcedureRef, ...], OneOrMore]


class Plated(Record):
    """What machines and engines share."""

    summary: Prose = Field(description="What it is, in two sentences.")
    plate: PlateNotice = Field(description="Where its plate is.")
    fitted: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Features it has, such as recoil-start."
    )
    values: dict[ValueRef, ValueEntry] = Field(
        default_factory=dict, description="Its figures, by value name."
    )
    service: tuple[Service, ...] = Field((), description="What is done when.")
    figures: Annotated[tuple[FigureRef, ...], OneOrMore] = ()


class Machine(Plated):
    """A machine model, known by its machine plate."""

    KIND: ClassVar[str] = "machine"

    class_: Id = Field(alias="class", description="Kind of machine, such as two-stage.")
    engine: EngineRef | None = Field(
        None, description="The engine it has; left out for a machine without one."
    )
    suits: Prose | None = Field(None, description="What work it is for, and where its limits are.")


class Engine(Plated):
    """An engine model, known by its engine plate."""

    KIND: ClassVar[str] = "engine"


class NutFactor(Fields):
    """K of T = K·d·F for the condition of one joint. Books disagree on it, so it names the one it is from."""

    is_: Annotated[str, StringConstraints(pattern=r"^0?\.(0[1-9]|[1-9])[0-9]{0,2}$")] = Field(
        alias="is", description="The factor, a number between 0 and 1 such as `0.18`."
    )
    source: SourceRef = Field(description="The source record that prints it for this condition.")


class Fastener(Fields):
    """The joint that a torque tightens, so that the torque can be checked against the bolt."""

    thread: ValueRef = Field(description="Name of the value that holds the thread.")
    grade: ValueRef = Field(description="Name of the value that holds the grade or class.")
    nut_factor: NutFactor | None = Field(None, description="K of T = K·d·F; 0.20 when left out.")


class ShearBolt(Fields):
    """What a bolt that must break first is, so that nothing stronger is named for it."""

    thread: ValueRef = Field(description="Name of the value that holds its thread.")
    shaft: ValueRef | None = Field(
        None, description="Name of the value that holds the diameter on which its shear planes lie."
    )
    planes: Annotated[str, StringConstraints(pattern="^[12]$")] = Field(
        "2", description="Shear planes: `2` for a bolt across the shaft, `1` for a flange."
    )


class BeltDrive(Fields):
    """The pulleys a belt runs over, so that its length can be checked."""

    drive: ValueRef = Field(description="Name of the value that holds the diameter of the driving pulley.")
    driven: ValueRef = Field(description="Name of the value that holds the diameter of the driven pulley.")
    center_distance: ValueRef = Field(description="Name of the value that holds their distance.")


class BehindBelt(Fields):
    """The belt that a speed lies behind, so that it can be checked."""

    speed: ValueRef = Field(description="Name of the value that holds the speed of the driving pulley.")
    drive: ValueRef = Field(description="Name of the value that holds the diameter of the driving pulley.")
    driven: ValueRef = Field(description="Name of the value that holds the diameter of the driven pulley.")


class BehindGears(Fields):
    """The gearbox that a speed lies behind, so that it can be checked."""

    speed: ValueRef = Field(description="Name of the value that holds the speed that goes in.")
    ratio: ValueRef = Field(description="Name of the value that holds the ratio, such as `10:1`.")


class Cylinder(Fields):
    """What an engine's displacement follows from, so that it can be checked."""

    bore: ValueRef = Field(description="Name of the value that holds the bore.")
    stroke: ValueRef = Field(description="Name of the value that holds the stroke.")
    count: Count = Field(1, description="How many cylinders.")


class Value(Record):
    """A named quantity: what it measures, what is plausible, which plate decides it, how it is measured."""

    KIND: ClassVar[str] = "value"

    quantity: QuantityKind = Field(description="What it measures: torque, length, …, or designation.")
    plate: Plate = Field(description="Which plate decides it.")
    applies_to: AppliesTo | None = Field(
        None, description="Machines that have such a value; left out means all."
    )
    also: Annotated[tuple[Text, ...], OneOrMore] = Field((), description="What people also call it.")
    band: Text | None = Field(None, description="Plausible range over all machines; outside it is a finding.")
    band_source: SourceRef | None = Field(None, description="Where the band comes from.")
    measured: Prose | None = Field(None, description="How it is measured or set.")
    tools: Annotated[tuple[ToolRef, ...], OneOrMore] = ()
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = ()
    fastener: Fastener | None = Field(None, description="For a torque: the joint it tightens.")
    shear_bolt: ShearBolt | None = Field(
        None, description="For the grade of a shear bolt: nothing stronger may then be named for that bolt."
    )
    belt: BeltDrive | None = Field(None, description="For a belt's length: the pulleys it runs over.")
    behind_belt: BehindBelt | None = Field(None, description="For a speed: the belt that makes it.")
    behind_gears: BehindGears | None = Field(None, description="For a speed: the gearbox that makes it.")
    tip_diameter: ValueRef | None = Field(
        None, description="For a speed: name of the value that holds the diameter across the tips."
    )
    cylinder: Cylinder | None = Field(None, description="For a displacement: bore and stroke.")
    fuel_ethanol: Flag = Field(
        False, description="`yes` for the ethanol of gasoline, which United States rules limit."
    )


class PlateNumber(Fields):
    """The number to order by, for one plate."""

    number: Text = Field(description="Part number as printed.")
    formerly: Annotated[tuple[Text, ...], OneOrMore] = Field((), description="Numbers it replaces.")
    note: Prose | None = None


class Part(Record):
    """A part, ordered by one of the two plates."""

    KIND: ClassVar[str] = "part"

    summary: Prose = Field(description="What it is and does, and what must not be fitted instead.")
    plate: Plate = Field(description="Which plate orders it.")
    applies_to: AppliesTo | None = Field(None, description="Machines that have it; left out means all.")
    also: Annotated[tuple[Text, ...], OneOrMore] = Field((), description="What people also call it.")
    systems: Annotated[tuple[SystemRef, ...], OneOrMore] = ()
    numbers: dict[PlateRef, PlateNumber] = Field(
        default_factory=dict, description="Order number per machine or engine, as its plate decides."
    )
    values: Annotated[tuple[ValueRef, ...], OneOrMore] = Field((), description="Values that describe it.")
    needs: Annotated[tuple[PartRef, ...], OneOrMore] = Field(
        (), description="Parts renewed together with it."
    )
    consumable: Text | None = Field(None, description="For supplies bought by sort: what to ask for.")
