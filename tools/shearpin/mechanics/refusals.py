"""Whether a text refuses what it names (“never E15”), or allows it, be it as a limit (“no more than E15”).

The rules that ask mean harm by what is named, so doubt counts as allowed: a writer then reads a finding and says it plainly. The words are
ours, from what people write; they know lists of words and no grammar.
"""

from __future__ import annotations

import re
from typing import Final

_END: Final = re.compile(
    r"[.;!?](?=\s)|[()]| [–—-] |\b(?:but|except|besides|other than|apart from|however|otherwise|if|unless|when|while|because|so that|then)\b",
    re.IGNORECASE,
)
"""What parts statements: a refusal before it says nothing about what comes after."""

_NOT: Final = (
    r"(?:never|not|no|none|nothing|nobody|nor|neither|cannot|without|avoid(?:ing)?|refuse|reject|exclude|"
    r"(?:do|does|is|are|must|should|can|will|wo)n['’]t|instead of|rather than|free (?:of|from)|away from|"
    r"(?:forbidden|prohibited|banned|unsuitable|not allowed|too strong|wrong):?)"
)
_REFUSED: Final = re.compile(rf"\b{_NOT}(?!\w)", re.IGNORECASE)
_SHUNNED: Final = (
    r"(?:forbidden|prohibited|banned|unsuitable|avoid|refuse|reject|exclude|too strong|wrong|without)"
)
_NO_REFUSAL: Final = re.compile(
    rf"\b(?:(?:never|not|\w+n['’]t|no reason|no need)\W+(?:\w+\W+){{0,3}}?{_SHUNNED}|nothing wrong|there (?:is|are) no(?! need| reason)|not (?:only|just|merely|necessarily)"
    r"|no (?:problem|need|matter|harm|limit|doubt|worse|wonder)|(?:not|\w+n['’]t) (?:mind|matter|worry|hesitate))\b",
    re.IGNORECASE,
)
"""Two refusals that cancel each other, and words that only look like one."""

_LIMIT: Final = re.compile(
    r"(?:\b(?:(?:more|higher|harder|stronger|greater|larger|less|lower|weaker|softer|fewer|smaller)(?: \w+)? than|above|over|beyond|past|exceed(?:s|ing)?"
    r"|in excess of|below|under|limit(?:ed)?(?: (?:of|to))?|[<>])"
    r"|[<>≤≥])\s*(?:(?:about|around|roughly|some|the|an?|of|is) )*$",
    re.IGNORECASE,
)
"""Ends a statement about what lies beyond the figure or short of it: what is named is a bound of what is allowed."""

_USE: Final = (
    r"(?:use|take|fill|pour|buy|choose|run|burn|add|put|fit|order|ask|get|pick|go|try|install|store|mix)"
)
_NEW_ORDER: Final = re.compile(rf"\b(\w+['’]?\w*) {_USE}\b", re.IGNORECASE)
_STILL_REFUSED: Final = frozenset(
    "not never circumstances nobody to or nor and ever be cannot must should may can don't don’t please you even also we they people anyone".split()
)
_SAID_OF_IT: Final = re.compile(r"\s+(?:is|are|was|will|would|can|may|must)\b", re.IGNORECASE)
_IN_ANY_CASE: Final = re.compile(r",? (?:under|in) any (?:circumstances|conditions?|case),?", re.IGNORECASE)
_LIST: Final = re.compile(
    r"(?:\b(?:and|or|nor|also|even|any|the|an?|with|fuels?|gasoline|bolts?)\b|[\s,/–-])*", re.IGNORECASE
)
_ORDERS: Final = re.compile(rf"(?:\b(?:and|or|nor|{_USE})\b|\s)*", re.IGNORECASE)
_REFUSED_SO_FAR: Final = re.compile(rf"\b{_NOT}(?: (?:to )?{_USE})?\s*$", re.IGNORECASE)
_REFUSED_AFTER: Final = re.compile(
    r"(?:\s*,?\s*(?:or|and) (?:more|higher|above|over|stronger|up|better))?"
    r"(?:\s+(?:of|fuels?|gasoline|petrol|blends?|bolts?|screws?|ethanol|alcohol|at all|by volume|other|flex|such|all|or|and|nor|in (?:it|gasoline|fuel)))*\s*[:,?–—-]?\s*"
    r"(?:(?:is|are|was|were|must|may|can|should|shall|will|does|do|would|could)\s+(?:never|not)\b(?!\W+(?:\w+\W+)?(?:forbidden|prohibited|banned|harmful|only|matter|mind|a problem|wrong|hurt|harm|damage|unsuitable))"
    r"|cannot\b|(?:ca|is|are|must|wo|should|do|does)n['’]t\b(?!\W+(?:\w+\W+)?(?:forbidden|prohibited|banned|harmful|only|matter|mind|a problem|wrong|hurt|harm|damage|unsuitable))"
    r"|(?:(?:is|are) (?:\w+ly )?)?(?:forbidden|prohibited|banned|unsuitable|too strong|harmful)\b"
    r"|(?:will |can |may )?(?:damages?|harms?|ruins?|voids?|attacks?|destroys?|swells?|breaks? the)\b"
    r"|(?:is |are )?out\b(?! of stock)|(?:never|not|no)\b(?=\s*(?:[.;,!)]|$)))",
    re.IGNORECASE,
)


def refused(text: str, start: int, end: int, named: re.Pattern[str]) -> bool:
    """Return whether the text refuses what stands from `start` to `end`; `named` finds such things, for lists of them.

    A bound (“not above E15”, “less than E15”) is no refusal: what lies short of it is allowed.
    """
    before = _statement(_IN_ANY_CASE.sub("", text[:start]), named)
    if _LIMIT.search(before):
        return False
    after = text[end:]
    while (more := named.search(after)) and _LIST.fullmatch(after[: more.start()]):
        after = after[more.end() :]
    return _refuses(before, named) or _REFUSED_AFTER.match(after) is not None


def _statement(text: str, named: re.Pattern[str]) -> str:
    """Return the statement at the end of a text: what follows the last comma, with what comes before it in a list."""
    pieces = re.split(r"[,:](?=\s)", _END.split(text)[-1])
    statement = pieces.pop()
    while pieces and _goes_on(pieces[-1], statement, named):
        statement = f"{pieces.pop()} {statement}"
    return statement


def _goes_on(earlier: str, statement: str, named: re.Pattern[str]) -> bool:
    """Whether a statement only adds to the list that was begun before its comma or colon."""
    if _REFUSED_SO_FAR.search(earlier):
        return (
            _LIST.fullmatch(named.sub("", statement)) is not None or _ORDERS.fullmatch(statement) is not None
        )
    ends = [match.end() for match in named.finditer(earlier)]
    return bool(ends) and all(
        _LIST.fullmatch(part) for part in (earlier[ends[-1] :], named.sub("", statement))
    )


def _refuses(statement: str, named: re.Pattern[str]) -> bool:
    """Whether the last refusal of a statement reaches to its end: no other order comes after it, and nothing that is said of a named one."""
    plain = _NO_REFUSAL.sub(" ", statement)
    found = [match.end() for match in _REFUSED.finditer(plain)]
    if not found:
        return False
    rest = plain[found[-1] :]
    orders = _NEW_ORDER.finditer(rest)
    told = any(_SAID_OF_IT.match(rest, match.end()) for match in named.finditer(rest))
    return not told and all(order[1].lower() in _STILL_REFUSED for order in orders)
