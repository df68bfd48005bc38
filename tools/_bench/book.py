"""Owns writing a synthetic book to a folder, and what a measurement needs to know of it."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from _bench.identity_records import identity_records
from _bench.knowledge_records import apparatus_records, drawing, knowledge_records
from _bench.plan import make_plan
from _bench.prose import Prose, capital
from _bench.scribe import Record, Scribe
from _bench.work_records import work_records
from _bench.yamltext import record_text


@dataclass(frozen=True, slots=True)
class SyntheticBook:
    """A book on disk: how much it holds, queries that find something in it, and a record to edit."""

    kb: Path
    records: int
    source_bytes: int
    kinds: Mapping[str, int]
    queries: tuple[str, ...]
    edited: Path
    edited_page: str
    draw: str = ""  # what its chances were drawn from: the same gives the same records


def records_of(scribe: Scribe) -> Iterator[Record]:
    """Yield every record of the scribe's plan."""
    for writer in (knowledge_records, work_records, identity_records, apparatus_records):
        yield from writer(scribe)


def write_book(kb: Path, records: int, seed: int = 1) -> SyntheticBook:
    """Write a book of so many records below `kb`, the same bytes for the same numbers.

    Raises `ValueError` for fewer records than hold every kind.
    """
    plan = make_plan(records)
    draw = f"shearpin {seed} {records}"
    scribe = Scribe(plan, random.Random(draw))
    size = 0
    first: dict[str, Mapping[str, Any]] = {}
    for folder, record_id, fields in records_of(scribe):
        if folder not in first:
            (kb / folder).mkdir(parents=True)
            first[folder] = fields
        content = record_text(fields)
        size += len(content.encode())
        _write(kb / folder / f"{record_id}.yaml", content)
    for index, figure in enumerate(plan.figures):
        _write(kb / "figures" / f"{figure}.svg", drawing(index))
    assembly = plan.assemblies[0]
    value = next(iter(assembly.values.values()))
    number = next(iter(first["parts"]["numbers"].values()))["number"]
    queries = (
        first["symptoms"]["said"][0],
        f"{assembly.name} {value.title} {plan.machines[0].title}",
        number.replace("-", "").lower(),  # as people type it
    )
    procedure = assembly.ids("procedure")[0]
    return SyntheticBook(
        kb, records, size, plan.counts, queries,
        kb / "procedures" / f"{procedure}.yaml", f"procedures/{procedure}.html", draw,
    )  # fmt: skip


def write_pages(pages: Path, names: list[str], seed: int = 1) -> None:
    """Write hand-written pages of these names, so that the navigation of the project's settings leads somewhere."""
    prose = Prose(random.Random(f"pages {seed}"))
    for name in names:
        title = capital(Path(name).stem.replace("-", " "))
        body = "\n\n".join(prose.paragraph(60) for _ in range(3))
        (pages / name).parent.mkdir(parents=True, exist_ok=True)
        _write(pages / name, f"# {title}\n\n{body}\n")


def edit_record(book: SyntheticBook, words: str) -> None:
    """Change what a reader sees of one record: the outcome of a procedure."""
    content = book.edited.read_text(encoding="utf-8")
    changed, times = re.subn(
        r"^outcome: .*(?:\n  .*)*$", f"outcome: It shows {words}.", content, count=1, flags=re.MULTILINE
    )
    if not times:
        raise ValueError(f"{book.edited} has no outcome to edit")
    _write(book.edited, changed)


def spoil(kb: Path, every: int = 100) -> int:
    """Put a fault of the usual sorts into every so many files below `kb`; returns how many were spoilt."""
    faults = (
        "colour: red\n",
        "title: Twice\n",
        "ignore: [{code: XXX999, reason: no such rule}]\n",
        "sources: [unbalanced\n",
        "\tindented by a tab: no\n",
    )
    spoilt = sorted(kb.glob("*/*.yaml"))[::every]
    for index, path in enumerate(spoilt):
        _write(path, path.read_text(encoding="utf-8") + faults[index % len(faults)])
    return len(spoilt)


def _write(path: Path, content: str) -> None:
    path.write_text(content, encoding="utf-8", newline="\n")
