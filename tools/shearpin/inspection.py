"""Runs every rule over a book: faults become findings with their places, suppressions are honoured."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook
from shearpin.catalogue import RULES, TOGETHER
from shearpin.checks.nearest import did_you_mean
from shearpin.checks.one_file import judged
from shearpin.checks.rule import AnyRule, Fault, Found, Wording
from shearpin.checks.suppression import SuppressionUse, unfounded_suppression
from shearpin.model.fields import Suppression
from shearpin.model.finding import Finding, Severity
from shearpin.model.pieces import share_pieces
from shearpin.model.progress import counted
from shearpin.model.shares import collector_at_rest, share_out, shares_for
from shearpin.places import MAX_ALIKE, Places, PlacesFound

WARNINGS: Final = tuple(rule for rules in TOGETHER for rule in rules if rule.severity is Severity.WARNING)
"""The rules on the book that only warn."""


def inspect_book(linked: LinkedBook) -> tuple[Finding, ...]:
    """Return every finding of a book, sorted by path, line, column and code."""
    return Inspection(linked).all_findings()


def errors_among(linked: LinkedBook, found: Found) -> tuple[Finding, ...]:
    """Return the errors among what rules `found` in files of a book, sorted; those that a record suppresses left out."""
    grave = [(RULES[code], fault) for code, fault in found if RULES[code].severity is Severity.ERROR]
    return _placed(linked, _without_suppressed(_ignoring(linked.book), grave)[0], Places(linked.book))


class Inspection:
    """Asks every rule of a book, those on errors before the others where they are wanted first."""

    def __init__(self, linked: LinkedBook) -> None:
        self._linked = linked
        self._faults: list[tuple[AnyRule, Fault]] | None = None
        self._places = Places(linked.book)

    def errors(self, known: Mapping[str, Found] = MappingProxyType({})) -> tuple[Finding, ...]:
        """Return the findings for which a record is not shown, sorted; no rule that only warns is asked.

        One process finds them: others are at work already. `known` is what rules find, by their code, which are not asked then.
        """
        with collector_at_rest():
            self._faults = self._ask((Severity.ERROR,), 1, known)
        grave = [each for each in self._faults if each[0].severity is Severity.ERROR]
        return _placed(
            self._linked, _without_suppressed(_ignoring(self._linked.book), grave)[0], self._places
        )

    def warnings_found(
        self, numbers: Iterable[int] = range(len(WARNINGS)), unwanted: Callable[[], bool] = lambda: False
    ) -> dict[int, Found]:
        """Return what these of `WARNINGS` find, by their number; it ends before the next once it is `unwanted`."""
        found: dict[int, Found] = {}
        for number in numbers:
            if unwanted():
                break
            rule = WARNINGS[number]
            found[number] = tuple(_found_by(rule, self._linked))
        return found

    def places_found(self, warnings: Mapping[int, Found]) -> PlacesFound:
        """Find the places of what these of `WARNINGS` found, and the rules on one file, for `take_places` in another process."""
        places: PlacesFound = {}
        for found in (_faults_of_files(self._linked.book), *warnings.values()):
            places = self._places.of(fault for _, fault in found)
        return places

    def take_places(self, places: PlacesFound) -> None:
        """Take what `places_found` returned in another process."""
        self._places.take(places)

    def all_findings(self, warnings: Mapping[int, Found] = MappingProxyType({})) -> tuple[Finding, ...]:
        """Return every finding, sorted; `warnings` are those that `warnings_found` gave already, here or elsewhere."""
        with collector_at_rest():
            if self._faults is None:
                known = self._ask(tuple(Severity), shares_for(len(self._linked.book.files)))
            else:
                missing = [number for number in range(len(WARNINGS)) if number not in warnings]
                found = {**warnings, **self.warnings_found(missing)}
                known = self._faults + [
                    (RULES[code], fault) for number in sorted(found) for code, fault in found[number]
                ]
        ignoring = _ignoring(self._linked.book)
        kept, used = _without_suppressed(ignoring, known)
        for path, entries in ignoring.items():
            use = SuppressionUse(path, entries, frozenset(used[path]), frozenset(RULES))
            kept += [(unfounded_suppression, fault) for fault in unfounded_suppression.find(use)]
        return _placed(self._linked, kept, self._places)

    def found_to_keep(self, warnings: Mapping[int, Found]) -> dict[str, Found]:
        """Return what rules found that read little wording, by their code, after `errors` and with these `warnings` by number."""
        found = {WARNINGS[number].code: faults for number, faults in warnings.items()}
        if self._faults is not None:
            grave: dict[str, list[tuple[str, Fault]]] = {
                rule.code: [] for rules in TOGETHER for rule in rules if rule.severity is Severity.ERROR
            }
            for rule, fault in self._faults:
                if rule.code in grave:
                    grave[rule.code].append((rule.code, fault))
            found |= {code: tuple(faults) for code, faults in grave.items()}
        return {code: faults for code, faults in found.items() if RULES[code].wording is not Wording.ANY}

    def _ask(
        self,
        severities: tuple[Severity, ...],
        shares: int,
        known: Mapping[str, Found] = MappingProxyType({}),
    ) -> list[tuple[AnyRule, Fault]]:
        """Return what the rules on one file find, and those of these severities on the book, asked in so many processes."""
        linked = self._linked
        of_files = _faults_of_files(linked.book)
        if shares > 1:
            for view in (
                linked.applicability,
                linked.book.file_of,
            ):  # all need them: before the processes part
                assert view is not None
        groups = [[rule for rule in rules if rule.severity in severities] for rules in TOGETHER]

        def work(number: int) -> tuple[Found, PlacesFound]:
            if number == len(groups):
                return (), self._places.of(fault for _, fault in of_files)
            found: list[tuple[str, Fault]] = []
            places: PlacesFound = {}
            for rule in counted("checking the book as a whole", groups[number], even=False):
                of_rule = known[rule.code] if rule.code in known else tuple(_found_by(rule, linked))
                found += of_rule
                if shares > 1:  # each process looks for the places of what it found
                    places = self._places.of(fault for _, fault in of_rule)
            return tuple(found), places

        found = list(of_files)
        for part, places in share_pieces(work, len(groups) + (shares > 1), shares):
            found += part
            self._places.take(places)
        return [(RULES[code], fault) for code, fault in found]


def _found_by(rule: AnyRule, linked: LinkedBook) -> Iterator[tuple[str, Fault]]:
    return ((rule.code, fault) for fault in rule.find(linked))


def _ignoring(book: Book) -> dict[str, tuple[Suppression, ...]]:
    """Return the rules that do not hold, by the path of each file in which some do not."""
    return {file.path: file.record.ignore for file in book.files if file.ignores and file.record is not None}


def _without_suppressed(
    ignoring: Mapping[str, tuple[Suppression, ...]], faults: Iterable[tuple[AnyRule, Fault]]
) -> tuple[list[tuple[AnyRule, Fault]], dict[str, set[str]]]:
    """Return the faults that no record suppresses, and by file the codes of those that one does."""
    suppressed = {path: {entry.code for entry in entries} for path, entries in ignoring.items()}
    used: dict[str, set[str]] = defaultdict(set)
    kept: list[tuple[AnyRule, Fault]] = []
    for rule, fault in faults:
        if rule.code in suppressed.get(fault.file, ()):
            used[fault.file].add(rule.code)
        else:
            kept.append((rule, fault))
    return kept, used


def _faults_of_files(book: Book) -> list[tuple[str, Fault]]:
    """Return what every rule on one file finds, asking only of files that were not judged when they were read."""
    known = {path: facts.found for path, facts in book.facts.items() if facts.found is not None}
    unknown = [file for file in book.files if file.path not in known]
    shares = shares_for(len(unknown))
    parts = share_out(
        lambda share: [judged(file) for file in counted("checking records", unknown[share::shares])], shares
    )
    for share, part in enumerate(parts):
        known.update(zip((file.path for file in unknown[share::shares]), part, strict=True))
    return [each for file in book.files for each in known[file.path]]


def _placed(
    linked: LinkedBook, faults: Iterable[tuple[AnyRule, Fault]], places: Places
) -> tuple[Finding, ...]:
    findings = set()
    alike: dict[tuple[str, str], int] = defaultdict(int)
    hidden: dict[tuple[str, str], dict[str, None]] = defaultdict(dict)
    for rule, fault in faults:
        alike[fault.file, rule.code] += 1
        if alike[fault.file, rule.code] <= MAX_ALIKE:
            findings.add(_finding(linked, places, rule, fault))
        else:
            hidden[fault.file, rule.code].update(dict.fromkeys(fault.hides))
    for (file, code), count in alike.items():
        if count > MAX_ALIKE:
            message, advice = (
                f"{count - MAX_ALIKE:,} more of this kind in this file",
                "mend those that are listed first",
            )
            findings.add(
                _finding(
                    linked,
                    places,
                    RULES[code],
                    Fault(file, (), message, advice, place=(1, 1), hides=tuple(hidden[file, code])),
                )
            )
    places.keep()
    return tuple(sorted(findings, key=lambda f: (f.path, f.line, f.column, f.code, f.message)))


def _finding(linked: LinkedBook, places: Places, rule: AnyRule, fault: Fault) -> Finding:
    """Return the fault with its place, and with those of what it is related to."""
    shown = linked.book.shown.replace("\\", "/").rstrip("/")
    line, column = fault.place or places.find(
        fault.file, fault.path, on_key=fault.on_key, offset=fault.offset
    )
    related = []
    for file, field in fault.related:
        other_line, other_column = places.find(file, field)
        related.append(f"{shown}/{file}:{other_line}:{other_column}")
    return Finding(
        f"{shown}/{fault.file}", line, column, rule.code, fault.message, fault.help, rule.severity, tuple(related),
        tuple(f"{shown}/{file}" for file in fault.hides),
    )  # fmt: skip


def explain_code(code: str) -> AnyRule | str:
    """Return the rule of a code or of a name, or a did-you-mean."""
    wanted = code.strip()
    for rule in RULES.values():
        if wanted.upper() == rule.code or wanted.lower() == rule.name:
            return rule
    return did_you_mean(wanted.upper(), RULES) or did_you_mean(wanted, [rule.name for rule in RULES.values()])
