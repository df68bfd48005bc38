"""The rules of a site's book: errors before anything is written, warnings meanwhile, for no page hangs on them."""

from __future__ import annotations

from collections.abc import Callable

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import Found
from shearpin.inspection import Inspection
from shearpin.model.finding import Finding, Severity
from shearpin.model.shares import Elsewhere, shares_for
from shearpin.verdict import Question


class Asked:
    """What is asked of a book that was loaded: its errors at once, the whole verdict later."""

    def __init__(self, question: Question, linked: LinkedBook) -> None:
        self._question, self._linked = question, linked
        self._kept = question.kept_still()
        self._inspection = Inspection(linked)
        self._found: Found | None = None

    def errors(self) -> tuple[Finding, ...]:
        """Return the findings for which a record is not shown, found in this process: others are at work already."""
        if self._kept is None:
            return self._inspection.errors()
        return tuple(finding for finding in self._kept.findings if _grave(finding))

    def warnings(self, unwanted: Callable[[], bool] = lambda: False) -> tuple[Finding, ...]:
        """Return what only warns, and keep the verdict; nothing once it is `unwanted`. To be asked after `errors`."""
        if self._kept is None:
            found = self._found if self._found is not None else self._inspection.warnings_found(unwanted)
            if unwanted():
                return ()
            self._kept = self._question.keep(self._linked, self._inspection.all_findings(found))
        return tuple(finding for finding in self._kept.findings if not _grave(finding))

    def find(self) -> Found | None:
        """Return what the rules find that only warn; None where it is known."""
        return self._inspection.warnings_found() if self._kept is None else None

    def take(self, found: Found | None) -> None:
        """Take what `find` returned in another process."""
        self._found = found


class Meanwhile:
    """What another process does while this one goes on: the search index, and the rules that only warn."""

    def __init__(self, asked: Asked, make_index: Callable[[], int], records: int) -> None:
        self._asked = asked
        self._work = Elsewhere(lambda: (make_index(), asked.find()), shares_for(records))

    def result(self) -> int:
        """Wait for it; return how many files the index has."""
        files, found = self._work.result()
        self._asked.take(found)
        return files

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more."""
        self._work.stop()


def _grave(finding: Finding) -> bool:
    return finding.severity is Severity.ERROR
