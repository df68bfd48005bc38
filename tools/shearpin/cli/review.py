"""`shearpin review`: notes who reviewed which records, and lists reviews that are missing or have lapsed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from datetime import date
from typing import Final

from shearpin.authoring.change import FileChange, write_all
from shearpin.authoring.files import WriteRefused, read_plain_file
from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState
from shearpin.book.review_writing import CannotWrite, with_review
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json
from shearpin.inspection import inspect_book
from shearpin.model.finding import Severity
from shearpin.model.kinds import KIND_OF_FOLDER, KINDS

_ROLE: Final = re.compile(r"[a-z][a-z]*(?:[ -][a-z]+){0,5}")
_WORDS: Final = {
    ReviewState.LAPSED: "lapsed: changed since the review",
    ReviewState.UNBOUND: "reviewed, but not tied to what the record says",
    ReviewState.DRAFT: "not reviewed",
    ReviewState.WITHDRAWN: "withdrawn",
}


def run(words: Sequence[str]) -> int:
    """Write reviews, all or none; or list what needs one and return 1 where anything does."""
    parser = new_parser("review", "Note that records were reviewed, or list those that need it.")
    parser.add_argument("records", nargs="*", metavar="ID", help="id, or kind/id where the id is not clear")
    parser.add_argument("--by", metavar="ROLE", help="role of the reviewer, such as `lead instructor`")
    parser.add_argument("--on", metavar="DATE", help="date of the review (default: today)")
    parser.add_argument(
        "--list", action="store_true", help="list records whose review is missing or has lapsed"
    )
    parser.add_argument("--state", choices=[state.value for state in _WORDS], help="list only these")
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    if options.list or options.state:
        if options.records or options.by or options.on:
            raise UserError("`--list` shows reviews and notes none; leave out ids, --by and --on")
        return _list(linked, options.state, as_json=options.json)
    if not options.records or not options.by:
        raise UserError("name the records and `--by ROLE`, or use `--list`")
    review = {"state": "reviewed", "by": _role(options.by), "on": _date(options.on)}
    keys = tuple(dict.fromkeys(_key(linked, name) for name in options.records))
    try:
        _write(linked, keys, review)
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
    if options.json:
        print_json({"reviewed": [f"{kind}/{record_id}" for kind, record_id in keys], **review})
    else:
        print(f"{len(keys)} record{'s' * (len(keys) != 1)} reviewed by the {options.by} on {review['on']}")
    return 0


def _role(text: str) -> str:
    if not _ROLE.fullmatch(text):
        raise UserError("`--by` is a role in lower-case words, such as `lead instructor`; no names of people")
    return text


def _date(text: str | None) -> str:
    if text is None:
        return date.today().isoformat()
    try:
        if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            return date.fromisoformat(text).isoformat()
    except ValueError:
        pass
    raise UserError(f"`{text}` is not a date; write it as 2026-10-02")


def _key(linked: LinkedBook, name: str) -> Key:
    kind, _, record_id = name.replace(":", "/").rpartition("/")
    kind = KIND_OF_FOLDER[kind].name if kind in KIND_OF_FOLDER else kind
    if kind and kind not in KINDS:
        raise UserError(f"there is no kind of record called `{kind}`; kinds: {', '.join(KINDS)}")
    kinds = [k for k in ((kind,) if kind else KINDS) if (k, record_id) in linked.book.file_of]
    if not kinds:
        known = [i for k, i in linked.book.file_of if not kind or k == kind]
        raise UserError(f"there is no record `{name}`; {did_you_mean(record_id, known) or 'look at its id'}")
    if len(kinds) > 1:
        raise UserError(f"`{record_id}` is a {' and a '.join(kinds)}; write {kinds[0]}/{record_id}")
    return kinds[0], record_id


def _write(linked: LinkedBook, keys: Sequence[Key], review: dict[str, str]) -> None:
    """Work out every new text before the first is written, so that one that will not do leaves all as they were."""
    errors = (finding for finding in inspect_book(linked) if finding.severity is Severity.ERROR)
    faulty = {path for finding in errors for path in (finding.path, *finding.hides)}
    shown = linked.book.shown.replace("\\", "/").rstrip("/")
    changes: list[FileChange] = []
    for key in keys:
        file = linked.book.file_of[key]
        if file.record is None or file.broken or f"{shown}/{file.path}" in faulty:
            raise UserError(f"{shown}/{file.path} has errors; mend them first (`shearpin check`)", 1)
        try:
            raw = read_plain_file(linked.book.kb / file.path)
            changed = with_review(raw, {**review, "digest": linked.reviews.digest(*key)})
        except CannotWrite as error:
            raise UserError(f"{shown}/{file.path}: {error}", 1) from error
        changes.append(FileChange(file.path, raw, changed))
    write_all(linked.book.kb, changes)


def _list(linked: LinkedBook, only: str | None, *, as_json: bool) -> int:
    rows = []
    counts: Counter[ReviewState] = Counter()
    for (kind, record_id), _ in linked.book.records():
        standing = linked.reviews.of(kind, record_id)
        counts[standing.state] += 1
        if standing.state is not ReviewState.REVIEWED and only in (None, standing.state.value):
            rows.append((f"{kind}/{record_id}", standing))
    if as_json:
        records = [{"id": n, "state": s.state.value, "by": s.by, "on": s.on} for n, s in rows]
        print_json({"counts": {state.value: counts[state] for state in ReviewState}, "records": records})
    else:
        for name, standing in rows:
            before = f" ({', '.join(filter(None, (standing.by, standing.on)))})" if standing.by else ""
            print(f"{name}: {_WORDS[standing.state]}{before}")
        print(", ".join(f"{counts[state]} {state.value}" for state in ReviewState))
    return 1 if rows else 0
