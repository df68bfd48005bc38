"""The mechanism of rules: one function, one stable code, a docstring that says why, with a bad and a good example."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Any, Final, Generic, TypeVar

from shearpin.model.fields import Record
from shearpin.model.finding import Severity
from shearpin.model.position import FieldPath

Subject = TypeVar("Subject")


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in one file, before its line is looked up.

    `file` is the path below `kb/`; `path` leads to the field, `on_key` means its name rather than its value, `offset`
    counts characters into its text. `place` overrides them where the text itself could not be read. `hides` are files of
    further records that are not to be worked by until this is mended.
    """

    file: str
    path: FieldPath
    message: str
    help: str = ""
    on_key: bool = False
    offset: int = 0
    place: tuple[int, int] | None = None
    related: tuple[tuple[str, FieldPath], ...] = ()
    hides: tuple[str, ...] = ()


MACHINE_FACTS: Final = "machine facts"
"""Stands among kinds of records for what decides which machine a condition holds for: classes, engines, what is fitted."""

Found = tuple[tuple[str, Fault], ...]
"""Faults with the codes of their rules."""


@dataclass(frozen=True, slots=True)
class Example:
    """Files, by path below `kb/`, laid over a sound book to show the rule."""

    files: tuple[tuple[str, str], ...]


class Wording(Enum):
    """Whose wording a rule on the book reads; what else it finds hangs on titles and on the bones of records (`references.bones`).

    Where a fault stands in a text, and whatever it quotes of it, may hang on the wording of that file.
    """

    NONE = "of no record"
    OWN = "of the record in which it finds something"
    OF_KIND = "of that record, and of others of its kind"
    ANY = "of any record, or of another file"


@dataclass(frozen=True)
class Groundwork:
    """What rules make of the whole book before they look for anything.

    It is kept: `again` makes it of the book, of what it was and of what was changed since.
    """

    name: str
    make: Callable[[Any], Any]
    again: Callable[[Any, Any, Any], Any]


@dataclass(frozen=True, slots=True)
class Narrowing:
    """How a rule that hangs on titles or bones of many records is asked of few when these are others.

    `concerned` says in which records it may find something else, as the groundwork was and is; the records that were edited are asked anyway.
    """

    groundwork: Groundwork
    concerned: Callable[[Any, Any, Any], Iterable[Any]]


@dataclass(frozen=True, slots=True)
class Rule(Generic[Subject]):
    """A rule: what it is called, how grave it is, why it exists, and how to find the defect.

    `hint` is the help that comes with the finding of its first bad example. `wording` is that which a rule on the book reads, and
    always as the `prose` of the book: after an edit of words it is asked of few records (`LinkedBook.about`), or not at all.
    `titles_of` and `bones_of` are the kinds of records on whose titles, and on whose bones, it hangs, None for every kind; of a rule that
    reads the wording of its own record, besides that one. After another edit it is asked no more widely than after one of words.
    A rule with a `groundwork` takes no time to speak of once that is there: it is asked of the whole book again.
    A rule on one file finds nothing in records that are none `of` these types; it is asked of all where none are named.
    """

    code: str
    name: str
    severity: Severity
    summary: str
    why: str
    hint: str
    bad: tuple[Example, ...]
    good: tuple[Example, ...]
    find: Callable[[Subject], Iterator[Fault]]
    wording: Wording = Wording.ANY
    of: tuple[type[Record], ...] = ()
    titles_of: frozenset[str] | None = None
    bones_of: frozenset[str] | None = None
    narrowing: Narrowing | None = None
    groundwork: Groundwork | None = None

    def hangs_on(self, titles: Collection[str], bones: Collection[str]) -> bool:
        """Whether other titles, or other bones, of records of these kinds may change what it finds in others."""
        known = ((self.titles_of, titles), (self.bones_of, bones))
        return any(changed and (of is None or not of.isdisjoint(changed)) for of, changed in known)


_CODE: Final = re.compile(r"[A-Z]{3}[0-9]{3}")
_SECTION: Final = re.compile(r"^## (Why|Hint|Bad|Good)\n", re.MULTILINE)
_FENCE: Final = re.compile(r"```yaml\n(.*?)^```", re.DOTALL | re.MULTILINE)
_FILE: Final = re.compile(r"^# kb/(\S+)\n", re.MULTILINE)


def rule(
    code: str,
    severity: Severity = Severity.ERROR,
    *,
    wording: Wording = Wording.ANY,
    of: tuple[type[Record], ...] = (),
    titles_of: Iterable[str] | None = None,
    bones_of: Iterable[str] | None = None,
    narrowing: Narrowing | None = None,
    groundwork: Groundwork | None = None,
) -> Callable[[Callable[[Subject], Iterator[Fault]]], Rule[Subject]]:
    """Make a rule of a function; its docstring must have a first line and the sections Why, Bad and Good, and may have Hint.

    In the examples each file begins with a line `# kb/<folder>/<id>.yaml`. Raises `ValueError` when the docstring or
    the code is incomplete, so that an undocumented rule cannot exist.
    """
    if not _CODE.fullmatch(code):
        raise ValueError(f"rule code {code!r} is not three letters and three digits")

    def make(find: Callable[[Subject], Iterator[Fault]]) -> Rule[Subject]:
        summary, sections = _told_of(code, find)
        return Rule(
            code=code,
            name=_name_of(find),
            severity=severity,
            summary=summary,
            why=sections["Why"].strip(),
            hint=sections.get("Hint", "").strip(),
            bad=_examples(sections["Bad"]),
            good=_examples(sections["Good"]),
            find=find,
            wording=wording,
            of=of,
            titles_of=frozenset(titles_of) if titles_of is not None else None,
            bones_of=frozenset(bones_of) if bones_of is not None else None,
            narrowing=narrowing,
            groundwork=groundwork,
        )

    return make


def _name_of(find: Callable[..., object]) -> str:
    return find.__name__.replace("_", "-")


def _told_of(code: str, find: Callable[..., object]) -> tuple[str, dict[str, str]]:
    """Return the first line of a docstring, and its sections by their heading."""
    parts = _SECTION.split(inspect.cleandoc(find.__doc__ or ""))
    sections = dict(zip(parts[1::2], parts[2::2], strict=True))
    missing = [part for part in ("Why", "Bad", "Good") if not sections.get(part, "").strip()]
    if missing or not parts[0].strip():
        lacking = ", ".join(missing) or "a first line"
        raise ValueError(f"rule {code} ({_name_of(find)}) lacks in its docstring: {lacking}")
    return " ".join(parts[0].split()), sections


def _examples(text: str) -> tuple[Example, ...]:
    """Return one example per fenced block."""
    examples = []
    for block in _FENCE.findall(text):
        pieces = _FILE.split(block)
        files = tuple(zip(pieces[1::2], pieces[2::2], strict=True))
        if not files:
            raise ValueError("an example must begin with `# kb/<folder>/<id>.yaml`")
        examples.append(Example(files))
    if not examples:
        raise ValueError("a section Bad or Good has no fenced yaml block")
    return tuple(examples)


AnyRule = Rule[Any]
