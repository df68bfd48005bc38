"""The service plan of a machine as occasions: the two of the season, those of running hours, and what wear decides."""

from __future__ import annotations

import uuid
from calendar import monthrange
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.model.machines import Service

_IDS: Final = uuid.UUID(
    "5c0f5a6e-7d0c-5a53-9d3e-8d3c1b0f2a47"
)  # ours, drawn once: ids of occasions follow from it
_SEASONS: Final = {"start": "before the season", "end": "before storage"}

SEASON_MONTHS: Final = 5
"""From the start of a season to storage, where the user names no date."""

FOREWORD: Final = (
    "The maker's manual comes first. Read the safety messages of a page before its first step, "
    "and make the machine safe before any work on it."
)


@dataclass(frozen=True, slots=True)
class Occasion:
    """What falls due together: at a season's start or end, every so many years, or every so many running hours."""

    uid: str
    summary: str
    season: str  # `start` or `end`; nothing for running hours
    years: int
    hours: Fraction | None
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ServicePlan:
    """The occasions of a machine and its engine, and in words what running hours and what wear decides."""

    machine: str
    title: str
    occasions: tuple[Occasion, ...]
    by_hours: tuple[str, ...]
    by_condition: tuple[str, ...]


def due_words(line: Service) -> str:
    """Return when a line is due, in words: `once a year or every 50 h`."""
    season = _SEASONS[line.due.season] if line.due is not None and line.when is None else ""
    words = (line.when or season, f"every {line.every}" if line.every is not None else "")
    return " or ".join(word for word in words if word)


def service_plan(linked: LinkedBook, machine_id: str) -> ServicePlan:
    """Return the plan of a machine, its engine's lines included; what stands in both is told once."""
    machine = linked.book.machines[machine_id]
    engine = linked.book.engines.get(machine.engine or "")
    lines = (*machine.service, *(engine.service if engine is not None else ()))
    seasonal: dict[tuple[str, int], list[Service]] = {("start", 1): [], ("end", 1): []}
    hourly: dict[Fraction, list[Service]] = {}
    for line in lines:
        if line.due is not None:
            seasonal.setdefault((line.due.season, line.due.years), []).append(line)
        hours = line.every.exact_bounds_in("h")[0] if line.every is not None else None
        if hours:
            hourly.setdefault(hours, []).append(line)
    loose = [line for line in lines if line.due is None and line.every is None]
    occasions = [
        _seasonal(linked, machine_id, season, years, found)
        for (season, years), found in sorted(
            seasonal.items(), key=lambda item: (item[0][1], item[0][0] == "end")
        )
        if found
    ]
    occasions += [_hourly(linked, machine_id, hours, hourly[hours]) for hours in sorted(hourly)]
    return ServicePlan(
        machine_id,
        machine.title,
        tuple(occasions),
        tuple(f"every {hourly[h][0].every}: {'; '.join(_titles(linked, hourly[h]))}" for h in sorted(hourly)),
        tuple(f"{due_words(line)}: {'; '.join(_titles(linked, [line]))}" for line in loose),
    )


def _seasonal(linked: LinkedBook, machine_id: str, season: str, years: int, lines: list[Service]) -> Occasion:
    words = _SEASONS[season] if years == 1 else f"{_SEASONS[season]}, every {years} years"
    summary = f"{linked.book.machines[machine_id].title}: {words}"
    return Occasion(
        _uid(machine_id, season, str(years)), summary, season, years, None, _titles(linked, lines)
    )


def _hourly(linked: LinkedBook, machine_id: str, hours: Fraction, lines: list[Service]) -> Occasion:
    summary = f"{linked.book.machines[machine_id].title}: every {lines[0].every}"
    return Occasion(_uid(machine_id, "hours", str(hours)), summary, "", 0, hours, _titles(linked, lines))


def _uid(*words: str) -> str:
    """Return an id that is the same at every export, so that a later one takes the place of an earlier one."""
    return str(uuid.uuid5(_IDS, "/".join(words)))


def _titles(linked: LinkedBook, lines: Iterable[Service]) -> tuple[str, ...]:
    """Return the titles of the procedures, each once, in order."""
    ids = dict.fromkeys(procedure for line in lines for procedure in line.do)
    procedures = linked.book.procedures
    return tuple(procedures[p].title if p in procedures else p for p in ids)


def storage_day(start: date) -> date:
    """Return the day five months on; the last of the month where it has no such day."""
    month = start.month + SEASON_MONTHS
    year, month = start.year + (month - 1) // 12, (month - 1) % 12 + 1
    return date(year, month, min(start.day, monthrange(year, month)[1]))
