"""What a calculation is: inputs as the trade writes them, results, and how the ones become the others."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from shearpin.mechanics.guards import ImpossibleInputError, words_and_unit
from shearpin.model.quantity import QuantityError, QuantityKind, parse_quantity

_PLAIN_NUMBER = re.compile(r"[-+−]?[0-9][0-9 ,.]*|[-+−]?\.[0-9]+")
_PLAIN_FRACTION = re.compile(r"[-+−]?(?:[0-9]+[ -])?[0-9]*[½¼¾⅛⅜⅝⅞/][0-9]*")
_LONGEST = 200


class CalculationError(ValueError):
    """A calculation cannot be done: the input at fault (empty: none), why, and what to write instead."""

    def __init__(self, key: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.key = key
        self.message = message
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the answers an input allows: `name` in a command or a form's value, `title` for people."""

    name: str
    title: str


@dataclass(frozen=True, slots=True)
class Input:
    """One thing to type.

    `kind` is a quantity kind (`torque`, `rotational-speed`, `count`), or `number` (a plain number), `choice`
    or `thread`. `unit` is what a plain number is taken in. `default` None: it must be given; empty: it may be
    left out and then plays no part. `spread` allows a tolerance: `24 ± 2 N·m`.
    """

    name: str
    title: str
    kind: str
    unit: str = ""
    default: str | None = None
    choices: tuple[Choice, ...] = ()
    note: str = ""
    spread: bool = False


@dataclass(frozen=True, slots=True)
class Output:
    """One thing that comes out; `kind` is a quantity kind, `number` or `text`; its number is in `unit`."""

    name: str
    title: str
    kind: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Readings:
    """What was typed, read: numbers in the unit of their input, and names of choices and threads."""

    numbers: Mapping[str, float]
    names: Mapping[str, str]
    spreads: Mapping[str, float]

    def has(self, key: str) -> bool:
        """Whether an input that may be left out was given."""
        return key in self.numbers or key in self.names

    def number(self, key: str) -> float:
        """The number of an input. KeyError when it was left out: ask `has` first."""
        return self.numbers[key]

    def count(self, key: str) -> int:
        """The whole number of a `count`."""
        return int(self.numbers[key])

    def name(self, key: str) -> str:
        """The name of a choice, or the text of a thread. KeyError when it was left out."""
        return self.names[key]

    def spread(self, key: str) -> float | None:
        """Half the width of a tolerance that was typed, in the unit of the input; None without one."""
        return self.spreads.get(key)


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculation gives back: values in the order of its outputs, a worked line, remarks."""

    values: tuple[float | str, ...]
    worked: str
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Calculation:
    """A calculation of the bench.

    `function` turns readings into an answer and raises ImpossibleInputError; `compute` is the way to call it.
    """

    name: str
    title: str
    group: str
    formula: str
    symbols: str
    inputs: tuple[Input, ...]
    outputs: tuple[Output, ...]
    source: str
    caution: str
    function: Callable[[Readings], Answer]


@dataclass(frozen=True, slots=True)
class ResultValue:
    """One result: a number in its unit, or a word."""

    name: str
    title: str
    value: float | str
    unit: str


@dataclass(frozen=True, slots=True)
class Result:
    """What comes out of a calculation: values, worked line and remarks; the first value is the answer."""

    calculation: str
    values: tuple[ResultValue, ...]
    worked: str
    notes: tuple[str, ...]

    @property
    def value(self) -> float | str:
        """The value that was asked for first of all."""
        return self.values[0].value

    @property
    def unit(self) -> str:
        """The unit of that value; empty for a plain number or a word."""
        return self.values[0].unit


def run(calculation: Calculation, texts: Mapping[str, str]) -> Result:
    """Read what was typed, calculate, and check that the result is a number.

    Errors: CalculationError for an unknown, missing or unreadable input, or an impossible one.
    """
    readings = read_inputs(calculation, texts)
    try:
        answer = calculation.function(readings)
    except ImpossibleInputError as error:
        raise _explained(calculation, error) from error
    for output, value in zip(calculation.outputs, answer.values, strict=True):
        if isinstance(value, float) and not math.isfinite(value):
            raise CalculationError("", f"the {output.title} comes out beyond any number", "check every input")
    values = tuple(
        ResultValue(output.name, output.title, value, output.unit)
        for output, value in zip(calculation.outputs, answer.values, strict=True)
    )
    return Result(calculation.name, values, answer.worked, answer.notes)


def read_inputs(calculation: Calculation, texts: Mapping[str, str]) -> Readings:
    """Read every input of a calculation, defaults where nothing was typed.

    Errors: CalculationError for a key the calculation does not have, a missing input, and unreadable text.
    """
    known = {item.name for item in calculation.inputs}
    for key in texts:
        if key not in known:
            raise CalculationError(
                key,
                f"`{calculation.name}` has no input `{key}`",
                f"its inputs are {', '.join(sorted(known))}",
            )
    numbers: dict[str, float] = {}
    names: dict[str, str] = {}
    spreads: dict[str, float] = {}
    for item in calculation.inputs:
        text = texts.get(item.name, "").strip() or item.default
        if text is None:
            raise CalculationError(item.name, f"the {item.title} is missing", _example(item))
        if not text:
            continue
        if len(text) > _LONGEST:
            raise CalculationError(item.name, f"the {item.title} is too long to be read", _example(item))
        if item.kind == "choice":
            names[item.name] = _read_choice(item, text)
        elif item.kind == "thread":
            names[item.name] = text
        else:
            numbers[item.name], spread = _read_number(item, text)
            if spread is not None:
                spreads[item.name] = spread
    return Readings(numbers, names, spreads)


def _read_choice(item: Input, text: str) -> str:
    """The choice meant: by name, by title, or by the last word of its name (`8.8` for `class 8.8`)."""
    wanted = " ".join(text.casefold().split())
    for choice in item.choices:
        if wanted in (choice.name.casefold(), choice.title.casefold()):
            return choice.name
    ends = [choice.name for choice in item.choices if choice.name.casefold().split()[-1] == wanted]
    if len(ends) == 1:
        return ends[0]
    known = ", ".join(choice.name for choice in item.choices)
    raise CalculationError(item.name, f"`{text}` is not a {item.title} known here", f"choose one of {known}")


def _read_number(item: Input, text: str) -> tuple[float, float | None]:
    """The number in the unit of the input, and half the width of a tolerance if one was typed."""
    kind = QuantityKind.RATIO if item.kind == "number" else QuantityKind(item.kind)
    unit = "" if item.kind == "number" else item.unit
    if _PLAIN_FRACTION.fullmatch(text) and unit not in ("in", ""):
        raise CalculationError(item.name, f"`{text}` lacks its unit", f"write `{text} in` for inches")
    written = text.removesuffix(item.unit).strip() if item.kind == "number" else text
    if unit and _PLAIN_NUMBER.fullmatch(text):
        written = f"{text}{unit}" if unit == ":1" else f"{text} {unit}"
    try:
        quantity = parse_quantity(written, kind)
        number = quantity.value_in(unit)
        low, high = quantity.bounds_in(unit)
    except QuantityError as error:
        raise CalculationError(item.name, error.message, error.hint or _example(item)) from error
    if low is None or high is None or (low < high and (quantity.nominal is None or not item.spread)):
        raise CalculationError(
            item.name, f"one value is needed for the {item.title}, not a range", _example(item)
        )
    return number, (high - low) / 2 if low < high else None


def _example(item: Input) -> str:
    if item.kind == "choice":
        return f"choose one of {', '.join(choice.name for choice in item.choices)}"
    if item.kind == "thread":
        return "write it like M6, M8×1, 1/4-20 or No. 10-32"
    number = item.default or "24"
    return f"write it like `{number if item.default or not item.unit else f'{number} {item.unit}'}`"


def _explained(calculation: Calculation, error: ImpossibleInputError) -> CalculationError:
    """The same refusal, pinned to the input whose name the argument bears."""
    key = words_and_unit(error.argument)[0].replace(" ", "-")
    for item in calculation.inputs:
        if item.name == key:
            return CalculationError(key, str(error), item.note or _example(item))
    return CalculationError("", str(error), "check every input")
