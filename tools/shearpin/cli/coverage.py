"""`shearpin coverage`: what the book still lacks, and how plain its words are."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from shearpin.book.coverage import Coverage
from shearpin.book.plainness import Plainness, plainness
from shearpin.book.review import ReviewState
from shearpin.cli.common import load_book_or_fail, new_parser, print_json


def run(words: Sequence[str]) -> int:
    """Print every hole of the book; returns 1 where a symptom or a procedure is not ready for a machine, else 0."""
    parser = new_parser("coverage", "What the book still lacks, per machine, and how plain its words are.")
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    coverage, plain = Coverage(linked, linked.safety.pages_with, linked.reviews.of), plainness(linked)
    if options.json:
        print_json(_as_json(coverage, plain))
    else:
        _print_for_people(coverage, plain)
    cells = [*coverage.symptoms.values(), *coverage.procedures.values()]
    return 0 if all(cell.ready for cell in cells) else 1


def _as_json(coverage: Coverage, plain: Plainness) -> dict[str, Any]:
    missing, unsourced = coverage.values
    return {
        "records": sum(map(len, coverage.reviews.values())),
        "reviews": {state.value: len(coverage.reviews[state]) for state in ReviewState},
        "symptoms": _cells(coverage, "symptom"),
        "procedures": _cells(coverage, "procedure"),
        "missing_values": [{"value": name, "machine": machine} for name, machine in missing],
        "unsourced_values": [{"value": name, "machine": machine} for name, machine in unsourced],
        "unsourced": [f"{kind}/{record_id}" for kind, record_id in coverage.unsourced],
        "lapsed": [f"{kind}/{record_id}" for kind, record_id in coverage.reviews[ReviewState.LAPSED]],
        "not_reviewed": [f"{kind}/{record_id}" for kind, record_id in coverage.reviews[ReviewState.DRAFT]],
        "orphans": [f"{kind}/{record_id}" for kind, record_id in coverage.orphans],
        "plain_words": {
            "instructions": plain.instructions,
            "within_20_words": plain.within_limit,
            "grades": {kind: round(grade, 1) for kind, grade in plain.grades},
            "hardest": [
                {"record": "/".join(hard.key), "grade": round(hard.grade, 1), "sentence": hard.text}
                for hard in plain.hardest
            ],
        },
    }


def _cells(coverage: Coverage, kind: str) -> dict[str, Any]:
    cells = coverage.symptoms if kind == "symptom" else coverage.procedures
    return {
        "pairs": len(cells),
        "ready": sum(cell.ready for cell in cells.values()),
        "not_ready": [
            {
                kind: record_id,
                "machine": machine,
                "causes_without_cure": list(cell.uncured),
                "causes_without_test": list(cell.untested),
                "values_not_recorded": list(cell.missing),
            }
            for (record_id, machine), cell in cells.items()
            if not cell.ready
        ],
    }


def _print_for_people(coverage: Coverage, plain: Plainness) -> None:
    document = _as_json(coverage, plain)
    print(f"{document['records']} records: " + ", ".join(f"{n} {s}" for s, n in document["reviews"].items()))
    for kind in ("symptom", "procedure"):
        cells = document[f"{kind}s"]
        print(f"{kind}s ready by machine: {cells['ready']} of {cells['pairs']}")
        for cell in cells["not_ready"]:
            print(f"    {cell[kind]} on {cell['machine']}: {_lacks(cell)}")
    for heading, name in (
        ("values not recorded", "missing_values"),
        ("values without a source", "unsourced_values"),
    ):
        _print_list(heading, [f"{item['value']} of {item['machine']}" for item in document[name]])
    _print_list("records without a source", document["unsourced"])
    _print_list("changed since their review", document["lapsed"])
    _print_list("not reviewed", document["not_reviewed"])
    _print_list("records no page leads to", document["orphans"])
    share = plain.within_limit / plain.instructions if plain.instructions else 1.0
    print(f"instructions within 20 words: {plain.within_limit} of {plain.instructions} ({share:.1%})")
    print(
        "reading grade (Flesch–Kincaid): " + ", ".join(f"{kind} {grade:.1f}" for kind, grade in plain.grades)
    )
    print("hardest sentences of procedures and tests:")
    for hard in plain.hardest:
        print(f"    {hard.grade:4.1f}  {'/'.join(hard.key)}: {hard.text}")


def _lacks(cell: dict[str, Any]) -> str:
    parts = [
        ("no cure for", "causes_without_cure"),
        ("no test for", "causes_without_test"),
        ("no value", "values_not_recorded"),
    ]
    return "; ".join(f"{words} {', '.join(cell[name])}" for words, name in parts if cell[name])


def _print_list(heading: str, items: Sequence[str]) -> None:
    print(f"{heading}: {len(items)}")
    for item in items:
        print(f"    {item}")
