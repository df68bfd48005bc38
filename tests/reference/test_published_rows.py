"""What we compute agrees with what books, standards and government manuals print."""

from __future__ import annotations

import pytest

from tests.reference import rows_drives, rows_engine, rows_shear, rows_threads, rows_tightening
from tests.reference.published_row import Basis, PublishedRow
from tests.reference.rows_unused import IDS, UNUSED

ROWS: tuple[PublishedRow, ...] = (
    *rows_threads.ROWS,
    *rows_tightening.ROWS,
    *rows_shear.ROWS,
    *rows_drives.ROWS,
    *rows_engine.ROWS,
)


@pytest.mark.parametrize("row", ROWS, ids=[row.test_id for row in ROWS])
def test_our_figure_agrees_with_the_published_one(row: PublishedRow) -> None:
    assert row.agrees(), f"{row.test_id}: ours {row.ours()!r}, printed {row.printed!r}"


def test_every_row_is_either_used_or_listed_with_a_reason() -> None:
    used = {row.id for row in ROWS}
    assert used | UNUSED.keys() == set(IDS)
    assert not used & UNUSED.keys()
    assert len(IDS) == len(set(IDS))


def test_rows_of_common_practice_never_judge() -> None:
    practice = {row_id for row_id, reason in UNUSED.items() if reason.startswith("common practice")}
    assert practice == {"E28", "E29", "E30", "E32", "E33", "E47", "E48", "Q06"}


def test_rows_from_memory_say_so_in_their_name() -> None:
    remembered = {row.id for row in ROWS if row.basis is Basis.FROM_MEMORY}
    assert remembered == {"F09", "W05", "W07", "X06", "X07", "E02", "L05"}
    assert all("from memory" in row.test_id for row in ROWS if row.id in remembered)


def test_a_wrong_figure_would_be_noticed() -> None:
    numbers = [
        row for row in ROWS if isinstance(row.printed, float | int) and not isinstance(row.printed, bool)
    ]
    assert len(numbers) > 250
    for row in numbers:
        printed = float(row.printed)  # type: ignore[arg-type]
        wrong = printed * 1.2 + 1 if row.within < 1 else printed * 1.2
        off = PublishedRow(row.id, row.what, row.basis, row.source, row.ours, wrong, row.within, row.relative)
        assert not off.agrees(), row.test_id
