"""`shearpin value`: a value as it holds for a machine, with where it comes from."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState
from shearpin.book.values import MissingValue, ResolvedValue
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, known_machine, load_book_or_fail, new_parser, print_json, todays_id
from shearpin.model.quantity import dual_parts, dual_text

_REVIEW: Final = {
    ReviewState.REVIEWED: "reviewed",
    ReviewState.UNBOUND: "reviewed, maybe changed since",
    ReviewState.LAPSED: "changed since its review",
    ReviewState.DRAFT: "not reviewed",
    ReviewState.WITHDRAWN: "withdrawn",
}


def run(words: Sequence[str]) -> int:
    """Print the value; 1 when the machine has none, with the reason instead of another model's figure."""
    parser = new_parser("value", "A value as it holds for a machine, with where it comes from.")
    parser.add_argument("name", metavar="NAME", help="name of a value, such as spark-plug.gap")
    parser.add_argument(
        "--machine", metavar="ID", help="id of the machine; without it every machine is listed"
    )
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    options.name = todays_id(linked, "value", options.name)
    if options.name not in linked.book.values:
        advice = did_you_mean(options.name, linked.book.values) or "`shearpin find` searches by words"
        raise UserError(f"there is no value `{options.name}`; {advice}")
    machine = known_machine(linked, options.machine)
    machines = [machine] if machine is not None else list(linked.values.machines_with(options.name))
    found = [linked.values.resolve(options.name, machine_id) for machine_id in machines]
    documents = [_as_json(linked, item) for item in found]
    if options.json:
        print_json(documents[0] if machine is not None else documents)
    else:
        for item in found:
            print(_as_text(linked, item))
        if not found:
            print(f"no machine of this book has the value `{options.name}`")
    return 0 if any(isinstance(item, ResolvedValue) for item in found) else 1


def _as_json(linked: LinkedBook, item: ResolvedValue | MissingValue) -> dict[str, object]:
    document: dict[str, object] = {"name": item.name, "machine": item.machine}
    if isinstance(item, MissingValue):
        return document | {"missing": item.reason, "applies": item.applies}
    quantity = item.quantity
    own, converted = dual_parts(quantity)
    kind = linked.book.values[item.name]
    measured = quantity.unit is not None
    low, high = quantity.bounds_in(quantity.unit) if quantity.unit else (None, None)
    review = linked.reviews.of(*item.holder)
    return document | {
        "text": own,
        "quantity": quantity.kind.value,
        "unit": quantity.unit if measured else None,
        "low": low,
        "high": high,
        "converted": converted,
        "plate": kind.plate.value,
        "recorded_in": f"{item.holder[0]}/{item.holder[1]}",
        "basis": item.entry.basis.value if item.entry.basis else None,
        "source": item.entry.source,
        "place": item.entry.place,
        "note": item.entry.note,
        "review": {"state": review.state.value, "by": review.by, "on": review.on},
    }


def _as_text(linked: LinkedBook, item: ResolvedValue | MissingValue) -> str:
    machine = linked.book.machines[item.machine].title
    if isinstance(item, MissingValue):
        return f"{machine}: {item.reason}; see the maker's manual"
    basis = item.entry.basis.value if item.entry.basis else "no source"
    cited = linked.book.sources.get(item.entry.source or "")
    source = f", {cited.title}" if cited is not None else ""
    note = f"\n    {item.entry.note}" if item.entry.note else ""
    plate = linked.book.values[item.name].plate.value
    review = linked.reviews.of(*item.holder)
    by = f" by the {review.by}, {review.on}" if review.by and review.on else ""
    return f"{machine}: {dual_text(item.quantity)}  [{plate} plate; {basis}{source}; {_REVIEW[review.state]}{by}]{note}"
