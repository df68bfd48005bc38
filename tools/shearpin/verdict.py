"""What a check found, kept in the user's cache: a check of records that nobody changed need not find it again."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from shearpin.book.contents import Contents, contents_among
from shearpin.book.entries import entries_below
from shearpin.book.stamps import Stamp, Stamps, digests_kept, keep_digests, stamped, stamps_below
from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.finding import Finding, Severity
from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept

if TYPE_CHECKING:
    from shearpin.book.linked import LinkedBook
    from shearpin.book.memory import Memory


@dataclass(frozen=True, slots=True)
class Verdict:
    """How many record files there are, and every finding, sorted."""

    records: int
    findings: tuple[Finding, ...]


class Question:
    """Asks for the verdict on the records in `kb` as they are now; `shown` is how findings name the folder.

    A process that asks again and again has a `memory`, so that it reads only what was saved since.
    """

    def __init__(self, kb: Path, shown: str, memory: Memory | None = None) -> None:
        self._kb = kb
        self._memory = memory
        self._place = cache_of(kb) / "verdict.json"
        self._shown = shown
        self._before = self._stamps()
        # Where no verdict is kept, what the files hold is found when they are read.
        self._contents = (
            self._read() if os.path.exists(self._place) else None
        )  # no error where nobody may look

    def kept(self) -> Verdict | None:
        """Return the verdict found earlier on the same records by the same program, if it is kept."""
        payload = read_kept(self._place, self._key(self._contents)) if self._contents else None
        return _decoded(payload) if payload is not None else None

    def load(self) -> LinkedBook:
        """Load the book that is asked about, its files judged; raises `BookError` when the folder cannot be read."""
        from shearpin.book.linked import load_linked
        from shearpin.book.readfiles import Reading

        digests = self._contents.files if self._contents is not None else {}
        memory = self._memory
        if memory is None:
            return load_linked(
                self._kb, self._shown, Reading(judged=True, digests=digests, beside=_import_rules)
            )
        reading = Reading(judged=True, digests=digests, files=memory.files)
        return load_linked(self._kb, self._shown, reading)

    def answer(self, linked: LinkedBook) -> Verdict:
        """Return the verdict on the book that was loaded after the question, kept or found now."""
        from shearpin.inspection import inspect_book

        kept = self.kept_still()
        if kept is not None:
            return kept
        verdict = Verdict(len(linked.book.files), inspect_book(linked))
        self.keep(linked, verdict)
        return verdict

    def kept_still(self) -> Verdict | None:
        """Return the verdict that is kept on the book that was loaded after the question."""
        kept = self.kept()
        # Nothing where something was saved while it was read.
        return kept if kept is not None and self._is_as_before() else None

    def keep(self, linked: LinkedBook, verdict: Verdict) -> None:
        """Keep the verdict on the book that was loaded after the question."""
        before = self._before
        now: dict[str, Stamp] = {}
        contents = self._contents
        if contents is None:
            contents = self._read({path: facts.digest for path, facts in linked.book.facts.items()}, now)
        elif (stamps := self._stamps()) is not None:
            now.update(stamps.files)
        if contents is not None and before is not None and now == before.files:
            write_kept(self._place, self._key(contents), _encoded(verdict))

    def _key(self, contents: Contents) -> str:
        return f"{program_digest()} {contents.whole} {self._shown}"

    def _read(
        self, known: Mapping[str, bytes] = MappingProxyType({}), now: dict[str, Stamp] | None = None
    ) -> Contents | None:
        """Return the contents; `now` is given the stamps that files have once they were read."""
        if self._before is None:
            return None  # loading the book says what is wrong
        entries = entries_below(self._kb)
        try:
            sizes = self._before.files  # of a larger file only the beginning was read
            small = {path: known[path] for path in known if path in sizes and sizes[path][0] <= MAX_BYTES}
            contents = contents_among(
                entries if now is None else stamped(entries, now),
                small or digests_kept(self._kb, self._before),
            )
        except OSError:
            return None
        keep_digests(self._kb, self._before, contents.files)
        return contents

    def _stamps(self) -> Stamps | None:
        try:
            return stamps_below(self._kb)
        except OSError:
            return None

    def _is_as_before(self) -> bool:
        """Whether no file was saved since the question was asked."""
        now = self._stamps()
        return now is not None and self._before is not None and now.files == self._before.files


def verdict_on(kb: Path, shown: str, loaded: Callable[[LinkedBook], object] | None = None) -> Verdict:
    """Return what a check of the records in `kb` finds; raises `BookError` when the folder cannot be read.

    `loaded` is told of the book, where it must be loaded.
    """
    question = Question(kb, shown)
    kept = question.kept()
    if kept is not None:
        return kept
    # Only imported here: what is known already must not wait for the record model.
    from shearpin.model.shares import collector_at_rest

    with collector_at_rest():
        linked = question.load()
        if loaded is not None:
            loaded(linked)
        return question.answer(linked)


def _import_rules() -> None:
    import shearpin.inspection  # noqa: F401 it is asked next


def _encoded(verdict: Verdict) -> bytes:
    names = [field.name for field in fields(Finding)]
    findings = [{name: getattr(finding, name) for name in names} for finding in verdict.findings]
    return json.dumps({"records": verdict.records, "findings": findings}).encode()


def _decoded(payload: bytes) -> Verdict:
    data = json.loads(payload)
    return Verdict(
        data["records"],
        tuple(
            Finding(
                **{
                    **each,
                    "severity": Severity(each["severity"]),
                    "related": tuple(each["related"]),
                    "hides": tuple(each["hides"]),
                }
            )
            for each in data["findings"]
        ),
    )
