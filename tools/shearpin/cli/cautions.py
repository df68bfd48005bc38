"""`shearpin cautions`: what a record requires, and why."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json, todays_id

_KINDS = ("procedure", "test", "symptom")


def run(words: Sequence[str]) -> int:
    """Print the required cautions of a procedure, test or symptom, the gravest first."""
    parser = new_parser("cautions", "The cautions a procedure, test or symptom requires, and why.")
    parser.add_argument("record", metavar="RECORD", help="id, or kind/id where the id alone is not clear")
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    key = _meant(linked, options.record)
    required = linked.safety.required(*key)
    if options.json:
        print_json(
            {
                "record": "/".join(key),
                "cautions": [
                    {
                        "id": item.id,
                        "signal_word": item.signal_word.value,
                        "hazard": linked.book.cautions[item.id].hazard,
                        "because": list(item.reasons),
                    }
                    for item in required
                ],
            }
        )
    else:
        for item in required:
            print(f"{item.signal_word.value}: {linked.book.cautions[item.id].hazard}  ({item.id})")
            for reason in item.reasons:
                print(f"    because {reason}")
    return 0


def _meant(linked: LinkedBook, given: str) -> Key:
    """Return the record that is meant; raises `UserError` where there is none, or more than one."""
    kind, _, record_id = given.replace(":", "/").rpartition("/")
    kind = kind.removesuffix("s")
    asked = [one for one in _KINDS if kind in ("", one)]
    found = [(one, record_id) for one in asked if linked.book.get(one, record_id) is not None]
    if not found:  # an id that is in use goes before a former one of another kind
        former = [(one, todays_id(linked, one, record_id)) for one in asked]
        found = [key for key in former if linked.book.get(*key) is not None]
    if not found:
        known = [i for k in _KINDS for i in linked.book.of_kind(k)]
        advice = did_you_mean(record_id, known) or "it must be a procedure, a test or a symptom"
        raise UserError(f"there is no procedure, test or symptom `{given}`; {advice}")
    if len(found) > 1:
        kinds = " and a ".join(one for one, _ in found)
        raise UserError(f"`{record_id}` is a {kinds}; write {'/'.join(found[0])}")
    return found[0]
