"""Safety messages as ANSI Z535 has them: signal word, hazard, consequence, avoidance; above everything else."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from typing import Final

from shearpin.model.knowledge import Caution, SignalWord
from shearpin.site.html import bullets, section, text
from shearpin.site.view import View

ALERT_SYMBOL = '<svg aria-hidden="true"><use href="#alert"/></svg>'
"""A triangle with an exclamation mark, drawn once in the shell; a NOTICE bears none, for it is not about injury.

Long pages have dozens of it, so it bears no class: it is the one drawing in a signal word, and the one without a `width`.
"""

ALERT_BOX = "0 0 24 22"
ALERT_PATH = "M12 1 .5 21h23zm-1 6h2l-.4 8h-1.2zm0 9.5h2v2h-2z"
"""The symbol itself, for documents that have no shell."""

DEFERENCE = (
    "The maker’s manual for the machine on your bench comes first, and so do local codes. "
    "Leave work that needs a licence where you live to those who hold one. When in doubt, stop and ask."
)


def grouped(view: View, kind: str, record_id: str, machines: Sequence[str]) -> str:
    """Return the grouped safety message of a page: every required caution, the gravest first, never collapsible."""
    here = tuple(machines)
    alike = known_alike(view)
    panels = [
        _left_open(view, alike, _FULL, item.id) or view.shared(_panel)(item.id, here)
        for item in view.linked.safety.required(kind, record_id)
    ]
    return (
        '<section class="safety" aria-label="Safety">'
        f'{"".join(panels)}<p class="deference">{text(DEFERENCE)}</p></section>'
    )


_REASONS = 2  # a page that calls a dozen others has as many reasons for the same message
_MANY = 12  # with so many messages one reason each is enough; `shearpin cautions` tells them all


def reasons(view: View, kind: str, record_id: str) -> str:
    """Return why each message stands on the page, for its foot: readers need the messages first."""
    if view.light:
        command = f"<code>shearpin cautions {text(kind)}/{text(record_id)}</code>"
        words = f"<p>On a terminal, {command} tells why each message stands on this long page.</p>"
        return section("Why these safety messages", words, "why-safety", "provenance")
    required = view.linked.safety.required(kind, record_id)
    most = _REASONS if len(required) < _MANY else 1
    rows = bullets(
        f"{view.ref('caution', item.id)}: {text('; '.join(item.reasons[:most]))}." for item in required
    )
    return section("Why these safety messages", rows, "why-safety", "provenance")


def of_step(
    view: View, caution_ids: Sequence[str], machines: Sequence[str], told: Collection[str] = ()
) -> str:
    """Return the cautions of one step; they stand in full at the head of the page.

    Those `told` at an earlier step name the hazard alone: what is repeated word for word is no longer read
    (ANSI Z535.6 in substance, from memory). A bench sheet is shorter still: what to do stands at its head, for a
    DANGER at its step too, and a message told before is called by its name (`data-name`).
    """
    if not caution_ids:
        return ""  # as at most steps
    here, alike = tuple(machines), known_alike(view)
    return "".join(
        _left_open(view, alike, _SHORT if caution in told else _AT_STEP, caution)
        or view.shared(_of_step)(caution, here, caution in told)
        for caution in caution_ids
    )


def _of_step(view: View, caution_id: str, machines: Sequence[str], short: bool) -> str:
    caution = view.book.cautions[caution_id]
    name = f' data-name="{text(caution.title)}"' if short else ""
    avoid = "" if short else " ".join(view.prose(line, machines) for line in caution.avoidance)
    return (
        f'<div class="step-caution" data-signal-word="{caution.signal_word.value}" data-caution="{caution_id}"'
        f"{view.only_for(caution.applies_to, machines)}>"
        f"<p>{_word(caution.signal_word)} <b{name}>{view.prose(caution.hazard, machines)}</b>"
        f"{'' if short else f' <span>{avoid}</span>'}</p></div>"
    )


def panel(view: View, caution_id: str, machines: Sequence[str]) -> str:
    """Return one caution in full, as on its own page."""
    return _panel(view, caution_id, machines, own=True)


def _panel(view: View, caution_id: str, machines: Sequence[str], *, own: bool = False) -> str:
    caution = view.book.cautions[caution_id]
    only = "" if own else view.only_for(caution.applies_to, machines)
    avoid = " ".join(f"<li>{view.prose(line, machines)}</li>" for line in caution.avoidance)
    return (
        f'<div class="safety-message" data-signal-word="{caution.signal_word.value}" data-caution="{caution_id}"{only}>'
        f'<p class="signal">{_word(caution.signal_word)}</p>'
        f'<div class="message"><p><b class="hazard">{view.prose(caution.hazard, machines)}</b> '
        f'<span class="consequence">{view.prose(caution.consequence, machines)}</span></p>'
        f'<ul class="avoidance">{avoid}</ul></div></div>'
    )


_FULL, _AT_STEP, _SHORT = "message", "message at a step", "message told before"


def messages(view: View) -> Iterator[tuple[str, str]]:
    """Yield what goes into pages last, with its name: the messages of cautions that are the same on every page."""
    for caution_id, caution in view.book.cautions.items():
        if _is_alike_everywhere(caution):
            yield f"{_FULL} {caution_id}", _panel(view, caution_id, ())
            yield f"{_AT_STEP} {caution_id}", _of_step(view, caution_id, (), short=False)
            yield f"{_SHORT} {caution_id}", _of_step(view, caution_id, (), short=True)


def _is_alike_everywhere(caution: Caution) -> bool:
    """Whether a message does not hang on the machines of a page: neither when it is shown nor by a figure in its words."""
    words = (caution.hazard, caution.consequence, *caution.avoidance)
    return caution.applies_to is None and not any("{" in each or "}" in each for each in words)


def known_alike(view: View) -> Callable[[str], bool]:
    """Return what tells whether the message of a caution is alike everywhere: a page hangs on that, not on the words."""
    return view.linked.remembered(
        "message alike", lambda caution_id: _is_alike_everywhere(view.book.cautions[caution_id])
    )


def _left_open(view: View, alike: Callable[[str], bool], how: str, caution_id: str) -> str:
    """Return a blank for a message that goes in last; nothing for others."""
    return view.left_open(f"{how} {caution_id}") if view.leaves_open and alike(caution_id) else ""


KNOWN: Final = (known_alike,)
"""Each makes known to the book of a view what pages ask for here."""


def _word(word: SignalWord) -> str:
    symbol = "" if word is SignalWord.NOTICE else ALERT_SYMBOL
    return f'<span class="signal-word">{symbol}{word.value}</span>'
