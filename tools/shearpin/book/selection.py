"""What an edition holds: what its contents choose, and everything that this needs to be used safely."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from shearpin.book.book import Book, Key
from shearpin.book.linked import LinkedBook
from shearpin.book.links import Use
from shearpin.book.safety import called, condition_of
from shearpin.model.editions import Contents
from shearpin.model.fields import Record
from shearpin.model.knowledge import Symptom, System
from shearpin.model.steps import Step, Work

_NEEDED: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {
        "symptom": frozenset({"systems", "before", "cautions", "causes", "figures"}),
        "cause": frozenset({"systems", "parts", "figures"}),
        "test": frozenset({"systems", "before", "tools", "parts", "cautions", "figures", "steps", "finish"}),
        "procedure": frozenset(
            {"systems", "before", "tools", "parts", "cautions", "figures", "steps", "finish"}
        ),
        "machine": frozenset({"engine", "figures"}),
        "engine": frozenset({"figures"}),
        "system": frozenset({"hazards", "figures", "theory"}),
        "value": frozenset(
            {"tools", "band_source", "fastener", "shear_bolt", "belt", "behind_belt", "behind_gears",
             "tip_diameter", "cylinder"}
        ),
        "part": frozenset({"values", "needs"}),
        "tool": frozenset({"cautions"}),
    }
)  # fmt: skip
"""Fields whose references a record cannot do without, by kind; `sources` always count. The rest are links out."""

_NEEDED_IN_SHORT: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {"system": frozenset({"hazards"}), "value": frozenset({"tools", "band_source"})}
)
"""The same for what is only drawn in: a system for its hazards, a value for its figure, not for what explains either."""

_FOLLOWED_IN_TEXT: Final = frozenset({"value", "caution", "term", "source"})
_CHOSEN_BY_ID: Final = MappingProxyType(
    {"procedure": "procedures", "symptom": "symptoms", "test": "tests", "cause": "causes"}
)
_MACHINE_KINDS: Final = frozenset({"machine", "engine", "edition"})


@dataclass(frozen=True, slots=True)
class Selection:
    """The records of an edition: all of them, and those among them that its contents choose themselves."""

    edition: str
    keys: frozenset[Key]
    chosen: frozenset[Key]
    machines: frozenset[str]

    @property
    def shortened(self) -> frozenset[Key]:
        """Systems that are only drawn in: they come for what they warn of, without how they work."""
        return frozenset(key for key in self.keys - self.chosen if key[0] == "system")


def select(linked: LinkedBook, edition_id: str) -> Selection:
    """Return what an edition holds; raises `KeyError` for an edition the book does not have."""
    contents = linked.book.editions[edition_id].contents
    machines = _machines(linked, contents)
    chosen = frozenset(_chosen(linked, contents, machines))
    keys = set(_closed(linked, chosen | {("edition", edition_id)}, chosen, machines))
    held = _machines_in_use(linked, keys, machines) if _names_something(contents) else machines
    keys |= _closed(linked, {("machine", machine) for machine in held}, chosen, machines)
    if _names_something(contents):
        about = keys & chosen | {key for key in keys if key[0] in ("part", "tool")}
        keys |= _closed(linked, set(_terms_about(linked, about)), chosen, machines)
    return Selection(edition_id, frozenset(keys), chosen, held)


def pack(linked: LinkedBook, selection: Selection) -> LinkedBook:
    """Return the book of an edition: its records alone, with the titles of what is left out."""
    files = tuple(
        replace(file, record=_in_short(file.record))
        if (file.kind.name, file.id) in selection.shortened
        else file
        for file in linked.book.files
        if (file.kind.name, file.id) in selection.keys
    )
    outside = {key: record.title for key, record in linked.book.records() if key not in selection.keys}
    whole = linked.book
    packed = LinkedBook(
        Book(whole.kb, whole.shown, files, (), MappingProxyType(outside), shortened=selection.shortened)
    )
    # Reviews are tied to what the whole book requires; a pack for some machines must not make them lapse.
    vars(packed)["reviews"] = linked.reviews
    return packed


def _in_short(record: Record | None) -> Record | None:
    """Return a system without its chapters and drawings; every hazard of it stays."""
    return record.model_copy(update={"theory": (), "figures": ()}) if isinstance(record, System) else record


def lost_cautions(linked: LinkedBook, packed: LinkedBook) -> tuple[tuple[Key, str], ...]:
    """Return (record, caution) pairs that a page of the whole book requires and its page in the pack would not.

    Cautions about machines that the pack leaves out do not count, nor do those from calls of work on such machines:
    work that is in the pack is looked at itself. Anything returned here must stop a publication.
    """
    lost = []
    for kind in ("procedure", "test", "symptom"):
        for record_id, record in packed.book.of_kind(kind).items():
            here = packed.applicability.machines_for(condition_of(record))
            kept = {item.id for item in packed.safety.required(kind, record_id)}
            for item in linked.safety.required(kind, record_id):
                if all(called(reason) for reason in item.reasons):
                    continue
                where = linked.applicability.machines_for(linked.book.cautions[item.id].applies_to)
                if item.id not in kept and (where & here or not here):
                    lost.append(((kind, record_id), item.id))
    return tuple(lost)


def _names_something(contents: Contents) -> bool:
    by_id = any(getattr(contents, field) for field in _CHOSEN_BY_ID.values())
    return by_id or bool(contents.kinds or contents.systems)


def _machines(linked: LinkedBook, contents: Contents) -> frozenset[str]:
    if not contents.machines and not contents.classes:
        return linked.applicability.everywhere
    facts = linked.applicability.machines
    of_class = {machine for machine in facts if facts[machine].class_ in contents.classes}
    return frozenset(of_class | (set(contents.machines) & set(facts)))


def _chosen(linked: LinkedBook, contents: Contents, machines: frozenset[str]) -> Iterator[Key]:
    everything = not _names_something(contents)
    for key, record in linked.book.records():
        kind, record_id = key
        if kind in _MACHINE_KINDS:
            continue
        if record_id in getattr(contents, _CHOSEN_BY_ID.get(kind, ""), ()):
            yield key
        elif not _holds_somewhere(linked, record, machines):
            continue
        elif everything or _by_kind_and_system(contents, key, record):
            yield key


def _by_kind_and_system(contents: Contents, key: Key, record: Record) -> bool:
    if not contents.kinds and not contents.systems:
        return False
    if contents.kinds and key[0] not in contents.kinds:
        return False
    # A record belongs to the system it names first; the others bring their hazards, and would bring half the book.
    of = key[1] if key[0] == "system" else next(iter(getattr(record, "systems", ())), "")
    return not contents.systems or of in contents.systems


def _holds_somewhere(linked: LinkedBook, record: Record | None, machines: frozenset[str]) -> bool:
    condition = condition_of(record)
    if condition is None or machines == linked.applicability.everywhere:
        return True
    return bool(linked.applicability.machines_for(condition) & machines)


def _closed(
    linked: LinkedBook, start: Iterable[Key], chosen: frozenset[Key], machines: frozenset[str]
) -> set[Key]:
    """Return the records and all they need for these machines, directly or not."""
    reached: set[Key] = set()
    waiting = list(start)
    named = frozenset(waiting)
    while waiting:
        key = waiting.pop()
        record = linked.book.get(*key)
        if record is None or key in reached:
            continue
        # Systems and cautions stay: a page must warn no less for a machine than it does in the whole book.
        stays = key in named or key[0] in ("system", "caution")
        if not stays and not _holds_somewhere(linked, record, machines):
            continue
        reached.add(key)
        waiting += _referred(linked, key, key in chosen, linked.links.of(key))
        waiting += (("caution", caution) for caution in _cautions(linked, key, record))
        if isinstance(record, Symptom):
            waiting += _around(linked, key[1], record)
    return reached


def _referred(linked: LinkedBook, origin: Key, whole: bool, uses: Iterable[Use]) -> Iterator[Key]:
    """Yield what a record needs; `whole` is said of one that the contents choose."""
    needed = _NEEDED.get(origin[0], frozenset())
    if not whole:
        needed = _NEEDED_IN_SHORT.get(origin[0], needed)
    for use in uses:
        field = str(use.path[0]) if use.path else ""
        kind = next((kind for kind in use.kinds if linked.book.get(kind, use.id) is not None), "")
        if (
            not kind
            or "applies_to" in use.path
            or (not whole and origin[0] == "system" and field == "theory")
        ):
            continue  # machines, those of conditions among them, are chosen as machines, not by reference
        in_text = bool(use.offset) and (kind in _FOLLOWED_IN_TEXT or _calls(use, kind, whole))
        by_field = not use.offset and (field == "sources" or field in needed)
        if in_text or by_field:
            yield kind, use.id


def _calls(use: Use, kind: str, whole: bool) -> bool:
    """Whether a step sends to other work.

    Its note is information, and never does. Where it confirms, it says what to do if things are not as they should be: that
    comes with work that was chosen, and with every function test, for the machine runs then.
    """
    if kind not in ("procedure", "test") or use.path[0] not in ("steps", "finish"):
        return False
    return use.path[-1] == "do" or (use.path[-1] == "confirm" and (whole or use.path[0] == "finish"))


def _cautions(linked: LinkedBook, key: Key, record: Record) -> Iterator[str]:
    """Yield the cautions that the page of a record shows."""
    if isinstance(record, (Work, Symptom)):
        for item in linked.safety.required(*key):
            yield item.id
    if isinstance(record, Work):
        steps: tuple[Step, ...] = (*getattr(record, "steps", ()), *getattr(record, "finish", ()))
        for step in steps:
            yield from linked.safety.of_step(step)
    if isinstance(record, System):
        for energy in record.energies:
            yield from linked.safety.covered_by("energies", energy)


def _around(linked: LinkedBook, symptom_id: str, symptom: Symptom) -> Iterator[Key]:
    """Yield the tests that tell the causes of a symptom apart, and the procedures that cure them."""
    for test in linked.safety.tests_for(symptom_id):
        yield "test", test
    for suspect in symptom.causes:
        yield from linked.links.origins(("cause", suspect.cause), "procedure")


def _machines_in_use(linked: LinkedBook, keys: set[Key], machines: frozenset[str]) -> frozenset[str]:
    """Return the machines that work, symptoms or values among the records are for."""
    used: set[str] = set()
    for key in keys:
        if key[0] in ("procedure", "test", "symptom", "value"):
            used |= linked.applicability.machines_for(condition_of(linked.book.get(*key))) & machines
    return frozenset(used)


def _terms_about(linked: LinkedBook, keys: set[Key]) -> Iterator[Key]:
    """Yield the words for these systems, parts and tools; search rests on them."""
    for term_id, term in linked.book.terms.items():
        about = (*(("system", i) for i in term.systems), *(("part", i) for i in term.parts))
        if keys.intersection((*about, *(("tool", i) for i in term.tools))):
            yield "term", term_id
