"""Counts many records, in two processes when that is worth their start."""

from __future__ import annotations

import marshal
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any

from shearpin.model.shares import collector_at_rest, jobs
from shearpin.search.concepts import Concepts, Phrase
from shearpin.search.counts import FieldCounts, Row
from shearpin.search.words import Analyser

Fields = Mapping[str, str]
"""Texts of a record by field, as in `Document`."""

# A process starts in a third of a second; so many records take one about a second. What a process learns of words
# goes with it, so the build itself stays small.
_WORTH_PROCESSES = 1500


@dataclass(frozen=True, slots=True)
class Batch:
    """Counts of some records, with the strings behind the numbers in them.

    `plain` holds for each of `words`, which is what stands between two spaces, the plain words in it and their terms.
    """

    terms: Sequence[str]
    words: Sequence[str]
    plain: Sequence[tuple[tuple[str, str], ...]]
    rows: Sequence[Row]


def count_batch(records: Sequence[Fields], concepts: Concepts) -> Batch:
    """Count the records in this process."""
    counts = FieldCounts(Analyser(), concepts)
    rows = [counts.row(fields) for fields in records]
    return Batch(list(counts.terms), list(counts.words), counts.words.plain, rows)


def count_batches(records: Sequence[Fields], concepts: Concepts) -> Iterator[Batch]:
    """Count the records, in batches in their order; the same however many processes do it."""
    if len(records) < _WORTH_PROCESSES or jobs() < 2 or not sys.executable:
        yield count_batch(records, concepts)
        return
    middle = len(records) // 2
    halves = (records[:middle], records[middle:])
    with ThreadPoolExecutor(2) as waiting:
        counted = [waiting.submit(_count_elsewhere, half, concepts) for half in halves]
        for half in halves:
            yield counted.pop(0).result() or count_batch(half, concepts)  # held by nobody afterwards


def _count_elsewhere(records: Sequence[Fields], concepts: Concepts) -> Batch | None:
    """Count in a process of its own; None when that cannot be had."""
    phrases = [(p.terms, p.concept) for found in concepts.phrases.values() for p in found if not p.preferred]
    order = marshal.dumps((phrases, [dict(fields) for fields in records]))
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    try:
        done = subprocess.run(
            [sys.executable, "-m", __name__],
            input=order, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment, check=True,
        )  # fmt: skip
        return Batch(*marshal.loads(done.stdout))
    except (OSError, subprocess.SubprocessError, ValueError, EOFError, TypeError):
        return None


def _answer() -> None:
    """What each process does: count the records on its standard input."""
    phrases, records = marshal.loads(sys.stdin.buffer.read())
    by_first: dict[str, tuple[Phrase, ...]] = {}
    for terms, concept in phrases:
        by_first[terms[0]] = (*by_first.get(terms[0], ()), Phrase(terms, concept))
    with collector_at_rest():
        batch = count_batch(records, Concepts(by_first, ()))
    answer: Any = (batch.terms, batch.words, batch.plain, batch.rows)
    sys.stdout.buffer.write(marshal.dumps(answer))


if __name__ == "__main__":
    _answer()
