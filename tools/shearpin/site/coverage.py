"""Coverage pages: what the book holds and lacks; one summary, and one page of tables for each system."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final, TypeVar

from shearpin.book.book import Key
from shearpin.book.coverage import READY, Cell, Coverage
from shearpin.book.linked import LinkedBook
from shearpin.book.review import ReviewState
from shearpin.model.kinds import KINDS
from shearpin.site.common import KIND_WORDS
from shearpin.site.html import bullets, cell_name, section, table, text
from shearpin.site.view import View

Item = TypeVar("Item")

_LISTED: Final = (ReviewState.LAPSED, ReviewState.DRAFT, ReviewState.WITHDRAWN)
_MOST_LISTED: Final = 100  # entries of a list; more would outweigh the page, and nobody mends more in a day
_MOST_MACHINES: Final = 12  # columns of a table; beyond it a number of machines stands for them
_STATE_WORDS: Final = {
    ReviewState.REVIEWED: "Reviewed",
    ReviewState.UNBOUND: "Reviewed, change not recorded",
    ReviewState.LAPSED: "Changed since",
    ReviewState.DRAFT: "Not reviewed",
    ReviewState.WITHDRAWN: "Withdrawn",
}


@dataclass(frozen=True, slots=True)
class Row:
    """How many cells of a record are ready, of how many, and the cells by machine where the page has room for them."""

    ready: int
    count: int
    cells: Mapping[str, Cell]


@dataclass(frozen=True, slots=True)
class OfSystem:
    """The rows of one system's symptoms and procedures by record."""

    symptoms: Mapping[str, Row]
    procedures: Mapping[str, Row]


@dataclass(frozen=True, slots=True)
class Covered:
    """What the pages tell of a book: records by kind and state of review, cells by system, and each list of holes."""

    counts: Mapping[str, Mapping[ReviewState, int]]
    systems: Mapping[str, OfSystem]
    waiting: tuple[str, ...]
    missing: tuple[tuple[str, str], ...]
    unsourced_values: tuple[tuple[str, str], ...]
    unsourced: tuple[Key, ...]
    broken: tuple[str, ...]
    orphans: tuple[Key, ...]
    reviews: Mapping[ReviewState, tuple[Key, ...]]


class Answers:
    """What coverage pages read of a book: nothing hangs on the wording of a text, so most edits leave all as it was."""

    def __init__(self, linked: LinkedBook) -> None:
        self.whole: Callable[[], Covered] = linked.remembered(
            "coverage", partial(_covered, linked), kept=True
        )
        self.of_system: Callable[[str], OfSystem] = linked.remembered("coverage of a system", self._of_system)

    def _of_system(self, system_id: str) -> OfSystem:
        return self.whole().systems[system_id]


def _covered(linked: LinkedBook) -> Covered:
    book = linked.read_gists()
    coverage = Coverage(book, linked.safety.pages_with, linked.reviews.of)
    for procedure_id in coverage.lacking:
        linked.read_bones("procedure", procedure_id)
    missing, unsourced = coverage.values
    reviews = coverage.reviews
    counts: dict[str, dict[ReviewState, int]] = {kind: dict.fromkeys(ReviewState, 0) for kind in KINDS}
    for state, keys in reviews.items():
        for kind, _ in keys:
            counts[kind][state] += 1
    wide = len(book.applicability.everywhere) > _MOST_MACHINES
    symptoms = _by_system(coverage, "symptom", wide)
    procedures = _by_system(coverage, "procedure", wide)
    return Covered(
        counts,
        {system: OfSystem(symptoms[system], procedures[system]) for system in book.book.systems},
        tuple(sorted({procedure for procedure, _ in coverage.wanting("procedure")})),
        tuple(missing),
        tuple(unsourced),
        tuple(coverage.unsourced),
        tuple(file.path for file in book.book.files if file.broken),
        tuple(coverage.orphans),
        {state: tuple(reviews[state]) for state in _LISTED},
    )


def _by_system(coverage: Coverage, kind: str, wide: bool) -> dict[str, dict[str, Row]]:
    """Return the rows of a kind's records by system and record; each stands with the first system it names."""
    book = coverage.linked.book
    wanting: dict[str, dict[str, Cell]] = {}
    for (record_id, machine), cell in coverage.wanting(kind).items():
        wanting.setdefault(record_id, {})[machine] = cell
    found: dict[str, dict[str, Row]] = {system: {} for system in book.systems}
    for record_id, here in coverage.holds(kind).items():
        systems = book.systems_of(kind, record_id)
        if systems and systems[0] in found:
            own = wanting.get(record_id, {})
            cells = {} if wide else {machine: own.get(machine, READY) for machine in sorted(here)}
            found[systems[0]][record_id] = Row(len(here) - len(own), len(here), cells)
    return found


def summary(view: View, covered: Covered) -> str:
    """Return the page that leads to all: records and reviews by kind, systems, and each list of holes."""
    reviews = covered.reviews
    pair, key = partial(_pair, view), partial(_key, view)
    lists = (
        ("Procedures waiting for a value", covered.waiting, partial(view.ref, "procedure"), "waiting"),
        ("Values not recorded", covered.missing, pair, "missing-values"),
        ("Values without a source", covered.unsourced_values, pair, "unsourced-values"),
        ("Records without a source", covered.unsourced, key, "unsourced"),
        ("Records that could not be read whole", covered.broken, text, "broken"),
        ("Records changed since their review", reviews[ReviewState.LAPSED], key, "lapsed"),
        ("Records nobody has reviewed", reviews[ReviewState.DRAFT], key, "unreviewed"),
        ("Records withdrawn", reviews[ReviewState.WITHDRAWN], key, "withdrawn"),
        ("Records no page leads to", covered.orphans, key, "orphans"),
    )
    return (
        '<article data-kind="page" data-id="coverage"><h1>Coverage</h1>'
        "<p>What this book holds, and what it still lacks. <code>shearpin coverage</code> prints the same.</p>"
        + section("Records", _kinds(view, covered), "records")
        + section("Systems", _systems(view, covered), "systems")
        + "".join(_holes(*each) for each in lists)
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


def _kinds(view: View, covered: Covered) -> str:
    counts = covered.counts
    # A column of nothing but naughts would only be read past; that nothing is reviewed must be seen.
    states = [s for s in ReviewState if s is ReviewState.REVIEWED or any(each[s] for each in counts.values())]
    rows = [
        f'<tr><th scope="row"><a href="{view.root}{kind.folder}/index.html">{text(KIND_WORDS[name][1])}</a></th>'
        f"<td>{sum(counts[name].values())}</td>{''.join(f'<td>{counts[name][state]}</td>' for state in states)}</tr>"
        for name, kind in KINDS.items()
    ]
    heads = ("Kind", "Records", *(_STATE_WORDS[state] for state in states))
    return table(heads, rows, "entries in-columns", "Records and their reviews by kind")


def _systems(view: View, covered: Covered) -> str:
    rows = []
    for system_id in sorted(covered.systems, key=lambda s: view.title("system", s)):
        found = covered.systems[system_id]
        link = f'<a href="{view.root}coverage/{system_id}.html">{text(view.title("system", system_id))}</a>'
        ready = (_ready(rows.values()) for rows in (found.symptoms, found.procedures))
        rows.append(f'<tr><th scope="row">{link}</th>{"".join(f"<td>{each}</td>" for each in ready)}</tr>')
    heads = ("System", "Symptoms by machine, ready", "Procedures by machine, ready")
    return table(heads, rows, "entries in-columns", "How much is ready, by system")


def _ready(rows: Collection[Row]) -> str:
    count = sum(row.count for row in rows)
    return f"{sum(row.ready for row in rows)} of {count}" if count else "none"


def of_system(view: View, found: OfSystem, system_id: str) -> tuple[str, str]:
    """Return title and body of the page of a system: its symptoms and procedures by machine."""
    title = f"Coverage: {view.title('system', system_id)}"
    body = (
        f'<article data-kind="page" data-id="coverage-{system_id}"><h1>{text(title)}</h1>'
        f'<p>The system: {view.ref("system", system_id)}. <a href="{view.root}coverage.html">All systems</a>.</p>'
        + section("Symptoms by machine", _matrix(view, "symptom", found.symptoms), "symptoms")
        + section("Procedures by machine", _matrix(view, "procedure", found.procedures), "procedures")
        + "<p>“ready” means: every cause has a test and a cure for the machine, and every value is recorded.</p></article>"
    )
    return title, body


def _matrix(view: View, kind: str, found: Mapping[str, Row]) -> str:
    wide = len(view.machine_order) > _MOST_MACHINES
    rows = []
    for record_id in sorted(sorted(found), key=lambda i: view.title(kind, i).casefold()):
        row = found[record_id]
        # A phone shows cells below each other, without the head of the table: each says its machine there.
        columns = (
            [_ready((row,))]
            if wide
            else [
                cell_name(f"{view.title('machine', machine)}:") + _cell(row.cells.get(machine))
                for machine in view.machine_order
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
    return f"{view.ref('value', pair[0])}: {view.ref('machine', pair[1])}"


def _key(view: View, key: Key) -> str:
    return view.ref(*key)


def _holes(heading: str, items: Sequence[Item], shown: Callable[[Item], str], identifier: str) -> str:
    listed = bullets([shown(item) for item in items[:_MOST_LISTED]])
    if len(items) <= _MOST_LISTED:
        return section(heading, listed or "<p>None.</p>", identifier)
    more = f"<p>{len(items) - _MOST_LISTED} more: <code>shearpin coverage</code> lists them all.</p>"
    return section(heading, listed + more, identifier)
