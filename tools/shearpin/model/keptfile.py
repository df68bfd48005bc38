"""A record file as it was kept: the record is made when somebody asks for it, and its heading is there without it.

After an edit most records of a large book are asked for their headings alone.
"""

from __future__ import annotations

import marshal
from collections.abc import Callable, Iterator, Mapping
from typing import Any, Final

from shearpin.model.compact import Compacting
from shearpin.model.fields import Record
from shearpin.model.heading import Heading, summary_in
from shearpin.model.kinds import Kind
from shearpin.model.reading import RecordFile

_PLAIN: Final = 2
"""Version of the format without references, which nothing here has: half the time of a newer one."""

_put: Final = object.__setattr__
_record: Final[Any] = RecordFile.__dict__["record"]


def packed_data(data: Mapping[str, Any]) -> bytes:
    """Return the data of a sound record, packed."""
    plain: Any = data
    return marshal.dumps(plain, _PLAIN)


class KeptFile(RecordFile):
    """A file of which nothing is wrong. It equals one that was read."""

    __slots__ = ("_heading", "_make", "_packed")

    @property
    def record(self) -> Record | None:
        """The record, made now if nobody has asked for it."""
        make = getattr(self, "_make", None)
        if make is not None:
            _record.__set__(self, make())
            _put(self, "_make", None)
            _put(self, "_packed", None)
        found: Record | None = _record.__get__(self)
        return found

    @record.setter
    def record(self, record: Record | None) -> None:
        _record.__set__(self, record)  # by `dataclasses.replace`

    @property
    def heading(self) -> Heading | None:
        """What lists need of the record."""
        heading: Heading | None = getattr(self, "_heading", None)
        return heading if heading is not None else super().heading

    @property
    def title(self) -> str:
        """The title of the record."""
        heading = self.heading if self.waits else None
        return heading.title if heading is not None else super().title

    @property
    def summary(self) -> str:
        """The sentence that lists show of the record."""
        packed: bytes | None = getattr(self, "_packed", None)
        return super().summary if packed is None else summary_in(self.kind.record, marshal.loads(packed))

    @property
    def ignores(self) -> bool:
        """Whether the record names rules that do not hold in it."""
        heading = self.heading if self.waits else None
        return heading.ignores if heading is not None else super().ignores

    def holds(self, tell: Callable[[bytes], bool]) -> bool:
        """Whether its record is made, or what it is made of, packed with all ASCII letters small, has what `tell` looks for."""
        packed: bytes | None = getattr(self, "_packed", None)
        return packed is None or tell(packed.lower())

    @property
    def waits(self) -> bool:
        """Whether the record is still to be made."""
        return getattr(self, "_make", None) is not None

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, RecordFile):
            return NotImplemented
        return all(getattr(self, name) == getattr(other, name) for name in RecordFile.__match_args__)

    __hash__ = RecordFile.__hash__


def kept_file(
    path: str, kind: Kind, record_id: str, heading: Heading, packed: bytes, signs: tuple[bool, bool],
    digest: bytes, compacting: Compacting,
) -> KeptFile:  # fmt: skip
    """Return a file the record of which is made of `packed_data`; `signs` are `usual_characters` and `unpaired`."""
    file = object.__new__(KeptFile)

    def make() -> Record:
        return compacting.record(kind.record.model_validate(marshal.loads(packed)))

    usual, unpaired = signs
    for name, value in (
        ("path", path), ("kind", kind), ("id", record_id), ("text_faults", ()), ("field_faults", ()),
        ("loose_words", frozenset()), ("usual_characters", usual), ("unpaired", unpaired), ("digest", digest),
        ("_heading", heading), ("_make", make), ("_packed", packed),
    ):  # fmt: skip
        _put(file, name, value)
    return file


def has_record(file: RecordFile) -> bool:
    """Whether a file has a record, which is not made for the answer."""
    return (isinstance(file, KeptFile) and file.waits) or file.record is not None


class LazyRecords(Mapping[str, Record]):
    """The records of one kind by id, each made when it is asked for."""

    def __init__(self, files: Mapping[str, RecordFile]) -> None:
        self.files = files

    def __getitem__(self, record_id: str) -> Record:
        record = self.files[record_id].record
        assert record is not None
        return record

    def get(self, record_id: str, default: Any = None) -> Any:
        file = self.files.get(record_id)
        return file.record if file is not None else default

    def __contains__(self, record_id: object) -> bool:
        return record_id in self.files

    def __iter__(self) -> Iterator[str]:
        return iter(self.files)

    def __len__(self) -> int:
        return len(self.files)


def records_of(files: Mapping[str, RecordFile]) -> Mapping[str, Record]:
    """Return the records of these files, of which each has one; those that wait are not made yet."""
    if any(isinstance(file, KeptFile) and file.waits for file in files.values()):
        return LazyRecords(files)
    return {record_id: record for record_id, file in files.items() if (record := file.record) is not None}
