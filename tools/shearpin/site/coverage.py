"""Coverage pages: what the book holds and lacks; one summary, and one page of tables for each system."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from typing import Final, TypeVar

from shearpin.book.book import Book, Key
from shearpin.book.coverage import Cell, Coverage
from shearpin.book.review import ReviewState
from shearpin.model.kinds import KINDS
from shearpin.site.common import KIND_WORDS
from shearpin.site.html import bullets, cell_name, section, table, text
from shearpin.site.view import View

Hole = TypeVar("Hole")

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
    broken = [file for file in coverage.linked.book.files if file.broken]
    reviews = coverage.reviews
    waiting = sorted({p for (p, _), cell in coverage.procedures.items() if not cell.ready})
    holes = (
        _holes("Procedures waiting for a value", waiting, "waiting", lambda p: view.ref("procedure", p)),
        _holes("Values not recorded", missing, "missing-values", partial(_pair, view)),
        _holes("Values without a source", unsourced, "unsourced-values", partial(_pair, view)),
        _holes("Records without a source", coverage.unsourced, "unsourced", partial(_key, view)),
        _holes("Records that could not be read whole", broken, "broken", lambda file: text(file.path)),
        _holes(
            "Records changed since their review", reviews[ReviewState.LAPSED], "lapsed", partial(_key, view)
        ),
        _holes("Records nobody has reviewed", reviews[ReviewState.DRAFT], "unreviewed", partial(_key, view)),
        _holes("Records withdrawn", reviews[ReviewState.WITHDRAWN], "withdrawn", partial(_key, view)),
        _holes("Records no page leads to", coverage.orphans, "orphans", partial(_key, view)),
    )
    return (
        '<article data-kind="page" data-id="coverage"><h1>Coverage</h1>'
        "<p>What this book holds, and what it still lacks. <code>shearpin coverage</code> prints the same.</p>"
        + section("Records", _kinds(view, coverage), "records")
        + section("Systems", _systems(view, coverage), "systems")
        + "".join(holes)
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
    by_symptom, by_procedure = _by_record(coverage.symptoms), _by_record(coverage.procedures)
    for system_id, symptoms, procedures in _by_system(view, coverage.linked.book):
        of_symptoms = [cell for symptom in symptoms for cell in by_symptom.get(symptom, ())]
        of_procedures = [cell for procedure in procedures for cell in by_procedure.get(procedure, ())]
        link = f'<a href="{view.root}coverage/{system_id}.html">{text(view.title("system", system_id))}</a>'
        rows.append(
            f'<tr><th scope="row">{link}</th><td>{_ready(of_symptoms)}</td><td>{_ready(of_procedures)}</td></tr>'
        )
    heads = ("System", "Symptoms by machine, ready", "Procedures by machine, ready")
    return table(heads, rows, "entries in-columns", "How much is ready, by system")


def _by_record(cells: dict[tuple[str, str], Cell]) -> dict[str, list[Cell]]:
    found: dict[str, list[Cell]] = {}
    for (record_id, _), cell in cells.items():
        found.setdefault(record_id, []).append(cell)
    return found


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


def _pair(view: View, pair: tuple[str, str]) -> str:
    name, machine = pair
    return f"{view.ref('value', name)}: {view.ref('machine', machine)}"


def _key(view: View, key: Key) -> str:
    return view.ref(*key)


def _holes(heading: str, found: Sequence[Hole], identifier: str, shown: Callable[[Hole], str]) -> str:
    listed = bullets(shown(each) for each in found[:_MOST_LISTED])
    if len(found) <= _MOST_LISTED:
        return section(heading, listed or "<p>None.</p>", identifier)
    more = f"<p>{len(found) - _MOST_LISTED} more: <code>shearpin coverage</code> lists them all.</p>"
    return section(heading, listed + more, identifier)
