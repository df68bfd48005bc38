"""Safety messages as ANSI Z535 has them: signal word, hazard, consequence, avoidance; above everything else."""

from __future__ import annotations

from collections.abc import Sequence

from shearpin.model.knowledge import Caution, SignalWord
from shearpin.site.html import text
from shearpin.site.view import View

ALERT_SYMBOL = (
    '<svg class="alert-symbol" viewBox="0 0 24 22" width="24" height="22" aria-hidden="true" focusable="false">'
    '<path d="M12 1 23.5 21H.5Z" fill="currentColor"/><path class="mark" d="M10.9 7h2.2l-.5 8h-1.2zM10.9 16.4h2.2v2.2h-2.2z"/></svg>'
)
"""A triangle with an exclamation mark; a NOTICE bears none, for it is not about injury."""

DEFERENCE = (
    "The maker’s manual for the machine on your bench comes first, and so do local codes. "
    "Leave work that needs a licence where you live to those who hold one. When in doubt, stop and ask."
)


def grouped(view: View, kind: str, record_id: str, machines: Sequence[str]) -> str:
    """Return the grouped safety message of a page: every required caution, the gravest first, never collapsible."""
    required = view.linked.safety.required(kind, record_id)
    panels = []
    for item in required:
        caution = view.book.cautions[item.id]
        why = "Here because " + "; ".join(item.reasons[:2]) + "."
        panels.append(
            _panel(
                view,
                item.id,
                caution,
                machines,
                f'<p class="because">{text(why)}</p>',
                view.only_for(caution.applies_to, machines),
            )
        )
    return (
        '<section class="safety" aria-label="Safety">'
        f'{"".join(panels)}<p class="deference">{text(DEFERENCE)}</p></section>'
    )


def of_step(view: View, caution_ids: Sequence[str], machines: Sequence[str]) -> str:
    """Return the cautions of one step, short: they stand in full at the head of the page."""
    parts = []
    for caution_id in caution_ids:
        caution = view.book.cautions[caution_id]
        avoid = " ".join(view.prose(line, machines) for line in caution.avoidance)
        parts.append(
            f'<div class="step-caution" data-signal-word="{caution.signal_word.value}" data-caution="{caution_id}"'
            f"{view.only_for(caution.applies_to, machines)}>"
            f"<p>{_word(caution.signal_word)} <b>{view.prose(caution.hazard, machines)}</b> {avoid}</p></div>"
        )
    return "".join(parts)


def panel(view: View, caution_id: str, machines: Sequence[str]) -> str:
    """Return one caution in full, as on its own page."""
    return _panel(view, caution_id, view.book.cautions[caution_id], machines, "", "")


def _panel(
    view: View, caution_id: str, caution: Caution, machines: Sequence[str], why: str, only: str
) -> str:
    avoid = "".join(f"<li>{view.prose(line, machines)}</li>" for line in caution.avoidance)
    return (
        f'<div class="safety-message" data-signal-word="{caution.signal_word.value}" data-caution="{caution_id}"{only}>'
        f'<p class="signal">{_word(caution.signal_word)}</p>'
        f'<div class="message"><p><b class="hazard">{view.prose(caution.hazard, machines)}</b> '
        f'<span class="consequence">{view.prose(caution.consequence, machines)}</span></p>'
        f'<ul class="avoidance">{avoid}</ul>{why}</div></div>'
    )


def _word(word: SignalWord) -> str:
    symbol = "" if word is SignalWord.NOTICE else ALERT_SYMBOL
    return f'<span class="signal-word">{symbol}<span>{word.value}</span></span>'
