"""The rules of a site's book: errors before anything is written, warnings meanwhile, for no page hangs on them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import partial
from types import MappingProxyType
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.watched import WatchedLinked
from shearpin.checks.rule import Found
from shearpin.diagnosis.model_rules import MODEL_RULES
from shearpin.inspection import WARNINGS, Inspection
from shearpin.model.finding import Finding, Severity
from shearpin.model.pieces import Claims
from shearpin.model.shares import Afterwards, Elsewhere, Work, shares_for
from shearpin.places import PlacesFound
from shearpin.verdict import Question, Verdict

OF_MODELS: Final = tuple(number for number, rule in enumerate(WARNINGS) if rule in MODEL_RULES)
"""The numbers of the rules that ask of models, which pages are made from too."""


class Asked:
    """What is asked of a book that was loaded: its errors at once, the whole verdict later."""

    def __init__(self, question: Question, linked: LinkedBook) -> None:
        self._question, self._linked = question, linked
        self._kept = question.kept_still()
        self._new: Verdict | None = None
        self._inspection = Inspection(linked)
        self._found: dict[int, Found] = {}

    def errors(self, known: Mapping[str, Found] = MappingProxyType({})) -> tuple[Finding, ...]:
        """Return the findings for which a record is not shown, found in this process: others are at work already.

        `known` is what rules find, by their code, which are not asked then.
        """
        if self._kept is None:
            return self._inspection.errors(known)
        return tuple(finding for finding in self._kept.findings if _grave(finding))

    def warnings(self, unwanted: Callable[[], bool] = lambda: False) -> tuple[Finding, ...]:
        """Return what only warns; nothing once it is `unwanted`. To be asked after `errors`."""
        if self._kept is None:
            missing = [number for number in range(len(WARNINGS)) if number not in self._found]
            self._found |= self._inspection.warnings_found(missing, unwanted)
            if unwanted():
                return ()
            self._kept = self._new = Verdict(
                len(self._linked.book.files), self._inspection.all_findings(self._found)
            )
        return tuple(finding for finding in self._kept.findings if not _grave(finding))

    def keep(self) -> None:
        """Keep the verdict for who asks next, where it is a new one; after `warnings`."""
        if self._new is not None:
            self._question.keep(self._linked, self._new)

    def find(self, numbers: Iterable[int]) -> dict[int, Found]:
        """Return what these of the rules find that only warn; nothing where it is known."""
        return self._inspection.warnings_found(numbers) if self._kept is None else {}

    def find_in_models(self, watched: WatchedLinked) -> None:
        """Find what the rules on models find: as pages were made, most of it is known; nothing where it is known already."""
        if self._kept is None:
            missing = [number for number in OF_MODELS if number not in self._found]
            self._found |= Inspection(watched).warnings_found(missing)

    def places(self, found: Mapping[int, Found]) -> PlacesFound:
        """Return where in the files what was found stands; nothing where it is known."""
        return self._inspection.places_found(found) if self._kept is None else {}

    def take(self, found: Mapping[int, Found], places: PlacesFound | None = None) -> None:
        """Take what `find` and `places` returned in another process."""
        self._found |= found
        if places:
            self._inspection.take_places(places)

    def found_to_keep(self) -> dict[str, Found]:
        """Return what rules found that read little wording, by code; nothing where the whole verdict was kept. After `warnings`."""
        return self._inspection.found_to_keep(self._found)


class Meanwhile:
    """What another process does while this one goes on: the search index first, then the rules that only warn.

    `make_index` is given what takes whatever can be done afterwards.

    When this process comes to wait, it takes its part of the rules.
    """

    def __init__(
        self,
        asked: Asked,
        make_index: Callable[[Afterwards], int],
        records: int,
    ) -> None:
        self._asked = asked
        self._rules = Claims(len(WARNINGS), held=True)
        self._rules.drop(OF_MODELS)
        self._make_index = make_index
        self._later: dict[bool, list[Work]] = {True: [], False: []}
        afterwards, anyway = partial(self._do, anyway=False), partial(self._do, anyway=True)
        self._work = Elsewhere(self._done, shares_for(records), afterwards, anyway)

    def _done(self) -> tuple[int, Mapping[int, Found], PlacesFound]:
        """Return how many files the index has, what rules found, and where."""
        files, found = self._make_index(self._take_for_later), self._asked.find(self._rules)
        return files, found, self._asked.places(found)

    def _take_for_later(self, work: Work, *, anyway: bool = False) -> None:
        self._later[anyway].append(work)

    def _do(self, *, anyway: bool) -> None:
        for work in self._later[anyway]:
            work()

    def take(self, known: Mapping[str, Found]) -> None:
        """Take what rules find, by their code: nobody asks them any more, and whoever waits may ask the others."""
        numbers = [number for number, rule in enumerate(WARNINGS) if rule.code in known]
        self._rules.drop(numbers)
        self._asked.take({number: known[WARNINGS[number].code] for number in numbers})
        self._rules.begin()

    def result(self) -> int:
        """Wait for it; return how many files the index has."""
        self._rules.begin()
        self._asked.take(self._asked.find(self._rules))
        files, found, places = self._work.result()
        self._asked.take(found, places)
        self._rules.close()
        return files

    def finish(self) -> None:
        """Wait until what the next build needs of the index is kept."""
        self._work.finish()

    def stop(self) -> None:
        """End the work, the result of which nobody wants any more."""
        self._work.stop()
        self._rules.close()


def _grave(finding: Finding) -> bool:
    return finding.severity is Severity.ERROR
