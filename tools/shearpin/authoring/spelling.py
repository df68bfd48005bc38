"""The spelling of quantities in a record, as the trade's units are printed; only where it says exactly the same."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ruamel.yaml.nodes import ScalarNode

from shearpin.authoring.source import Edit, Source, apply_edits, scalar_text
from shearpin.model.fields import Duration, Record
from shearpin.model.machines import Plated, Value, ValueEntry
from shearpin.model.position import FieldPath
from shearpin.model.quantity import QuantityError, QuantityKind, parse_quantity
from shearpin.model.references import field_type, nested_fields

Kinds = Mapping[str, QuantityKind]
"""What each value measures, by its name."""


@dataclass(frozen=True, slots=True)
class Respelling:
    """A quantity whose spelling changes."""

    path: FieldPath
    was: str
    now: str


def respellings(data: Mapping[str, Any], owner: type[Record], kinds: Kinds) -> list[Respelling]:
    """Return every quantity of a record that is written otherwise than it is printed."""
    found = []
    for path, text, kind in _quantities(data, owner, kinds):
        now = usual_spelling(text, kind)
        if now != text:
            found.append(Respelling(path, text, now))
    return found


def usual_spelling(text: str, kind: QuantityKind) -> str:
    """Return how a quantity is printed, or the text itself where that would say something else."""
    try:
        quantity = parse_quantity(text, kind)
        again = parse_quantity(quantity.text, kind)
    except QuantityError:
        return text
    return quantity.text if again == quantity else text


def respelt(text: str, changes: list[Respelling]) -> str:
    """Return the text of a record with these spellings."""
    source = Source(text)
    edits = []
    for change in changes:
        node = source.node_at(change.path)
        if isinstance(node, ScalarNode):
            span = source.start(node), source.end(node)
            edits.append(
                Edit(*span, scalar_text(change.now, in_flow=_in_flow(source, change.path), style=node.style))
            )
    return apply_edits(text, edits)


def _in_flow(source: Source, path: FieldPath) -> bool:
    holders = (source.node_at(path[:length]) for length in range(len(path)))
    return any(holder is not None and bool(getattr(holder, "flow_style", False)) for holder in holders)


def _quantities(
    data: Mapping[str, Any], owner: type[Record], kinds: Kinds
) -> Iterator[tuple[FieldPath, str, QuantityKind]]:
    waiting: list[tuple[Any, FieldPath]] = [(data, ())]
    while waiting:
        part, path = waiting.pop()
        if isinstance(part, dict):
            fields = nested_fields(owner, path) if path else owner
            for name, inner in part.items():
                here = (*path, name)
                if not isinstance(inner, str):
                    waiting.append((inner, here))
                elif fields is not None and field_type(fields, name) is Duration:
                    yield here, inner, QuantityKind.TIME
                elif (
                    fields is ValueEntry
                    and name == "is"
                    and issubclass(owner, Plated)
                    and str(path[-1]) in kinds
                ):
                    yield here, inner, kinds[str(path[-1])]
                elif owner is Value and here == ("band",) and data.get("quantity") in set(QuantityKind):
                    yield here, inner, QuantityKind(data["quantity"])
        elif isinstance(part, list):
            waiting += [(item, (*path, index)) for index, item in enumerate(part)]
