"""For which machines a page is, and the sentences for those that it is not for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from shearpin.model.conditiontext import condition_of, text_of
from shearpin.model.fields import AppliesTo
from shearpin.site.common import KIND_WORDS
from shearpin.site.html import text
from shearpin.site.view import View


def misfits(view: View, kind: str, condition: AppliesTo | None) -> str:
    """Return, hidden, the sentences that say for which machines a page is not, and why: one for each reason.

    A script puts the machine that is chosen in the place of `…`: a sentence for each would outweigh a page of many.
    """
    if condition is None:
        return ""
    return _misfits_known(view)(kind, text_of(condition))


def _misfits_known(view: View) -> Callable[[str, str], str]:
    return view.linked.remembered("misfits", partial(_misfits, view))


def _misfits(view: View, kind: str, condition_text: str) -> str:
    condition = condition_of(condition_text)
    by_reason: dict[str, list[str]] = {}
    for machine_id in view.machine_order:
        reason = view.linked.applicability.reason_against(condition, machine_id)
        if reason is not None:
            by_reason.setdefault(reason, []).append(machine_id)
    name = KIND_WORDS[kind][0].lower()
    return "".join(
        f'<p class="misfit" data-misfit="{" ".join(ids)}" role="status" hidden>'
        f"{text(f'This {name} is not for the …: {reason}.')}</p>"
        for reason, ids in by_reason.items()
    )


def fits_words(view: View, condition: AppliesTo | None, machines: Sequence[str]) -> str:
    """Return for which machines a page is."""
    if condition is None or len(machines) == len(view.machine_order):
        return "all machines of this book"
    return _machines_known(view)(text_of(condition)) or "no machine of this book"


def _machines_known(view: View) -> Callable[[str], str]:
    return view.linked.remembered(f"machines from {view.root or '.'}", partial(_machine_links, view))


def _machine_links(view: View, condition: str) -> str:
    return view.refs("machine", view.machines(condition_of(condition)))


KNOWN: Final = (_misfits_known, _machines_known)
"""Each makes known to the book of a view what pages ask for here."""
