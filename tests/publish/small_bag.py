"""Owns a small published edition, made without building pages, for tests that damage copies of it."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from pathlib import Path

from shearpin.publish.archive import files_below, write_archive
from shearpin.publish.bag import write_bag
from shearpin.publish.contentrecord import FILE_NAME, EditionContent, RecordContent, to_json

MOMENT = datetime(2026, 10, 5, tzinfo=UTC)
PAYLOAD = {
    "data/index.html": b"<h1>Front</h1>\n",
    "data/procedures/change-oil.html": b"<p>Drain the oil warm.</p>\n" * 4,
    "data/procedures/index.html": b"<p>Procedures</p>\n",
    "data/look/page.css": b"body { color: #000 }\n",
    "data/empty.txt": b"",
}


def content(**files: int) -> EditionContent:
    """A content record of one record, one figure, one message."""
    return EditionContent(
        "winter", "Winter book", "1", "2026-10-05", "Brook Institute", "CC BY 4.0", "final", "en",
        {"procedure:change-oil": RecordContent("Change the oil", {"steps": "00"})},
        {"engine:e1 oil.volume": "0.6 L"}, {"caution:hot": "CAUTION: Hot oil burns."}, files,
    )  # fmt: skip


def make_bag(folder: Path) -> Path:
    """Write a whole bag called `winter-1` below `folder`."""
    bag = folder / "winter-1"
    for name, data in PAYLOAD.items():
        path = bag / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    sizes = {name: len(data) for name, data in PAYLOAD.items()}
    (bag / FILE_NAME).write_bytes(to_json(content(**sizes)).encode("utf-8"))
    (bag / "HOW-TO-VERIFY.txt").write_bytes(b"sha256sum\r\n")
    write_bag(bag, (("External-Description", "Winter book"), ("Bagging-Date", "2026-10-05")))
    return bag


def make_zip(bag: Path, target: Path) -> Path:
    """Write a bag as we archive it."""
    with open(target, "wb") as stream:
        write_archive(stream, files_below(bag, f"{bag.name}/"), MOMENT)
    return target


def copy_of(bag: Path, folder: Path) -> Path:
    """Copy a bag into an emptied folder."""
    shutil.rmtree(folder, ignore_errors=True)
    return Path(shutil.copytree(bag, folder / bag.name))
