"""`shearpin translation`: what of an edition is not translated, or was translated from other words; begins files."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from shearpin.authoring.files import WriteRefused, create_file
from shearpin.authoring.translating import begun
from shearpin.book.linked import LinkedBook
from shearpin.book.selection import pack, select
from shearpin.book.translated import Translated, translated
from shearpin.book.translations import OpenText, translation_path
from shearpin.checks.nearest import did_you_mean, nearest_or_all
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json
from shearpin.model.translation import ORIGINAL
from shearpin.publish.language import language_of
from shearpin.site.handwritten import pages_to_translate


def run(words: Sequence[str]) -> int:
    """List open texts, safety messages first; returns 1 where one of them is a safety message or stale."""
    parser = new_parser(
        "translation", "What of an edition is not translated, or was translated from other words."
    )
    parser.add_argument("edition", metavar="EDITION", help="id of an edition with a language of its own")
    parser.add_argument(
        "--begin",
        metavar="KIND/ID",
        action="append",
        default=[],
        help="write a file with the texts of a record to translate",
    )
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    edition = linked.book.editions.get(options.edition)
    if edition is None:
        advice = nearest_or_all(options.edition, linked.book.editions, "editions")
        raise UserError(f"there is no edition `{options.edition}`; {advice}")
    language = language_of(edition)
    if language == ORIGINAL:
        raise UserError(
            f"the edition `{options.edition}` is in the language of the records; nothing is translated"
        )
    for record in options.begin:
        _begin(linked, language, record)
    if options.begin:
        return 0
    result = translated(pack(linked, select(linked, options.edition)), language)
    pages = pages_to_translate(linked.book.kb, language, part=result.linked.book.is_part)
    if options.json:
        print_json({**_as_json(options.edition, language, result), "pages": pages})
    else:
        _tell(linked.book.shown, result)
        for page in pages:
            print(
                f"{linked.book.shown}/{page['path']}: {page['state']}; its first line: <!-- original: {page['mark']} -->"
            )
    return int(bool(result.unsafe) or any(item.stale for item in result.open))


def _begin(linked: LinkedBook, language: str, named: str) -> None:
    kind, _, record_id = named.replace(":", "/").partition("/")
    record = linked.book.get(kind, record_id)
    if record is None:
        known = [f"{k}/{i}" for (k, i), _ in linked.book.records()]
        raise UserError(f"there is no record `{named}`; {did_you_mean(named, known) or 'name it as kind/id'}")
    path = linked.book.kb / translation_path(language, (kind, record_id))
    try:
        create_file(path, begun(record).encode("utf-8"))
    except WriteRefused as error:
        raise UserError(str(error), 1) from error
    print(path)


def _tell(shown: str, result: Translated) -> None:
    by_path: dict[str, list[OpenText]] = defaultdict(list)
    for item in result.unsafe:
        by_path[item.path].append(item)
    for item in result.open:
        if item not in by_path[item.path]:
            by_path[item.path].append(item)
    unsafe = {item.path for item in result.unsafe}
    for path, items in by_path.items():
        safety = ", a safety message" if path in unsafe else ""
        stale = [item for item in items if item.stale]
        print(f"{shown}/{path}: {len(items)} open{safety}{f', {len(stale)} stale' if stale else ''}")
        for item in stale:
            print(f"    was  {item.formerly}\n    now  {item.text}")
    for path in result.drafts:
        print(f"{shown}/{path}: no mechanic has reviewed it")
    count = len(result.open)
    print(
        f"{count} text{'s' * (count != 1)} open, {len(result.unsafe)} of them in safety messages, {sum(i.stale for i in result.open)} stale"
    )


def _as_json(edition: str, language: str, result: Translated) -> dict[str, object]:
    unsafe = frozenset(result.unsafe)
    rows = [
        {
            "kind": item.key[0],
            "id": item.key[1],
            "path": item.path,
            "text": item.text,
            "formerly": item.formerly,
            "state": "stale" if item.stale else "untranslated",
            "safety": item in unsafe,
        }
        for item in result.open
    ]
    return {"edition": edition, "language": language, "open": rows, "drafts": list(result.drafts)}
