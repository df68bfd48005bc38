"""Parts that several kinds of page share: head, fit to the machine, values, parts, tools, sources."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Final

from shearpin.book.review import ReviewState
from shearpin.model.conditiontext import condition_of, text_of
from shearpin.model.fields import AppliesTo, Plate, Record
from shearpin.model.kinds import KINDS
from shearpin.model.pointers import pointers_of
from shearpin.model.steps import PartUse
from shearpin.site import apart
from shearpin.site.apart import LongList
from shearpin.site.html import bullets, section, table_of_groups, text
from shearpin.site.view import View


def article(kind: str, record_id: str, content: str, machines: Sequence[str] | None = None) -> str:
    """Wrap a page body; `data-fits` names the machines it is for, where not all."""
    fits = f' data-fits="{" ".join(machines)}"' if machines is not None else ""
    return f'<article data-kind="{kind}" data-id="{record_id}"{fits}>{content}</article>'


def head(view: View, kind: str, title: str, also: str = "") -> str:
    """Return kind and title at the top of a page."""
    listing = f"{view.root}{KINDS[kind].folder}/index.html"
    more = f'<p class="also">{also}</p>' if also else ""
    return f'<header class="page-head"><p class="kind"><a href="{listing}">{text(KIND_WORDS[kind][0])}</a></p><h1>{text(title)}</h1>{more}</header>'


def jumps(sections: Iterable[str]) -> str:
    """Return the way to each section of a long page, by the headings of the ready sections; the work comes first.

    What does not begin as a section is passed over.
    """
    found = [match for content in sections if (match := _SECTION.match(content)) is not None]
    found.sort(key=lambda match: match[1] != "steps")
    links = "".join(f'<a href="#{match[1]}">{match[2]}</a>' for match in found)
    return f'<nav class="jumps" aria-label="On this page">{links}</nav>' if links else ""


_SECTION = re.compile(r'<section id="([^"]+)"[^>]*><h2>(.*?)</h2>')  # as `html.section` writes it

KIND_WORDS = {
    "symptom": ("Symptom", "Symptoms"),
    "cause": ("Cause", "Causes"),
    "test": ("Diagnostic test", "Diagnostic tests"),
    "procedure": ("Procedure", "Procedures"),
    "caution": ("Caution", "Cautions"),
    "machine": ("Machine", "Machines"),
    "engine": ("Engine", "Engines"),
    "system": ("System", "Systems"),
    "value": ("Value", "Values"),
    "part": ("Part", "Parts"),
    "tool": ("Tool", "Tools"),
    "term": ("Term", "Glossary"),
    "source": ("Source", "Sources"),
    "figure": ("Drawing", "Drawings"),
    "edition": ("Edition", "Editions"),
}
"""What each kind is called on pages, one and many."""


def value_names(record: Record) -> tuple[str, ...]:
    """Return the names of the values a record shows, each once, in order."""
    return tuple(name for kinds, names in pointers_of(record) if kinds == ("value",) for name in names)


def values_table(view: View, names: Iterable[str], condition: AppliesTo | None) -> str:
    """Return the values of a page that is for the machines of a condition: under each value's name a row per machine.

    Scripts read from the figure's cell for which machine a row is; the empty cell is where paper has its boxes.
    """
    groups = []
    # Many pages show the same values for the same machines.
    rows_of = _rows_known(view)
    here = text_of(condition)
    for name in names:
        kind = view.book.values.get(name)
        rows = rows_of(name, here) if kind is not None else ""
        if kind is not None and rows:
            plate = f'<span class="plate">by the {text(view.plate_words(kind.plate))}</span>'
            title = f'<tr class="value-name"><th scope="rowgroup" colspan="3">{view.ref("value", name)} {plate}</th></tr>'
            groups.append(title + rows)
    heads = '<th scope="col">Machine</th><th scope="col">Figure</th><th scope="col" class="as-found">As found / as left</th>'
    return table_of_groups(heads, groups, "values entries", "Values used on this page")


def _rows_known(view: View) -> Callable[[str, str], str]:
    return view.linked.remembered("rows of a value", partial(_value_rows, view), kept=True)


def _value_rows(view: View, name: str, condition: str) -> str:
    having = [m for m in view.machines(condition_of(condition)) if view.has(name, m)]
    return "".join(
        f'<tr><td>{text(view.machine_names(ids))}</td><td class="value" data-value="{name}"'
        f' data-machine="{" ".join(ids)}">{figure}</td><td></td></tr>'
        for figure, ids in view.together((m, view.value_text(name, m)) for m in having)
    )


def parts_by_plate(view: View, uses: Iterable[PartUse], condition: AppliesTo | None) -> str:
    """Return the parts of a page that is for the machines of a condition, by the plate that orders them, with their numbers."""
    numbers_of = _numbers_known(view)
    groups: dict[Plate, list[str]] = {Plate.MACHINE: [], Plate.ENGINE: []}
    for use in uses:
        part = view.book.parts.get(use.part)
        if part is None:
            groups[Plate.MACHINE].append(f"<li>{view.ref('part', use.part)}</li>")
            continue
        numbers = numbers_of(use.part, text_of(condition))
        count = f"{use.quantity} × " if use.quantity != 1 else ""
        when = f' <span class="if-needed">({text(use.if_needed)})</span>' if use.if_needed else ""
        groups[part.plate].append(f"<li>{count}{view.ref('part', use.part)}{when}{numbers}</li>")
    headings = {
        Plate.MACHINE: "Give the counter the number on the machine plate",
        Plate.ENGINE: "Give the counter the number on the engine plate",
    }
    return "".join(
        f'<div class="by-plate" data-plate="{plate.value}"><h3>{headings[plate]}</h3><ul>{"".join(rows)}</ul></div>'
        for plate, rows in groups.items()
        if rows
    )


def _numbers_known(view: View) -> Callable[[str, str], str]:
    return view.linked.remembered("numbers of a part", partial(_numbers, view), kept=True)


def _numbers(view: View, part_id: str, condition_text: str) -> str:
    part = view.book.parts[part_id]
    if part.consumable:
        asked = text(part.consumable.rstrip("."))
        return f' <span class="ask-for">Ask for: {asked}.</span>'
    shown = []
    missing = '<span data-missing="number">no number recorded; order by the plate</span>'
    engine_of, by_machine = view.linked.applicability.engine_of, part.plate is Plate.MACHINE
    for machine_id in view.machines(condition_of(condition_text), part.applies_to):
        entry = part.numbers.get(machine_id if by_machine else engine_of(machine_id) or "")
        number = f'<b class="number">{text(entry.number)}</b>' if entry is not None else missing
        shown.append((machine_id, number))
    rows = [
        f'<li data-for="{" ".join(ids)}">{text(view.machine_names(ids))}: {number}</li>'
        for number, ids in view.together(shown)
    ]
    return f'<ul class="numbers">{"".join(rows)}</ul>' if rows else ""


def review_and_sources(view: View, record: Record, record_id: str) -> str:
    """Return provenance at the foot of a page: state of review, sources, and what it shows that has lapsed."""
    standing = view.linked.reviews.of(_kind(record), record_id)
    by = f" by the {text(standing.by)}" if standing.by else ""
    on = f" on {text(standing.on)}" if standing.on else ""
    state = {
        ReviewState.REVIEWED: f"<p>Reviewed{by}{on}, and not changed since.</p>",
        ReviewState.UNBOUND: f"<p>Reviewed{by}{on}. Whether it has changed since is not recorded.</p>",
        ReviewState.LAPSED: f'<p data-missing="review"><b>Review lapsed.</b> Reviewed{by}{on}, and changed since.</p>',
        ReviewState.WITHDRAWN: '<p data-missing="review"><b>Withdrawn.</b> Do not work from this page.</p>',
        ReviewState.DRAFT: '<p data-missing="review"><b>Draft.</b> Nobody has reviewed this record yet.</p>',
    }[standing.state]
    sources = bullets(view.ref("source", source) for source in record.sources)
    foot = state + _lapsed_cautions(view, _kind(record), record_id) + sources
    return section("Where this comes from", foot, "provenance", "provenance")


def _kind(record: Record) -> str:
    return str(type(record).__dict__["KIND"])


def _lapsed_cautions(view: View, kind: str, record_id: str) -> str:
    if kind not in ("procedure", "test", "symptom"):
        return ""
    required = (item.id for item in view.linked.safety.required(kind, record_id))
    lapsed = [c for c in required if view.linked.reviews.of("caution", c).state is ReviewState.LAPSED]
    if not lapsed:
        return ""
    return f'<p data-missing="review">Cautions of this page whose own review has lapsed: {view.refs("caution", lapsed)}.</p>'


def draft_banner(view: View, record: Record, record_id: str) -> str:
    """Return the notice at the top of a page that must not be relied on yet."""
    state = view.linked.reviews.of(_kind(record), record_id).state
    if state is ReviewState.WITHDRAWN:
        words = "<b>Withdrawn.</b> Do not work from this page."
    elif state is ReviewState.LAPSED:
        words = "<b>Review lapsed.</b> This page has changed since it was reviewed."
    elif state is ReviewState.DRAFT and record.review is not None:
        words = "<b>Draft.</b> Nobody has reviewed this page yet."
    else:
        return ""
    return f'<p class="draft" data-missing="review">{words}</p>'


def figure(view: View, figure_id: str) -> str:
    """Return a drawing with its labels as links."""
    record = view.book.figures.get(figure_id)
    if record is None:
        return f"<p>{view.ref('figure', figure_id)}</p>"
    labels = [
        view.ref(*label.leads_to, label.text) if label.leads_to is not None else text(label.text)
        for label in record.labels
    ]
    listed = f'<span class="labels">In the drawing: {"; ".join(labels)}.</span>' if labels else ""
    return (
        f'<figure><img src="{view.root}figures/{figure_id}.svg" alt="{text(record.alt or record.title)}" loading="lazy">'
        f"<figcaption>{text(record.title)}. {listed}</figcaption></figure>"
    )


def figures(view: View, ids: Iterable[str]) -> str:
    """Return drawings one after the other."""
    return "".join(figure(view, figure_id) for figure_id in ids)


def works(view: View, keys: Iterable[tuple[str, str]], machines: Sequence[str]) -> str:
    """Return procedures or tests one below the other, those for some machines only shown for these."""
    rows = []
    for kind, record_id in keys:
        only = view.only_for(view.book.condition(kind, record_id), machines)
        rows.append(f"<li{only}>{view.ref(kind, record_id)}</li>")
    return f"<ul>{''.join(rows)}</ul>" if rows else ""


def way_to_list(view: View, kind: str, record_id: str, listed: LongList) -> str:
    """Return a link to the first page of a list that has pages of its own, called by what it holds."""
    count = len(listed.ids)
    address = view.root + apart.list_address(kind, record_id, listed.name)
    return f'<a href="{address}">{count} {KINDS[listed.kind].plural}</a>'


def used_by(view: View, kind: str, record_id: str, headings: Sequence[tuple[str, str]]) -> str:
    """Return the records that refer to this one, by kind: (kind, heading) pairs; a list too long is led to.

    A chosen machine sees those that hold for it. A page that must be light shows them all.
    """
    parts = []
    long = apart.lists(view.linked, kind, record_id)
    for origin_kind, heading in headings:
        name = apart.name_of_users(kind, origin_kind)
        users = apart.users(view.linked, kind, record_id, origin_kind)
        links = (
            bullets([way_to_list(view, kind, record_id, long[name])])
            if name in long
            else "".join(
                f"<li{view.for_those_it_holds_for(origin_kind, user)}>{view.ref(origin_kind, user)}</li>"
                for user in users
                if (origin_kind, user) != (kind, record_id)
            )
        )
        if links:
            parts.append(f"<h3>{text(heading)}</h3>{links if name in long else f'<ul>{links}</ul>'}")
    return section("Where it is used", "".join(parts), "used-by") if parts else ""


KNOWN: Final = (_rows_known, _numbers_known)
"""Each makes known to the book of a view what pages ask for part by part."""
