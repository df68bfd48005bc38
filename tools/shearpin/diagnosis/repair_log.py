"""The repair log: one SQLite file that several people may write at the same time, also on a shared folder.

No write-ahead log, which does not work over a network share (https://www.sqlite.org/wal.html): the rollback journal,
one short transaction for each writing, and patience while another one writes.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sqlite3
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from shearpin.diagnosis.repair import COLUMNS, Repair, read_repair

APPLICATION_ID: Final = 0x53485250
"""`SHRP` in the file's header: tells a repair log from any other SQLite file."""

FORMAT: Final = 1
BUILD_LOG: Final = "SHEARPIN_BUILD_LOG"
"""Setting by which `shearpin build --log` names a log to the site's plugin; it goes before the one in mkdocs.yml."""

PATIENCE_SECONDS: Final = 60.0
_CREATE: Final = (
    "CREATE TABLE repair (number INTEGER PRIMARY KEY AUTOINCREMENT, date TEXT NOT NULL, machine TEXT NOT NULL, "
    "symptom TEXT NOT NULL, tests TEXT NOT NULL, cause TEXT NOT NULL, minutes TEXT NOT NULL, note TEXT NOT NULL, "
    "digest TEXT NOT NULL)"
)
_INSERT: Final = f"INSERT INTO repair ({', '.join(COLUMNS)}, digest) VALUES ({', '.join('?' * 8)})"


class LogError(Exception):
    """The log cannot be read or written; its text says why and what to do. Nothing was changed."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One repair with its number in the log."""

    number: int
    repair: Repair


@dataclass(frozen=True, slots=True)
class Added:
    """How many repairs a writing added, and those that were left out because the log has them already."""

    count: int
    known: tuple[Repair, ...]


class RepairLog:
    """The log in one file. Every call opens the file, looks whether it is whole, and closes it again."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def entries(self) -> tuple[Entry, ...]:
        """Return all entries in the order of their numbers; none where there is no file. Raises `LogError`."""
        if not os.path.lexists(self.path):
            return ()
        with self._open() as connection:
            return _read(connection, self.path)

    def repairs(self) -> tuple[Repair, ...]:
        """Return all repairs. Raises `LogError`."""
        return tuple(entry.repair for entry in self.entries())

    def add(self, repairs: Sequence[Repair], *, again: bool = False) -> Added:
        """Add repairs, all or none, and make the file where there is none. Raises `LogError`.

        What is there already, by content, is left out: of k equal repairs given and m in the log, k - m are added.
        With `again` all are added.
        """
        if not os.path.lexists(self.path):
            self._make()
        with self._open() as connection, _writing(connection):
            stored = Counter(entry.repair.digest() for entry in _read(connection, self.path))
            known: list[Repair] = []
            count = 0
            for repair in repairs:
                digest = repair.digest()
                if not again and stored[digest] > 0:
                    stored[digest] -= 1
                    known.append(repair)
                    continue
                row = repair.as_row()
                connection.execute(_INSERT, (*(row[column] for column in COLUMNS), digest))
                count += 1
        return Added(count, tuple(known))

    def remove(self, number: int) -> Repair | None:
        """Take one entry out and return it, or None where there is no such number. Raises `LogError`."""
        if not os.path.lexists(self.path):
            return None
        with self._open() as connection, _writing(connection):
            found = next((e.repair for e in _read(connection, self.path) if e.number == number), None)
            if found is not None:  # a number that no log can have would be too large to ask for
                connection.execute("DELETE FROM repair WHERE number = ?", (number,))
        return found

    def _make(self) -> None:
        """Put an empty log in place at once and whole; another process may do the same, and one of them wins."""
        fresh = self.path.with_name(f".{self.path.name}.new-{os.getpid()}")
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            fresh.unlink(missing_ok=True)
            connection = sqlite3.connect(fresh, isolation_level=None)
            try:
                connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
                connection.execute(f"PRAGMA user_version = {FORMAT}")
                connection.execute(_CREATE)
            finally:
                connection.close()
            with contextlib.suppress(FileExistsError):
                _place(fresh, self.path)
        except (OSError, sqlite3.Error) as error:
            raise LogError(f"no repair log can be made at {self.path}: {_reason(error)}") from error
        finally:
            with contextlib.suppress(OSError):
                fresh.unlink(missing_ok=True)

    @contextmanager
    def _open(self) -> Iterator[sqlite3.Connection]:
        """Open the file and see that it is a repair log and whole."""
        if not self.path.is_file():
            raise LogError(f"{self.path} is not a file")
        if self.path.stat().st_size == 0:
            raise LogError(_damaged(self.path, "it is empty"))
        try:
            connection = sqlite3.connect(self.path, timeout=PATIENCE_SECONDS, isolation_level=None)
        except sqlite3.Error as error:
            raise LogError(f"{self.path} cannot be opened: {_reason(error)}") from error
        try:
            _examine(connection, self.path)
            yield connection
        except sqlite3.DatabaseError as error:
            raise LogError(_told(error, self.path)) from error
        finally:
            connection.close()


def _place(fresh: Path, target: Path) -> None:
    """Give a finished file its name unless that is taken (`FileExistsError`)."""
    if os.name == "nt":
        os.rename(fresh, target)  # does not replace there
        return
    try:
        os.link(fresh, target)
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links
        with open(target, "xb") as stream, open(fresh, "rb") as made:
            shutil.copyfileobj(made, stream)


def _examine(connection: sqlite3.Connection, path: Path) -> None:
    if _pragma(connection, "application_id") != APPLICATION_ID:
        raise LogError(f"{path} is not a repair log; it was left as it is")
    version = _pragma(connection, "user_version")
    if version != FORMAT:
        raise LogError(
            f"{path} is a repair log of format {version}; this Shearpin reads format {FORMAT}. "
            "Use the Shearpin that wrote it"
        )
    _pragma(connection, "journal_mode = DELETE")
    connection.execute("PRAGMA synchronous = FULL")
    answer = _pragma(connection, "integrity_check")
    if answer != "ok":
        raise LogError(_damaged(path, str(answer).splitlines()[0]))


def _pragma(connection: sqlite3.Connection, name: str) -> object:
    """Return the first answer of a pragma; all are fetched, so that no lock is left behind."""
    return connection.execute(f"PRAGMA {name}").fetchall()[0][0]


@contextmanager
def _writing(connection: sqlite3.Connection) -> Iterator[None]:
    """One transaction: others wait from its first read on, so that nobody counts what another is adding."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        if connection.in_transaction:  # after a full disk SQLite may have rolled back by itself
            connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def _read(connection: sqlite3.Connection, path: Path) -> tuple[Entry, ...]:
    rows: Iterable[tuple[object, ...]] = connection.execute(
        f"SELECT number, digest, {', '.join(COLUMNS)} FROM repair ORDER BY number"
    )
    entries = []
    for number, digest, *texts in rows:
        repair = read_repair(dict(zip(COLUMNS, map(str, texts), strict=True)))
        if not isinstance(repair, Repair) or repair.digest() != digest:
            raise LogError(_damaged(path, f"entry {number} is not as it was written"))
        entries.append(Entry(int(str(number)), repair))
    return tuple(entries)


def _damaged(path: Path, what: str) -> str:
    return (
        f"the repair log {path} is damaged ({what}). Nothing was changed. "
        "Keep the file, and put a copy of an earlier day or a fresh export in its place"
    )


def _told(error: sqlite3.DatabaseError, path: Path) -> str:
    name = getattr(error, "sqlite_errorname", "")
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return f"{path} has been busy for {PATIENCE_SECONDS:.0f} seconds; someone else is writing. Try again"
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")):
        return f"{path} cannot be written: {error}"
    if name.startswith(("SQLITE_FULL", "SQLITE_IOERR")):
        return f"{path}: the disk or the share did not take it ({error}). Nothing was added"
    return _damaged(path, str(error))


def _reason(error: OSError | sqlite3.Error) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)
