"""The diagnosis on a symptom's page: the guide's place, the decision chart, what tests show, the causes by chance."""

from __future__ import annotations

import pickle
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Final

from shearpin.diagnosis.history import Learned
from shearpin.diagnosis.model import DiagnosisModel, alike, build_model
from shearpin.diagnosis.plan import Plan, make_plan
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.model.knowledge import Symptom
from shearpin.site import common
from shearpin.site.bodies.chart import chart
from shearpin.site.html import section, table_with_head, text
from shearpin.site.view import View, address

_HOW = (
    "Begin at 1. Do the test by its page, find the result, and go on where the arrow points: to another number, or to a "
    "proven cause and its cure. The order costs the fewest minutes to a proof; work to get access is counted once."
)
_GUIDE = (
    "Answer test by test; the chances follow, and the next test is worked out anew. The address of the page keeps your "
    "answers."
)


MARK: Final = "c1-"
"""Begins the addresses of a chart's rows; the number tells the charts of a page apart."""

_LEAST_REACHES: Final = (0.02, 0.04, 0.06, 0.09, 0.13, 0.2)
_MOST_ROWS: Final = 30


@dataclass(frozen=True, slots=True)
class Group:
    """Machines for which the diagnosis is the same, its model, and what the repair log teaches."""

    machines: tuple[str, ...]
    model: DiagnosisModel
    learned: dict[str, Learned]


def groups_of(view: View, symptom_id: str) -> tuple[Group, ...]:
    """Return the diagnosis of a symptom for all its machines, those alike together.

    The last one is remembered: the script of a symptom is made after its page.
    """
    groups: tuple[Group, ...] = _unpacked(_groups_known(view)(symptom_id))
    return groups


_unpacked: Final = lru_cache(maxsize=1)(pickle.loads)


def _groups_known(view: View) -> Callable[[str], bytes]:
    return _remembered(view, "diagnosis of a symptom", partial(_packed_groups, view))


def _remembered(view: View, name: str, work: Callable[..., bytes]) -> Callable[..., bytes]:
    """Return work that is kept from build to build, by its name and the repairs that it counts."""
    return view.linked.remembered(f"{name} {view.history.mark}".rstrip(), work, kept=True)


def _packed_groups(view: View, symptom_id: str) -> bytes:
    """Return the groups of a symptom, packed as the plans are."""
    found = []
    for ids in alike(view.linked, symptom_id, view.machines(view.book.condition("symptom", symptom_id))):
        counts = view.history.counts(symptom_id, ids[0])
        model = build_model(view.linked, symptom_id, ids[0], counts)
        found.append(Group(ids, model, view.history.learned(symptom_id, ids[0])))
    return pickle.dumps(tuple(found), pickle.HIGHEST_PROTOCOL)


def sections(view: View, symptom_id: str, record: Symptom, machines: Sequence[str]) -> list[str]:
    """Return the sections of the diagnosis, the guide first."""
    groups = groups_of(view, symptom_id)
    plan_for = _plans_known(view)
    plans = [(group, _plan(plan_for(symptom_id, group.machines[0]))) for group in groups]
    return [
        _guide(view, symptom_id, plans),
        section("Decision chart", f"<p>{_HOW}</p>" + _charts(view, plans), "plan"),
        section("Causes by chance", _causes(view, groups, record, machines), "causes"),
    ]


# To work out a plan takes longer than all else of a page, and the wording of cautions or titles changes nothing in it: it is
# kept from build to build. A tree of objects takes ten times the room of its bytes.
def _plans_known(view: View) -> Callable[[str, str], bytes]:
    return _remembered(view, "test plan", partial(_packed_plan, view))


def _packed_plan(view: View, symptom_id: str, machine_id: str) -> bytes:
    """Return the plan for a machine, packed; raises `LookupError` where the symptom does not occur on it any more."""
    models = [group.model for group in groups_of(view, symptom_id) if machine_id in group.machines]
    return pickle.dumps(make_plan(models[0]), pickle.HIGHEST_PROTOCOL)


def _plan(packed: bytes) -> Plan:
    plan: Plan = pickle.loads(packed)
    return plan


KNOWN: Final = (_groups_known, _plans_known)
"""Each makes known to the book of a view what pages of symptoms rest on."""


def _guide(view: View, symptom_id: str, plans: Sequence[tuple[Group, Plan]]) -> str:
    """Return the place that scripts fill; without them, and in print, nothing of it shows.

    `data-first` has the first test of each group, `-` for none: an old PC takes longest over the choice that looks furthest.
    """
    if not any(group.model.tests for group, _ in plans):
        return ""
    first = " ".join(plan.tree.test if plan.tree else "-" for _, plan in plans)
    source = address("symptom", symptom_id).removesuffix(".html")
    scripts = "".join(
        f'<script src="{view.root}{script}"></script>'
        for script in (
            f"{source}.js",
            "look/diagnosis-plan.js",
            "look/diagnosis-words.js",
            "look/diagnosis.js",
        )
    )
    return (
        f'<section class="guide" id="guide" data-guide="{symptom_id}" data-first="{first}" hidden><h2>Find the cause test by test</h2>'
        f"<p>{_GUIDE}</p><div data-guide-sheet></div></section>{scripts}"
    )


def _charts(view: View, plans: Sequence[tuple[Group, Plan]]) -> str:
    """Return one chart for all machines whose plans are the same.

    Tests that few cases come to are left out until the charts of the page can be read: the guide has them all.
    """
    charts: dict[str, list[str]] = {}
    for least_reach in _LEAST_REACHES:
        charts = {}
        for group, plan in plans:
            charts.setdefault(chart(view, group.model, plan, MARK, least_reach), []).extend(group.machines)
        if sum(content.count("<tr ") for content in charts) <= _MOST_ROWS:
            break
    if len(charts) == 1:
        return next(iter(charts))
    return "".join(
        f'<div class="for-machines" data-for="{" ".join(ids)}"><h3>{text(view.machine_names(ids))}</h3>'
        f"{content.replace(MARK, f'c{place}-')}</div>"
        for place, (content, ids) in enumerate(charts.items(), 1)
    )


def _causes(view: View, groups: Sequence[Group], record: Symptom, machines: Sequence[str]) -> str:
    """Return causes by chance, a column for each group of machines with the same chances."""
    columns: dict[tuple[tuple[str, float], ...], tuple[Group, list[str]]] = {}
    for group in groups:
        columns.setdefault(tuple(sorted(group.model.priors.items())), (group, []))[1].extend(group.machines)
    best: dict[str, float] = {}
    for group, _ in columns.values():
        for cause, chance in group.model.priors.items():
            best[cause] = max(best.get(cause, 0.0), chance)
    notes = {suspect.cause: suspect.note for suspect in record.causes}
    rows = []
    for cause in sorted(best, key=lambda cause: (cause == SOMETHING_ELSE, -best[cause], cause)):
        having = [m for group, ids in columns.values() if cause in group.model.priors for m in ids]
        only = f' data-for="{" ".join(having)}"' if len(having) < len(machines) else ""
        cells = "".join(_chance_cell(group, cause, ids, len(columns)) for group, ids in columns.values())
        note = f"<p>{view.prose(notes[cause], machines)}</p>" if notes.get(cause) else ""
        name = "Something not in this book" if cause == SOMETHING_ELSE else view.ref("cause", cause) + note
        cures = common.works(view, view.linked.links.origins(("cause", cause), "procedure"), machines)
        rows.append(f'<tr data-cause="{cause}"{only}><th scope="row">{name}</th>{cells}<td>{cures}</td></tr>')
    heads = "".join(
        f'<th scope="col" data-for="{" ".join(ids)}">Chance: {text(view.machine_names(ids))}</th>'
        if len(columns) > 1
        else '<th scope="col">Chance</th>'
        for _, ids in columns.values()
    )
    return _learned_note(groups) + table_with_head(
        f'<th scope="col">Cause</th>{heads}<th scope="col">Cured by</th>',
        rows,
        "causes entries in-columns",
        "Causes by chance before any test",
    )


def _learned_note(groups: Sequence[Group]) -> str:
    if not any(group.learned for group in groups):
        return ""
    return (
        "<p>These chances are the book’s words and the repairs logged in this shop together. “17 of 23 here” is what was "
        "counted; the range after it holds the true share with 95 % probability.</p>"
    )


def _chance_cell(group: Group, cause: str, ids: Sequence[str], count: int) -> str:
    only = f' data-for="{" ".join(ids)}"' if count > 1 else ""
    chance = group.model.priors.get(cause)
    if chance is None:
        return f'<td class="chance"{only}>–</td>'
    percent = f"{chance * 100:.0f}"
    learned = group.learned.get(cause)
    here = f'<span class="learned">{learned_words(learned)}</span>' if learned is not None else ""
    return (
        f'<td class="chance"{only}><meter min="0" max="100" value="{percent}"></meter> {percent} %{here}</td>'
    )


def learned_words(learned: Learned) -> str:
    """Return what was counted, and the credible interval."""
    return f"{learned.count} of {learned.total} here ({learned.low * 100:.0f} to {learned.high * 100:.0f} %)"
