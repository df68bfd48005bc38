"""Owns tools/test.py: sets up what the tests need, then runs every check and sums them up."""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TextIO

from _setup.console import Fault, say_anything
from _setup.environment import prepare
from _setup.machine import prepare_machine
from _setup.manual import BUILD, CHECK, ROOT
from _setup.process import run_through

TESTS = frozenset({"test"})
PRINT = frozenset({"print"})


@dataclass(frozen=True, slots=True)
class Check:
    """One check: what the summary calls it, and what the environment's Python is given to run."""

    name: str
    arguments: tuple[str, ...]


PYTEST = ("-m", "pytest")
# A process for each core, whole files at a time: the fixtures of a file are made once.
EVERY_TEST = (*PYTEST, "-n", "auto", "--dist", "loadfile", "--durations", "10")
TYPED = ("shearpin", "_setup", "_bench", "_evaluation", "_documents", "_wheel")
SCRIPTS = ("start", "test")
MYPY = ("-m", "mypy", *(f"-p{name}" for name in TYPED), *(f"-m{name}" for name in SCRIPTS))
CHECKS = (
    Check("ruff check", ("-m", "ruff", "check", ".")),
    Check("ruff format --check", ("-m", "ruff", "format", "--check", ".")),
    Check("mypy --strict", MYPY),
    Check("shearpin check", CHECK),
    Check("mkdocs build --strict", BUILD),
    Check("pytest", EVERY_TEST),
)


@dataclass(frozen=True, slots=True)
class Result:
    """How one check ended."""

    name: str
    code: int
    seconds: float


def run_checks(arguments: Sequence[str], root: Path = ROOT) -> int:
    """Set up, then run every check, or pytest alone when there are arguments for it.

    Returns 0, or 1 when a check failed, 2 for a computer that will not do, 130 when stopped.
    """
    stream = sys.stdout
    say_anything(stream, sys.stderr)
    try:
        python = prepare(root, stream, TESTS, optional=PRINT)
        prepare_machine(root, stream)
        if arguments:
            return run_through([python, *PYTEST, *arguments], root)
        results = [_run(check, python, root, stream) for check in CHECKS]
    except Fault as fault:
        stream.flush()
        sys.stderr.write(f"\n{fault}\n")
        return 2
    except KeyboardInterrupt:
        stream.write("\nStopped.\n")
        return 130
    _sum_up(results, stream)
    return int(any(result.code for result in results))


def _run(check: Check, python: Path, root: Path, stream: TextIO) -> Result:
    stream.write(f"\n== {check.name}\n")
    stream.flush()
    began = time.monotonic()
    code = run_through([python, *check.arguments], root)
    return Result(check.name, code, time.monotonic() - began)


def _sum_up(results: Sequence[Result], stream: TextIO) -> None:
    stream.write("\n== summary\n")
    for result in results:
        verdict = "ok" if result.code == 0 else f"FAILED (exit code {result.code})"
        stream.write(f"  {result.name:<24}{verdict:<24}{result.seconds:7.1f} s\n")
    stream.write(f"  {'':<48}{sum(result.seconds for result in results):7.1f} s in all\n")
    stream.flush()
