"""A build that takes over what has not changed gives, byte for byte, the site that a clean build gives.

SHEARPIN_REBUILDS=300 pytest tests/site/test_rebuilds.py -k demonstration    the long run, over the demonstration book
"""

from __future__ import annotations

import os
import random
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from shearpin.book import keptrecords
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.checks.rule import Found
from shearpin.diagnosis.history import History
from shearpin.diagnosis.model_rules import MODEL_RULES
from shearpin.inspection import WARNINGS, Inspection, inspect_book
from shearpin.model import usercache
from shearpin.model.finding import Finding
from shearpin.site import ahead, making, writing
from shearpin.site import earlier as earlier_site
from shearpin.site import pages as pages_of_site
from shearpin.site.ahead import Ahead
from shearpin.site.earlier import Earlier, Notes
from shearpin.site.folders import partial_folder, remove_previous, take_place
from shearpin.site.found_before import still_found, to_be_kept
from shearpin.site.html import text
from shearpin.site.pages import Page, Planned, all_pages
from shearpin.site.writing import Material, Written, put_aside, since, start_index, write_site
from tests.conftest import ROOT
from tests.site.edits import Editor
from tests.sound_book import SOUND_BOOK

_NEVER = 1_000_000


class PlainShells:
    """Stands for the theme, of which a page's body is independent."""

    def content(self, page: Page) -> bytes:
        assert page.encoded in (None, page.body.encode())
        return self.wrap(page).encode()

    def wrap(self, page: Page) -> str:
        return f"<title>{text(page.title)}</title>{page.body}"

    def size(self, url: str) -> int:
        return len("<title></title>")

    def mark(self, url: str, *, bare: bool = False) -> bytes:
        return b"" if bare else b"plain"


def build(kb: Path, site: Path, *, afresh: bool = False) -> Written:
    """Build as the plugin does; `afresh` uses nothing that is kept."""
    with pytest.MonkeyPatch.context() as patch:
        for module in (keptrecords, writing):
            patch.setattr(module, "WORTH_KEEPING", _NEVER if afresh else 1)
        for each in (writing, ahead):
            patch.setattr(each, "WORTH_SPARING", 1)
        linked = load_linked(kb, "kb")
        earlier = Earlier(kb, site, str(site))
        notes = Notes() if afresh else earlier.notes
        now = partial_folder(site)
        there = content(site)
        patch.setattr(ahead, "shares_for", lambda files: 2)
        before = since(site, notes, linked, Ahead(site, now, wanted=not afresh))
        known = still_found(notes.found, before)
        found, findings = _inspected(linked, known)
        assert findings == inspect_book(linked)
        material = Material(linked, findings)
        written = write_site(
            material, PlainShells(), now, before, start_index(linked, now, None if afresh else site)
        )  # type: ignore[arg-type]
        assert content(site) == there, "the site before was written into"
        for rule in MODEL_RULES:  # what is kept of them with pages
            assert tuple(rule.find(before.watched)) == tuple(rule.find(linked)), rule.code
        previous = take_place(now, site)
        if previous is not None and not afresh:
            put_aside(previous, site, written)
        remove_previous(previous)
        if not afresh:
            kept = to_be_kept({**known, **found}, before)
            earlier.keep(before.ledger.present(), written.traces, kept)
        return written


def _inspected(
    linked: LinkedBook, known: Mapping[str, Found]
) -> tuple[Mapping[str, Found], tuple[Finding, ...]]:
    """Return what rules find that are not known and may be kept, and all findings."""
    inspection = Inspection(linked)
    inspection.errors(known)
    left = [number for number, rule in enumerate(WARNINGS) if rule.code not in known]
    warnings = inspection.warnings_found(left)
    warnings |= {number: known[rule.code] for number, rule in enumerate(WARNINGS) if rule.code in known}
    return inspection.found_to_keep(warnings), inspection.all_findings(warnings)


def content(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()
    }


def assert_same_as_afresh(kb: Path, site: Path, after: str) -> None:
    clean = site.with_name("clean")
    build(kb, clean, afresh=True)
    found, wanted = content(site), content(clean)
    assert found.keys() == wanted.keys(), after
    assert [name for name in wanted if found[name] != wanted[name]] == [], after


def edit_and_compare(sound: Path, folder: Path, seed: int, edits: int) -> int:
    """Build after each of some random edits; return how many pages were taken over."""
    kb, site = folder / "kb", folder / "site"
    shutil.copytree(sound, kb, copy_function=shutil.copyfile)
    build(kb, site)
    editor = Editor(kb, sound, random.Random(seed))
    taken_over = 0
    history: list[str] = []
    for _ in range(edits):
        history.append(editor.edit())
        written = build(kb, site)
        taken_over += written.files - written.made
        assert_same_as_afresh(kb, site, "\n".join(history))
    return taken_over


@pytest.fixture
def kb(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SOUND_BOOK, tmp_path / "kb", copy_function=shutil.copyfile))


@pytest.mark.parametrize("seed", range(3))
def test_after_any_edits_the_site_is_that_of_a_clean_build(seed: int, tmp_path: Path) -> None:
    assert edit_and_compare(SOUND_BOOK, tmp_path, seed, 4) > 0


@pytest.mark.skipif(
    "SHEARPIN_REBUILDS" not in os.environ, reason="a long run, asked for by SHEARPIN_REBUILDS=300"
)
def test_after_any_edits_the_demonstration_book_is_that_of_a_clean_build(tmp_path: Path) -> None:
    edits = int(os.environ["SHEARPIN_REBUILDS"])
    seed = int(os.environ.get("SHEARPIN_SEED", "1"))
    assert edit_and_compare(ROOT / "kb", tmp_path, seed, edits) > 0


def test_nothing_changed_makes_no_page_and_leaves_every_file(kb: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    build(kb, site)
    before = {path: (path.stat().st_mtime_ns, path.stat().st_ino) for path in site.rglob("*.*")}
    assert build(kb, site).made == 0
    assert {path: (path.stat().st_mtime_ns, path.stat().st_ino) for path in site.rglob("*.*")} == before


def test_an_edit_makes_few_pages_and_writes_no_other(kb: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    build(kb, site)
    before = {path: path.stat().st_mtime_ns for path in site.rglob("*.html")}
    punch = kb / "tools/pin-punch.yaml"
    punch.write_text(punch.read_text(encoding="utf-8").replace("title:", "title: Long"), encoding="utf-8")
    written = build(kb, site)
    assert 0 < written.made < written.files / 2
    assert build(kb, site).made == 0  # those too that came out as they were
    assert 0 < sum(path.stat().st_mtime_ns != before[path] for path in before) <= written.made
    assert_same_as_afresh(kb, site, "a longer title")


def test_a_symptom_that_is_of_fewer_machines_now_is_made_anew(tmp_path: Path) -> None:
    """Of the machines that it is of no more there was a plan."""
    kb, site = (
        Path(shutil.copytree(ROOT / "kb", tmp_path / "kb", copy_function=shutil.copyfile)),
        tmp_path / "site",
    )
    build(kb, site)
    symptom = kb / "symptoms/one-side-of-auger-does-not-turn.yaml"
    text = symptom.read_text(encoding="utf-8")
    fewer = re.sub(
        r"^applies_to: .*$", "applies_to: {class: two-stage, fitted: [tracks]}", text, flags=re.MULTILINE
    )
    assert fewer != text
    symptom.write_text(fewer, encoding="utf-8")
    build(kb, site)
    assert_same_as_afresh(kb, site, "fewer machines")


def _give_title(kb: Path, machine: str, title: str) -> None:
    file = kb / f"machines/{machine}.yaml"
    content = file.read_text(encoding="utf-8")
    file.write_text(re.sub(r"^title: .*$", f"title: {title}", content, flags=re.MULTILINE), encoding="utf-8")


def test_machines_stand_in_their_new_order_when_one_has_another_title(tmp_path: Path) -> None:
    """Which machines a page is for is worked out once for many pages: each hangs on their order."""
    kb = Path(shutil.copytree(ROOT / "kb", tmp_path / "kb", copy_function=shutil.copyfile))
    site = tmp_path / "site"
    build(kb, site)
    _give_title(kb, "osmere-d24", "Tarnbrook S30")
    build(kb, site)
    assert_same_as_afresh(kb, site, "the first machine is the last")


@pytest.fixture
def made_anew(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The addresses of pages that were made from their records, as opposed to those on which titles were put in again."""
    found: list[str] = []
    made = making._made

    def note(page: Planned, *others: Any) -> Any:
        found.append(page.url)
        return made(page, *others)

    monkeypatch.setattr(making, "_made", note)
    monkeypatch.setattr(making, "shares_for", lambda pages: 1)  # what another process notes is not seen here
    return found


@pytest.fixture
def demonstration(tmp_path: Path) -> Path:
    return Path(shutil.copytree(ROOT / "kb", tmp_path / "kb", copy_function=shutil.copyfile))


def test_pages_are_the_same_as_with_the_titles_of_machines_written_at_once(
    demonstration: Path, tmp_path: Path
) -> None:
    site = tmp_path / "site"
    build(demonstration, site)
    linked = load_linked(demonstration, "kb")
    pages = list(all_pages(linked, inspect_book(linked), History(linked, ())))
    assert len(pages) > 300
    assert not [page.url for page in pages if (site / page.url).read_bytes() != PlainShells().content(page)]
    for path in site.rglob("*.*"):  # JSON would spell the sign out
        assert not re.search(rb"\x02|\\u0002", path.read_bytes()), path


def test_another_title_of_a_machine_is_put_into_pages_that_are_else_taken_over(
    demonstration: Path, tmp_path: Path, made_anew: list[str]
) -> None:
    site = tmp_path / "site"
    build(demonstration, site)
    for title in ("Osmere D24 <b>&</b> Söhne", "Osmere D24 E " + "of the long name " * 9, "Osmere D24 F"):
        _give_title(demonstration, "osmere-d24", title)
        made_anew.clear()
        written = build(demonstration, site)
        assert written.made > 100
        assert len(made_anew) < written.made / 3, title
        assert_same_as_afresh(demonstration, site, title)
        assert build(demonstration, site).made == 0


def test_another_energy_that_a_caution_covers_concerns_systems_with_that_energy_alone(
    demonstration: Path, tmp_path: Path, made_anew: list[str]
) -> None:
    site = tmp_path / "site"
    build(demonstration, site)
    file = demonstration / "cautions/noise.yaml"
    content = file.read_text(encoding="utf-8")
    more = content.replace("covers:\n", "covers:\n  energies: [rotating-tines]\n")
    assert more != content
    for now in (more, content):
        file.write_text(now, encoding="utf-8")
        made_anew.clear()
        build(demonstration, site)
        assert [url for url in made_anew if url.startswith("systems/")] == ["systems/tines.html"]
        assert_same_as_afresh(demonstration, site, now)


def test_another_message_of_a_caution_is_put_into_pages_that_are_else_taken_over(
    demonstration: Path, tmp_path: Path, made_anew: list[str]
) -> None:
    site, file = tmp_path / "site", demonstration / "cautions/spring-tension.yaml"
    build(demonstration, site)
    first = file.read_text(encoding="utf-8")
    edits = {
        "other words": (re.sub(r"^hazard: .*$", "hazard: A <spring> flies off.", first, flags=re.M), True),
        "another title": (re.sub(r"^title: .*$", "title: Springs & levers", first, flags=re.M), True),
        "a value in its words": (re.sub(r"^hazard: .*$", "hazard: At {auger-belt.deflection} it flies off.", first, flags=re.M), False),
        "for some machines": (first + "applies_to: {class: two-stage}\n", False),
        "for all again": (first, False),
    }  # fmt: skip
    for what, (content_now, alone) in edits.items():
        file.write_text(content_now, encoding="utf-8")
        made_anew.clear()
        written = build(demonstration, site)
        shown = [
            url
            for url in written.addresses
            if url.startswith(("procedures/", "tests/")) and "index" not in url
        ]
        assert len(shown) > 20, what
        # Those that have it at a step are made anew in any case: it stands in their JSON.
        anew = len({*shown}.intersection(made_anew))
        assert (anew < len(shown) / 2) == alone, what
        assert_same_as_afresh(demonstration, site, what)


def test_a_title_that_makes_a_page_too_heavy_makes_it_anew(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, made_anew: list[str]
) -> None:
    site = tmp_path / "site"
    build(kb, site)
    page = "procedures/replace-auger-shear-bolt.html"
    most = (site / page).stat().st_size - PlainShells().size(page) + 20
    monkeypatch.setattr(pages_of_site, "MOST_BYTES", most)
    monkeypatch.setattr(making, "MOST_BYTES", most)
    for title, heavy in (
        ("Brook D24 E", False),
        ("Brook " * 30, True),
        ("Brook D24", True),
        ("Brook D26", False),
    ):
        _give_title(kb, "brook-d24", title)
        made_anew.clear()
        build(kb, site)
        assert (page in made_anew) == heavy, title
        assert_same_as_afresh(kb, site, title)


def test_a_page_that_was_touched_before_a_machine_had_another_title_is_made_anew(
    kb: Path, tmp_path: Path, made_anew: list[str]
) -> None:
    site = tmp_path / "site"
    build(kb, site)
    page = site / "procedures/replace-auger-shear-bolt.html"
    page.write_bytes(page.read_bytes().replace(b"bolt", b"belt"))
    _give_title(kb, "brook-d24", "Brook D24 E")
    made_anew.clear()
    build(kb, site)
    assert "procedures/replace-auger-shear-bolt.html" in made_anew
    assert_same_as_afresh(kb, site, "a touched page")


def test_titles_are_put_in_by_several_processes(
    demonstration: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = tmp_path / "site"
    build(demonstration, site)
    monkeypatch.setattr(making, "shares_for", lambda pages: 2)
    _give_title(demonstration, "osmere-d24", "Osmere D24 E")
    build(demonstration, site)
    assert_same_as_afresh(demonstration, site, "several processes")
    assert build(demonstration, site).made == 0


def _kept(kb: Path, site: Path) -> list[Path]:
    return [path for path in usercache.cache_of(kb).rglob("*") if path.is_file()]


def _flip(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)


DAMAGE: dict[str, Callable[[Path], object]] = {
    "a flipped bit": _flip,
    "cut short": lambda path: path.write_bytes(path.read_bytes()[:-7]),
    "empty": lambda path: path.write_bytes(b""),
    "something else": lambda path: path.write_bytes(b"\x80\x05not ours" * 20),
}


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_a_damaged_cache_changes_nothing(kb: Path, tmp_path: Path, damage: Callable[[Path], object]) -> None:
    site = tmp_path / "site"
    build(kb, site)
    files = _kept(kb, site)
    assert len(files) > 3
    for path in files:
        damage(path)
    written = build(kb, site)
    assert written.made == written.files
    assert_same_as_afresh(kb, site, "damage")


def test_a_page_that_was_touched_in_the_site_is_made_anew(kb: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    build(kb, site)
    pages = sorted(site.glob("*/*.html"))
    pages[0].write_text("touched")
    pages[1].unlink()
    pages[2].unlink()
    pages[2].symlink_to(pages[3])
    assert build(kb, site).made == 3
    assert_same_as_afresh(kb, site, "touched pages")


def test_two_builds_at_once_are_both_whole(kb: Path, tmp_path: Path) -> None:
    program = "import sys; from pathlib import Path; from tests.site.test_rebuilds import build; build(*map(Path, sys.argv[1:]))"
    editor = Editor(kb, SOUND_BOOK, random.Random(5))
    sites = [tmp_path / "first", tmp_path / "second"]
    for _ in range(2):
        what = editor.edit()
        command = [sys.executable, "-c", program, str(kb)]
        both = [subprocess.Popen([*command, str(site)], cwd=ROOT) for site in sites]
        assert [each.wait() for each in both] == [0, 0]
        for site in sites:
            assert_same_as_afresh(kb, site, what)


def test_another_program_takes_nothing_over(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = tmp_path / "site"
    build(kb, site)
    monkeypatch.setattr(earlier_site, "program_digest", lambda: "another")
    written = build(kb, site)
    assert written.made == written.files


def test_without_a_cache_every_page_is_made(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SHEARPIN_CACHE", str(kb / "tools/pin-punch.yaml/no folder"))
    site = tmp_path / "site"
    build(kb, site)
    written = build(kb, site)
    assert written.made == written.files
    assert_same_as_afresh(kb, site, "no cache")


def test_without_hard_links_pages_are_copied(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*names: object, **options: object) -> None:
        raise OSError("not on this file system")

    monkeypatch.setattr(os, "link", refuse)
    site = tmp_path / "site"
    build(kb, site)
    assert build(kb, site).made == 0
    assert build(kb, site).made == 0
    assert_same_as_afresh(kb, site, "copies")


@pytest.mark.filterwarnings(
    "ignore::DeprecationWarning"
)  # a fork beside the threads of a parallel run of the tests
@pytest.mark.parametrize("shares", [2, 3])
def test_several_processes_make_the_same_pages_and_notes(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shares: int
) -> None:
    site = tmp_path / "site"
    monkeypatch.setattr(making, "shares_for", lambda pages: shares)
    build(kb, site)
    assert_same_as_afresh(kb, site, "shares")
    editor = Editor(kb, SOUND_BOOK, random.Random(shares))
    for _ in range(3):
        what = editor.edit()
        build(kb, site)
        assert_same_as_afresh(kb, site, what)
