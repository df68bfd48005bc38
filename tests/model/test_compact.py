"""Records in little room say the same as before."""

from __future__ import annotations

import pickle
import tracemalloc
from pathlib import Path
from typing import Any

import pytest

from shearpin.model.compact import Compacting
from shearpin.model.fields import Record
from shearpin.model.kinds import KINDS
from shearpin.model.yamltext import parse

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def read() -> list[tuple[type[Record], dict[str, Any]]]:
    """Twenty records of each kind of the demonstration book, as data."""
    return [
        (kind.record, parse(path.read_bytes())[0])
        for kind in KINDS.values()
        for path in sorted((ROOT / "kb" / kind.folder).glob("*.yaml"))[:20]
    ]


def test_a_compact_record_is_equal_prints_the_same_and_can_be_pickled_and_changed(read: Any) -> None:
    compacting = Compacting()
    assert {owner for owner, _ in read} == {kind.record for kind in KINDS.values()}
    for owner, data in read:
        fresh = owner.model_validate(data)
        compact = compacting.record(fresh)
        assert type(compact) is owner
        assert compact == fresh
        assert repr(compact) == repr(fresh)
        assert pickle.loads(pickle.dumps(compact)) == fresh
        changed = compact.model_copy(update={"title": "Another"})
        assert (changed.title, compact.title) == ("Another", fresh.title)


def test_compact_records_take_half_the_room_or_less(read: Any) -> None:
    def room(compacting: Compacting | None) -> int:
        before = tracemalloc.get_traced_memory()[0]
        made = [owner.model_validate(data) for owner, data in read]
        if compacting is not None:
            made = list(map(compacting.record, made))
        assert made
        return tracemalloc.get_traced_memory()[0] - before

    room(Compacting())  # the first of each type keep room for names that may still come
    tracemalloc.start()
    try:
        assert room(Compacting()) * 2 <= room(None)
    finally:
        tracemalloc.stop()


def test_what_is_said_often_stands_once(read: Any) -> None:
    owner, data = next((owner, data) for owner, data in read if "sources" in data and "review" in data)
    compacting = Compacting()
    one, other = (compacting.record(owner.model_validate(data)) for _ in range(2))
    assert one is not other
    assert one.sources is other.sources
    assert one.review.state is other.review.state
