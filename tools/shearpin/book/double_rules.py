"""Rules on what stands in the book twice, and on words that mean two things or are not the book's own."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Set
from itertools import chain, pairwise
from typing import Final

from shearpin.book.book import Key
from shearpin.book.doubles import doubles
from shearpin.book.linked import LinkedBook
from shearpin.book.noun_piles import NAMES_OF, THINGS, NounPiles, where_piles_may_differ
from shearpin.book.prose import ProseText
from shearpin.checks.rule import MACHINE_FACTS, AnyRule, Fault, Narrowing, Wording, rule
from shearpin.checks.wording import phrase, without_braces, words_in
from shearpin.model.finding import Severity
from shearpin.model.knowledge import Term
from shearpin.model.position import FieldPath


@rule("CON005", Severity.WARNING, wording=Wording.OF_KIND, titles_of=(), bones_of=())
def near_duplicate_record(linked: LinkedBook) -> Iterator[Fault]:
    """Two records of one kind say almost the same, word for word.

    ## Why
    A correction reaches one and not the other, and a search shows both without saying which to follow.

    ## Hint
    make one record of them, or keep here only what is different and link to the other

    ## Bad
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A steel rod, thinner than the hole, that drives a broken bolt or a pin out of a shaft.
    # kb/terms/driving-rod.yaml
    title: Driving rod
    definition: A steel rod, thinner than the hole, that drives a broken bolt or a pin out of its shaft.
    ```

    ## Good
    ```yaml
    # kb/terms/drift.yaml
    title: Drift
    definition: A steel rod, thinner than the hole, that drives a broken bolt or a pin out of a shaft.
    also: [driving rod]
    ```
    """
    for pair in doubles(linked):
        first = linked.book.file_of[(pair.kind, pair.first)].path
        message = f"{pair.share:.0%} of this {pair.kind} stands word for word in `{pair.first}`"
        yield Fault(
            linked.book.file_of[(pair.kind, pair.second)].path,
            ("title",),
            message,
            "make one record of them, or keep here only what is different and link to the other",
            related=((first, ("title",)),),
        )


def _claims(linked: LinkedBook) -> dict[str, str]:
    """Return the preferred name for each name of two words or more that exactly one term has.

    A single word, such as `rope`, means many things in the company of others; a name that is the title of a record
    is a thing of its own.
    """
    owners: dict[str, set[str]] = defaultdict(set)
    for term in linked.book.terms.values():
        for name in (term.title, *term.also, *term.avoid):
            owners[" ".join(phrase(name))].add(" ".join(phrase(term.title)))
    others = (key for key in linked.book.all_keys() if key[0] != "term")
    titles = {" ".join(phrase(linked.book.title(*key))) for key in others}
    return {
        name: owner.pop()
        for name, owner in owners.items()
        if len(owner) == 1 and " " in name and name not in titles
    }


def _canonical(title: str, preferred: Mapping[str, str], begins: Set[tuple[str, str]]) -> tuple[str, ...]:
    """Return a title with what people also say put into the book's own words; the longest name first.

    `begins` are the first two words of each of these names.
    """
    words = phrase(title)
    places = [place for place, pair in enumerate(pairwise(words)) if pair in begins]
    found: list[str] = []
    index = 0
    for place in places:
        for length in range(min(4, len(words) - place), 1, -1) if place >= index else ():
            name = " ".join(words[place : place + length])
            if name in preferred:
                found += [*words[index:place], *preferred[name].split()]
                index = place + length
                break
    return (*found, *words[index:])


@rule("CON006", Severity.WARNING, wording=Wording.NONE, bones_of=("term",))
def title_that_two_records_have(linked: LinkedBook) -> Iterator[Fault]:
    """Two records of one kind have the same title, or titles that say the same in other words.

    ## Why
    In a list or a search nobody can tell which of the two to open.

    ## Hint
    make one record of them, or say in the titles what tells them apart

    ## Bad
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt that is made to break before anything dearer does.
    also: [shear pin]
    # kb/causes/shear-pin-of-the-auger-sheared.yaml
    title: The shear pin of the auger sheared
    mechanism: A stone has stopped one half of the auger.
    confirmed_by: The two ends of it turn by themselves.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    sources: [bench-notes]
    # kb/causes/auger-shear-bolt-sheared.yaml
    title: Shear bolt of the auger sheared
    mechanism: The bolt has broken as designed, so that half of the auger slips on its shaft.
    confirmed_by: The bolt is in two pieces.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    parts: [auger-shear-bolt]
    sources: [bench-notes]
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - id: broken
        seen: A bolt is broken.
        given: {auger-shear-bolt-sheared: usually, shear-pin-of-the-auger-sheared: rarely}
        otherwise: rarely
      - id: hanging
        seen: Half of a pin hangs in its hole.
        given: {auger-shear-bolt-sheared: never, shear-pin-of-the-auger-sheared: usually}
        otherwise: rarely
      - id: whole
        seen: Both bolts are whole.
        given: {auger-shear-bolt-sheared: rarely, shear-pin-of-the-auger-sheared: rarely}
        otherwise: usually
    sources: [bench-notes]
    # kb/procedures/replace-auger-shear-bolt.yaml
    title: Replace an auger shear bolt
    purpose: The bolt has sheared as designed.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    remedies: [auger-shear-bolt-sheared, shear-pin-of-the-auger-sheared]
    before: [make-machine-safe]
    time: 15 min
    tools: [pin-punch, torque-wrench]
    parts: [{part: auger-shear-bolt}]
    steps:
      - do: Drive the broken bolt out with a pin punch.
      - do: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
    sources: [bench-notes]
    # kb/symptoms/one-side-of-auger-does-not-turn.yaml
    title: One side of the auger does not turn
    summary: One half stands still while the other turns.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: usually}
      - {cause: shear-pin-of-the-auger-sheared, chance: usually}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    preferred = _claims(linked)
    begins = {(words[0], words[1]) for words in map(str.split, preferred)}
    seen: dict[tuple[str, tuple[str, ...]], Key] = {}
    for key in linked.book.all_keys():
        title = linked.book.title(*key)
        called = (key[0], _canonical(title, preferred, begins) if key[0] != "term" else phrase(title))
        other = seen.setdefault(called, key)
        if other != key and called[1]:
            message = f"the {key[0]} `{other[1]}` is called “{linked.book.title(*other)}” too"
            yield Fault(
                linked.book.file_of[key].path,
                ("title",),
                message,
                "make one record of them, or say in the titles what tells them apart",
                related=((linked.book.file_of[other].path, ("title",)),),
            )


@rule("CON007", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=("symptom", MACHINE_FACTS))
def complaint_that_two_symptoms_claim(linked: LinkedBook) -> Iterator[Fault]:
    """Two symptoms of one machine list the same words of a customer.

    ## Why
    The words lead to two test plans, and nothing tells the technician which of them to follow.

    ## Hint
    leave it where it leads right most often, and let `see_also` lead to the other

    ## Bad
    ```yaml
    # kb/symptoms/auger-stands-still.yaml
    title: The whole auger stands still
    summary: Neither half turns.
    said: [half the auger is dead]
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/symptoms/auger-stands-still.yaml
    title: The whole auger stands still
    summary: Neither half turns.
    said: [the auger is dead]
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    sources: [bench-notes]
    ```
    """
    seen: dict[tuple[str, ...], list[tuple[str, int]]] = defaultdict(list)
    for symptom_id, symptom in linked.book.symptoms.items():
        here = linked.applicability.machines_for(symptom.applies_to)
        for index, words in enumerate(symptom.said):
            before = seen[phrase(words)]
            for other, place in before[:1]:
                there = linked.applicability.machines_for(linked.book.symptoms[other].applies_to)
                if other != symptom_id and here & there:
                    message = f"“{words}” is said of the symptom `{other}` too"
                    yield Fault(
                        linked.book.file_of[("symptom", symptom_id)].path,
                        ("said", index),
                        message,
                        "leave it where it leads right most often, and let `see_also` lead to the other",
                        related=((linked.book.file_of[("symptom", other)].path, ("said", place)),),
                    )
            before.append((symptom_id, index))


@rule("CON008", Severity.WARNING, wording=Wording.NONE, titles_of=("term",), bones_of=("term",))
def word_that_two_terms_claim(linked: LinkedBook) -> Iterator[Fault]:
    """A word is the name of one term and stands in another too, as a name or as a misspelling.

    ## Why
    A search for it shows both, and the glossary explains one word as two things.

    ## Hint
    leave it to one term, and name the other in `related`

    ## Bad
    ```yaml
    # kb/terms/breakaway-pin.yaml
    title: Breakaway pin
    definition: A soft pin in the hub of a tine.
    also: [shear pin]
    ```

    ## Good
    ```yaml
    # kb/terms/breakaway-pin.yaml
    title: Breakaway pin
    definition: A soft pin in the hub of a tine.
    also: [tine pin]
    ```
    """
    claims: dict[str, list[tuple[str, FieldPath, str]]] = defaultdict(list)
    for term_id, term in linked.book.terms.items():
        claims[_spelt(term.title)].insert(0, (term_id, ("title",), term.title))
        for field in ("also", "misspellings", "avoid"):
            for index, name in enumerate(getattr(term, field)):
                claims[_spelt(name)].append((term_id, (field, index), name))
    for claimed in claims.values():
        owner, place, _ = claimed[0]
        for term_id, path, name in claimed[1:]:
            if term_id != owner:
                message = f"“{name}” belongs to the term `{owner}` too"
                yield Fault(
                    linked.book.file_of[("term", term_id)].path,
                    path,
                    message,
                    "leave it to one term, and name the other in `related`",
                    related=((linked.book.file_of[("term", owner)].path, place),),
                )


def _spelt(name: str) -> str:
    """Return a name by which claims meet: a plural or another form of a verb may well be another word."""
    return " ".join(name.lower().replace("-", " ").split())


@rule("CON009", Severity.WARNING, wording=Wording.OWN, titles_of=("term",), bones_of=("term",))
def word_the_book_avoids(linked: LinkedBook) -> Iterator[Fault]:
    """A record uses a name that a term lists under `avoid`.

    ## Why
    One thing under two names reads as two things, above all for a reader whose first language is another.

    ## Hint
    write “shear bolt”

    ## Bad
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt that is made to break before anything dearer does.
    avoid: [safety bolt]
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken safety bolts.
    ```

    ## Good
    ```yaml
    # kb/terms/shear-bolt.yaml
    title: Shear bolt
    definition: A bolt that is made to break before anything dearer does.
    avoid: [safety bolt]
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    avoided: dict[str, list[tuple[tuple[str, ...], str, str]]] = defaultdict(list)
    for term_id, term in linked.book.with_word("term", "avoid"):
        for name in term.avoid if isinstance(term, Term) else ():
            words = tuple(word for word, _, _ in words_in(name))
            if words:
                avoided[words[0]].append((words, term_id, term.title))
    if not avoided:
        return
    keys = linked.book.all_keys() if linked.keys is None else sorted(linked.keys)
    titles = (ProseText(key, ("title",), linked.book.title(*key)) for key in keys if linked.book.has(*key))
    for item in chain(titles, linked.prose):
        if item.key[0] == "source":
            continue  # titles and words of others
        for name, start, term_id, title in _avoided_in(item.text, avoided):
            if item.key != ("term", term_id):
                message = f"“{name}” is a name that this book avoids"
                place = linked.book.file_of[("term", term_id)].path
                yield Fault(
                    linked.book.file_of[item.key].path, item.path, message, f"write “{title[:1].lower()}{title[1:]}”",
                    offset=start, related=((place, ("avoid",)),),
                )  # fmt: skip


def _avoided_in(
    text: str, avoided: dict[str, list[tuple[tuple[str, ...], str, str]]]
) -> Iterator[tuple[str, int, str, str]]:
    words = words_in(without_braces(text))
    for index, (word, start, _) in enumerate(words):
        for wanted, term_id, title in avoided.get(word, ()):
            here = words[index : index + len(wanted)]
            if tuple(w for w, _, _ in here) == wanted:
                yield text[start : here[-1][2]], start, term_id, title


@rule(
    "LNG006", Severity.WARNING, wording=Wording.OWN, titles_of=NAMES_OF, bones_of=NAMES_OF,
    narrowing=Narrowing(THINGS, where_piles_may_differ),
)  # fmt: skip
def pile_of_nouns(linked: LinkedBook) -> Iterator[Fault]:
    """More than three names of things stand in a row.

    ## Why
    “Auger gearbox cover bolt thread” must be taken apart from behind to be understood (ASD-STE100 rule 2.1: at most three
    nouns in a row). A name that has a page of its own, or is listed as another name of it, counts as one word.

    ## Hint
    take it apart with `of`, `for` or `on`

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out what the auger bolt punch wrench pin leaves.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out what the wrench leaves of the auger bolt.
    ```
    """
    piles = NounPiles(linked.laid(THINGS))
    for item in linked.prose:
        if item.key[0] != "source":
            for start, words in piles.find(item.text):
                message = f"“{' '.join(words.split())}” is a pile of nouns"
                advice = "take it apart with `of`, `for` or `on`"
                file = linked.book.file_of[item.key].path
                yield Fault(file, item.path, message, advice, offset=start)


DOUBLE_RULES: Final[tuple[AnyRule, ...]] = (
    near_duplicate_record,
    title_that_two_records_have,
    complaint_that_two_symptoms_claim,
    word_that_two_terms_claim,
    word_the_book_avoids,
    pile_of_nouns,
)
