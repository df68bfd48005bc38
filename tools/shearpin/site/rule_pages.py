"""Pages of rules, from the docstrings that `shearpin explain` prints: a list by family, and one page for each rule."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from shearpin.catalogue import RULES
from shearpin.checks.rule import AnyRule, Example
from shearpin.site.html import bullets, facts, scrolling, section, table, text

FAMILIES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "FMT": "Text of a file",
        "FLD": "Fields of a record",
        "REF": "References and files",
        "QTY": "Quantities",
        "VAL": "Values of machines",
        "APP": "Applicability",
        "TRQ": "Threads, grades and torques",
        "DRV": "Belts and speeds",
        "ENG": "Engines and fuel",
        "SAF": "Safety",
        "DIA": "Diagnosis",
        "CON": "Contradictions and doubles",
        "LNG": "Plain language",
        "FIG": "Drawings",
        "EDN": "Editions",
        "SUP": "Suppressions",
        "TRN": "Translations",
    }
)
"""What the first letters of a code stand for, in the order of the list."""


def rule_pages() -> Iterator[tuple[str, str, str]]:
    """Yield address, title and body: the list first, then each rule."""
    yield "rules/index.html", "Rules for records", _index()
    for rule in RULES.values():
        yield rule_address(rule), f"{rule.code} {rule.name.replace('-', ' ')}", _page(rule)


def rule_address(rule: AnyRule) -> str:
    """Return the address of a rule's page from the root of the site."""
    return f"rules/{rule.code.lower()}.html"


def _index() -> str:
    families: dict[str, list[AnyRule]] = defaultdict(list)
    for rule in RULES.values():
        families[FAMILIES.get(rule.code[:3], "Other")].append(rule)
    parts = []
    for family in (*FAMILIES.values(), "Other"):
        rows = [
            f'<tr><th scope="row"><a href="{rule.code.lower()}.html">{rule.code}</a></th>'
            f"<td>{_with_code(rule.summary)}</td><td>{rule.severity.value}</td></tr>"
            for rule in families.get(family, ())
        ]
        parts.append(
            section(
                family,
                table(("Code", "What is wrong", "Severity"), rows, "rules entries", family),
                _anchor(family),
            )
        )
    head = (
        "<h1>Rules for records</h1><p>What <code>shearpin check</code> looks for. An error would mislead or harm the reader of"
        " a page; a warning is for the author to look at. <code>shearpin explain CODE</code> prints the same.</p>"
        '<p><a href="../writing-records.html">Writing records</a></p>'
    )
    return f'<article data-kind="page" data-id="rules">{head}{"".join(parts)}</article>'


def _anchor(family: str) -> str:
    return family.lower().replace(",", "").replace(" ", "-")


def _page(rule: AnyRule) -> str:
    family = FAMILIES.get(rule.code[:3], "Other")
    known = [
        ("Name", f"<code>{text(rule.name)}</code>"),
        ("Severity", rule.severity.value),
        ("Family", f'<a href="index.html#{_anchor(family)}">{text(family)}</a>'),
    ]
    parts = [
        f'<header class="page-head"><p class="kind"><a href="index.html">Rule</a></p><h1>{rule.code}: {_with_code(rule.summary.rstrip("."))}</h1></header>',
        facts(known),
        section("Why", f"<p>{_with_code(' '.join(rule.why.split()))}</p>", "why"),
        section("Hint", f"<p>{_with_code(rule.hint)}</p>" if rule.hint else "", "hint"),
        section("Bad", _examples(rule.bad), "bad"),
        section("Good", _examples(rule.good), "good"),
        section("Where it does not hold", _suppression(rule), "exception"),
    ]
    return f'<article data-kind="rule" data-id="{rule.code}">{"".join(parts)}</article>'


def _with_code(said: str) -> str:
    """Return a text in which what stands between backticks is code, as in a terminal."""
    return _CODE.sub(r"<code>\1</code>", text(said))


_CODE = re.compile(r"`([^`]+)`")


def _suppression(rule: AnyRule) -> str:
    line = text(f"ignore: [{{code: {rule.code}, reason: …}}]")
    return f"<p>A record that has good grounds names the rule and the reason: <code>{line}</code>.</p>"


def _examples(examples: tuple[Example, ...]) -> str:
    return "".join(
        bullets(
            f"<code>kb/{text(path)}</code>{scrolling(content.rstrip(), f'kb/{path}')}"
            for path, content in example.files
        )
        for example in examples
    )
