"""The types that record fields are made of: text, ids, references, chances, times."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from types import MappingProxyType
from typing import Annotated, Any, Final

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    StringConstraints,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from shearpin.model.quantity import Quantity, QuantityError, QuantityKind, WrongKind, parse_quantity

ID_PATTERN: Final = r"^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9]+(-[a-z0-9]+)*)?$"
"""Lower-case words joined by hyphens; a value's name has a second part after a dot."""


class Fields(BaseModel):
    """A mapping of known fields, frozen once read."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=False, defer_build=True)

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        # Python lets the instances of a type share the names of attributes that its first instances were given one by
        # one. Those that pydantic makes get theirs as a whole; `compact` relies on this first one.
        first = object.__new__(cls)
        for name in cls.model_fields:
            object.__setattr__(first, name, None)


@dataclass(frozen=True, slots=True)
class RefTo:
    """Marks text that is the id of a record of one of these kinds."""

    kinds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Inline:
    """Marks text in which `{name}` stands for a value and `{kind:id}` for a link to a record."""


Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]
Prose = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1), Inline()]
Id = Annotated[str, StringConstraints(pattern=ID_PATTERN, max_length=80)]


def _as_list(value: Any) -> Any:
    return [value] if isinstance(value, (str, dict)) else value


OneOrMore = BeforeValidator(_as_list)
"""A single item may be written without the dash."""

MachineRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("machine",))]
EngineRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("engine",))]
PlateRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("machine", "engine"))]
SystemRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("system",))]
SymptomRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("symptom",))]
CauseRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("cause",))]
TestRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("test",))]
ProcedureRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("procedure",))]
CautionRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("caution",))]
ValueRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("value",))]
PartRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("part",))]
ToolRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("tool",))]
TermRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("term",))]
SourceRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("source",))]
FigureRef = Annotated[str, StringConstraints(pattern=ID_PATTERN), RefTo(("figure",))]


class Plate(StrEnum):
    """Which of the two plates decides: the machine's or the engine's."""

    MACHINE = "machine"
    ENGINE = "engine"


class Basis(StrEnum):
    """Where a figure comes from."""

    MAKER = "maker"  # the maker's manual for this model
    STANDARD = "standard"  # a published standard or regulation
    HANDBOOK = "handbook"  # a published table or textbook
    MEASURED = "measured"  # measured in the workshop
    COMMON_PRACTICE = "common-practice"  # what the trade does, no source
    DEMO = "demo"  # invented for the demonstration book


BASIS_WORDS: Final = MappingProxyType(
    {
        Basis.MAKER: "maker’s manual",
        Basis.STANDARD: "published standard",
        Basis.HANDBOOK: "published table",
        Basis.MEASURED: "measured in the workshop",
        Basis.COMMON_PRACTICE: "common practice, no source",
        Basis.DEMO: "invented figure",
    }
)
"""Where a figure comes from, in words."""


class ChanceWord(StrEnum):
    """How often, in the writer's words; `diagnosis` turns them into numbers by a published table."""

    ALWAYS = "always"
    USUALLY = "usually"
    OFTEN = "often"
    SOMETIMES = "sometimes"
    RARELY = "rarely"
    NEVER = "never"


SHARE_OF_WORD: Final = MappingProxyType(
    {
        ChanceWord.ALWAYS: 0.99,
        ChanceWord.USUALLY: 0.85,
        ChanceWord.OFTEN: 0.60,
        ChanceWord.SOMETIMES: 0.30,
        ChanceWord.RARELY: 0.10,
        ChanceWord.NEVER: 0.01,
    }
)
"""What the words mean in numbers. Ours, no source: `always` and `never` leave room for a wrong reading."""


@dataclass(frozen=True, slots=True)
class Chance:
    """How often: a word, or a share from 0 to 1 given as a number or in percent."""

    word: ChanceWord | None
    share: float | None

    @property
    def number(self) -> float:
        """The share itself, or what the word stands for."""
        if self.share is not None:
            return self.share
        assert self.word is not None
        return SHARE_OF_WORD[self.word]

    def __str__(self) -> str:
        if self.word is not None:
            return self.word.value
        assert self.share is not None
        return f"{self.share * 100:.3g} %"


_SHARE = re.compile(r"^([0-9]{1,3}(?:\.[0-9]{1,6})?)\s*(%?)$")


def _chance(value: Any) -> Chance:
    if isinstance(value, Chance):
        return value
    if not isinstance(value, str):
        raise PydanticCustomError(
            "chance", "expected a word such as `often`, or a share such as `0.3` or `30 %`"
        )
    text = value.strip()
    if text in ChanceWord._value2member_map_:
        return Chance(ChanceWord(text), None)
    match = _SHARE.match(text)
    share = float(match.group(1)) / (100 if match.group(2) else 1) if match else -1.0
    if not 0.0 <= share <= 1.0:
        words = ", ".join(f"`{word.value}`" for word in ChanceWord)
        raise PydanticCustomError(
            "chance", "`{text}` is not a chance: use one of {words}, or a share such as `0.3` or `30 %`",
            {"text": text, "words": words},
        )  # fmt: skip
    return Chance(None, share)


ChanceField = Annotated[Chance, PlainValidator(_chance), WithJsonSchema({"type": "string"})]


def quantity_error(error: QuantityError) -> PydanticCustomError:
    """Return the error as pydantic carries it, with its place inside the text."""
    return PydanticCustomError(
        "wrong_kind" if isinstance(error, WrongKind) else "quantity",
        "{message}",
        {"message": str(error), "offset": error.offset, "hint": error.hint},
    )


def _duration(value: Any) -> Quantity:
    if isinstance(value, Quantity):
        return value
    if not isinstance(value, str):
        raise PydanticCustomError("quantity", "expected a time such as `15 min`")
    try:
        return parse_quantity(value.strip(), QuantityKind.TIME)
    except QuantityError as error:
        raise quantity_error(error) from None


Duration = Annotated[Quantity, PlainValidator(_duration), WithJsonSchema({"type": "string"})]


def _count(value: Any) -> int:
    if isinstance(value, int):
        return value
    if isinstance(value, str) and re.fullmatch(r"[1-9][0-9]{0,4}", value.strip()):
        return int(value)
    raise PydanticCustomError("count", "expected a whole number from 1 to 99999, such as `2`")


Count = Annotated[int, PlainValidator(_count), WithJsonSchema({"type": "string", "pattern": "^[1-9][0-9]*$"})]


def _flag(value: Any) -> bool:
    if isinstance(value, bool):
        return value
    if value in ("yes", "no"):
        return bool(value == "yes")
    raise PydanticCustomError("flag", "expected `yes` or `no`")


Flag = Annotated[bool, PlainValidator(_flag), WithJsonSchema({"enum": ["yes", "no"]})]

_DATE = re.compile(r"^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$")


def _date(value: Any) -> str:
    if isinstance(value, str) and _DATE.match(value.strip()):
        try:
            date.fromisoformat(value.strip())
        except ValueError:
            raise PydanticCustomError("date", "that month has no such day") from None
        return value.strip()
    raise PydanticCustomError("date", "expected a date such as `2026-10-02`")


Date = Annotated[str, PlainValidator(_date), WithJsonSchema({"type": "string", "pattern": _DATE.pattern})]


class AppliesTo(Fields):
    """Which machines a record holds for. All that is given must hold; nothing given means every machine."""

    machines: Annotated[tuple[MachineRef, ...], OneOrMore] = Field((), description="Only these machines.")
    engines: Annotated[tuple[EngineRef, ...], OneOrMore] = Field(
        (), description="Only machines with one of these engines."
    )
    classes: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), alias="class", description="Only machines of one of these classes."
    )
    fitted: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Only where all of these are fitted, on machine or engine."
    )
    any_fitted: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Only where at least one of these is fitted."
    )
    not_fitted: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Only where none of these is fitted."
    )


class Review(Fields):
    """Who has looked at the record, and when."""

    state: Annotated[str, StringConstraints(pattern="^(draft|reviewed|withdrawn)$")] = Field(
        description="`draft` says so on the page and keeps the record out of editions; `reviewed`; `withdrawn` stays as a warning."
    )
    by: Text | None = Field(None, description="The reviewer's role; no names of people.")
    on: Date | None = Field(None, description="Date of the review, such as 2026-10-02.")
    digest: Annotated[str, StringConstraints(pattern="^[0-9a-f]{16}$")] | None = Field(
        None, description="Ties the review to what was read; `shearpin review` writes it."
    )


class Suppression(Fields):
    """One rule that does not hold for this record, and why."""

    code: Annotated[str, StringConstraints(pattern="^[A-Z]{3}[0-9]{3}$")]
    reason: Text


class Record(Fields):
    """What every record has."""

    title: Text = Field(description="What the page is called.")
    sources: Annotated[tuple[SourceRef, ...], OneOrMore] = Field((), description="Where the facts come from.")
    review: Review | None = Field(None, description="State of review.")
    ignore: tuple[Suppression, ...] = Field(
        (), description="Rules that do not hold here, each with its reason."
    )
    formerly: Annotated[tuple[Id, ...], OneOrMore] = Field(
        (), description="Ids it had before; the site leads from their addresses to this page."
    )
