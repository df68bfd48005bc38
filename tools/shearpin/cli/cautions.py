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
    for one in (kind,) if kind else _KINDS:
        record_id = todays_id(linked, one, record_id)
    kinds = [
        k for k in ((kind,) if kind else _KINDS) if linked.book.get(k, record_id) is not None and k in _KINDS
    ]
    if not kinds:
        known = [i for k in _KINDS for i in linked.book.of_kind(k)]
        advice = did_you_mean(record_id, known) or "it must be a procedure, a test or a symptom"
        raise UserError(f"there is no procedure, test or symptom `{options.record}`; {advice}")
    if len(kinds) > 1:
        raise UserError(f"`{record_id}` is a {' and a '.join(kinds)}; write {kinds[0]}/{record_id}")
    required = linked.safety.required(kinds[0], record_id)
    if options.json:
        print_json(
            {
                "record": f"{kinds[0]}/{record_id}",
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
