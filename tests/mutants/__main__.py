"""Runs a sample of faults against the tests that mirror their part of the program, and prints what nobody noticed.

The checkout stays as it is: all is done in a copy. A run takes from seconds to a minute a fault, so this is no test.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from tests.mutants.mutations import Mutation, mutations_of

ROOT = Path(__file__).resolve().parents[2]
ALSO = {
    "mechanics": ["tests/reference", "tests/test_rules.py"],
    "diagnosis": ["tests/test_rules.py", "tests/cli/test_diagnose.py"],
    "book": ["tests/test_rules.py", "tests/cli/test_lookups.py", "tests/cli/test_coverage.py"],
}
"""What else is asked where the mirrored tests noticed nothing."""

GREATEST_SECONDS = 900


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
            if _fails(copy, [f"tests/{part}", *ALSO[part]]):
                print(f"the tests of {part} fail before any fault is put in", file=sys.stderr)
                return 1
            _try_part(copy, part, options.count, options.seed)
    return 0


def _try_part(copy: Path, part: str, count: int, seed: int) -> None:
    places = [
        Place(module.relative_to(copy), mutation)
        for module in sorted((copy / "tools/shearpin" / part).glob("*.py"))
        for mutation in mutations_of(module.read_text(encoding="utf-8"))
    ]
    sample = random.Random(f"{part} {seed}").sample(places, min(count, len(places)))
    lived = endless = 0
    for place in sample:
        fault = place.mutation
        try:
            noticed = _noticed(copy, part, place)
        except subprocess.TimeoutExpired:
            endless += 1
            print(f"no end: {place.module}:{fault.line}: {fault.was!r} -> {fault.becomes!r}", flush=True)
            continue
        if not noticed:
            lived += 1
            print(f"lived: {place.module}:{fault.line}: {fault.was!r} -> {fault.becomes!r}", flush=True)
    noticed_count = len(sample) - lived - endless
    print(
        f"{part}: {noticed_count} of {len(sample)} noticed, {lived} lived, {endless} undecided for time; "
        f"{len(places)} possible",
        flush=True,
    )


def _noticed(copy: Path, part: str, place: Place) -> bool:
    path = copy / place.module
    text = path.read_text(encoding="utf-8")
    path.write_text(place.mutation.applied_to(text), encoding="utf-8")
    try:
        own = f"tests/{part}/test_{place.module.stem}.py"
        first = [own] if (copy / own).is_file() else []
        return any(
            _fails(copy, tests) for tests in ([first] if first else []) + [[f"tests/{part}"], ALSO[part]]
        )
    finally:
        path.write_text(text, encoding="utf-8")


def _fails(copy: Path, tests: list[str]) -> bool:
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *tests]
    environment = {**os.environ, "PYTHONPATH": str(copy / "tools"), "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(
        command, cwd=copy, env=environment, capture_output=True, check=False, timeout=GREATEST_SECONDS
    )
    return done.returncode != 0


if __name__ == "__main__":
    sys.exit(main())
