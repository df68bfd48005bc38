"""`shearpin compute`: the bench calculations, on a terminal."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from difflib import get_close_matches

from shearpin.cli.common import UserError, new_parser, print_json
from shearpin.mechanics.calculation import Calculation, CalculationError, Input, Result, ResultValue
from shearpin.mechanics.calculations import CALCULATIONS, calculation_named, compute
from shearpin.mechanics.guards import shown, with_unit


def run(words: Sequence[str]) -> int:
    """List the calculations, describe one, or run it; 1 when an input is refused, 2 when a name is wrong or missing."""
    parser = new_parser(
        "compute",
        "Bench calculations: without a name they are listed, with a name alone one is described.",
    )
    parser.add_argument("name", nargs="?", metavar="NAME", help="name of a calculation, such as bolt-torque")
    parser.add_argument(
        "inputs", nargs="*", metavar="KEY=VALUE", help="inputs with their units, such as torque='24 N·m'"
    )
    options = parser.parse_args(list(words))
    if options.name is None:
        _show_list(options.json)
        return 0
    try:
        calculation = calculation_named(options.name)
    except CalculationError as error:
        raise UserError(f"{error.message}; {error.hint}") from error
    if not options.inputs:
        _show_description(calculation, options.json)
        return 0
    texts = _texts(calculation, options.inputs)
    try:
        result = compute(calculation.name, texts)
    except CalculationError as error:
        return _refuse(calculation, error, options.json)
    if options.json:
        print_json(_result_json(calculation, result))
    else:
        sys.stdout.write(_result_text(calculation, result))
    return 0


def _texts(calculation: Calculation, words: Sequence[str]) -> dict[str, str]:
    """Return the inputs by name; a word without `=` goes on with the one before it: `torque=24 N·m`."""
    texts: dict[str, str] = {}
    last = ""
    for word in words:
        key, sign, value = word.partition("=")
        if not sign:
            if not last:
                raise UserError(f"write inputs as key=value, not `{word}`; {_inputs_words(calculation)}")
            texts[last] += f" {word}"
            continue
        if key in texts:
            raise UserError(f"`{key}` is given twice")
        _require_known(calculation, key)
        texts[key], last = value, key
    missing = [
        item for item in calculation.inputs if item.default is None and not texts.get(item.name, "").strip()
    ]
    if missing:
        names = ", ".join(f"`{item.name}`" for item in missing)
        raise UserError(f"`{calculation.name}` also needs {names}; {_inputs_words(calculation)}")
    return texts


def _require_known(calculation: Calculation, key: str) -> None:
    known = [item.name for item in calculation.inputs]
    if key not in known:
        near = get_close_matches(key, known, n=1)
        advice = f"did you mean `{near[0]}`?" if near else _inputs_words(calculation)
        raise UserError(f"`{calculation.name}` has no input `{key}`; {advice}")


def _inputs_words(calculation: Calculation) -> str:
    return f"its inputs are {', '.join(item.name for item in calculation.inputs)}"


def _refuse(calculation: Calculation, error: CalculationError, as_json: bool) -> int:
    if as_json:
        refused = {"input": error.key or None, "message": error.message, "hint": error.hint}
        print_json({"calculation": calculation.name, "refused": refused})
    else:
        where = f"{error.key}: " if error.key else ""
        print(f"shearpin compute: {where}{error.message}; {error.hint}", file=sys.stderr)
    return 1


def _show_list(as_json: bool) -> None:
    if as_json:
        print_json([{"name": each.name, "title": each.title, "group": each.group} for each in CALCULATIONS])
        return
    width = max(len(each.name) for each in CALCULATIONS)
    group = ""
    for each in CALCULATIONS:
        if each.group != group:
            sys.stdout.write(f"{chr(10) if group else ''}{each.group}\n")
            group = each.group
        sys.stdout.write(f"  {each.name:<{width}}  {each.title}\n")


def _show_description(calculation: Calculation, as_json: bool) -> None:
    if as_json:
        print_json(_description_json(calculation))
        return
    width = max(len(item.name) for item in calculation.inputs)
    lines = [calculation.title, f"  {calculation.formula}", f"  {calculation.symbols}", "", "inputs"]
    lines += [f"  {item.name:<{width}}  {_input_words(item)}" for item in calculation.inputs]
    width = max(len(output.name) for output in calculation.outputs)
    lines += ["", "results"]
    lines += [
        f"  {output.name:<{width}}  {output.title}{f', {output.unit}' if output.unit else ''}"
        for output in calculation.outputs
    ]
    lines += ["", f"source: {calculation.source}", calculation.caution]
    sys.stdout.write("\n".join(lines) + "\n")


def _input_words(item: Input) -> str:
    unit = f", {item.unit}" if item.unit and item.kind != "choice" else ""
    default = {None: "", "": " (may be left out)"}.get(item.default, f" (default {item.default})")
    choices = "".join(f"\n      {choice.name}: {choice.title}" for choice in item.choices)
    note = f"; {item.note}" if item.note else ""
    return f"{item.title}{unit}{default}{note}{choices}"


def _description_json(calculation: Calculation) -> dict[str, object]:
    return {
        **_words_json(calculation),
        "inputs": [
            {
                "name": item.name,
                "title": item.title,
                "kind": item.kind,
                "unit": item.unit,
                "default": item.default,
                "choices": [{"name": choice.name, "title": choice.title} for choice in item.choices],
                "note": item.note,
            }
            for item in calculation.inputs
        ],
        "outputs": [
            {"name": output.name, "title": output.title, "kind": output.kind, "unit": output.unit}
            for output in calculation.outputs
        ],
    }


def _words_json(calculation: Calculation) -> dict[str, str]:
    return {
        "calculation": calculation.name,
        "title": calculation.title,
        "formula": calculation.formula,
        "symbols": calculation.symbols,
        "source": calculation.source,
        "caution": calculation.caution,
    }


def _result_json(calculation: Calculation, result: Result) -> Mapping[str, object]:
    values = [
        {"name": value.name, "title": value.title, "value": value.value, "unit": value.unit}
        for value in result.values
    ]
    return {
        **_words_json(calculation),
        "values": values,
        "worked": result.worked,
        "notes": list(result.notes),
    }


def _result_text(calculation: Calculation, result: Result) -> str:
    width = max(len(value.title) for value in result.values)
    lines = [f"{value.title:<{width}}  {_value_words(value)}" for value in result.values]
    lines += [
        "",
        result.worked,
        *result.notes,
        "",
        f"{calculation.formula}  [{calculation.source}]",
        calculation.caution,
    ]
    return "\n".join(lines) + "\n"


def _value_words(value: ResultValue) -> str:
    if isinstance(value.value, str):
        return value.value
    return f"{shown(value.value)}:1" if value.unit == ":1" else with_unit(value.value, value.unit)
