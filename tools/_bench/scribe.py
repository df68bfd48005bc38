"""Owns what the writers of all kinds share: the plan, the prose, the sources, and the choices among records."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Mapping, Sequence
from itertools import count
from typing import Any, TypeVar

from _bench.naming import slug
from _bench.plan import Assembly, Plan
from _bench.prose import Prose

Record = tuple[str, str, Mapping[str, Any]]
"""Folder, id, and fields of a record."""

Item = TypeVar("Item")

_DRAFT_EVERY = 40
_LOOSE = re.compile(r"s?\b(?: (?:a|an|the|of|for|to|and|or|on|in|at|its|with)\b)*\W*")


class Scribe:
    """Writes records of a plan; each source and tool is named in turn, so that none is left unused."""

    def __init__(self, plan: Plan, rng: random.Random) -> None:
        self.plan = plan
        self.rng = rng
        self.prose = Prose(rng)
        self._turns = count()
        self._tool_turns = count()
        self._taken: set[str] = set()

    def chance(self, share: float) -> bool:
        """Return True so often."""
        return self.rng.random() < share

    def some(self, items: Sequence[Item], least: int, most: int) -> list[Item]:
        """Return from `least` to `most` different items, fewer where there are not so many."""
        return self.rng.sample(items, min(len(items), self.rng.randint(least, most)))

    def new(self, draw: Callable[[], str], number: int) -> list[str]:
        """Return so many phrases that no record has yet, whatever their plural; nouns are added until they are new."""
        found = []
        for _ in range(number):
            text = draw()
            while not self.take(text):
                text = f"{self.prose.noun()} {text}"
            found.append(text)
        return found

    def take(self, text: str) -> bool:
        """Note a phrase as taken; returns whether it was free."""
        spelt = _LOOSE.sub(" ", text.lower()).strip()
        free = spelt not in self._taken
        self._taken.add(spelt)
        return free

    def tools(self, least: int, most: int) -> list[str]:
        """Return ids of so many tools."""
        number = min(self.rng.randint(least, most), len(self.plan.tools))
        return [slug(self.plan.tools[next(self._tool_turns) % len(self.plan.tools)]) for _ in range(number)]

    def apparatus(self) -> dict[str, Any]:
        """Return the fields that end every record: sources and review."""
        turn = next(self._turns)
        sources = [self.plan.sources[turn % len(self.plan.sources)]]
        if turn % 3 == 0:
            sources.append(self.plan.sources[(turn + 1) % len(self.plan.sources)])
        draft = turn % _DRAFT_EVERY == _DRAFT_EVERY - 1
        review = (
            {"state": "draft"}
            if draft
            else {"state": "reviewed", "by": "lead instructor", "on": "2026-10-02"}
        )
        return {"sources": sources, "review": review}

    def figures_of(self, system_id: str) -> list[str]:
        """Return the ids of the drawings of a system."""
        index = [system.id for system in self.plan.systems].index(system_id)
        return list(self.plan.figures[index :: len(self.plan.systems)])

    def neighbours(self, assembly: Assembly) -> list[Assembly]:
        """Return the other assemblies of its system."""
        return [
            other
            for other in self.plan.assemblies
            if other.system is assembly.system and other is not assembly
        ]


def shares(items: Sequence[Item], number: int) -> list[list[Item]]:
    """Deal items out to so many heaps; where there are more heaps than items, items come again."""
    heaps = [list(items[index::number]) for index in range(number)]
    return [heap or [items[index % len(items)]] for index, heap in enumerate(heaps)]
