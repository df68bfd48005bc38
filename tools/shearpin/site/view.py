"""What every page is written with: links, inline values and prose, for one book and one depth of folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from copy import copy
from functools import partial
from sys import intern
from typing import Any, Final, TypeVar

from shearpin.book.linked import LinkedBook
from shearpin.book.values import MissingValue
from shearpin.diagnosis.history import History
from shearpin.model.fields import AppliesTo, Plate
from shearpin.model.inline import InlineError, Link, ValueMention, Words, parse_inline
from shearpin.model.kinds import KINDS
from shearpin.model.steps import Step
from shearpin.model.translation import ORIGINAL
from shearpin.site.blanks import TITLED, Fillings, blank, title_of
from shearpin.site.html import text
from shearpin.site.value_figures import ValueFigures

Shared = TypeVar("Shared")

MANY_MACHINES: Final = 12  # beyond it machines with the same figure stand in one row
_TABLED: Final = "+"  # stands before machines the figures of which a table of the page has
_GROUPS_INLINE: Final = 3  # more different figures than this are read better in the table of values


def address(kind: str, record_id: str) -> str:
    """Return the address of a record's page from the root of the site."""
    return f"{KINDS[kind].folder}/{record_id}.html"


class View:
    """Renders references, prose and values; `root` leads from the page's folder to the root of the site.

    With `fillings`, what they hold is left open: whoever writes a page fills the blanks in.
    """

    def __init__(
        self, linked: LinkedBook, root: str, history: History | None = None, fillings: Fillings | None = None
    ) -> None:
        self.linked = linked
        self.history = history or History(linked, ())
        self.book = linked.book
        self.root = root
        self._fillings = fillings
        # The same few links and figures stand on many pages.
        self._ref = linked.remembered(f"link from {root or '.'}", self._link)
        self._ref_in_words = linked.remembered(f"link in words from {root or '.'}", self._link)
        self.value_text: Callable[[str, str], str] = linked.remembered("figure", ValueFigures(linked).shown)
        self._value_in_text = linked.remembered(
            f"value in a text from {root or '.'}", self._inline_value, kept=True
        )
        # Lists name many records of which they need no more than this; a record's other changes are none of theirs.
        self._holds_for: Callable[[str, str], str] = linked.remembered("holds for", self._machines_held)
        self._shared: dict[Callable[..., object], Callable[..., Any]] = {}
        self._ordered: dict[frozenset[str], tuple[str, ...]] = {}
        self._tabled = False
        self.light = False

    def lightened(self) -> View:
        """Return a view for a page that would outweigh its budget: `light` leaves out what stands elsewhere too."""
        lighter = copy(self)
        lighter.light = True
        return lighter

    def beside_a_table(self) -> View:
        """Return a view for texts of a page whose table of values holds each figure of theirs for each machine.

        Scripts take the chosen machine's figure from there, so that it need not stand in the page twice.
        """
        beside = copy(self)
        beside._tabled = True
        return beside

    def work_out_what_all_show(self) -> None:
        """Work out what pages of every sort show: links to records, and figures with their standing.

        Before the pages are shared out over processes, for each of them would need nearly all of it.
        """
        for kind, record_id in self.book.file_of:
            self._ref(kind, record_id)
            self._holds_for(kind, record_id)
            self.linked.reviews.of(kind, record_id)
        for name in self.book.values:
            for machine_id in self.linked.values.machines_with(name):
                self.value_text(name, machine_id)

    def shared(self, work: Callable[..., Shared], kept: int | None = None) -> Callable[..., Shared]:
        """Return `work` without its first argument, a view, worked out once for the same others.

        For what many pages hold alike; it must be the same on a page that is light or has a table of values. Only the
        last `kept` answers stay in memory where that is given.
        """
        known = self._shared.get(work)
        if known is None:
            known = self._shared[work] = self.linked.shared(partial(work, self), kept)
        return known

    @property
    def machine_order(self) -> tuple[str, ...]:
        """Machine ids in the order of their titles."""
        return self.linked.applicability.in_order

    def machines(self, *conditions: AppliesTo | None) -> tuple[str, ...]:
        """Return the machines that all conditions hold for, in order."""
        here = self.linked.applicability.everywhere
        for condition in conditions:
            here &= self.linked.applicability.machines_for(condition)
        order = self.machine_order  # asked for every time: whoever asks hangs on it
        ordered = self._ordered.get(here)
        if ordered is None:  # few sets of machines serve many records
            ordered = tuple(machine for machine in order if machine in here)
            self._ordered[here] = ordered
        return ordered

    def for_those_it_holds_for(self, kind: str, record_id: str) -> str:
        """Return the attribute that hides an element for machines that a record does not hold for; a light page has none."""
        return "" if self.light else self._holds_for(kind, record_id)

    def _machines_held(self, kind: str, record_id: str) -> str:
        return self.only_for(self.book.condition(kind, record_id), self.machine_order)

    def title(self, kind: str, record_id: str) -> str:
        """Return the title of a record, or its id where it could not be read."""
        return self.book.title(kind, record_id)

    def machine_name(self, machine_id: str) -> str:
        """Return the title of a machine, or a blank for it: to be shown as it is, never looked at."""
        return self._name("machine", machine_id)

    @property
    def leaves_open(self) -> bool:
        """Whether anything is left open."""
        return self._fillings is not None

    def left_open(self, name: str) -> str:
        """Return a blank for what goes into pages last by this name; nothing where it does not."""
        return blank(name) if self._fillings is not None and self._fillings.has(name) else ""

    def _name(self, kind: str, record_id: str) -> str:
        left_open = self.left_open(title_of(kind, record_id)) if kind in TITLED else ""
        return left_open or self.title(kind, record_id)

    def size(self, content: bytes) -> int:
        """Return how many bytes a text has when it is finished."""
        return self._fillings.size(content) if self._fillings is not None else len(content)

    def ref(self, kind: str, record_id: str, words: str = "") -> str:
        """Return a link to a record, or a plain statement that it is missing."""
        return self._ref_in_words(kind, record_id, words) if words else self._ref(kind, record_id)

    def _link(self, kind: str, record_id: str, words: str = "") -> str:
        if (kind, record_id) in self.book.outside:
            shown = text(words or self.title(kind, record_id))
            return f'<span class="outside" data-outside="{kind}:{record_id}">{shown} <small>(not in this edition)</small></span>'
        if (kind, record_id) not in self.book.file_of:
            return f'<span data-missing="{text(kind)}:{text(record_id)}">{text(words or record_id)} (not in this book)</span>'
        shown = text(words or self._name(kind, record_id))
        return f'<a data-ref="{kind}:{record_id}" href="{self.root}{address(kind, record_id)}">{shown}</a>'

    def refs(self, kind: str, ids: Iterable[str]) -> str:
        """Return links joined by commas."""
        return ", ".join(self.ref(kind, record_id) for record_id in ids)

    def prose(self, content: str | None, machines: Sequence[str]) -> str:
        """Return text with its values and links filled in, for the machines of the page."""
        if not content:
            return ""
        if "{" not in content and "}" not in content and not self.book.untranslated:
            return text(content)  # as most texts are
        parts = []
        for piece in parse_inline(content):
            if isinstance(piece, Words):
                parts.append(text(piece.text))
            elif isinstance(piece, ValueMention):
                parts.append(self.inline_value(piece.name, machines))
            elif isinstance(piece, Link) and piece.kind in KINDS:
                parts.append(self.ref(piece.kind, piece.id, piece.words))
            elif isinstance(piece, Link):
                parts.append(text(piece.words or piece.id))
            elif isinstance(piece, InlineError):
                parts.append(f"<span data-missing>{text(piece.message)}</span>")
        shown = "".join(parts)
        # Marked where it stands: who cannot read it must see that it is not a translation that reads oddly.
        return (
            f'<span data-untranslated><small>original:</small> <span lang="{ORIGINAL}">{shown}</span></span>'
            if content in self.book.untranslated
            else shown
        )

    def inline_value(self, name: str, machines: Sequence[str]) -> str:
        """Return a value inside a text, and where no table has them a figure per machine for the script to show.

        Without a chosen machine, and without scripts, every figure stands there with the machines it is for.
        """
        # The same machines stand in many of these names: interned they are in memory once.
        found: str = self._value_in_text(
            name, intern(" ".join([_TABLED, *machines] if self._tabled else machines))
        )
        return found

    def _inline_value(self, name: str, shown: str) -> str:
        machines = shown.split()
        tabled = machines[:1] == [_TABLED]
        kind = self.book.values.get(name)
        if kind is None:
            return f'<span class="missing" data-missing="value:{text(name)}">{text(name)}: not in this book</span>'
        having = [m for m in machines[tabled:] if self.has(name, m)]
        singles = "" if tabled else "".join(self.value_cell(name, m, hidden=True) for m in having)
        # The value's name is part of the sentence only where a reader must look the figure up.
        return f'<span class="value-set" data-value-set="{name}">{self._for_any(name, kind.title, having)}{singles}</span>'

    def has(self, name: str, machine_id: str) -> bool:
        """Return whether a machine has a value, or should have it."""
        found = self.linked.values.resolve(name, machine_id)
        return not isinstance(found, MissingValue) or found.applies

    def _for_any(self, name: str, title: str, machines: Sequence[str]) -> str:
        groups: dict[str, list[str]] = {}
        for machine_id in machines:
            groups.setdefault(self.value_text(name, machine_id), []).append(machine_id)
        if len(groups) == 1:
            shown = next(iter(groups))
        elif 1 < len(groups) <= _GROUPS_INLINE:
            shown = "; ".join(
                f'<span class="of-machines">{text(self.machine_names(ids))}:</span> {figure}'
                for figure, ids in groups.items()
            )
        else:
            where = self.ref("value", name, title)
            shown = (
                f'{where} <span class="of-machines">(differs by machine: see the values of this page)</span>'
            )
        return f'<span class="value" data-any-machine>{shown}</span>'

    def together(self, shown: Iterable[tuple[str, str]]) -> list[tuple[str, tuple[str, ...]]]:
        """Return markup with the machines it is for, from pairs of a machine and its markup.

        Few machines have a row each; of many, those that show the same have one together.
        """
        pairs = tuple(shown)
        if len({machine for machine, _ in pairs}) <= MANY_MACHINES:
            return [(markup, (machine,)) for machine, markup in pairs]
        groups: dict[str, list[str]] = {}
        for machine, markup in pairs:
            groups.setdefault(markup, []).append(machine)
        return [(markup, tuple(ids)) for markup, ids in groups.items()]

    def machine_names(self, ids: Sequence[str]) -> str:
        """Return the titles of machines as a reader lists them, or blanks for them."""
        if len(ids) == 1:
            return self.machine_name(ids[0])
        return self.shared(View._machine_names)(tuple(ids))

    def _machine_names(self, ids: tuple[str, ...]) -> str:
        return ", ".join(map(self.machine_name, ids))

    def value_cell(self, name: str, machine_id: str, *, hidden: bool = False, element: str = "span") -> str:
        """Return one figure of one machine, marked up so that scripts and checks can find it."""
        off = " hidden" if hidden else ""
        return (
            f'<{element} class="value" data-value="{name}" data-machine="{machine_id}"{off}>'
            f"{self.value_text(name, machine_id)}</{element}>"
        )

    def plate_words(self, plate: Plate) -> str:
        """Return which plate decides, in words."""
        return "engine plate" if plate is Plate.ENGINE else "machine plate"

    def steps_here(self, steps: Sequence[Step]) -> tuple[Step, ...]:
        """Return steps without those that are for no machine of a course pack; a whole book shows that one is for none."""
        if not self.book.is_part:
            return tuple(steps)
        fit = self.linked.applicability.machines_for
        return tuple(step for step in steps if step.applies_to is None or fit(step.applies_to))

    def only_for(self, condition: AppliesTo | None, machines: Sequence[str]) -> str:
        """Return the attribute that hides an element for machines a condition does not hold for."""
        if condition is None:
            return ""
        fitting = self.linked.applicability.machines_for(condition)
        here = [machine for machine in machines if machine in fitting]
        return f' data-for="{" ".join(here)}"' if len(here) < len(machines) else ""

    def only_for_words(self, condition: AppliesTo | None, machines: Sequence[str]) -> str:
        """Return for which machines an element is, in words, where not for all of the page."""
        if condition is None:
            return ""
        fitting = self.linked.applicability.machines_for(condition)
        here = [machine for machine in machines if machine in fitting]
        if len(here) == len(machines):
            return ""
        names = self.machine_names(here) if here else "no machine of this book"
        return f'<span class="only-for">Only for {text(names)}.</span> '
