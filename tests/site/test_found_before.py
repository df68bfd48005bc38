"""What rules found that read little wording is used again after an edit of words, and after no other."""

from __future__ import annotations

import re
import shutil
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from shearpin.book.book import Key
from shearpin.book.changed import Changed
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.catalogue import ON_THE_BOOK, RULES
from shearpin.checks.rule import MACHINE_FACTS, AnyRule, Fault, Found, Wording
from shearpin.inspection import WARNINGS
from shearpin.model.fields import Fields
from shearpin.model.keptfile import KeptFile
from shearpin.model.machines import Plated
from shearpin.model.pieces import Claims
from shearpin.model.references import inline_attributes
from shearpin.site.earlier import Earlier
from shearpin.site.found_before import Again, still_found, to_be_kept
from shearpin.site.traces import Traces
from shearpin.site.writing import since
from tests.rule_cases import ALL_CASES
from tests.sound_book import lay_over, read_over

WORDLESS = [rule for rule in ON_THE_BOOK if rule.wording is Wording.NONE]
_OUTSIDE_MENTIONS = re.compile(r"\{[^}]*\}|[A-Za-z]+")


def in_other_words(value: Any, *, prose: bool = False) -> Any:
    """Return a record with other words of another length in its prose, and the same mentions."""
    if isinstance(value, str) and prose:
        return "Well: " + _OUTSIDE_MENTIONS.sub(
            lambda found: found[0] if found[0].startswith("{") else f"{found[0][::-1]}x", value
        )
    if isinstance(value, tuple):
        return tuple(in_other_words(each, prose=prose) for each in value)
    if isinstance(value, Fields):
        told = inline_attributes(type(value)) - {"title"}
        changed = {
            name: in_other_words(each, prose=name in told) for name, each in value.__dict__.items() if each
        }
        return value.model_copy(update=changed)
    return value


def reworded(linked: LinkedBook, keys: Collection[Key]) -> LinkedBook:
    files = (
        replace(file, record=in_other_words(file.record))
        if file.record is not None and (file.kind.name, file.id) in keys
        else file
        for file in linked.book.files
    )
    return LinkedBook(replace(linked.book, files=tuple(files), facts={}))


def found_by(rule: AnyRule, linked: LinkedBook) -> Found:
    return tuple((rule.code, fault) for fault in rule.find(linked))


BOOKS: list[tuple[str, Mapping[str, Any]]] = [
    *((rule.code, dict(example.files)) for rule in RULES.values() for example in rule.bad),
    *((str(case), case.files) for case in ALL_CASES),
]


def in_its_place(faults: Found) -> set[tuple[str, Fault]]:
    """Return faults without their place in a text, which other words before it move."""
    return {(code, replace(fault, offset=0)) for code, fault in faults}


def test_what_rules_find_that_read_no_wording_hangs_on_none(tmp_path: Path) -> None:
    """Over every faulty book that there is; each such rule finds something in one of them."""
    finding: set[str] = set()
    for number, (name, files) in enumerate(BOOKS):
        linked = read_over(tmp_path / str(number), files)
        other = reworded(linked, list(linked.book.file_of))
        for rule in WORDLESS:
            found = found_by(rule, linked)
            assert in_its_place(found_by(rule, other)) == in_its_place(found), f"{rule.code} in {name}"
            finding |= {rule.code} if found else set()
    assert finding == {rule.code for rule in WORDLESS}


def test_what_is_found_still_is_what_is_found_in_the_whole_book(tmp_path: Path) -> None:
    """Over every faulty book, of which every other record, or each, has other words; each rule that reads some finds something."""
    rules = [rule for rule in ON_THE_BOOK if rule.wording is not Wording.ANY]
    finding: set[str] = set()
    for number, (name, files) in enumerate(BOOKS):
        linked = read_over(tmp_path / str(number), files)
        keys = sorted(linked.book.file_of)
        for changed in (keys[::2], keys[1::2], keys):
            other = reworded(linked, changed)
            again = Again(other, Changed(tuple(changed)))
            for rule in rules:
                now, still = found_by(rule, other), again.found(rule, found_by(rule, linked))
                assert still is None or sorted(still, key=str) == sorted(now, key=str), (
                    f"{rule.code} in {name}"
                )
                finding |= {rule.code} if now and still is not None else set()
    assert finding >= {rule.code for rule in rules if rule.wording is not Wording.NONE}


def otherwise(value: Any) -> Any:
    """Return a record with another title, and shorter lists and mappings, wherever they have several entries."""
    if isinstance(value, tuple):
        return tuple(otherwise(each) for each in value[: max(1, len(value) - 1)])
    if isinstance(value, dict):
        return dict([(name, otherwise(each)) for name, each in value.items()][: max(1, len(value) - 1)])
    if isinstance(value, Fields):
        changed = {name: otherwise(each) for name, each in value.__dict__.items() if each}
        if "title" in changed:
            changed["title"] = f"{changed['title']} anew"
        return value.model_copy(update=changed)
    return value


NAMING_KINDS = [rule for rule in ON_THE_BOOK if rule.bones_of is not None and rule.wording is not Wording.ANY]
ON_ALL_TITLES = {"CON006"}
"""The rule that hangs on the titles of every kind, so that no other title leaves it as it is."""


def of_kind_changed(kind: str, keys: Sequence[Key]) -> Changed:
    """Return a change of titles and bones of these records of a kind, the only ones that changed."""
    facts = {MACHINE_FACTS} if kind in ("machine", "engine") else set()
    return Changed(tuple(keys), frozenset({kind}), frozenset({kind, *facts}))


def kept_rightly(again: Again, before: Mapping[str, Found], now: LinkedBook, told: str) -> set[str]:
    """Return the codes of the rules that find something still, after a look that it is what they find in the whole book."""
    kept = set()
    for rule in NAMING_KINDS:
        still = again.found(rule, before[rule.code])
        if still is not None:
            found = found_by(rule, now)
            assert sorted(still, key=str) == sorted(found, key=str), f"{rule.code}, {told}"
            kept |= {rule.code} if found else set()
    return kept


def derived_from(linked: LinkedBook) -> dict[str, Any]:
    both = [(rule.groundwork, rule.narrowing and rule.narrowing.groundwork) for rule in NAMING_KINDS]
    laid = {groundwork for each in both for groundwork in each if groundwork is not None}
    return {groundwork.name: linked.laid(groundwork) for groundwork in laid}


def with_another(linked: LinkedBook, key: Key) -> LinkedBook:
    files = (
        replace(file, record=otherwise(file.record))
        if file.record is not None and (file.kind.name, file.id) == key
        else file
        for file in linked.book.files
    )
    return LinkedBook(replace(linked.book, files=tuple(files), facts={}))


def without_one_figure(linked: LinkedBook, key: Key) -> LinkedBook:
    """Return the book in which a machine or an engine records one value less; no condition holds for another machine then."""
    files = []
    for file in linked.book.files:
        if isinstance(file.record, Plated) and (file.kind.name, file.id) == key:
            left = dict(list(file.record.values.items())[1:])
            file = replace(file, record=file.record.model_copy(update={"values": left}))
        files.append(file)
    return LinkedBook(replace(linked.book, files=tuple(files), facts={}))


def without(linked: LinkedBook, key: Key) -> LinkedBook:
    files = tuple(file for file in linked.book.files if (file.kind.name, file.id) != key)
    return LinkedBook(replace(linked.book, files=files, facts={}))


def of_other_bones(linked: LinkedBook, kind: str) -> LinkedBook:
    files = (
        replace(file, record=otherwise(file.record))
        if file.record is not None and file.kind.name == kind
        else file
        for file in linked.book.files
    )
    return LinkedBook(replace(linked.book, files=tuple(files), facts={}))


def test_what_hangs_on_other_kinds_alone_is_found_still(tmp_path: Path) -> None:
    """Over every faulty book, each kind of record in turn with other titles and bones; every rule that names kinds is kept for some."""
    kept: set[str] = set()
    for number, (name, files) in enumerate(BOOKS):
        linked = read_over(tmp_path / str(number), files)
        keys = sorted(linked.book.file_of)
        found = {rule.code: found_by(rule, linked) for rule in NAMING_KINDS}
        for kind in sorted({kind for kind, _ in keys}):
            other = of_other_bones(linked, kind)
            changed = of_kind_changed(kind, [key for key in keys if key[0] == kind])
            again = Again(other, changed, derived_from(linked))
            kept |= kept_rightly(again, found, other, f"{kind} in {name}")
    assert kept == {rule.code for rule in NAMING_KINDS} - ON_ALL_TITLES


def test_what_is_found_after_one_record_was_changed_taken_away_or_added(tmp_path: Path) -> None:
    """Over every faulty book, each of its own records in turn: with another title and bones, one figure less, not there any more, and there before."""
    kept: set[str] = set()
    for number, (name, files) in enumerate(BOOKS):
        linked = read_over(tmp_path / str(number), files)
        found = {rule.code: found_by(rule, linked) for rule in NAMING_KINDS}
        for file in (each for each in linked.book.files if each.path in files and not each.broken):
            key = (file.kind.name, file.id)
            changed = of_kind_changed(file.kind.name, [key])
            other = with_another(linked, key)
            derived = derived_from(linked)
            kept |= kept_rightly(Again(other, changed, derived), found, other, f"{key} changed in {name}")
            if isinstance(file.record, Plated):
                fewer, figures = without_one_figure(linked, key), Changed((key,), bones=frozenset({key[0]}))
                again = Again(fewer, figures, derived)
                kept |= kept_rightly(again, found, fewer, f"a figure gone from {key} in {name}")
            less = without(linked, key)
            kept |= kept_rightly(Again(less, changed, derived), found, less, f"{key} gone from {name}")
            before = {rule.code: found_by(rule, less) for rule in NAMING_KINDS}
            again = Again(linked, changed, derived_from(less))
            kept |= kept_rightly(again, before, linked, f"{key} new in {name}")
    own = {rule.code for rule in NAMING_KINDS if rule.wording is Wording.OWN}
    assert kept >= own


KB = Path(__file__).resolve().parents[2] / "kb"
TITLES = ("Idler spring hook", "Fuel line screen", "Pin punch", "Öse", "Auger belt idler spring", "Cover")


@pytest.mark.parametrize("title", TITLES)
def test_piles_of_nouns_are_looked_for_where_other_names_of_things_stand(tmp_path: Path, title: str) -> None:
    """Over the demonstration book as it is kept, in which texts are told without their records: one part is called otherwise."""
    kb = Path(shutil.copytree(KB, tmp_path / "kb", copy_function=shutil.copyfile))
    text = kb / "procedures/replace-auger-belt-single-stage.yaml"
    pile = f"{title.lower()} auger belt idler pulley"
    text.write_text(text.read_text(encoding="utf-8").replace("purpose: ", f"purpose: The {pile} is new. ", 1))
    load_linked(kb, "kb")
    before = load_linked(kb, "kb")
    rule = RULES["LNG006"]
    found, derived = found_by(rule, before), derived_from(before)
    path = min((kb / "parts").glob("*.yaml"))
    path.write_text(re.sub("^title: .*", f"title: {title}", path.read_text(encoding="utf-8"), flags=re.M))
    now = load_linked(kb, "kb")
    still = Again(now, of_kind_changed("part", [("part", path.stem)]), derived).found(rule, found)
    waiting = sum(isinstance(file, KeptFile) and file.waits for file in now.book.files)
    assert (waiting > 0) == title.isascii()
    assert sorted(still or (), key=str) == sorted(found_by(rule, load_linked(kb, "kb")), key=str)
    assert still


def test_titles_alone_are_what_a_rule_on_titles_hangs_on(tmp_path: Path) -> None:
    linked = read_over(tmp_path, {})
    changed = (("procedure", "replace-auger-shear-bolt"),)
    again = Again(linked, Changed(changed, bones=frozenset({"procedure"})))
    assert again.found(RULES["CON006"], ()) == ()
    again = Again(linked, Changed(changed, titles=frozenset({"procedure"})))
    assert again.found(RULES["CON006"], ()) is None


def test_a_file_that_a_fault_speaks_of_and_that_is_called_otherwise_is_asked_about_again(
    tmp_path: Path,
) -> None:
    linked = read_over(tmp_path, {})
    again = Again(linked, Changed((("tool", "pin-punch"),), bones=frozenset({"tool"})))
    gone = (("CON006", Fault("causes/old-name.yaml", ("title",), "called alike")),)
    assert again.found(RULES["CON006"], gone) is None


def test_the_other_words_are_other_words(tmp_path: Path) -> None:
    linked = load_linked(lay_over(tmp_path, {}))
    before = linked.book.procedures["replace-auger-shear-bolt"]
    after = reworded(linked, list(linked.book.file_of)).book.procedures["replace-auger-shear-bolt"]
    assert all(step.do != other.do for step, other in zip(before.steps, after.steps, strict=True))
    assert "{auger-shear-bolt.torque}" in " ".join(step.do for step in after.steps)
    assert after.title == before.title


CHANGES: dict[str, tuple[str, str, str, tuple[set[str], set[str]] | None]] = {
    "words": ("procedures/replace-auger-shear-bolt.yaml", "purpose: ", "purpose: Now. ", (set(), set())),
    "a value that is mentioned": (
        "procedures/replace-auger-shear-bolt.yaml",
        "{auger-shear-bolt.torque}",
        "the torque",
        (set(), {"procedure"}),
    ),
    "a title": ("tools/pin-punch.yaml", "title: ", "title: Long ", ({"tool"}, set())),
    "a figure": ("machines/brook-d24.yaml", "is: ", "is: 1", (set(), {"machine"})),
    "a file that cannot be read": ("tools/pin-punch.yaml", "title: ", "title: [", None),
}


@pytest.mark.parametrize(("path", "old", "new", "others"), CHANGES.values(), ids=CHANGES)
def test_what_was_found_is_used_again_where_nothing_that_it_hangs_on_was_edited(
    tmp_path: Path, path: str, old: str, new: str, others: tuple[set[str], set[str]] | None
) -> None:
    """`others` are the kinds of which a title, and of which the bones are others; None where nothing is used again."""
    kb, site = lay_over(tmp_path, {}), tmp_path / "site"
    site.mkdir()
    linked = load_linked(kb, "kb")
    before = since(site, Earlier(kb, site, "one").notes, linked)
    assert still_found(b"", before) == {}
    found = {rule.code: found_by(rule, linked) for rule in WORDLESS}
    packed = to_be_kept(found, before)
    Earlier(kb, site, "one").keep(before.ledger.present(), Traces(), packed)
    file = kb / path
    content = file.read_text(encoding="utf-8")
    assert old in content
    file.write_text(content.replace(old, new, 1), encoding="utf-8")
    notes = Earlier(kb, site, "one").notes
    still = still_found(notes.found, since(site, notes, load_linked(kb, "kb")))
    hanging = {
        rule.code
        for rule in WORDLESS
        if others is None or (rule.groundwork is None and rule.hangs_on(*others))
    }
    assert still == {code: faults for code, faults in found.items() if code not in hanging}
    assert (hanging == set()) == (path.startswith("procedures") and old == "purpose: ")


def test_a_record_that_is_new_or_gone_leaves_what_hangs_on_none_of_its_kind(tmp_path: Path) -> None:
    kb, site = lay_over(tmp_path, {}), tmp_path / "site"
    site.mkdir()
    before = since(site, Earlier(kb, site, "one").notes, load_linked(kb, "kb"))
    packed = to_be_kept({"DIA007": (), "REF007": (), "DIA005": ()}, before)
    Earlier(kb, site, "one").keep(before.ledger.present(), Traces(), packed)
    notes = Earlier(kb, site, "one").notes
    (kb / "tools/pin-punch.yaml").rename(kb / "tools/long-punch.yaml")
    assert still_found(notes.found, since(site, notes, load_linked(kb, "kb"))) == {"DIA007": (), "DIA005": ()}


def test_what_is_dropped_is_handed_out_no_more() -> None:
    claims = Claims(len(WARNINGS))
    claims.drop([0, 2])
    numbers = iter(claims)
    assert next(numbers) == 1
    claims.drop([3])
    assert list(numbers) == list(range(4, len(WARNINGS)))
    claims.close()
