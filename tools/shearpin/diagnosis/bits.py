"""Sets of causes as bits: their places, and what picks out their weights; each is worked out when first asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from operator import itemgetter


class Places(dict[int, tuple[int, ...]]):
    """The places of the bits that are set, for any bits; worked out when first asked for."""

    def __init__(self, count: int) -> None:
        super().__init__()
        self._count = count

    def __missing__(self, bits: int) -> tuple[int, ...]:
        places = self[bits] = tuple(place for place in range(self._count) if bits >> place & 1)
        return places


class WeightsOf(dict[int, Callable[[Sequence[float]], tuple[float, ...]]]):
    """What picks out the weights of the causes the bits of which are set, at least one."""

    def __init__(self, places: Places) -> None:
        super().__init__()
        self._places = places

    def __missing__(self, bits: int) -> Callable[[Sequence[float]], tuple[float, ...]]:
        first, *others = self._places[bits]
        pick = self[bits] = itemgetter(first, *others) if others else itemgetter(slice(first, first + 1))
        return pick
