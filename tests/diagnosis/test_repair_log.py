"""The log's file: many writers lose nothing, damage is said and never overwritten, what is known is added once."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from shearpin.diagnosis import repair_log
from shearpin.diagnosis.repair import Repair
from shearpin.diagnosis.repair_log import APPLICATION_ID, Entry, LogError, RepairLog

ONE = Repair("2026-11-28", "osmere-d24", "auger-does-not-turn", (), "auger-cable-slack", 14, "rusty")

WRITER = """
import sys
from dataclasses import replace
from pathlib import Path
from shearpin.diagnosis.repair import Repair
from shearpin.diagnosis.repair_log import RepairLog
log, name = RepairLog(Path(sys.argv[1])), sys.argv[2]
for number in range(1, 7):
    log.add([Repair("2026-11-28", f"machine-{name}", "a", (), "b", number)])
log.add([Repair("2026-11-28", "all", "the", (), "same")])
"""


def test_many_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "shared folder #1" / "log.sqlite"  # made by whoever is first
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(path), str(name)], stderr=subprocess.PIPE)
        for name in range(6)
    ]
    for writer in writers:
        _, errors = writer.communicate(timeout=120)
        assert (writer.returncode, errors) == (0, b"")
    found = RepairLog(path).repairs()
    assert sorted((r.machine, r.minutes) for r in found if r.machine != "all") == sorted(
        (f"machine-{name}", number) for name in range(6) for number in range(1, 7)
    )
    assert sum(r.machine == "all" for r in found) == 1  # known after the first one
    assert [entry.name for entry in path.parent.iterdir()] == ["log.sqlite"]


def test_what_is_there_already_is_not_added_again(tmp_path: Path) -> None:
    log = RepairLog(tmp_path / "log.sqlite")
    other = replace(ONE, minutes=None)
    assert log.add([ONE, ONE, other]).count == 3  # two equal rows of one file are two repairs
    again = log.add([ONE, other, ONE, ONE])
    assert (again.count, again.known) == (1, (ONE, other, ONE))
    assert log.add([ONE], again=True).count == 1
    assert len(log.repairs()) == 5


def test_there_is_nothing_where_there_is_no_file(tmp_path: Path) -> None:
    log = RepairLog(tmp_path / "log.sqlite")
    assert log.entries() == ()
    assert log.remove(1) is None
    assert list(tmp_path.iterdir()) == []


def test_an_entry_is_taken_out_and_its_number_not_given_again(tmp_path: Path) -> None:
    log = RepairLog(tmp_path / "log.sqlite")
    log.add([ONE, replace(ONE, minutes=3)])
    assert log.remove(2) == replace(ONE, minutes=3)
    log.add([replace(ONE, minutes=4)])
    assert [entry.number for entry in log.entries()] == [1, 3]


def test_a_number_beyond_any_log_is_of_no_entry(tmp_path: Path) -> None:
    log = RepairLog(tmp_path / "log.sqlite")
    log.add([ONE])
    assert log.remove(10**30) is None
    assert len(log.entries()) == 1


def test_what_stopped_a_writing_is_told_though_the_database_has_rolled_back_by_itself(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log = RepairLog(tmp_path / "log.sqlite")
    log.add([ONE])

    def full(connection: sqlite3.Connection, path: Path) -> tuple[Entry, ...]:
        connection.execute("ROLLBACK")  # as SQLite may by itself where the disk is full
        error = sqlite3.OperationalError("database or disk is full")
        error.sqlite_errorname = "SQLITE_FULL"
        raise error

    monkeypatch.setattr(repair_log, "_read", full)
    with pytest.raises(LogError, match="did not take it"):
        log.add([ONE])


def _filled(tmp_path: Path) -> RepairLog:
    log = RepairLog(tmp_path / "log.sqlite")
    log.add([replace(ONE, minutes=number) for number in range(1, 200)])
    return log


def _refused(log: RepairLog) -> str:
    before = log.path.read_bytes()
    with pytest.raises(LogError) as reading:
        log.repairs()
    with pytest.raises(LogError):
        log.add([ONE])
    with pytest.raises(LogError):
        log.remove(1)
    assert log.path.read_bytes() == before
    return str(reading.value)


@pytest.mark.parametrize("left", [0, 1, 40, 100, 4096, 9000])
def test_a_log_cut_short_is_said_so_and_left_alone(tmp_path: Path, left: int) -> None:
    log = _filled(tmp_path)
    log.path.write_bytes(log.path.read_bytes()[:left])
    assert "damaged" in _refused(log) or left < 100


def test_altered_bytes_never_pass_for_repairs(tmp_path: Path) -> None:
    log = _filled(tmp_path)
    whole, entries = log.path.read_bytes(), log.repairs()
    chance = random.Random(7)
    refused = 0
    for _ in range(60):
        place = chance.randrange(len(whole))
        log.path.write_bytes(
            whole[:place] + bytes([whole[place] ^ (1 << chance.randrange(8))]) + whole[place + 1 :]
        )
        try:
            assert log.repairs() == entries  # a byte that bears nothing
        except LogError:
            refused += 1
    assert refused > 20


def test_a_cell_altered_by_another_program_is_noticed(tmp_path: Path) -> None:
    log = _filled(tmp_path)
    with sqlite3.connect(log.path) as connection:
        connection.execute("UPDATE repair SET cause = 'rust' WHERE number = 5")
    connection.close()
    assert "entry 5 is not as it was written" in _refused(log)


def test_a_file_of_something_else_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE accounts (name)")
    connection.commit()
    connection.close()
    assert "is not a repair log" in _refused(RepairLog(path))
    text = tmp_path / "letter.txt"
    text.write_text("Dear all, " * 50)
    assert "damaged" in _refused(RepairLog(text))
    with pytest.raises(LogError, match="not a file"):
        RepairLog(tmp_path).repairs()


def test_a_log_of_a_later_format_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "log.sqlite"
    connection = sqlite3.connect(path)
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute("PRAGMA user_version = 2")
    connection.execute("CREATE TABLE more (name)")
    connection.commit()
    connection.close()
    assert "format 2" in _refused(RepairLog(path))


def test_nothing_is_written_ahead_of_the_file_itself(tmp_path: Path) -> None:
    log = _filled(tmp_path)
    with sqlite3.connect(log.path) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
    connection.close()


def test_a_writer_that_dies_leaves_the_log_whole(tmp_path: Path) -> None:
    log = _filled(tmp_path)
    dying = (
        "import os, sqlite3, sys\n"
        "c = sqlite3.connect(sys.argv[1], isolation_level=None)\n"
        "c.execute('PRAGMA cache_size = 1')\n"
        "c.execute('BEGIN IMMEDIATE')\n"
        'c.execute("UPDATE repair SET note = hex(randomblob(3000))")\n'
        "os._exit(1)\n"
    )
    subprocess.run([sys.executable, "-c", dying, str(log.path)], check=False)
    assert len(log.repairs()) == 199
    assert log.add([replace(ONE, date="2026-11-29")]).count == 1


def test_an_empty_file_is_called_empty(tmp_path: Path) -> None:
    path = tmp_path / "log.sqlite"
    path.touch()
    with pytest.raises(LogError, match="it is empty"):
        RepairLog(path).repairs()
