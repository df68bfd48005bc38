"""Records and files by kind and id, each noted in a ledger when it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, cast

from shearpin.book.book import Key
from shearpin.book.inputs import RECORD
from shearpin.book.ledger import Ledger
from shearpin.model.fields import Record
from shearpin.model.reading import RecordFile


class NotedRecords(Mapping[str, Record]):
    """The records of one kind, each noted when it is asked for."""

    def __init__(self, ledger: Ledger, kind: str, records: Mapping[str, Record]) -> None:
        self._ledger, self._kind, self._records = ledger, kind, records
        self._numbers, self._titles = ledger.numbers(RECORD, kind), ledger.numbers("title", kind)

    def __getitem__(self, record_id: str) -> Record:
        if self._ledger.now is not None:
            self._ledger.now.add(self._numbers[record_id])
        return self._records[record_id]

    def get(self, record_id: str, default: Any = None) -> Any:
        if self._ledger.now is not None:
            self._ledger.now.add(self._numbers[record_id])
        return self._records.get(record_id, default)

    def __contains__(self, record_id: object) -> bool:
        if self._ledger.now is not None:
            self._ledger.now.add(self._titles[cast("str", record_id)])
        return record_id in self._records

    def __iter__(self) -> Iterator[str]:
        self._ledger.note("ids", self._kind)
        return iter(self._records)

    def __len__(self) -> int:
        self._ledger.note("ids", self._kind)
        return len(self._records)

    def items(self) -> Any:
        self._ledger.note("kind", self._kind)
        return self._records.items()

    def values(self) -> Any:
        self._ledger.note("kind", self._kind)
        return self._records.values()


class NotedFiles(Mapping[Key, RecordFile]):
    """Files by kind and id, each noted when it is asked for."""

    def __init__(self, ledger: Ledger, files: Mapping[Key, RecordFile]) -> None:
        self._ledger, self._files = ledger, files

    def __getitem__(self, key: Key) -> RecordFile:
        self._ledger.note(RECORD, *key)
        return self._files[key]

    def __contains__(self, key: object) -> bool:
        kind, record_id = cast("Key", key)
        self._ledger.note("title", kind, record_id)
        return key in self._files

    def __iter__(self) -> Iterator[Key]:
        self._ledger.note("book")
        return iter(self._files)

    def __len__(self) -> int:
        self._ledger.note("book")
        return len(self._files)


def note_when_asked_for(owner: type, note: str, *names: str) -> None:
    """Make attributes of `owner` those of what it watches, each noted when it is asked for."""

    def attribute(name: str) -> property:
        def get(self: Any) -> Any:
            ledger = self._ledger
            if ledger.now is not None:
                ledger.now.add(ledger.alone[note])
            return getattr(self._plain, name)

        return property(get)

    for name in names:
        setattr(owner, name, attribute(name))
