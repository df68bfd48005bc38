"""An index that is renewed is the one that would be made afresh, to the byte, and is renewed where it can be."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from shearpin.book.linked import load_linked
from shearpin.model.usercache import cache_of
from shearpin.search import blocks, cards, keptrows, term_files
from shearpin.search.exporting import put_files
from shearpin.search.renewing import renewed_index
from shearpin.site.writing import make_index
from tests.sound_book import SOUND_BOOK

BOLT = "procedures/replace-auger-shear-bolt.yaml"
_FEW_WORDS = (
    "auger",
    "belt",
    "wobbles",
    "Zyx",
    "carburetor",
    "7/16",
    "12 N·m",
    "won't",
    "co-op",
    "+plus",
    "bolt's",
)


@pytest.fixture
def kb(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book the index of which is cut into many small files, and the numbers of which into many small blocks."""
    monkeypatch.setattr("shearpin.site.writing.WORTH_KEEPING", 1)
    monkeypatch.setattr(term_files, "_BYTES", 60)
    monkeypatch.setattr(cards, "_SMALL_BOOK_BYTES", 300)
    monkeypatch.setattr(term_files, "_LONG", 3)
    monkeypatch.setattr(blocks, "_BLOCK", 5)
    monkeypatch.setattr(blocks, "_STEP", 4)
    return Path(shutil.copytree(SOUND_BOOK, tmp_path / "kb", copy_function=shutil.copyfile))


@pytest.fixture(params=["as a whole", "in its place"])
def _as_a_whole_and_in_place(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """A record more or less mostly gives fields of a small book another mean length, and all lists are others: here it does not."""
    if request.param == "in its place":
        monkeypatch.setattr(keptrows, "rounded_mean", lambda total, count: 9.0)


def index_of(site: Path) -> dict[str, str]:
    return {path.name: path.read_text(encoding="utf-8") for path in (site / "index").iterdir()}


def afresh(kb: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    site = kb.with_name("afresh")
    shutil.rmtree(site, ignore_errors=True)
    with monkeypatch.context() as patch:
        patch.setattr("shearpin.site.writing.WORTH_KEEPING", 1_000_000)
        make_index(load_linked(kb, "kb"), site)
    return index_of(site)


def in_other_words(path: Path, chance: random.Random) -> None:
    """Put words into, or take words out of, a line of prose."""
    lines = path.read_text(encoding="utf-8").splitlines()
    prose = [
        n
        for n, line in enumerate(lines)
        if re.match(r"\s*(- )?(do|summary|purpose|outcome|hazard|definition): ", line)
    ]
    number = chance.choice(prose)
    head, words = re.fullmatch(r"(\s*(?:- )?\w+: )(.*)", lines[number], re.DOTALL).groups()  # type: ignore[union-attr]
    said = words.strip("'\"").split(" ")
    if chance.random() < 0.5 and len(said) > 3 and not any("{" in word or ":" in word for word in said):
        del said[chance.randrange(1, len(said) - 1)]
    else:
        said.insert(1, chance.choice(_FEW_WORDS))
    lines[number] = head + '"' + " ".join(said).replace('"', "") + '"'
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


@pytest.mark.parametrize("seed", range(2))
def test_after_any_edits_of_words_the_index_is_one_made_afresh(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    chance = random.Random(seed)
    site = tmp_path / "site 0"
    make_index(load_linked(kb, "kb"), site)
    paths = [
        p
        for folder in ("procedures", "tools", "cautions", "terms", "tests")
        for p in sorted((kb / folder).glob("*.yaml"))
    ]
    renewed = 0
    for number in range(1, 9):
        for path in chance.sample(paths, chance.choice((1, 1, 2))):
            in_other_words(path, chance)
        linked = load_linked(kb, "kb")
        now = tmp_path / f"site {number}"
        found = renewed_index(linked, now, cache_of(kb), site)
        if found is None:
            assert not now.exists()
            make_index(linked, now, before=site)
        renewed += found is not None
        site = now
        assert index_of(site) == afresh(kb, monkeypatch)
    assert renewed > 2


def test_an_index_is_renewed_in_its_place(kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    site = tmp_path / "site"
    make_index(load_linked(kb, "kb"), site)
    before = {path.name: path.stat().st_ino for path in (site / "index").iterdir()}
    (kb / BOLT).write_text((kb / BOLT).read_text().replace("sheared", "wobbled", 1))
    assert renewed_index(load_linked(kb, "kb"), site, cache_of(kb), None) == len(index_of(site))
    assert index_of(site) == afresh(kb, monkeypatch)
    same = [path.name for path in (site / "index").iterdir() if path.stat().st_ino == before.get(path.name)]
    assert 0 < len(same) < len(before)


def test_nothing_changed_writes_nothing(kb: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    make_index(load_linked(kb, "kb"), site)
    before = {path: path.stat() for path in (site / "index").iterdir()}
    assert renewed_index(load_linked(kb, "kb"), site, cache_of(kb), None) == len(before)
    assert {path: path.stat() for path in (site / "index").iterdir()} == before


def _changed(path: str, old: str, new: str) -> Callable[[Path, Path], object]:
    def change(kb: Path, site: Path) -> None:
        file = kb / path
        text = file.read_text(encoding="utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), encoding="utf-8")

    return change


def _written(path: str, text: str) -> Callable[[Path, Path], object]:
    return lambda kb, site: (kb / path).write_text(text, encoding="utf-8")


RENEWED: dict[str, Callable[[Path, Path], object]] = {
    "a title": _changed("tools/pin-punch.yaml", "title: ", "title: Long "),
    "another title altogether": _changed("tools/pin-punch.yaml", "title: Pin punch", "title: Belt drift"),
    "a machine": _changed("machines/brook-d24.yaml", "summary: ", "summary: A red one. "),
    "the title of a machine": _changed("machines/brook-d24.yaml", "title: Brook D24", "title: Brook D26"),
    "what a machine records": _changed("machines/brook-d24.yaml", "is: 8 N·m", "is: 9 N·m"),
    "the title of an engine": _changed("engines/ell-e212.yaml", "title: ", "title: New "),
    "the words of a value": _changed(
        "values/auger-shear-bolt.torque.yaml", "title: ", "also: [bolt pull]\ntitle: "
    ),
    "the title of a value": _changed("values/auger-shear-bolt.torque.yaml", "title: ", "title: Tight "),
    "another word for it": _changed("terms/shear-bolt.yaml", "also: [", "also: [snap pin, "),
    "a word for it that others say": _changed("terms/shear-bolt.yaml", "also: [", "also: [auger, "),
    "a word for it less": _changed("terms/shear-bolt.yaml", "also: [shear pin]\n", ""),
    "for fewer machines": _changed(
        "procedures/make-machine-safe.yaml", "time: ", "applies_to: {machines: [brook-t28]}\ntime: "
    ),
    "the class of a machine": _changed("machines/brook-d24.yaml", "class: two-stage", "class: tiller"),
    "the class of all machines": lambda kb, site: [
        _changed(f"machines/{each}.yaml", "class: two-stage", "class: tiller")(kb, site)
        for each in ("brook-d24", "brook-t28")
    ],
    "a feature of a machine": _changed("machines/brook-d24.yaml", "fitted: [", "fitted: [tracks, "),
    "what is fitted to an engine": _changed("engines/ell-e212.yaml", "plate: ", "fitted: [tracks]\nplate: "),
    "a machine without its engine": _changed("machines/brook-d24.yaml", "engine: ell-e212\n", ""),
    "a machine more": lambda kb, site: shutil.copy(
        kb / "machines/brook-d24.yaml", kb / "machines/brook-d30.yaml"
    ),
    "a machine less": lambda kb, site: (kb / "machines/brook-t28.yaml").unlink(),
    "a machine that cannot be read": _changed("machines/brook-t28.yaml", "title: ", "title: ["),
    "a value by the other plate": _changed(
        "values/auger-shear-bolt.torque.yaml", "plate: machine", "plate: engine"
    ),
    "a record more": _written("tools/drift.yaml", "title: Drift\nsummary: Drives pins.\n"),
    "another name for it": _changed("terms/shear-bolt.yaml", "title: Shear bolt", "title: Break bolt"),
    "a name that is that of another": _written(
        "terms/snap.yaml", "title: Snap\nalso: [shear pin]\ndefinition: It snaps.\n"
    ),
    "a term more": _written(
        "terms/wobble.yaml", "title: Wobble\nalso: [belt, bolt, shear bolt]\ndefinition: It is loose.\n"
    ),
    "a record less": lambda kb, site: (kb / "tools/pin-punch.yaml").unlink(),
    "the only edition less": lambda kb, site: (kb / "editions/whole-book.yaml").unlink(),
    "a caution less": lambda kb, site: (kb / "cautions/rotating-auger.yaml").unlink(),
}
"""Edits after which the index is made from the last one."""


@pytest.mark.usefixtures("_as_a_whole_and_in_place")
@pytest.mark.parametrize("change", RENEWED.values(), ids=RENEWED)
def test_after_each_sort_of_edit_the_index_is_one_made_afresh(
    kb: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    change: Callable[[Path, Path], object],
) -> None:
    """And again after a further edit of words, and when all is as it was at first: what is kept is what was made."""
    site, now, later = tmp_path / "site", tmp_path / "now", tmp_path / "later"
    make_index(load_linked(kb, "kb"), site)
    change(kb, site)
    linked = load_linked(kb, "kb")
    assert renewed_index(linked, now, cache_of(kb), site) == len(index_of(now))
    assert index_of(now) == afresh(kb, monkeypatch)
    assert index_of(now) != index_of(site)
    (kb / BOLT).write_text((kb / BOLT).read_text().replace("sheared", "wobbled", 1))
    assert renewed_index(load_linked(kb, "kb"), later, cache_of(kb), now) is not None
    assert index_of(later) == afresh(kb, monkeypatch)
    shutil.rmtree(kb)
    shutil.copytree(SOUND_BOOK, kb, copy_function=shutil.copyfile)
    assert renewed_index(load_linked(kb, "kb"), tmp_path / "last", cache_of(kb), later) is not None
    assert index_of(tmp_path / "last") == index_of(site)


@pytest.mark.usefixtures("_as_a_whole_and_in_place")
def test_what_was_for_all_but_a_machine_that_is_gone_is_for_all(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    work = kb / "procedures/make-machine-safe.yaml"
    work.write_text(
        work.read_text(encoding="utf-8").replace("time: ", "applies_to: {not_fitted: [tracks]}\ntime: ")
    )
    site, now = tmp_path / "site", tmp_path / "now"
    make_index(load_linked(kb, "kb"), site)
    (kb / "machines/brook-t28.yaml").unlink()
    assert renewed_index(load_linked(kb, "kb"), now, cache_of(kb), site) is not None
    assert index_of(now) == afresh(kb, monkeypatch)


@pytest.mark.usefixtures("_as_a_whole_and_in_place")
def test_a_value_of_engines_is_told_anew_where_one_of_their_machines_is_gone(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing that is recorded is another; but what is answered for a plate names the machines with that engine."""
    (kb / "values/idle.speed.yaml").write_text(
        "title: Idle speed\nquantity: rotational-speed\nplate: engine\nsources: [bench-notes]\n"
    )
    engine = (kb / "engines/ell-e212.yaml").read_text(encoding="utf-8")
    for name, figure in (("ell-e212", "1800 rpm"), ("ell-e300", "2000 rpm")):
        (kb / f"engines/{name}.yaml").write_text(
            engine.replace("E212", name[-4:].upper())
            + f"values:\n  idle.speed: {{is: {figure}, basis: demo}}\n"
        )
    machine = (kb / "machines/brook-d24.yaml").read_text(encoding="utf-8")
    (kb / "machines/brook-d30.yaml").write_text(machine.replace("D24", "D30").replace("ell-e212", "ell-e300"))
    site, now = tmp_path / "site", tmp_path / "now"
    make_index(load_linked(kb, "kb"), site)
    assert "Brook T28" in "".join(index_of(site).values())
    (kb / "machines/brook-t28.yaml").unlink()
    assert renewed_index(load_linked(kb, "kb"), now, cache_of(kb), site) is not None
    assert index_of(now) == afresh(kb, monkeypatch)


NOT_RENEWED: dict[str, Callable[[Path, Path], object]] = {
    "a page": lambda kb, site: _page(kb),
    "a file of the index": lambda kb, site: (site / "index/head.js").write_text("touched"),
    "a file less": lambda kb, site: (site / "index/t0003.js").unlink(),
    "counts of another book": lambda kb, site: (cache_of(kb) / "search-counts.bin").unlink(),
}


def _page(kb: Path) -> None:
    (kb / "pages").mkdir(exist_ok=True)
    (kb / "pages/welcome.md").write_text("# Welcome\n\nTo the shed.\n")


@pytest.mark.parametrize("change", NOT_RENEWED.values(), ids=NOT_RENEWED)
def test_what_concerns_too_much_is_made_afresh(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Callable[[Path, Path], object]
) -> None:
    site, now = tmp_path / "site", tmp_path / "now"
    make_index(load_linked(kb, "kb"), site)
    (kb / BOLT).write_text((kb / BOLT).read_text().replace("sheared", "wobbled", 1))
    change(kb, site)
    linked = load_linked(kb, "kb")
    assert renewed_index(linked, now, cache_of(kb), site) is None
    assert not now.exists()
    make_index(linked, now, before=site)
    assert index_of(now) == afresh(kb, monkeypatch)


@pytest.mark.parametrize("damage", [b"", b"x" * 500])
def test_what_is_damaged_is_of_no_use(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, damage: bytes
) -> None:
    site, now = tmp_path / "site", tmp_path / "now"
    make_index(load_linked(kb, "kb"), site)
    (cache_of(kb) / "search-made.bin").write_bytes(damage)
    make_index(load_linked(kb, "kb"), now, before=site)
    assert index_of(now) == afresh(kb, monkeypatch)


def test_files_that_a_process_left_that_died_are_put_in_again(tmp_path: Path) -> None:
    before, now = tmp_path / "before", tmp_path / "now"
    texts = [("head", "head();"), ("t0000", "terms();"), ("t0001", "more();")]
    put_files(texts, (), before, None)
    put_files(texts[:1], ("t0000", "t0001"), now, before)
    (now / "index/t0001.js").unlink()
    (now / "index/t0001.js").write_text("half of it")
    put_files(texts[:1], ("t0000", "t0001"), now, before)
    assert index_of(now) == index_of(before) == {f"{name}.js": text for name, text in texts}
    assert (now / "index/t0000.js").samefile(before / "index/t0000.js")
