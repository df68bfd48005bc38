"""Owns which test enters which function: a plug-in of pytest that notes it, and one that asks chosen tests in order."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import FrameType

import pytest

Function = tuple[str, int]
"""A module's path below the checkout, and the first line of a function in it, decorators included."""


class Notes:
    """Notes the functions below a folder that each test enters, itself or through a fixture that it shares."""

    def __init__(self, below: Path) -> None:
        self._below = f"{below.resolve()}/"
        self._of_tests: dict[str, set[Function]] = {}
        self._of_fixtures: dict[str, set[Function]] = {}
        self._fixtures: dict[str, Sequence[str]] = {}
        self._now: set[Function] = set()

    def _called(self, frame: FrameType, _event: str, _argument: object) -> None:
        code = frame.f_code
        if code.co_filename.startswith(self._below):
            self._now.add((code.co_filename, code.co_firstlineno))

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Function) -> Iterator[None]:
        """Note what runs from a test's first fixture to its last."""
        self._now = self._of_tests.setdefault(item.nodeid, set())
        self._fixtures[item.nodeid] = item.fixturenames
        sys.settrace(self._called)
        try:
            return (yield)
        finally:
            sys.settrace(None)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: pytest.FixtureDef[object]) -> Iterator[None]:
        """Note what makes a fixture under the fixture, since other tests get it ready-made."""
        before, self._now = self._now, self._of_fixtures.setdefault(fixturedef.argname, set())
        try:
            return (yield)
        finally:
            self._now = before

    def entered(self) -> dict[str, set[Function]]:
        """Return for each test the functions that it or a fixture of it enters."""
        nothing: set[Function] = set()
        return {
            test: found.union(*(self._of_fixtures.get(name, nothing) for name in self._fixtures[test]))
            for test, found in self._of_tests.items()
        }


class Chosen:
    """Leaves of the collected tests the chosen ones, in the order in which they were chosen."""

    def __init__(self, tests: Sequence[str]) -> None:
        self._order = {test: place for place, test in enumerate(tests)}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Choose and sort."""
        items[:] = sorted(
            (item for item in items if item.nodeid in self._order), key=lambda item: self._order[item.nodeid]
        )


def main() -> int:
    """Run tests and write what each enters: `python -m tests.mutants.reach OUT BELOW TEST …`."""
    out, below, *tests = sys.argv[1:]
    notes = Notes(Path(below))
    result = pytest.main(["-q", "-x", "-p", "no:cacheprovider", *tests], plugins=[notes])
    entered = {test: sorted(found) for test, found in notes.entered().items()}
    Path(out).write_text(json.dumps(entered), encoding="utf-8")
    return int(result)


if __name__ == "__main__":
    sys.exit(main())
