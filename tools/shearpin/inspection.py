"""Runs every rule over a book: faults become findings with their places, suppressions are honoured."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path

from shearpin.book.linked import LinkedBook
from shearpin.catalogue import ON_ONE_FILE, ON_THE_BOOK, RULES
from shearpin.checks.nearest import did_you_mean
from shearpin.checks.rule import AnyRule, Fault
from shearpin.checks.suppression import SuppressionUse, unfounded_suppression
from shearpin.model.finding import Finding
from shearpin.model.position import FieldPath, Positions


def inspect_book(linked: LinkedBook) -> tuple[Finding, ...]:
    """Return every finding of a book, sorted by path, line, column and code."""
    suppressed = {
        file.path: {entry.code for entry in file.record.ignore}
        for file in linked.book.files
        if file.record is not None and file.record.ignore
    }
    used: dict[str, set[str]] = defaultdict(set)
    kept: list[tuple[AnyRule, Fault]] = []
    for rule, fault in _all_faults(linked):
        if rule.code in suppressed.get(fault.file, ()):
            used[fault.file].add(rule.code)
        else:
            kept.append((rule, fault))
    for file in linked.book.files:
        if file.record is not None and file.record.ignore:
            use = SuppressionUse(file.path, file.record.ignore, frozenset(used[file.path]), frozenset(RULES))
            kept += [(unfounded_suppression, fault) for fault in unfounded_suppression.find(use)]
    return _placed(linked, kept)


def _all_faults(linked: LinkedBook) -> Iterator[tuple[AnyRule, Fault]]:
    for file in linked.book.files:
        for rule in ON_ONE_FILE:
            for fault in rule.find(file):
                yield rule, fault
    for rule in ON_THE_BOOK:
        for fault in rule.find(linked):
            yield rule, fault


def _placed(linked: LinkedBook, faults: Iterable[tuple[AnyRule, Fault]]) -> tuple[Finding, ...]:
    places = _Places(linked.book.kb)
    shown = linked.book.shown.replace("\\", "/").rstrip("/")
    findings = set()
    for rule, fault in faults:
        line, column = fault.place or places.find(fault.file, fault.path, fault.on_key, fault.offset)
        related = []
        for file, path in fault.related:
            other_line, other_column = places.find(file, path, False, 0)
            related.append(f"{shown}/{file}:{other_line}:{other_column}")
        findings.add(
            Finding(
                f"{shown}/{fault.file}",
                line,
                column,
                rule.code,
                fault.message,
                fault.help,
                rule.severity,
                tuple(related),
            )
        )
    return tuple(sorted(findings, key=lambda f: (f.path, f.line, f.column, f.code, f.message)))


class _Places:
    """Positions of the files that have something to report, each read once more."""

    def __init__(self, kb: Path) -> None:
        self._kb = kb
        self._known: dict[str, Positions | None] = {}

    def find(self, file: str, path: FieldPath, on_key: bool, offset: int) -> tuple[int, int]:
        if file not in self._known:
            try:
                self._known[file] = Positions((self._kb / file).read_bytes())
            except OSError:
                self._known[file] = None  # gone since it was read
        positions = self._known[file]
        return positions.find(path, on_key=on_key, offset=offset) if positions is not None else (1, 1)


def explain_code(code: str) -> AnyRule | str:
    """Return the rule of a code or of a name, or a did-you-mean."""
    wanted = code.strip()
    for rule in RULES.values():
        if wanted.upper() == rule.code or wanted.lower() == rule.name:
            return rule
    return did_you_mean(wanted.upper(), RULES) or did_you_mean(wanted, [rule.name for rule in RULES.values()])
