"""The counts of records that the last build left: an edit needs those of the records that it concerns, and writes the others as they lie."""

from __future__ import annotations

import marshal
from array import array
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial

from shearpin.book.joined import Joined, Unpacking, joined_parts
from shearpin.search.counts import SAYS_NOTHING, Row
from shearpin.search.impacts import FIELDS, rounded_mean

_AT_ONCE = 512  # rows that are packed, or joined, before they are written


class KeptRows(Mapping[bytes, Row]):
    """Rows by the digests of the texts that they count, each unpacked when it is asked for."""

    def __init__(self, digests: Sequence[bytes] = (), groups: Sequence[Joined] = ()) -> None:
        self._places = {digest: place for place, digest in enumerate(digests)}
        self._groups = groups

    @classmethod
    def read_from(cls, unpacking: Unpacking, digests: Sequence[bytes]) -> KeptRows:
        """Return the rows of texts with these digests, as `packed_rows` packed them; raises as `Unpacking.slice` does."""
        return cls(digests, [unpacking.joined() for _ in range(0, len(digests), _AT_ONCE)])

    def packed(self, digest: bytes) -> bytes:
        """Return a row as it is kept; raises `KeyError` where there is none."""
        group, place = divmod(self._places[digest], _AT_ONCE)
        return self._groups[group][place]

    def __getitem__(self, digest: bytes) -> Row:
        row: Row = marshal.loads(self.packed(digest))
        return row

    def __contains__(self, digest: object) -> bool:
        return digest in self._places

    def __iter__(self) -> Iterator[bytes]:
        return iter(self._places)

    def __len__(self) -> int:
        return len(self._places)


class Rows(Sequence[Row]):
    """The rows of all records in their order: new ones, and others as they were kept."""

    def __init__(
        self,
        digests: Sequence[bytes] = (),
        new: Mapping[bytes, Row] | None = None,
        kept: KeptRows | None = None,
    ) -> None:
        self._digests, self._new, self._kept = digests, new or {}, kept if kept is not None else KeptRows()

    def of(self, digest: bytes) -> Row:
        """Return the row of a text; raises `KeyError` where there is none."""
        if not digest:
            return SAYS_NOTHING
        new = self._new.get(digest)
        return new if new is not None else self._kept[digest]

    def __getitem__(self, number: int) -> Row:  # type: ignore[override]  # nobody asks for a slice
        return self.of(self._digests[number])

    def __len__(self) -> int:
        return len(self._digests)

    def packed(self) -> Iterator[bytes]:
        """Yield, part by part, what `KeptRows.read_from` reads."""
        for start in range(0, len(self._digests), _AT_ONCE):
            yield from joined_parts([*map(self._packed, self._digests[start : start + _AT_ONCE])])

    def _packed(self, digest: bytes) -> bytes:
        if not digest or digest in self._new:
            return marshal.dumps(self.of(digest))
        return self._kept.packed(digest)


@dataclass(frozen=True, slots=True)
class Totals:
    """What all records have together: `lengths` and `having` are the terms of each field and the records that have it, `used` counts the
    records with each word, by its number."""

    lengths: tuple[int, ...] = (0,) * len(FIELDS)
    having: tuple[int, ...] = (0,) * len(FIELDS)
    used: array[int] = field(default_factory=partial(array, "I"))

    def with_others(self, added: Iterable[Row], taken: Iterable[Row], words: int) -> Totals:
        """Return the totals with some records more and some less, of so many words that have a number."""
        lengths, having, used = list(self.lengths), list(self.having), array("I", self.used)
        used.extend([0] * (words - len(used)))
        for rows, sign in ((added, 1), (taken, -1)):
            counts: Counter[int] = Counter()
            for row in rows:
                for place, length in enumerate(row[0]):
                    lengths[place] += sign * length
                    having[place] += sign * (length > 0)
                counts.update(array("I", row[4]))
            for word, count in counts.items():
                used[word] += sign * count
        return Totals(tuple(lengths), tuple(having), used)

    def means(self) -> tuple[float, ...]:
        """Return the mean length of each field over the records that have it."""
        return tuple(map(rounded_mean, self.lengths, self.having))

    def words(self) -> list[int]:
        """Return the numbers of the words that some record has."""
        return [word for word, count in enumerate(self.used) if count]


def changed_rows(
    before: Sequence[bytes], now: Sequence[bytes], stale: Iterable[bytes]
) -> tuple[list[bytes], list[bytes]]:
    """Return the digests of the records that are new, and of those that are gone, each as often as it is; `stale` ones count as both."""
    old, new = Counter(before), Counter(now)
    added: list[bytes] = []
    taken: list[bytes] = []
    others = [digest for digest, count in new.items() if old.get(digest) != count]
    for digest in {*others, *(old.keys() - new.keys()), *stale}:
        more = new[digest] - old[digest]
        same = min(new[digest], old[digest]) if digest in stale else 0
        added += [digest] * (max(0, more) + same)
        taken += [digest] * (max(0, -more) + same)
    return added, taken
