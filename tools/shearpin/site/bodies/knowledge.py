"""Symptoms, causes, systems and cautions."""

from __future__ import annotations

from shearpin.book.safety import WITH_CAUTIONS
from shearpin.site import apart, common, fitting, safety
from shearpin.site.bodies import diagnosis
from shearpin.site.html import bullets, facts, section, text
from shearpin.site.view import View


def symptom(view: View, record_id: str) -> str:
    """Return the body of a symptom's page: safety, what to ask, the test plan, the causes by chance."""
    record = view.book.symptoms[record_id]
    machines = view.machines(record.applies_to)
    out_of_use = (
        f'<p class="out-of-use" role="note"><b>Take the machine out of use.</b> {view.prose(record.take_out_of_use, machines)}</p>'
        if record.take_out_of_use
        else ""
    )
    said = bullets((f"“{text(phrase)}”" for phrase in record.said), "said")
    sections = [
        section("Ask first", bullets(view.prose(line, machines) for line in record.ask), "ask"),
        *diagnosis.sections(view, record_id, record, machines),
        section("People say", said, "said"),
        section("See also", bullets(view.ref("symptom", other) for other in record.see_also), "see-also"),
    ]
    content = [
        fitting.misfits(view, "symptom", record.applies_to),
        common.head(view, "symptom", record.title),
        common.draft_banner(view, record, record_id),
        out_of_use,
        safety.grouped(view, "symptom", record_id, machines),
        f'<p class="purpose">{view.prose(record.summary, machines)}</p>',
        facts(
            [
                ("On", fitting.fits_words(view, record.applies_to, machines)),
                ("First", view.refs("procedure", record.before)),
                ("Systems", view.refs("system", record.systems)),
            ]
        ),
        common.jumps(sections),
        *sections,
        common.figures(view, record.figures),
        safety.reasons(view, "symptom", record_id),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("symptom", record_id, "".join(content), machines)


def cause(view: View, record_id: str) -> str:
    """Return the body of a cause's page."""
    record = view.book.causes[record_id]
    machines = view.machines(record.applies_to)
    cures = common.works(view, view.linked.links.origins(("cause", record_id), "procedure"), machines)
    tests = common.works(view, view.linked.links.origins(("cause", record_id), "test"), machines)
    content = [
        fitting.misfits(view, "cause", record.applies_to),
        common.head(view, "cause", record.title),
        common.draft_banner(view, record, record_id),
        facts(
            [
                ("On", fitting.fits_words(view, record.applies_to, machines)),
                ("Systems", view.refs("system", record.systems)),
                ("Parts", view.refs("part", record.parts)),
            ]
        ),
        section("What has happened", f"<p>{view.prose(record.mechanism, machines)}</p>", "mechanism"),
        section("What proves it", f"<p>{view.prose(record.confirmed_by, machines)}</p>{tests}", "proof"),
        section(
            "What cures it",
            cures or '<p data-missing="remedy">No procedure in this book cures it.</p>',
            "cures",
        ),
        section(
            "How to keep it from coming back",
            f"<p>{view.prose(record.prevention, machines)}</p>" if record.prevention else "",
            "prevention",
        ),
        common.figures(view, record.figures),
        common.used_by(view, "cause", record_id, [("symptom", "Symptoms it makes")]),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("cause", record_id, "".join(content), machines)


def system(view: View, record_id: str) -> str:
    """Return the body of a system's page: how it works, what belongs to it."""
    record = view.book.systems[record_id]
    machines = view.machines(record.applies_to)
    theory = "".join(
        f"<h3>{text(part.heading)}</h3>{''.join(f'<p>{view.prose(line, machines)}</p>' for line in part.text)}"
        f"{common.figure(view, part.figure) if part.figure else ''}"
        for part in record.theory
    )
    hazards = dict.fromkeys(record.hazards)
    for energy in record.energies:
        hazards.update(dict.fromkeys(view.linked.safety.covered_by("energies", energy)))
    known = [caution for caution in hazards if caution in view.book.cautions]
    known.sort(
        key=lambda c: (
            list(type(view.book.cautions[c].signal_word)).index(view.book.cautions[c].signal_word),
            c,
        )
    )
    panels = "".join(safety.panel(view, caution, machines) for caution in known)
    content = [
        fitting.misfits(view, "system", record.applies_to),
        common.head(view, "system", record.title, text(", ".join(record.also))),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.summary, machines)}</p>',
        facts([("On", fitting.fits_words(view, record.applies_to, machines)), ("Related", view.refs("system", record.related))]),
        common.figures(view, record.figures),
        section("How it works", theory, "theory"),
        '<p class="outside">How it works is not told in this edition.</p>'
        if ("system", record_id) in view.book.shortened
        else "",
        section("What can hurt", f'<div class="safety">{panels}</div>' if panels else "", "hazards"),
        common.used_by(
            view, "system", record_id,
            [("symptom", "Symptoms"), ("test", "Diagnostic tests"), ("procedure", "Procedures"), ("cause", "Causes"),
             ("value", "Values"), ("part", "Parts"), ("term", "Terms")],
        ),
        common.review_and_sources(view, record, record_id),
    ]  # fmt: skip
    return common.article("system", record_id, "".join(content), machines)


def caution(view: View, record_id: str) -> str:
    """Return the body of a caution's page."""
    record = view.book.cautions[record_id]
    machines = view.machines(record.applies_to)
    long = apart.lists(view.linked, "caution", record_id)
    ways = (common.way_to_list(view, "caution", record_id, listed) for listed in long.values())
    short = (
        view.ref(kind, user)
        for kind in WITH_CAUTIONS
        if apart.name_of_users("caution", kind) not in long
        for user in apart.users(view.linked, "caution", record_id, kind)
    )
    listed = bullets((*ways, *short))
    content = [
        common.head(view, "caution", record.title),
        common.draft_banner(view, record, record_id),
        f'<div class="safety">{safety.panel(view, record_id, machines)}</div>',
        facts(
            [
                ("Brought by actions", text(", ".join(record.covers.actions).replace("-", " "))),
                ("Brought by energies", text(", ".join(record.covers.energies).replace("-", " "))),
            ]
        ),
        section("Pages that show it", listed, "pages"),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("caution", record_id, "".join(content))
