"""The form on a machine's page that makes a calendar file of its service plan, without any network."""

from __future__ import annotations

from typing import Final

from shearpin.book.service_plan import FOREWORD, SEASON_MONTHS, ServicePlan, service_plan
from shearpin.site.html import text
from shearpin.site.packed import json_text
from shearpin.site.view import View

SCRIPT: Final = "look/service-calendar.js"

_FIELDS: Final = (
    ("from", "First day of the season", 'type="date" required', ""),
    ("storage", "Day of storage", 'type="date"', "Five months later when left empty."),
    (
        "hours",
        "Running hours a week",
        'inputmode="decimal" maxlength="6" autocomplete="off"',
        "Gives days to what running hours decide; may stay empty.",
    ),
)


def form(view: View, machine_id: str) -> str:
    """Return the form with what its script needs; nothing for a machine whose plan no calendar could hold."""
    plan = service_plan(view.linked, machine_id)
    if not plan.occasions:
        return ""
    fields = "".join(
        f'<p class="calc-field"><label for="calendar-{name}">{label}</label>'
        f'<input id="calendar-{name}" name="{name}" {kind} aria-describedby="calendar-{name}-note calendar-said">'
        f'<span class="calc-note" id="calendar-{name}-note">{note}</span></p>'
        for name, label, kind, note in _FIELDS
    )
    command = text(f"shearpin calendar --machine {machine_id} --from DATE")
    return (
        "<h3>Into a calendar</h3>"
        "<p>A calendar file (iCalendar) puts this plan into the calendar of a phone or a PC. "
        f"On a terminal: <code>{command}</code>.</p>"
        f'<form class="calc-form calendar-form" data-service-calendar hidden novalidate>{fields}'
        '<p class="calendar-save"><button type="submit">Save the calendar file</button></p>'
        '<p id="calendar-said" role="status"></p></form>'
        f'<script type="application/json" data-service-plan>{_block(plan)}</script>'
        f'<script src="{view.root}{SCRIPT}"></script>'
    )


def _block(plan: ServicePlan) -> str:
    """Return the plan as JSON that cannot end the element it stands in."""
    data = {
        "machine": plan.machine,
        "title": plan.title,
        "foreword": FOREWORD,
        "months": SEASON_MONTHS,
        "byHours": plan.by_hours,
        "byCondition": plan.by_condition,
        "occasions": [
            {
                "uid": occasion.uid,
                "summary": occasion.summary,
                "season": occasion.season,
                "years": occasion.years,
                "hundredths": int(occasion.hours * 100) if occasion.hours is not None else 0,
                "lines": occasion.lines,
            }
            for occasion in plan.occasions
        ],
    }
    return json_text(data)
