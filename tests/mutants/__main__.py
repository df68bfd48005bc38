"""Runs a sample of faults against the tests that enter the faulty function, and prints what nobody noticed.

The checkout stays as it is: all is done in a copy. A run takes seconds a fault, so this is no test.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.mutants.mutations import Mutation, mutations_of
from tests.mutants.reach import Chosen

ROOT = Path(__file__).resolve().parents[2]
ALSO = {
    "mechanics": ["tests/reference", "tests/test_rules.py"],
    "diagnosis": ["tests/test_rules.py", "tests/cli/test_diagnose.py"],
    "book": [
        "tests/test_rules.py",
        "tests/test_verdict.py",
        "tests/cli/test_lookups.py",
        "tests/cli/test_coverage.py",
        "tests/publish/test_service_calendar.py",
        "tests/publish/test_quiz.py",
        "tests/site/test_rebuilds.py",
    ],
}
"""What is asked beside the mirrored tests."""

PROCESSOR_SECONDS = 240
GREATEST_SECONDS = 1800
"""A fault that makes a loop endless is stopped by the first; one that waits for ever, by the second."""


@dataclass(frozen=True, slots=True)
class Place:
    """A fault and the module it goes into."""

    module: Path
    mutation: Mutation


def main() -> int:
    """Return 0: a fault that lived is something to think about, not a failure. 1 where the tests fail without one."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("parts", nargs="+", choices=sorted(ALSO))
    parser.add_argument("--count", type=int, default=20, help="faults for each part (default: 20)")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="shearpin-mutants-") as folder:
        copy = Path(folder) / "copy"
        for name in ("kb", "site_overrides", "tests", "tools"):
            shutil.copytree(
                ROOT / name, copy / name, ignore=shutil.ignore_patterns("node_modules", "__pycache__")
            )
        for name in ("mkdocs.yml", "pyproject.toml", "README.md", "DEVELOPERS.md", "CHANGELOG.md"):
            shutil.copyfile(ROOT / name, copy / name)
        for part in options.parts:
            reach = _reach(copy, [f"tests/{part}", *ALSO[part]])
            if reach is None:
                print(f"the tests of {part} fail before any fault is put in", file=sys.stderr)
                return 1
            _try_part(copy, part, options.count, options.seed, reach)
    return 0


def _reach(copy: Path, tests: list[str]) -> dict[str, set[tuple[str, int]]] | None:
    out = copy.parent / "reach.json"
    command = [sys.executable, "-m", "tests.mutants.reach", str(out), str(copy / "tools/shearpin"), *tests]
    if subprocess.run(command, cwd=copy, env=_environment(copy), capture_output=True, check=False).returncode:
        return None
    found = json.loads(out.read_text(encoding="utf-8"))
    return {test: {(path, line) for path, line in functions} for test, functions in found.items()}


def _environment(copy: Path) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(copy / "tools"), "PYTHONDONTWRITEBYTECODE": "1"}


def _try_part(copy: Path, part: str, count: int, seed: int, reach: dict[str, set[tuple[str, int]]]) -> None:
    places = [
        Place(module.relative_to(copy), mutation)
        for module in sorted((copy / "tools/shearpin" / part).glob("*.py"))
        for mutation in mutations_of(module.read_text(encoding="utf-8"))
    ]
    sample = random.Random(f"{part} {seed}").sample(places, min(count, len(places)))
    told = {True: 0, False: 0, None: 0}
    for place in sample:
        fault = place.mutation
        noticed = _noticed(copy, part, place, reach)
        told[noticed] += 1
        if not noticed:
            what = "lived" if noticed is False else "no end"
            print(f"{what}: {place.module}:{fault.line}: {fault.was!r} -> {fault.becomes!r}", flush=True)
    print(
        f"{part}: {told[True]} of {len(sample)} noticed, {told[False]} lived, {told[None]} undecided for time; "
        f"{len(places)} possible",
        flush=True,
    )


def _noticed(copy: Path, part: str, place: Place, reach: dict[str, set[tuple[str, int]]]) -> bool | None:
    """Return whether a test fails with the fault in place; None where it came to no end.

    Asked are the mirrored tests that enter the function, then others that do, the more particular first. Where no test is known
    to enter it (it runs as a module is imported, or its result is remembered), all are asked.
    """
    own = f"tests/{part}/test_{place.module.stem}.py::"
    function = (str(copy / place.module), place.mutation.function)
    tests = sorted(
        [test for test, entered in reach.items() if function in entered] or reach,
        key=lambda test: (not test.startswith(own), len(reach[test])),
    )
    path = copy / place.module
    text = path.read_text(encoding="utf-8")
    path.write_text(place.mutation.applied_to(text), encoding="utf-8")
    try:
        return _fails(copy, tests)
    finally:
        path.write_text(text, encoding="utf-8")


def _fails(copy: Path, tests: Sequence[str]) -> bool | None:
    """Ask tests in a process forked from this one, which has read pytest and what it needs, and nothing of ours that is tried."""
    child = os.fork()
    if child == 0:
        os._exit(_asked(copy, tests))
    until = time.monotonic() + GREATEST_SECONDS
    while time.monotonic() < until:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            code = os.waitstatus_to_exitcode(status)
            return None if code in (-signal.SIGXCPU, -signal.SIGKILL) else code != 0
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _asked(copy: Path, tests: Sequence[str]) -> int:
    os.setpgrp()
    resource.setrlimit(resource.RLIMIT_CPU, (PROCESSOR_SECONDS, PROCESSOR_SECONDS))
    os.chdir(copy)
    os.environ.update(_environment(copy))
    sys.dont_write_bytecode = True
    for name in [name for name in sys.modules if name.partition(".")[0] in ("tests", "shearpin")]:
        del sys.modules[name]
    sys.path[:0] = [str(copy / "tools"), str(copy)]
    quiet = os.open(os.devnull, os.O_WRONLY)
    os.dup2(quiet, 1)
    os.dup2(quiet, 2)
    files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
    return int(pytest.main(["-q", "-x", "-p", "no:cacheprovider", *files], plugins=[Chosen(tests)]))


if __name__ == "__main__":
    sys.exit(main())
