"""A few of the hostile files in every run, the seeds that ever failed among them; `python -m tests.fuzz` runs thousands."""

from __future__ import annotations

import pytest

from tests.fuzz.hostile import NAMES, hostile_file
from tests.fuzz.trial import try_file

EVER_FAILED = (3333, 6020, 8850, 12260, 17910)
"""Seeds whose file once ended in something else than findings."""


@pytest.mark.parametrize("first", range(0, 250, 50))
def test_hostile_files_end_in_findings(first: int) -> None:
    for seed in range(first, first + 50):
        name, raw = hostile_file(seed)
        try:
            try_file(name, raw, pages=seed % 10 == 0)
        except Exception as error:  # the seed makes the file again
            pytest.fail(f"seed {seed} ({name}): {error!r}")


@pytest.mark.parametrize("seed", EVER_FAILED)
def test_a_file_that_once_failed_ends_in_findings(seed: int) -> None:
    try_file(*hostile_file(seed), pages=True)


def test_a_seed_makes_the_same_file_again_and_seeds_differ() -> None:
    files = [hostile_file(seed) for seed in range(200)]
    assert files == [hostile_file(seed) for seed in range(200)]
    assert len({raw for _, raw in files}) > 150
    assert {name for name, _ in files} & set(NAMES)
