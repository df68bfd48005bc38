"""`shearpin explain`: a rule in full, or the list of rules."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from shearpin.catalogue import RULES
from shearpin.checks.rule import AnyRule
from shearpin.cli.common import UserError, new_parser, print_json
from shearpin.inspection import explain_code


def run(words: Sequence[str]) -> int:
    """Explain one rule, or list them all."""
    parser = new_parser("explain", "Explain a rule by its code or name; without one, list all rules.")
    parser.add_argument("code", nargs="?", metavar="CODE", help="such as SAF005, or its name")
    options = parser.parse_args(list(words))
    if options.code is None:
        rules = list(RULES.values())
        if options.json:
            print_json([_as_json(rule) for rule in rules])
        else:
            sys.stdout.write(
                "".join(f"{rule.code}  {rule.severity.value:<7}  {rule.name}\n" for rule in rules)
            )
        return 0
    found = explain_code(options.code)
    if isinstance(found, str):
        raise UserError(f"no rule is called `{options.code}`; {found or '`shearpin explain` lists them'}")
    if options.json:
        print_json(_as_json(found))
    else:
        print(_as_text(found))
    return 0


def _as_json(rule: AnyRule) -> dict[str, object]:
    def examples(kind: str) -> list[dict[str, str]]:
        return [dict(example.files) for example in getattr(rule, kind)]

    return {
        "code": rule.code,
        "name": rule.name,
        "severity": rule.severity.value,
        "summary": rule.summary,
        "why": rule.why,
        "hint": rule.hint,
        "bad": examples("bad"),
        "good": examples("good"),
    }


def _as_text(rule: AnyRule) -> str:
    lines = [f"{rule.code} {rule.name} ({rule.severity.value})", "", rule.summary, "", rule.why]
    if rule.hint:
        lines += ["", f"Hint: {rule.hint}"]
    for heading, examples in (("Bad", rule.bad), ("Good", rule.good)):
        for example in examples:
            lines += ["", f"{heading}:"]
            for path, text in example.files:
                lines += [f"  # kb/{path}", *(f"  {line}" for line in text.rstrip().split("\n"))]
    return "\n".join(lines)
