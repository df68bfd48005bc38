"""`shearpin cautions`: what a record requires, and why."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.checks.nearest import did_you_mean
from shearpin.cli.common import UserError, load_book_or_fail, new_parser, print_json, todays_id

_KINDS = ("procedure", "test", "symptom")


def run(words: Sequence[str]) -> int:
    """Print the required cautions of a procedure, test or symptom, the gravest first."""
    parser = new_parser("cautions", "The cautions a procedure, test or symptom requires, and why.")
    parser.add_argument("record", metavar="RECORD", help="id, or kind/id where the id alone is not clear")
    options = parser.parse_args(list(words))
    linked = load_book_or_fail(options.kb)
    kind, _, record_id = options.record.replace(":", "/").rpartition("/")
    kind = kind.removesuffix("s")
    asked = [one for one in _KINDS if kind in ("", one)]
    meant = [(one, todays_id(linked, one, record_id)) for one in asked]
    found = [key for key in meant if linked.book.get(*key) is not None]
    if not found:
        known = [i for k in _KINDS for i in linked.book.of_kind(k)]
        advice = did_you_mean(record_id, known) or "it must be a procedure, a test or a symptom"
        raise UserError(f"there is no procedure, test or symptom `{options.record}`; {advice}")
    if len(found) > 1:
        kinds = " and a ".join(one for one, _ in found)
        raise UserError(f"`{record_id}` is a {kinds}; write {'/'.join(found[0])}")
    required = linked.safety.required(*found[0])
    if options.json:
        print_json(
            {
                "record": "/".join(found[0]),
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
