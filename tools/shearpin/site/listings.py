"""Pages that lead to records: the front page, one listing per kind, the search page, coverage."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from shearpin.book.values import MissingValue
from shearpin.model.fields import Plate
from shearpin.model.kinds import KINDS
from shearpin.model.machines import Part
from shearpin.site import long_lists
from shearpin.site.bodies import data_sheet
from shearpin.site.common import KIND_WORDS, jumps
from shearpin.site.html import bullets, section, table, text
from shearpin.site.search_box import complaint, figure, search_box
from shearpin.site.view import View


def front(view: View) -> str:
    """Return the front page: search first, then systems with their symptoms, then machines."""
    box = search_box(view, complaint(view))
    by_system = _symptoms_by_system(view)
    rest = [system_id for system_id, symptoms in by_system.items() if not symptoms]
    machines = "".join(_bench_choice(view, machine_id) for machine_id in view.machine_order)
    others = "".join(
        f'<li><a href="{view.root}{kind.folder}/index.html">{text(KIND_WORDS[name][1])}</a></li>'
        for name, kind in KINDS.items()
    )
    coverage = "" if view.book.is_part else f'<li><a href="{view.root}coverage.html">Coverage</a></li>'
    other_systems = section("Other systems", bullets(view.ref("system", s) for s in rest), "other-systems")
    sections = (
        f'<section id="symptoms" class="by-system"><h2>Symptoms by system</h2>{_cards(view, by_system)}'
        f"{other_systems}</section>",
        f'<section id="machines"><h2>I know the machine</h2><ul class="machines">{machines}</ul></section>',
        f'<section id="everything"><h2>Everything in this book</h2><ul class="everything">{others}{coverage}</ul></section>',
    )
    return _page(
        "front",
        f'<h1 class="front-title">What is the matter with it?</h1>{box}<div data-search-results></div>'
        f"{_with_machine(view, jumps(sections[1:]))}{_OPENED}{''.join(sections)}",
    )


# Filled in by the script from what this browser has kept.
_OPENED = (
    '<section id="opened" data-opened hidden><h2>Recently opened</h2><ul></ul>'
    '<p><button type="button" class="quiet">Clear this list</button> Only this browser keeps it.</p></section>'
)


def _with_machine(view: View, ways: str) -> str:
    """Return the ways of the front page with one to the chosen machine before them, which scripts show."""
    link = f'<a class="of-machine" data-machine-page href="{view.root}machines/index.html" hidden>This machine: plates, values, parts</a>'
    return ways.replace(">", f">{link}", 1)


def _bench_choice(view: View, machine_id: str) -> str:
    engine = view.linked.applicability.engine_of(machine_id)
    with_engine = f' <span class="engine">with {view.ref("engine", engine)}</span>' if engine else ""
    return (
        f"<li>{view.ref('machine', machine_id)}{with_engine}"
        f'<button type="button" data-choose-machine="{machine_id}" hidden>Work on it'
        f'<span class="unseen">: {text(view.title("machine", machine_id))}</span></button></li>'
    )


def _fits(view: View, kind: str, record_id: str) -> str:
    """Return the attribute by which scripts mark what is not for the chosen machine."""
    condition = view.book.condition(kind, record_id)
    if condition is None:
        return ""
    here = view.machines(condition)
    return (
        f' data-fits="{" ".join(here)}"'
        if len(here) < min(len(view.machine_order), long_lists.FITS_LIMIT)
        else ""
    )


def _entry(view: View, kind: str, record_id: str, more: str = "") -> str:
    return f"<li{_fits(view, kind, record_id)}>{view.ref(kind, record_id)}{more}</li>"


_CARDS_LIMIT = (
    200  # symptoms in sight; a system of a larger book shows its first ones and leads to the others
)
_CARDS_NAMES = 2_000  # machines named beside them, for the marks of what is not for the chosen one
_CARD_ENTRIES = 4


def _cards(view: View, by_system: Mapping[str, Sequence[str]]) -> str:
    symptoms = [each for members in by_system.values() for each in members]
    named = sum(len(view.machines(view.book.condition("symptom", each))) for each in symptoms)
    few = len(symptoms) <= _CARDS_LIMIT and named <= _CARDS_NAMES
    cards = "".join(
        f'<section class="card"><h3>{view.ref("system", system_id)}</h3>'
        f"<ul>{_card_entries(view, system_id, symptoms, few)}</ul></section>"
        for system_id, symptoms in by_system.items()
        if symptoms
    )
    return f'<div class="cards">{cards}</div>'


def _card_entries(view: View, system_id: str, symptoms: Sequence[str], few: bool) -> str:
    """Return the symptoms of a system; of many its first ones, which do not say what machines they are for."""
    if few:
        return "".join(_entry(view, "symptom", symptom_id) for symptom_id in symptoms)
    shown = "".join(f"<li>{view.ref('symptom', each)}</li>" for each in symptoms[:_CARD_ENTRIES])
    rest = len(symptoms) - _CARD_ENTRIES
    more = f"<li>{view.ref('system', system_id, f'{rest} more')}</li>" if rest > 0 else ""
    return shown + more


def _symptoms_by_system(view: View) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {
        system_id: [] for system_id in sorted(view.book.systems, key=lambda s: view.title("system", s))
    }
    for symptom_id in sorted(view.book.symptoms, key=lambda s: view.title("symptom", s)):
        systems = view.book.systems_of("symptom", symptom_id)
        home = next((system for system in systems if system in found), None)
        if home is not None:
            found[home].append(symptom_id)
    return found


def search_page(view: View) -> str:
    """Return the search page; without scripts, and where nothing is found, it leads to symptoms and lists."""
    box = search_box(view, figure(view))
    lists = bullets(
        f'<a href="{view.root}{KINDS[kind].folder}/index.html">{text(KIND_WORDS[kind][1])} A–Z</a>'
        for kind in ("symptom", "procedure", "test", "part", "value", "machine", "term")
    )
    no_script = "<noscript><p>The search needs scripts, which are switched off here. The lists work without.</p></noscript>"
    fallback = (
        f"<div data-search-fallback>{section('Symptoms by system', _cards(view, _symptoms_by_system(view)), 'symptoms')}"
        f"{section('Lists', lists, 'lists')}</div>"
    )
    return _page("search", f"<h1>Search</h1>{box}<div data-search-results></div>{no_script}{fallback}")


def _page(name: str, content: str) -> str:
    return f'<article data-kind="page" data-id="{name}">{content}</article>'


def listing(view: View, kind: str, place: int = 0) -> str:
    """Return one page of the listing of a kind."""
    special = {
        "symptom": _by_letter,
        "term": _glossary,
        "value": _values,
        "part": _parts,
        "machine": _machines,
        "cause": _by_letter,
        "tool": _by_letter,
    }
    writer = special.get(kind, _plain)
    shares = long_lists.shared_out(view.linked, kind)
    folder = KINDS[kind].folder
    addresses = [view.root + long_lists.part_address(folder, each) for each in range(len(shares))]
    ends = (
        [(view.title(kind, share[0]), view.title(kind, share[-1])) for share in shares]
        if len(shares) > 1
        else []
    )
    ways = long_lists.ways(addresses, ends, place)
    content = writer(view, kind, shares[place]) or "<p>Nothing yet.</p>"
    name = f"{folder}-index" if place == 0 else f"{folder}-index-{place + 1}"
    return _page(name, f"<h1>{text(KIND_WORDS[kind][1])}</h1>{ways}{content}")


def _plain(view: View, kind: str, ids: Sequence[str]) -> str:
    rows = "".join(
        _entry(view, kind, each, f"<p>{view.prose(view.book.summary(kind, each), ())}</p>") for each in ids
    )
    return f'<ul class="listing">{rows}</ul>' if rows else ""


def _by_letter(view: View, kind: str, ids: Sequence[str]) -> str:
    letters: dict[str, list[str]] = defaultdict(list)
    for record_id in ids:
        first = view.title(kind, record_id)[0].upper()
        letters[first if first.isalpha() else "#"].append(record_id)
    letter_links = " ".join(
        f'<a href="#letter-{letter.lower() if letter != "#" else "other"}">{letter}</a>' for letter in letters
    )
    parts = [
        f'<section id="letter-{letter.lower() if letter != "#" else "other"}"><h2>{letter}</h2>'
        f"{_plain(view, kind, of_letter)}</section>"
        for letter, of_letter in letters.items()
    ]
    return f'<nav class="letters" aria-label="Letters">{letter_links}</nav>{"".join(parts)}'


def _glossary(view: View, kind: str, ids: Sequence[str]) -> str:
    rows = []
    for record_id in ids:
        term = view.book.terms[record_id]
        also = ", ".join((*term.also, *term.avoid))
        called = f' <span class="also">also: {text(also)}</span>' if also else ""
        rows.append(
            f"<div><dt>{view.ref('term', record_id)}{called}</dt><dd>{view.prose(term.definition, ())}</dd></div>"
        )
    return f'<dl class="glossary">{"".join(rows)}</dl>' if rows else ""


def _values(view: View, kind: str, ids: Sequence[str]) -> str:
    rows = []
    for name in ids:
        value = view.book.values[name]
        machines = view.linked.values.machines_with(name)
        count = sum(not isinstance(view.linked.values.resolve(name, m), MissingValue) for m in machines)
        rows.append(
            f'<tr><th scope="row">{view.ref("value", name)}</th><td>{text(value.quantity.value.replace("-", " "))}</td>'
            f"<td>{text(view.plate_words(value.plate))}</td><td>{count} of {len(machines)} machines</td></tr>"
        )
    listed = table(
        ("Value", "Measures", "Decided by", "Recorded for"), rows, "entries in-a-line", "All values"
    )
    return _data_sheets(view) + listed


_SHEETS_LIMIT = 12  # machines whose data sheets stand above the values; more are found by their own list


def _data_sheets(view: View) -> str:
    """Return the ways to all values of one machine, which is what most readers of this list look for."""
    with_values = [m for m in view.machine_order if data_sheet.names_of(view, m)]
    if not with_values or len(with_values) > _SHEETS_LIMIT:
        return ""
    links = "".join(
        f'<a data-for="{m}" href="{view.root}{data_sheet.sheet_address(m)}">{text(view.title("machine", m))}</a>'
        for m in with_values
    )
    return f'<nav class="jumps" aria-label="Data sheets"><b>All values of one machine:</b>{links}</nav>'


def _parts(view: View, kind: str, ids: Sequence[str]) -> str:
    rows = []
    for part_id in ids:
        part = view.book.parts[part_id]
        rows.append(
            f'<tr{_fits(view, "part", part_id)}><th scope="row">{view.ref("part", part_id)}</th>'
            f"<td>{_numbers(view, part) or text(part.consumable or '')}</td>"
            f"<td>by the {text(view.plate_words(part.plate))}</td></tr>"
        )
    return table(("Part", "Number", "Ordered"), rows, "all-parts entries", "All parts")


_NAMES_LIMIT = 3  # machines named beside a number


def _numbers(view: View, part: Part) -> str:
    """Return each number of a part with the machines it is for: never a number alone that may be another model's."""
    for_machines: dict[str, list[str]] = {}
    engine_of, by_machine = view.linked.applicability.engine_of, part.plate is Plate.MACHINE
    for machine_id in view.machines(part.applies_to):
        entry = part.numbers.get(machine_id if by_machine else engine_of(machine_id) or "")
        if entry is not None:
            for_machines.setdefault(entry.number, []).append(machine_id)
    rows = []
    for number, ids in for_machines.items():
        names = view.machine_names(ids) if len(ids) <= _NAMES_LIMIT else f"{len(ids)} machines"
        only = f' data-for="{" ".join(ids)}"' if len(for_machines) > 1 else ""
        rows.append(
            f'<li{only}><b class="number">{text(number)}</b> <span class="of-machines">{text(names)}</span></li>'
        )
    return f'<ul class="numbers">{"".join(rows)}</ul>' if rows else ""


def _machines(view: View, kind: str, ids: Sequence[str]) -> str:
    rows = []
    shown = set(ids)
    for machine_id in (each for each in view.machine_order if each in shown):
        machine = view.book.machines[machine_id]
        engine = view.ref("engine", machine.engine) if machine.engine else "none"
        rows.append(
            f'<tr><th scope="row">{view.ref("machine", machine_id)}</th><td>{text(machine.class_)}</td><td>{engine}</td>'
            f"<td>{text(', '.join(machine.fitted).replace('-', ' '))}</td></tr>"
        )
    return table(("Machine", "Class", "Engine", "Fitted with"), rows, "all-machines entries", "All machines")
