"""Coverage pages: what the book holds and lacks; one summary, and one page of tables for each system."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from shearpin.book.book import Book, Key
from shearpin.book.coverage import Cell, Coverage
from shearpin.book.review import ReviewState
from shearpin.model.kinds import KINDS
from shearpin.site.common import KIND_WORDS
from shearpin.site.html import bullets, cell_name, section, table, text
from shearpin.site.view import View

_MOST_LISTED: Final = 100  # entries of a list; more would outweigh the page, and nobody mends more in a day
_MOST_MACHINES: Final = 12  # columns of a table; beyond it a number of machines stands for them
_STATE_WORDS: Final = {
    ReviewState.REVIEWED: "Reviewed",
    ReviewState.UNBOUND: "Reviewed, change not recorded",
    ReviewState.LAPSED: "Changed since",
    ReviewState.DRAFT: "Not reviewed",
    ReviewState.WITHDRAWN: "Withdrawn",
}


def summary(view: View, coverage: Coverage) -> str:
    """Return the page that leads to all: records and reviews by kind, systems, and each list of holes."""
    missing, unsourced = coverage.values
    broken = [text(file.path) for file in coverage.linked.book.files if file.broken]
    reviews = coverage.reviews
    waiting = sorted({p for (p, _), cell in coverage.procedures.items() if not cell.ready})
    lists = (
        ("Procedures waiting for a value", (view.ref("procedure", p) for p in waiting), "waiting"),
        ("Values not recorded", _pairs(view, missing), "missing-values"),
        ("Values without a source", _pairs(view, unsourced), "unsourced-values"),
        ("Records without a source", _keys(view, coverage.unsourced), "unsourced"),
        ("Records that could not be read whole", broken, "broken"),
        ("Records changed since their review", _keys(view, reviews[ReviewState.LAPSED]), "lapsed"),
        ("Records nobody has reviewed", _keys(view, reviews[ReviewState.DRAFT]), "unreviewed"),
        ("Records withdrawn", _keys(view, reviews[ReviewState.WITHDRAWN]), "withdrawn"),
        ("Records no page leads to", _keys(view, coverage.orphans), "orphans"),
    )
    return (
        '<article data-kind="page" data-id="coverage"><h1>Coverage</h1>'
        "<p>What this book holds, and what it still lacks. <code>shearpin coverage</code> prints the same.</p>"
        + section("Records", _kinds(view, coverage), "records")
        + section("Systems", _systems(view, coverage), "systems")
        + "".join(_holes(heading, list(items), identifier) for heading, items, identifier in lists)
        + _MISSES.format(script=f"{view.root}look/search-misses.js")
        + "</article>"
    )


# Filled in by the script from what this browser has kept, and from lists that the reader opens.
_MISSES = (
    '<section id="searched-in-vain"><h2>Searched in vain</h2>'
    "<p>What people search for and do not find tells what to write next. A browser keeps its searches that found nothing, "
    "and <code>shearpin find --misses</code> lists those of a terminal; they hold no names and no times.</p>"
    '<div data-misses hidden><p><label>Open saved lists <input type="file" accept=".txt,text/plain" multiple></label></p>'
    '<p role="status"></p><ol></ol></div><script src="{script}"></script></section>'
)


def _kinds(view: View, coverage: Coverage) -> str:
    counts: dict[str, dict[ReviewState, int]] = {kind: dict.fromkeys(ReviewState, 0) for kind in KINDS}
    for state, keys in coverage.reviews.items():
        for kind, _ in keys:
            counts[kind][state] += 1
    # A column of nothing but naughts would only be read past; that nothing is reviewed must be seen.
    states = [s for s in ReviewState if s is ReviewState.REVIEWED or any(each[s] for each in counts.values())]
    rows = [
        f'<tr><th scope="row"><a href="{view.root}{kind.folder}/index.html">{text(KIND_WORDS[name][1])}</a></th>'
        f"<td>{sum(counts[name].values())}</td>{''.join(f'<td>{counts[name][state]}</td>' for state in states)}</tr>"
        for name, kind in KINDS.items()
    ]
    heads = ("Kind", "Records", *(_STATE_WORDS[state] for state in states))
    return table(heads, rows, "entries in-columns", "Records and their reviews by kind")


def _systems(view: View, coverage: Coverage) -> str:
    rows = []
    for system_id, symptoms, procedures in _by_system(view, coverage.linked.book):
        of_symptoms = [cell for (s, _), cell in coverage.symptoms.items() if s in symptoms]
        of_procedures = [cell for (p, _), cell in coverage.procedures.items() if p in procedures]
        link = f'<a href="{view.root}coverage/{system_id}.html">{text(view.title("system", system_id))}</a>'
        rows.append(
            f'<tr><th scope="row">{link}</th><td>{_ready(of_symptoms)}</td><td>{_ready(of_procedures)}</td></tr>'
        )
    heads = ("System", "Symptoms by machine, ready", "Procedures by machine, ready")
    return table(heads, rows, "entries in-columns", "How much is ready, by system")


def _ready(cells: Sequence[Cell]) -> str:
    return f"{sum(cell.ready for cell in cells)} of {len(cells)}" if cells else "none"


def _by_system(view: View, book: Book) -> Iterator[tuple[str, set[str], set[str]]]:
    """Yield each system with its symptoms and procedures; each stands with the first system it names."""
    symptoms: dict[str, set[str]] = {system: set() for system in book.systems}
    procedures: dict[str, set[str]] = {system: set() for system in book.systems}
    for symptom_id, symptom in book.symptoms.items():
        if symptom.systems and symptom.systems[0] in symptoms:
            symptoms[symptom.systems[0]].add(symptom_id)
    for procedure_id, procedure in book.procedures.items():
        if procedure.systems and procedure.systems[0] in procedures:
            procedures[procedure.systems[0]].add(procedure_id)
    for system_id in sorted(book.systems, key=lambda s: view.title("system", s)):
        yield system_id, symptoms[system_id], procedures[system_id]


def of_system(view: View, coverage: Coverage, system_id: str) -> tuple[str, str]:
    """Return title and body of the page of a system: its symptoms and procedures by machine."""
    symptoms, procedures = next(
        (s, p) for found, s, p in _by_system(view, coverage.linked.book) if found == system_id
    )
    title = f"Coverage: {view.title('system', system_id)}"
    body = (
        f'<article data-kind="page" data-id="coverage-{system_id}"><h1>{text(title)}</h1>'
        f'<p>The system: {view.ref("system", system_id)}. <a href="{view.root}coverage.html">All systems</a>.</p>'
        + section("Symptoms by machine", _matrix(view, "symptom", symptoms, coverage.symptoms), "symptoms")
        + section(
            "Procedures by machine", _matrix(view, "procedure", procedures, coverage.procedures), "procedures"
        )
        + "<p>“ready” means: every cause has a test and a cure for the machine, and every value is recorded.</p></article>"
    )
    return title, body


def _matrix(view: View, kind: str, ids: set[str], cells: dict[tuple[str, str], Cell]) -> str:
    wide = len(view.machine_order) > _MOST_MACHINES
    rows = []
    for record_id in sorted(ids, key=lambda i: view.title(kind, i).casefold()):
        own = [cells.get((record_id, machine)) for machine in view.machine_order]
        here = [cell for cell in own if cell is not None]
        # A phone shows cells below each other, without the head of the table: each says its machine there.
        columns = (
            [_ready(here)]
            if wide
            else [
                cell_name(f"{view.title('machine', machine)}:") + _cell(cell)
                for machine, cell in zip(view.machine_order, own, strict=True)
            ]
        )
        rows.append(
            f'<tr><th scope="row">{view.ref(kind, record_id)}</th>{"".join(f"<td>{c}</td>" for c in columns)}</tr>'
        )
    heads = ["Ready"] if wide else [view.title("machine", m) for m in view.machine_order]
    return table((KIND_WORDS[kind][0], *heads), rows, "matrix entries", f"{KIND_WORDS[kind][1]} by machine")


def _cell(cell: Cell | None) -> str:
    """Return the state of a cell in words; nothing rests on colour."""
    if cell is None:
        return "–"
    words = []
    if cell.uncured:
        words.append(f"no cure: {len(cell.uncured)}")
    if cell.untested:
        words.append(f"no test: {len(cell.untested)}")
    if cell.missing:
        words.append(f"no value: {len(cell.missing)}")
    return f'<b data-missing="coverage">{", ".join(words)}</b>' if words else "ready"


def _pairs(view: View, pairs: Iterable[tuple[str, str]]) -> list[str]:
    return [f"{view.ref('value', name)}: {view.ref('machine', machine)}" for name, machine in pairs]


def _keys(view: View, keys: Iterable[Key]) -> list[str]:
    return [view.ref(*key) for key in keys]


def _holes(heading: str, items: Sequence[str], identifier: str) -> str:
    if len(items) <= _MOST_LISTED:
        return section(heading, bullets(items) or "<p>None.</p>", identifier)
    more = f"<p>{len(items) - _MOST_LISTED} more: <code>shearpin coverage</code> lists them all.</p>"
    return section(heading, bullets(items[:_MOST_LISTED]) + more, identifier)
