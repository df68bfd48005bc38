"""Tools, terms, sources, drawings and editions."""

from __future__ import annotations

from shearpin.model.kinds import KINDS
from shearpin.site import apart, common
from shearpin.site.html import bullets, facts, paragraph, section, text
from shearpin.site.view import View

SEEN_WORDS = {
    "read": "read in a copy of the document itself",
    "second-hand": "second-hand: read in another text that quotes it",
    "from-memory": "from memory, not seen in any copy",
    "own": "this book’s own",
}


def tool(view: View, record_id: str) -> str:
    """Return the body of a tool's page."""
    record = view.book.tools[record_id]
    content = [
        common.head(view, "tool", record.title, text(", ".join(record.also))),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.summary, view.machine_order)}</p>',
        paragraph("A general workshop may not have it." if record.special else ""),
        facts([("Cautions", view.refs("caution", record.cautions))]),
        common.used_by(
            view,
            "tool",
            record_id,
            [("procedure", "Procedures"), ("test", "Diagnostic tests"), ("value", "Values")],
        ),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("tool", record_id, "".join(content))


def term(view: View, record_id: str) -> str:
    """Return the body of a term's page."""
    record = view.book.terms[record_id]
    content = [
        common.head(view, "term", record.title, text(", ".join(record.also + record.avoid))),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.definition, view.machine_order)}</p>',
        facts(
            [
                ("Related", view.refs("term", record.related)),
                ("Parts", view.refs("part", record.parts)),
                ("Systems", view.refs("system", record.systems)),
                ("Tools", view.refs("tool", record.tools)),
            ]
        ),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("term", record_id, "".join(content))


def source(view: View, record_id: str) -> str:
    """Return the body of a source's page."""
    record = view.book.sources[record_id]
    link = ""
    if record.link:
        link = f'<a class="needs-network" rel="noreferrer" href="{text(record.link)}">{text(record.link)}</a> (needs a network)'
    # An edition packed for paper or an e-book has no such pages: its leaves link where pages of records are.
    many = apart.lists(view.linked, "source", record_id)
    kinds = [
        (kind, words[1])
        for kind, words in common.KIND_WORDS.items()
        if apart.name_of_users("source", kind) not in many
    ]
    ways = bullets(common.way_to_list(view, "source", record_id, listed) for listed in many.values())
    content = [
        common.head(view, "source", record.title),
        common.draft_banner(view, record, record_id),
        f'<p class="purpose">{view.prose(record.summary, view.machine_order)}</p>',
        facts(
            [
                ("Nature", text(record.nature.replace("-", " "))),
                ("Issuer", text(record.issuer or "")),
                ("Date", text(record.date or "")),
                ("Seen", SEEN_WORDS[record.seen]),
                ("Link", link),
            ]
        ),
        section("Much rests on it", ways, "much"),
        common.used_by(view, "source", record_id, kinds),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("source", record_id, "".join(content))


def figure(view: View, record_id: str) -> str:
    """Return the body of a drawing's page."""
    record = view.book.figures[record_id]
    shown = [
        ("system", "Systems"),
        ("procedure", "Procedures"),
        ("test", "Diagnostic tests"),
        ("symptom", "Symptoms"),
        ("cause", "Causes"),
        ("machine", "Machines"),
    ]
    content = [
        common.head(view, "figure", record.title),
        common.draft_banner(view, record, record_id),
        common.figure(view, record_id),
        section("What it shows", f"<p>{text(record.alt or '')}</p>" if record.alt else "", "alt"),
        common.used_by(view, "figure", record_id, shown),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("figure", record_id, "".join(content))


def edition(view: View, record_id: str) -> str:
    """Return the body of an edition's page: licence, date, state, safety notice."""
    record = view.book.editions[record_id]
    state = "Draft: not all of it has been reviewed." if record.state == "draft" else "Final."
    content = [
        common.head(view, "edition", record.title),
        common.draft_banner(view, record, record_id),
        "".join(f"<p>{view.prose(line, view.machine_order)}</p>" for line in record.cover),
        facts(
            [
                ("Number", text(record.number)),
                ("Issued by", text(record.issuer)),
                ("Date", text(record.date)),
                ("Language", text(record.language)),
                ("Licence", text(record.licence)),
                ("Credit it as", text(record.attribution or "")),
                ("Holds", _held(view)),
                ("State", state),
            ]
        ),
        section(
            "Safety notice",
            "".join(f"<p>{view.prose(line, view.machine_order)}</p>" for line in record.notice),
            "notice",
        ),
        section("How to verify a copy", _VERIFY, "verify"),
        common.review_and_sources(view, record, record_id),
    ]
    return common.article("edition", record_id, "".join(content))


_VERIFY = (
    "<p>A published copy carries the digests of all its files. <code>shearpin verify FOLDER</code> names every file that is "
    "not as it was published. The file <code>HOW-TO-VERIFY.txt</code> beside the pages says how to do it with what Windows, "
    "macOS and Linux have.</p>"
)


def _held(view: View) -> str:
    """Return how many records of each kind the book holds."""
    counts = ((kind, len(view.book.of_kind(kind))) for kind in KINDS if kind != "edition")
    return text(
        ", ".join(f"{count} {KINDS[kind].plural if count != 1 else kind}" for kind, count in counts if count)
    )
