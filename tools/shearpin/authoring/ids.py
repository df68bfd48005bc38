"""Ids that a writer asks for: whether they can be ids, are free, and are not mistaken for a neighbour."""

from __future__ import annotations

import re
from difflib import SequenceMatcher
from typing import Final

from shearpin.book.book import Book
from shearpin.book.former import former_ids
from shearpin.checks.file_rules import DEVICES, LIST_PAGE, MAX_ID
from shearpin.checks.nearest import did_you_mean
from shearpin.model.fields import ID_PATTERN
from shearpin.model.kinds import KIND_OF_FOLDER, KINDS, Kind

_ALIKE: Final = 0.9
_SHORTEST_ALIKE: Final = 5
_NEAREST_SHOWN: Final = 3


class IdRefused(Exception):
    """An id cannot be used; the text says why and what to do."""


def known_kind(given: str) -> Kind:
    """Return a kind by its name or its folder; raises `IdRefused` with a did-you-mean."""
    kind = KINDS.get(given) or KIND_OF_FOLDER.get(given)
    if kind is None:
        advice = did_you_mean(given, [*KINDS, *KIND_OF_FOLDER]) or "kinds: " + ", ".join(KINDS)
        raise IdRefused(f"there is no kind of record called `{given}`; {advice}")
    return kind


def check_form(record_id: str, kind: Kind) -> None:
    """Raise `IdRefused` where an id could not be a file name and a page's address everywhere."""
    if not re.fullmatch(ID_PATTERN[1:-1], record_id):
        tidy = re.sub(r"[^a-z0-9.]+", "-", record_id.lower()).strip("-.")
        advice = (
            f"; did you mean `{tidy}`?"
            if re.fullmatch(ID_PATTERN[1:-1], tidy) and len(tidy) <= MAX_ID
            else ""
        )
        raise IdRefused(
            f"`{_shown(record_id)}` is not an id: it is lower-case words joined by hyphens, such as `auger-belt`{advice}"
        )
    if len(record_id) > MAX_ID:
        raise IdRefused(f"the id has {len(record_id)} characters; at most {MAX_ID} fit")
    if record_id.split(".")[0] in DEVICES:
        raise IdRefused(f"`{record_id}` is a name that Windows keeps for a device; choose another")
    if record_id == LIST_PAGE:
        raise IdRefused(f"`{LIST_PAGE}` is the page that lists the {kind.plural}; choose another id")
    if "." in record_id and kind.name != "value":
        raise IdRefused(f"only the name of a value has a dot; write `{record_id.replace('.', '-')}`")


def check_free(book: Book, kind: Kind, record_id: str) -> None:
    """Raise `IdRefused` where the id is, or was, another record's."""
    for file in book.files:
        if file.kind == kind and file.id.casefold() == record_id:  # read from the cache, a kind is a copy
            raise IdRefused(f"`{record_id}` exists already: {book.shown}/{file.path}")
    today = former_ids(book).get((kind.name, record_id))
    if today is not None:
        raise IdRefused(f"`{record_id}` is a former id of `{today}`; old links lead there, so it is not free")


def neighbours(book: Book, kind: Kind, record_id: str) -> tuple[str, ...]:
    """Return ids of the kind that are so like this one that the two may mean the same thing, the nearest first."""
    found = []
    for other in book.of_kind(kind.name):
        likeness = _likeness(record_id, other)
        if likeness >= _ALIKE:
            found.append((-likeness, other))
    return tuple(other for _, other in sorted(found)[:_NEAREST_SHOWN])


def _likeness(one: str, other: str) -> float:
    """Return 1 for the same words in another order or number, else how much of the spelling is shared."""
    if _words(one) == _words(other):
        return 1.0
    if min(len(one), len(other)) < _SHORTEST_ALIKE or _differ_in_digits(one, other):
        return 0.0
    return SequenceMatcher(None, one, other, autojunk=False).ratio()


def _words(record_id: str) -> tuple[str, ...]:
    return tuple(sorted(word.removesuffix("s") for word in re.split("[-.]", record_id)))


def _differ_in_digits(one: str, other: str) -> bool:
    """Tell whether two ids are models of one family, such as `osmere-d24` and `osmere-d28`."""
    return one != other and re.sub("[0-9]+", "0", one) == re.sub("[0-9]+", "0", other)


def _shown(given: str) -> str:
    return "".join(c if c.isprintable() else f"U+{ord(c):04X}" for c in given[:60])
