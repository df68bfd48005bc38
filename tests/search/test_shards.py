from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest

from shearpin.model.spare import stamp_of
from shearpin.search.cards import plain_id
from shearpin.search.document import Document
from shearpin.search.exporting import put_files
from shearpin.search.model import IndexModel, build_model
from shearpin.search.shards import Shards
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS

WINDOWS_NAMES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


@pytest.fixture(scope="module")
def model() -> IndexModel:
    return build_model(DOCUMENTS, SYNONYMS)


def many(count: int) -> list[Document]:
    parts = ("belt", "pulley", "cable", "bolt", "jet", "gasket", "bearing")
    documents = []
    for number in range(count):
        title = f"Renew {parts[number % 7]} of model {number}"
        fields = {
            "title": title,
            "body": f"part {number:05}-{number % 97:03} fits row{number % 1013} shelf{number % 31}",
        }
        documents.append(
            Document(f"renew-{number}", "procedure", title, f"procedures/renew-{number}.html", title, fields)
        )
    return documents


def test_every_file_is_one_call_with_json(model: IndexModel) -> None:
    for name, text in Shards(model).texts():
        match = re.fullmatch(r'shearpinIndex\("(\w+)",(.*)\);\n', text, re.DOTALL)
        assert match is not None
        assert match[1] == name
        json.loads(match[2])


def test_names_do_not_depend_on_content_and_suit_every_file_system(model: IndexModel) -> None:
    names = [name for name, _ in Shards(model).texts()]
    assert all(
        re.fullmatch(r"head|sets|units|ordinary|t[0-9]{4}|c[0-9]{3}|[wm][0-9]{2}", name) for name in names
    )
    assert len({name.lower() for name in names}) == len(names)
    assert not WINDOWS_NAMES & set(names)


def test_the_number_of_files_is_bounded() -> None:
    assert len(list(Shards(build_model(many(5000), [])).texts())) <= 600


def test_no_file_outgrows_what_a_query_may_read() -> None:
    model = build_model(many(5000), [])
    sizes = {name: len(text.encode()) for name, text in Shards(model).texts()}
    # The head, which every query reads, holds the word tables too.
    assert sizes.pop("head") < 24_000
    assert max(sizes.values()) < 20_000
    assert sum(sizes.values()) < 1_500_000


def test_the_same_records_give_the_same_files_in_any_order(model: IndexModel) -> None:
    turned = build_model(DOCUMENTS[::-1], SYNONYMS[::-1])
    assert list(Shards(turned).texts()) == list(Shards(model).texts())


def test_unchanged_files_are_left_alone_and_old_ones_removed(model: IndexModel, tmp_path: Path) -> None:
    first = tuple(map(Path, put_files(Shards(model).texts(), (), tmp_path, None)))
    times = {path: path.stat().st_mtime_ns for path in first}
    old = tmp_path / "index" / "t999.js"
    old.write_text("", encoding="utf-8")
    assert tuple(map(Path, put_files(Shards(model).texts(), (), tmp_path, None))) == first
    assert {path: path.stat().st_mtime_ns for path in first} == times
    assert not old.exists()


def test_files_that_are_the_same_in_the_site_before_are_not_written_again(
    model: IndexModel, tmp_path: Path
) -> None:
    before = tuple(map(Path, put_files(Shards(model).texts(), (), tmp_path / "before", None)))
    before[0].write_text("another head", encoding="utf-8")
    before[1].unlink()
    before[2].unlink()
    before[2].symlink_to(before[3])
    texts = Shards(model).texts()
    now = tuple(map(Path, put_files(texts, (), tmp_path / "now", tmp_path / "before")))
    same = [old.name for old, new in zip(before, now, strict=True) if old.exists() and old.samefile(new)]
    assert same == [path.name for path in before[3:]]
    assert [(path.name, path.read_text(encoding="utf-8")) for path in now] == [
        (f"{name}.js", text) for name, text in Shards(model).texts()
    ]
    assert before[0].read_text(encoding="utf-8") == "another head"


def test_the_folder_of_the_index_before_the_last_is_set_right(tmp_path: Path) -> None:
    site, now = tmp_path / "site", tmp_path / "now"
    texts = {"head": "head();", "t0": "terms();", "t1": "lists();", "t2": "cards();", "new": "more();"}
    put_files(texts.items(), (), site, None)
    kept = tmp_path / ".site.spare" / "index"
    kept.mkdir(parents=True)
    now.mkdir()
    os.link(site / "index/head.js", kept / "head.js")
    os.link(site / "index/t0.js", kept / "t0.js")
    for name in ("t1", "t2", "gone"):
        (kept / f"{name}.js").write_text("as it was")
    numbers = {name: (kept / f"{name}.js").stat().st_ino for name in ("t1", "t2")}
    changed = {"t0": "other terms();", "t1": texts["t1"], "new": texts["new"]}
    put_files(changed.items(), ("head", "t2"), now, site)
    found = {path.name: path.read_text() for path in (now / "index").iterdir()}
    assert found == {f"{name}.js": text for name, text in {**texts, **changed}.items()}
    assert {path.name: path.read_text() for path in (site / "index").iterdir()} == {
        f"{name}.js": text for name, text in texts.items()
    }, "nobody wrote into the site before"
    for name in ("head", "new"):
        assert (now / f"index/{name}.js").samefile(site / f"index/{name}.js")
    for name, number in numbers.items():
        assert (now / f"index/{name}.js").stat().st_ino == number, "the file that lay there is of use"
        assert stamp_of(now / f"index/{name}.js") == stamp_of(site / f"index/{name}.js")


def test_line_ends_of_javascript_are_escaped(tmp_path: Path) -> None:
    title = "Odd\u2028title\u2029 </script>"
    document = Document("odd", "page", title, "odd.html", title, {"title": title})
    for _, text in Shards(build_model([document], [])).texts():
        assert "\u2028" not in text
        assert "\u2029" not in text


@pytest.mark.parametrize(
    ("title", "expected"),
    [
        ("Replace an auger shear bolt", "replace-auger-shear-bolt"),
        ("Auger belt slips, or smokes", "auger-belt-slips-or-smokes"),
        ("Ångström", ""),
    ],
)
def test_most_ids_follow_from_their_titles(title: str, expected: str) -> None:
    assert plain_id(title) == expected


def test_a_file_for_which_the_disk_has_no_room_is_an_error(tmp_path: Path) -> None:
    limits = pytest.importorskip("resource", reason="this system sets no limits to files")
    soft, hard = limits.getrlimit(limits.RLIMIT_FSIZE)
    limits.setrlimit(limits.RLIMIT_FSIZE, (1_000, hard))  # as on a full disk, the beginning finds room
    try:
        with pytest.raises(OSError, match="too large"):
            put_files([("head", "x" * 2_000)], (), tmp_path, None)
    finally:
        limits.setrlimit(limits.RLIMIT_FSIZE, (soft, hard))
