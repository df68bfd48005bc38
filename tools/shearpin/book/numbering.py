"""Numbers for the names of what is read: looked for part by part, for a name is short where its beginning is known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from shearpin.book.past import Name, Past


class Names:
    """Names by their numbers, beginning with those of the past."""

    def __init__(self, past: Past) -> None:
        self._past, self._first = past, len(past)
        self.new: list[Name] = []
        """Those that are not of the past, in the order of their numbers."""
        self._beginning: dict[Name, Numbers] = {}
        self._slots: list[tuple[list[Any], object]] = []

    def __len__(self) -> int:
        """Return how many names there are."""
        return self._first + len(self.new)

    def __getitem__(self, number: int) -> Name:
        """Return the name with a number."""
        return self.new[number - self._first] if number >= self._first else self._past.name(number)

    def groups(self) -> Mapping[Name, Mapping[str, int]]:
        """Return the numbers of all names that the past had not settled, by their last part, by how they begin."""
        if not self._first:
            return {begin: numbers for begin, numbers in self._beginning.items() if numbers}
        groups = {begin: dict(group) for begin, group in self._past.groups.items()}
        for number, name in enumerate(self.new, self._first):
            groups.setdefault(name[:-1], {})[name[-1]] = number
        return groups

    def since(self, start: int) -> Sequence[Name]:
        """Return the names with this number and greater ones, none of them of the past."""
        return self.new[start - self._first :]

    def slots(self, empty: object) -> list[Any]:
        """Return a list with room for something of each name, which grows with the names."""
        found = [empty] * len(self)
        self._slots.append((found, empty))
        return found

    def beginning(self, *parts: str) -> Numbers:
        """Return the numbers of the names that begin with these parts and have one more."""
        found = self._beginning.get(parts)
        if found is None:
            found = self._beginning[parts] = Numbers(self, parts, self._past.group(parts))
        return found

    def number(self, name: Name) -> int:
        """Return the number of a name."""
        return self.beginning(*name[:-1])[name[-1]]

    def add(self, name: Name) -> int:
        """Give a name that has no number the next one."""
        number = len(self)
        self.new.append(name)
        for found, empty in self._slots:
            found.append(empty)
        return number


class Numbers(dict[str, int]):
    """The numbers of names that begin alike, by their last part; a name that has none gets the next."""

    def __init__(self, names: Names, begin: Name, past: dict[str, int]) -> None:
        super().__init__(past)
        self._names, self._begin = names, begin

    def __missing__(self, last: str) -> int:
        number = self[last] = self._names.add((*self._begin, last))
        return number


class ByFirst(dict[str, Numbers]):
    """The numbers of names of three parts that begin alike, by their second part."""

    def __init__(self, names: Names, begin: str) -> None:
        super().__init__()
        self._names, self._begin = names, begin

    def __missing__(self, first: str) -> Numbers:
        numbers = self[first] = self._names.beginning(self._begin, first)
        return numbers
