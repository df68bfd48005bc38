"""The book: records by kind and id, and what is done before what."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.model.kinds import KINDS
from tests.sound_book import SOUND_BOOK, read_over


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(SOUND_BOOK, "kb")


def test_every_kind_has_its_mapping(linked: LinkedBook) -> None:
    for name, kind in KINDS.items():
        records = linked.book.of_kind(name)
        assert records
        assert getattr(linked.book, kind.folder) == records
        assert all(isinstance(record, kind.record) for record in records.values())
        assert list(records) == sorted(records)


def test_a_record_is_found_by_kind_and_id_or_not_at_all(linked: LinkedBook) -> None:
    punch = linked.book.get("tool", "pin-punch")
    assert punch is not None
    assert punch.title == "Pin punch"
    assert linked.book.get("part", "pin-punch") is None
    assert linked.book.get("gadget", "pin-punch") is None


def test_work_is_procedures_and_tests(linked: LinkedBook) -> None:
    assert [key for key, _ in linked.book.work()] == [
        ("procedure", "make-machine-safe"),
        ("procedure", "replace-auger-shear-bolt"),
        ("test", "shear-bolt-inspection"),
    ]


def test_files_that_cannot_be_read_are_kept_as_files(tmp_path: Path) -> None:
    linked = read_over(tmp_path, {"tools/pin-punch.yaml": "title: [\nsee: torque-wrench\n"})
    assert "pin-punch" not in linked.book.tools
    assert linked.book.file_of[("tool", "pin-punch")].record is None
    assert {"title", "torque-wrench"} <= linked.book.loose_words


def _procedure(before: str) -> str:
    return f"title: A\npurpose: B.\nsystems: auger-drive\ntime: 1 min\nbefore: {before}\nsteps:\n  - do: C.\n"


@pytest.mark.parametrize(
    ("before", "ordered"),
    [
        ({"a": "[]"}, ()),
        ({"a": "[b]", "b": "[]"}, ("b",)),
        ({"a": "[b, c]", "b": "[d]", "c": "[d, e]", "d": "[]", "e": "[]"}, ("d", "b", "e", "c")),
        ({"a": "[b]", "b": "[c]", "c": "[b]"}, ("c", "b")),
        ({"a": "[a]"}, ("a",)),
        ({"a": "[absent, b]", "b": "[]"}, ("absent", "b")),
    ],
    ids=["none", "one", "shared", "a circle", "itself", "one that is not there"],
)
def test_preparations_stand_once_each_in_the_order_of_doing(
    before: dict[str, str], ordered: tuple[str, ...], tmp_path: Path
) -> None:
    linked = read_over(tmp_path, {f"procedures/{name}.yaml": _procedure(ids) for name, ids in before.items()})
    assert linked.book.preparations(linked.book.procedures["a"]) == ordered


def test_a_long_chain_of_preparations_is_walked(tmp_path: Path) -> None:
    count = 1_500
    files = {f"procedures/p{n}.yaml": _procedure(f"[p{n + 1}]") for n in range(count)}
    linked = read_over(tmp_path, files)
    assert len(linked.book.preparations(linked.book.procedures["p0"])) == count
