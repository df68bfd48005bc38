"""Owns synthetic symptoms, causes, systems, cautions, and the apparatus: tools, terms, sources, figures, editions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from _bench.naming import HAZARDS, Hazard, slug
from _bench.plan import MAKE_SAFE, Assembly, System
from _bench.prose import capital
from _bench.scribe import Record, Scribe, shares

_CHANCES = ("sometimes", "sometimes", "rarely", "rarely", "often", "4 %", "12 %")


def knowledge_records(scribe: Scribe) -> Iterator[Record]:
    """Yield every symptom, cause, system and caution of the plan."""
    for assembly in scribe.plan.assemblies:
        symptoms = assembly.ids("symptom")
        for symptom_id, causes in zip(symptoms, shares(assembly.ids("cause"), len(symptoms)), strict=True):
            yield "symptoms", symptom_id, _symptom(scribe, assembly, symptom_id, causes)
        for index, cause_id in enumerate(assembly.ids("cause")):
            yield "causes", cause_id, _cause(scribe, assembly, cause_id, index)
    further = [
        f"further-hazard-{number + 1}" for number in range(scribe.plan.counts["caution"] - len(HAZARDS))
    ]
    for system, own in zip(scribe.plan.systems, _dealt(further, len(scribe.plan.systems)), strict=True):
        yield "systems", system.id, _system(scribe, system, own)
    for hazard in HAZARDS:
        yield "cautions", slug(hazard.title), _caution(scribe, hazard)
    for caution_id in further:
        title = f"{capital(scribe.prose.name())}, {caution_id.replace('-', ' ')}"
        hazard = Hazard(title, "CAUTION", "minor", "could", "It bruises hands.")
        yield "cautions", caution_id, _caution(scribe, hazard)


def apparatus_records(scribe: Scribe) -> Iterator[Record]:
    """Yield every tool, term, source, figure and edition of the plan."""
    plan = scribe.plan
    for tool in plan.tools:
        yield "tools", slug(tool), {
            "title": capital(tool), "summary": scribe.prose.paragraph(30), "also": [scribe.prose.name()],
            **scribe.apparatus(),
        }  # fmt: skip
    names = _term_names(scribe)
    for index, name in enumerate(names):
        yield "terms", slug(name), _term(scribe, name, names[max(0, index - 9) : index])
    for source in plan.sources:
        yield "sources", source, {
            "title": capital(source.replace("-", " ")), "nature": "institute", "issuer": "Grayling Fork Technical Institute",
            "date": "2026", "seen": "own", "summary": scribe.prose.paragraph(25),
        }  # fmt: skip
    for index, figure in enumerate(plan.figures):
        yield "figures", figure, _figure(scribe, figure, index)
    for number in range(plan.counts["edition"]):
        yield "editions", f"edition-{number + 1}", _edition(scribe, number)


def drawing(index: int) -> str:
    """Return a small drawing: a dozen shapes and three words."""
    circles = "".join(
        f'<circle cx="{60 + 45 * n}" cy="{110 + (n * index * 17) % 90}" r="{8 + (n + index) % 20}"/>'
        for n in range(8)
    )
    lines = "".join(f'<path d="M{40 + 60 * n} 40L{70 + 50 * n} {180 + index % 40}"/>' for n in range(5))
    words = "".join(
        f'<text x="{30 + 150 * n}" y="{250 + 10 * n}">{word}</text>'
        for n, word in enumerate(("Part", "Seat", "Guide"))
    )
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 480 300" role="img">\n'
        f"<title>Drawing {index + 1}</title>\n"
        f'<g fill="none" stroke="currentColor" stroke-width="2">{circles}{lines}</g>\n'
        f'<g fill="currentColor" stroke="none" font-family="sans-serif" font-size="16">{words}</g>\n</svg>\n'
    )


def _dealt(items: Sequence[str], number: int) -> list[list[str]]:
    return [list(items[index::number]) for index in range(number)]


def _symptom(scribe: Scribe, assembly: Assembly, symptom_id: str, causes: Sequence[str]) -> dict[str, Any]:
    prose, rng = scribe.prose, scribe.rng
    near = [cause for other in scribe.neighbours(assembly)[:2] for cause in other.ids("cause")]
    own = [cause for cause in assembly.ids("cause") if cause not in causes]
    wanted = max(len(causes), rng.randint(4, 10))
    suspects = [*causes, *own, *scribe.some(near, 2, 4)][:wanted]
    return {
        "title": assembly.titles["symptom"][symptom_id],
        "summary": prose.paragraph(55),
        "said": scribe.new(prose.said, rng.randint(3, 8)),
        "applies_to": assembly.applies_to,
        "systems": [assembly.system.id],
        "before": [MAKE_SAFE],
        "ask": [f"{capital(prose.said())}?" for _ in range(rng.randint(2, 4))],
        "causes": [
            {"cause": cause, "chance": rng.choice(_CHANCES), "note": prose.statement() if scribe.chance(0.3) else None}
            for cause in suspects
        ],
        "see_also": scribe.some([other for other in assembly.ids("symptom") if other != symptom_id], 0, 2),
        **scribe.apparatus(),
    }  # fmt: skip


def _cause(scribe: Scribe, assembly: Assembly, cause_id: str, index: int) -> dict[str, Any]:
    prose = scribe.prose
    parts = assembly.ids("part")
    return {
        "title": assembly.titles["cause"][cause_id],
        "applies_to": assembly.applies_to,
        "mechanism": prose.paragraph(110),
        "confirmed_by": prose.paragraph(60),
        "prevention": prose.paragraph(50),
        "systems": [assembly.system.id],
        "parts": [parts[index % len(parts)]],
        **scribe.apparatus(),
    }


def _system(scribe: Scribe, system: System, hazards: Sequence[str]) -> dict[str, Any]:
    prose = scribe.prose
    figures = scribe.figures_of(system.id)
    others = [other.id for other in scribe.plan.systems if other is not system]
    return {
        "title": system.title,
        "summary": prose.paragraph(25),
        "also": [prose.name() for _ in range(3)],
        "applies_to": {"class": list(system.classes)} if system.classes else None,
        "energies": list(system.energies),
        "hazards": list(hazards),
        "figures": figures,
        "related": scribe.some(others, 1, 3),
        "theory": [
            {"heading": capital(prose.name()), "text": [prose.paragraph(50), prose.paragraph(40)]}
            for _ in range(4)
        ],
        **scribe.apparatus(),
    }


def _caution(scribe: Scribe, hazard: Hazard) -> dict[str, Any]:
    return {
        "title": hazard.title,
        "signal_word": hazard.signal_word,
        "severity": hazard.severity,
        "likelihood": hazard.likelihood,
        "hazard": scribe.prose.statement(),
        "consequence": hazard.consequence,
        "avoidance": [scribe.prose.instruction() for _ in range(3)],
        "covers": {"actions": list(hazard.actions), "energies": list(hazard.energies)},
        **scribe.apparatus(),
    }


def _term_names(scribe: Scribe) -> list[str]:
    names: dict[str, str] = {}
    while len(names) < scribe.plan.counts["term"]:
        name = scribe.prose.name()
        if slug(name) not in names:
            scribe.take(name)
            names[slug(name)] = name
    return list(names.values())


def _term(scribe: Scribe, name: str, related: Sequence[str]) -> dict[str, Any]:
    assembly = scribe.rng.choice(scribe.plan.assemblies)
    cut = scribe.rng.randrange(1, len(name) - 1)
    return {
        "title": capital(name),
        "definition": scribe.prose.paragraph(35),
        "also": scribe.new(scribe.prose.name, scribe.rng.randint(1, 4)),
        "misspellings": [name[:cut] + name[cut + 1 :]],
        "related": [slug(other) for other in scribe.some(related, 0, 2)],
        "parts": [scribe.rng.choice(assembly.ids("part"))],
        "systems": [assembly.system.id],
        **scribe.apparatus(),
    }


def _figure(scribe: Scribe, figure: str, index: int) -> dict[str, Any]:
    assembly = scribe.rng.choice(scribe.plan.assemblies)
    return {
        "title": f"{capital(scribe.prose.name())}, {figure.replace('-', ' ')}",
        "alt": scribe.prose.paragraph(25),
        "labels": [
            {"text": "Part", "part": scribe.rng.choice(assembly.ids("part"))},
            {"text": "Seat", "system": assembly.system.id},
            {"text": "Guide", "part": scribe.rng.choice(assembly.ids("part"))},
        ],
        **scribe.apparatus(),
    }


def _edition(scribe: Scribe, number: int) -> dict[str, Any]:
    part_of_book = {"systems": [system.id for system in scribe.plan.systems[:3]]} if number else None
    return {
        "title": f"Measured edition {number + 1}",
        "number": f"2026.{number + 1}",
        "issuer": "Grayling Fork Technical Institute",
        "date": "2026-10-05",
        "licence": "CC BY 4.0",
        "state": "draft",
        "contents": part_of_book,
        "cover": ["Senseless text of the trade, made to measure how long things take."],
        "notice": ["Nothing in it is true; the maker's manual decides."],
        **scribe.apparatus(),
    }
