"""What a check found, kept in the user's cache: a check of records that nobody changed need not find it again."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from shearpin.book.contents import contents_digest
from shearpin.book.fingerprint import fingerprint
from shearpin.model.finding import Finding, Severity
from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept

if TYPE_CHECKING:
    from shearpin.book.linked import LinkedBook


@dataclass(frozen=True, slots=True)
class Verdict:
    """How many record files there are, and every finding, sorted."""

    records: int
    findings: tuple[Finding, ...]


class Question:
    """Asks for the verdict on the records in `kb` as they are now; `shown` is how findings name the folder."""

    def __init__(self, kb: Path, shown: str) -> None:
        self._kb = kb
        self._place = cache_of(kb) / "verdict.json"
        self._before = self._state()
        try:
            self._key = f"{program_digest()} {contents_digest(kb)} {shown}"
        except OSError:
            self._key = ""  # loading the book says what is wrong

    def kept(self) -> Verdict | None:
        """Return the verdict found earlier on the same records by the same program, if it is kept."""
        payload = read_kept(self._place, self._key) if self._key else None
        return _decoded(payload) if payload is not None else None

    def answer(self, linked: LinkedBook) -> Verdict:
        """Return the verdict on the book that was loaded after the question, kept or found now."""
        from shearpin.inspection import inspect_book

        same = bool(self._key) and self._state() == self._before  # else something was saved while it was read
        kept = self.kept() if same else None
        if kept is not None:
            return kept
        verdict = Verdict(len(linked.book.files), inspect_book(linked))
        if same and self._state() == self._before:
            write_kept(self._place, self._key, json.dumps(asdict(verdict)).encode())
        return verdict

    def _state(self) -> str:
        try:
            return fingerprint(self._kb)
        except OSError:
            return ""


def verdict_on(kb: Path, shown: str) -> Verdict:
    """Return what a check of the records in `kb` finds; raises `BookError` when the folder cannot be read."""
    question = Question(kb, shown)
    kept = question.kept()
    if kept is not None:
        return kept
    # Only imported here: what is known already must not wait for the record model.
    from shearpin.book.linked import load_linked
    from shearpin.model.shares import collector_at_rest

    with collector_at_rest():
        return question.answer(load_linked(kb, shown))


def _decoded(payload: bytes) -> Verdict:
    data = json.loads(payload)
    return Verdict(
        data["records"],
        tuple(
            Finding(**{**each, "severity": Severity(each["severity"]), "related": tuple(each["related"])})
            for each in data["findings"]
        ),
    )
