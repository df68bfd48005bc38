"""What rules found in the last build that read no wording, or little: of use as long as nothing that they hang on was changed.

Most edits are of words. The rules that compare tests, causes and machines take the longest, and find the same then; those
that read the prose of a record are asked again of the records with other words. After an edit of more than words those that
hang on records of other kinds alone find the same, too.
"""

from __future__ import annotations

import pickle
from collections.abc import Collection, Mapping
from types import MappingProxyType
from typing import Any

from shearpin.book.changed import Changed, changed_since, note_all_but_words
from shearpin.book.linked import LinkedBook
from shearpin.catalogue import RULES
from shearpin.checks.rule import AnyRule, Fault, Found, Groundwork, Wording
from shearpin.site.writing import Before


def still_found(kept: bytes, before: Before) -> Mapping[str, Found]:
    """Return what is found still, by the code of the rule; nothing of a rule that must be asked of the whole book."""
    watched = before.watched
    if not watched.plain.book.is_whole:
        return {}
    # Now, so that all processes that make pages find marks of it.
    note_all_but_words(watched.plain.book, before.ledger)
    if not kept:
        return {}
    changed = changed_since(watched.plain.book, before.ledger)
    if changed is None:
        return {}
    found, laid = pickle.loads(kept)
    now = Again(watched.plain, changed, laid)
    again = {code: now.found(RULES[code], faults) for code, faults in found.items()}
    return {code: faults for code, faults in again.items() if faults is not None}


def to_be_kept(found: Mapping[str, Found], before: Before) -> bytes:
    """Return what rules found, packed, and note what it hangs on; nothing where it hangs on more than is noted."""
    plain = before.watched.plain
    if not plain.book.is_whole:
        return b""
    note_all_but_words(plain.book, before.ledger)
    laid = {
        groundwork.name: plain.laid(groundwork)
        for groundwork in _groundworks([RULES[code] for code in found])
    }
    packed = pickle.dumps((dict(found), laid), pickle.HIGHEST_PROTOCOL)
    plain.groundworks.clear()  # nobody asks any more, and what follows takes the most room of all
    return packed


def _groundworks(rules: Collection[AnyRule]) -> set[Groundwork]:
    """Return what these rules begin with, or are narrowed by."""
    found = {rule.groundwork for rule in rules if rule.groundwork is not None}
    return found | {rule.narrowing.groundwork for rule in rules if rule.narrowing is not None}


_About = tuple[LinkedBook, set[str]]
"""A book as it is asked about some records, and the paths of these."""


class Again:
    """A book in which some records changed; `laid` is the groundwork of rules as it was before, by its name."""

    def __init__(
        self, linked: LinkedBook, changed: Changed, laid: Mapping[str, Any] = MappingProxyType({})
    ) -> None:
        self._linked, self._changed, self._laid = linked, changed, laid
        for groundwork in _groundworks(RULES.values()):
            if groundwork.name in laid:
                linked.groundworks[groundwork] = groundwork.again(linked, laid[groundwork.name], changed)
        self._paths = {file.path for file in linked.book.files} if changed.bones else None
        kinds = {kind for kind, _ in changed.records}
        files = linked.book.file_of
        self._own = own = [key for key in changed.records if key in files]
        of_kind = [key for key in files if key[0] in kinds]
        self._about = {
            Wording.OWN: (linked.about(own), {files[key].path for key in own}),
            Wording.OF_KIND: (linked.about(of_kind), {files[key].path for key in of_kind}),
        }

    def found(self, rule: AnyRule, before: Found) -> Found | None:
        """Return what a rule finds, of which it found some before; None where it must be asked of the whole book."""
        if not self._are_there(before):
            return None
        if rule.hangs_on(self._changed.titles, self._changed.bones):
            if rule.groundwork in self._linked.groundworks:
                return tuple((rule.code, fault) for fault in rule.find(self._linked))
            about = self._concerned(rule)
        elif rule.wording is Wording.NONE:
            _, others = self._about[Wording.OWN]
            # Only the place in a text is another when the words around it are.
            return None if any(fault.offset and fault.file in others for _, fault in before) else before
        else:
            about = self._about[rule.wording]
        if about is None:
            return None
        linked, files = about
        if not files:  # nothing was changed of which it would find anything else
            return before
        kept = tuple(each for each in before if each[1].file not in files)
        faults: list[Fault] = [fault for fault in rule.find(linked) if fault.file in files]
        return kept + tuple((rule.code, fault) for fault in faults)

    def _concerned(self, rule: AnyRule) -> _About | None:
        """Return the records in which a rule may find something else, as its groundwork was and is."""
        by = rule.narrowing
        if by is None or by.groundwork.name not in self._laid:
            return None
        before, now = self._laid[by.groundwork.name], self._linked.laid(by.groundwork)
        keys = {*self._own, *by.concerned(self._linked, before, now)}
        return self._linked.about(keys), {self._linked.book.file_of[key].path for key in keys}

    def _are_there(self, before: Found) -> bool:
        """Whether all files that faults speak of have their names still."""
        if self._paths is None:
            return True
        spoken_of = ((fault.file, *(file for file, _ in fault.related), *fault.hides) for _, fault in before)
        return all(self._paths.issuperset(files) for files in spoken_of)
