"""The gist of a record: what relations between records hang on, besides its heading and what it points to.

It is kept with the file, so that what is found in the book as a whole needs few records to be made.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from sys import intern
from typing import Any, Final, NamedTuple, TypeVar

from shearpin.checks.record_rules import steps_of
from shearpin.checks.wording import prose_of
from shearpin.model.conditions import conditions_of
from shearpin.model.conditiontext import text_of
from shearpin.model.fields import AppliesTo, Record
from shearpin.model.inline import values_in
from shearpin.model.knowledge import Symptom
from shearpin.model.steps import Procedure, Test, Work

UNIT_WRITTEN: Final = (
    r"N\s?[·.*]?\s?m|(?:lbf?|ft|in)[\s·.-]?(?:ft|in|lbf?)|(?:foot|inch)[\s-]pounds?|mm|cm|in|inch(?:es)?|µm|kPa|bar|psi"
    r"|rpm|r/min|mL|ml|cc|L|fl\.? ?oz|k?Ω|V|A"
)
"""The pattern of a unit as it is written out in a text."""

_WRITTEN: Final = re.compile(rf"\d\s?(?:{UNIT_WRITTEN})(?![\w·/])")


_OWN: Final = ("applies_to",)

Shared = TypeVar("Shared", bound=tuple[Any, ...])


class Reviewed(NamedTuple):
    """A review: its state, by which role and when, and the digest of what was read."""

    state: str
    by: str | None
    on: str | None
    digest: str | None


class Gist(NamedTuple):
    """What relations hang on.

    `causes` are those that a symptom suspects, a procedure cures or a test tells of, each with the condition of that, each once but
    for those of a symptom. `shows` names the values in steps by the condition of the step, those of steps for all machines
    under None. `before` and `isolates` are the fields of those names; `sourced` says whether the record names a source, `figures`
    whether a figure with its unit may be written out in it. `under` are the conditions within it but for its own,
    and `actions` what its steps do to the machine, each once.
    """

    before: tuple[str, ...] = ()
    isolates: tuple[str, ...] = ()
    causes: tuple[tuple[str, AppliesTo | None], ...] = ()
    shows: tuple[tuple[AppliesTo | None, tuple[str, ...]], ...] = ()
    sourced: bool = False
    figures: bool = False
    review: Reviewed | None = None
    under: tuple[AppliesTo | None, ...] = ()
    actions: tuple[str, ...] = ()

    def for_pages(self) -> Gist:
        """Return it without that for which only rules on the record itself ask."""
        return self._replace(under=(), actions=())


NOTHING: Final = Gist()
"""That of a record that could not be read."""

PlainGist = tuple[
    tuple[str, ...],
    tuple[str, ...],
    tuple[tuple[str, str], ...],
    tuple[tuple[str, tuple[str, ...]], ...],
    bool,
    bool,
    tuple[str, str | None, str | None, str | None] | None,
    tuple[str, ...],
    tuple[str, ...],
]
"""A gist with its conditions as text."""


def gist_of(record: Record) -> Gist:
    """Return the gist of a record."""
    review = record.review
    return Gist(
        record.before if isinstance(record, (Work, Symptom)) else (),
        record.isolates if isinstance(record, Procedure) else (),
        _causes(record),
        _shows(record) if isinstance(record, (Procedure, Test)) else (),
        bool(record.sources),
        _may_write_figures(record),
        Reviewed(review.state, review.by, review.on, review.digest) if review is not None else None,
        tuple(dict.fromkeys([condition for path, condition in conditions_of(record) if path != _OWN])),
        tuple(dict.fromkeys([action for _, step in steps_of(record) for action in step.action])),
    )


def _may_write_figures(record: Record) -> bool:
    return _WRITTEN.search("\n".join([text for _, text in prose_of(record)])) is not None


def _causes(record: Record) -> tuple[tuple[str, AppliesTo | None], ...]:
    if isinstance(record, Symptom):
        return tuple([(suspect.cause, suspect.applies_to) for suspect in record.causes])
    if isinstance(record, Procedure):
        return tuple([(cause, None) for cause in record.remedies])
    if isinstance(record, Test):
        return tuple(dict.fromkeys([(cause, None) for result in record.results for cause in result.given]))
    return ()


def _shows(work: Procedure | Test) -> tuple[tuple[AppliesTo | None, tuple[str, ...]], ...]:
    found: dict[AppliesTo | None, dict[str, None]] = {}
    for step in (*work.steps, *work.finish):
        for text in (step.do, step.confirm, step.note):
            if text and "{" in text:
                found.setdefault(step.applies_to, {}).update(dict.fromkeys(values_in(text)))
    return tuple([(condition, tuple(names)) for condition, names in found.items() if names])


def plain_gist(gist: Gist) -> PlainGist:
    """Return a gist as it is kept."""
    return (
        gist.before,
        gist.isolates,
        tuple([(cause, text_of(condition)) for cause, condition in gist.causes]),
        tuple([(text_of(condition), names) for condition, names in gist.shows]),
        gist.sourced,
        gist.figures,
        gist.review and (*gist.review,),
        tuple(map(text_of, gist.under)),
        gist.actions,
    )


class GistsFrom:
    """Makes gists of what is kept of them: what many hold alike stands in memory once. `condition` reads a condition as text."""

    def __init__(self, condition: Callable[[str], AppliesTo | None]) -> None:
        self._condition = condition
        self._shared: dict[Any, Any] = {}

    def gist(self, plain: PlainGist) -> Gist:
        """Return the gist that `plain_gist` made this of."""
        before, isolates, causes, shows, sourced, figures, review, under, actions = plain
        condition = self._condition
        return Gist(
            self._names(before),
            self._names(isolates),
            tuple([self._one((intern(cause), condition(text))) for cause, text in causes]),
            tuple([self._one((condition(text), self._names(names))) for text, names in shows]),
            sourced,
            figures,
            self._one(Reviewed(*review)) if review is not None else None,
            tuple(map(condition, under)),
            self._names(actions),
        )

    def _names(self, names: tuple[str, ...]) -> tuple[str, ...]:
        return self._one(tuple(map(intern, names))) if names else ()

    def _one(self, found: Shared) -> Shared:
        one: Shared = self._shared.setdefault(found, found)
        return one
