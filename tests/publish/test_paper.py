"""The PDF as a library reads it: tags, bookmarks, contents; warnings on every sheet; draft on every sheet."""

from __future__ import annotations

import io
import itertools
import re
from collections import Counter
from dataclasses import replace
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.selection import pack, select
from shearpin.publish import paper, volumes
from shearpin.publish.issue import Issue, prepare_issue
from shearpin.publish.leaves import parts_of
from shearpin.publish.pagenumbers import put_in
from shearpin.publish.paper import papers_of
from shearpin.publish.printing import make_pdf

pypdf = pytest.importorskip("pypdf")


@pytest.fixture(scope="module")
def issue(project: Path) -> Issue:
    return prepare_issue(load_linked(project / "kb"), "shear-bolts", project / "mkdocs.yml", None)


@pytest.fixture(scope="module")
def pdf(issue: Issue, tmp_path_factory: pytest.TempPathFactory) -> Any:
    pytest.importorskip(
        "weasyprint", reason="the extra `print` is not installed", exc_type=(ImportError, OSError)
    )
    (target,) = make_pdf(issue, tmp_path_factory.mktemp("pdf"), lambda stage: None)
    return pypdf.PdfReader(io.BytesIO(target.read_bytes()))


def paper_document(issue: Issue) -> str:
    (only,) = papers_of(issue)
    return only.markup


def _outline(items: list[Any], depth: int = 0) -> list[tuple[int, str]]:
    found = []
    for item in items:
        found += _outline(item, depth + 1) if isinstance(item, list) else [(depth, item.title)]
    return found


def _tags(node: Any, found: Counter[str]) -> Counter[str]:
    node = node.get_object()
    if isinstance(node, list):
        for inner in node:
            _tags(inner, found)
    elif isinstance(node, dict):
        if "/S" in node:
            found[str(node["/S"])] += 1
        if "/K" in node:
            _tags(node["/K"], found)
    return found


def test_bookmarks_lead_to_parts_and_to_each_record(pdf: Any, issue: Issue) -> None:
    outline = _outline(pdf.outline)
    titles = [title for _, title in outline]
    assert (0, "Safety notice") in outline
    assert (0, "Procedures") in outline
    assert (1, "Replace an auger shear bolt") in outline
    shown = [r.title for (kind, _), r in issue.packed.book.records() if kind not in ("figure", "edition")]
    assert sorted(title for title in shown if title not in titles) == []


def test_it_is_tagged_with_title_and_language(pdf: Any) -> None:
    root = pdf.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert str(root["/Lang"]) == "en"
    assert pdf.metadata.title == "Course pack: shear bolts"
    tags = _tags(root["/StructTreeRoot"]["/K"], Counter())
    for tag in ("/H1", "/H2", "/P", "/Table", "/TH", "/L", "/LI", "/Figure", "/Link"):
        assert tags[tag] > 0, (tag, tags)


def _plain(words: str) -> str:
    """Return text with every run of blanks, figure spaces among them, as one space."""
    return re.sub(r"[\s\u2007]+", " ", words)


def test_a_title_with_any_signs_is_the_same_in_a_stylesheet() -> None:
    tinycss2 = pytest.importorskip("tinycss2")
    for words in ('Plugs & "filters" — a <first> week', "a\\b } c; d", "№ 7/α", "line\nbreak"):
        (token,) = tinycss2.parse_component_value_list(paper.css_string(words))
        assert (token.type, token.value) == ("string", words)


def test_each_sheet_names_the_edition_and_itself(pdf: Any) -> None:
    for number, page in enumerate(pdf.pages, 1):
        words = page.extract_text()
        assert "Course pack: shear bolts, edition 1, 2026-11-01" in words
        assert f"Page {number} of {len(pdf.pages)}" in _plain(words)


def test_contents_and_links_name_the_page(pdf: Any) -> None:
    pages = [page.extract_text() for page in pdf.pages]
    place = next(i for i, words in enumerate(pages, 1) if "PROCEDURE\nReplace an auger shear bolt" in words)
    contents = next(words for words in pages if words.lstrip().startswith("Contents"))
    row = next(line for line in contents.splitlines() if line.startswith("Replace an auger shear bolt"))
    assert row.endswith(str(place))
    assert f"Replace an auger shear bolt (p. {place})" in _plain("\n".join(pages))


def test_page_numbers_leave_no_gap(pdf: Any, issue: Issue) -> None:
    words = "\n".join(page.extract_text() for page in pdf.pages)
    numbers = re.findall(r"\(p\.\s(.*?)\)", words)
    assert len(numbers) > 20
    assert all(number.isdecimal() for number in numbers)
    assert paper.ROOM not in words
    narrow = [n for n in numbers if len(n) == 1]
    assert narrow


@pytest.mark.parametrize("number", ["7", "42", "123"])
def test_what_follows_a_page_number_moves_up_to_it(number: str) -> None:
    weasyprint = pytest.importorskip("weasyprint", exc_type=(ImportError, OSError))
    document = weasyprint.HTML(
        string="<style>a::after { content: ' ' attr(data-where) }</style><p>Do <b>this <a data-place='x' "
        f"data-where='(p.\u00a0{paper.ROOM})'>work</a>, then</b> <i>that</i>.</p>"
    ).render()
    put_in(document, {"x": number})
    texts = [box for box in document.pages[0]._page_box.descendants() if type(box).__name__ == "TextBox"]
    assert "".join(box.text for box in texts) == f"Do this work (p.\u00a0{number}), then that."
    for before, after in itertools.pairwise(texts):
        assert after.position_x == pytest.approx(before.position_x + before.width)


def test_what_people_say_stands_in_narrow_columns() -> None:
    weasyprint = pytest.importorskip("weasyprint", exc_type=(ImportError, OSError))
    style = resources.files("shearpin.publish").joinpath("paper.css").read_text(encoding="utf-8")
    phrases = "".join(f"<li>“phrase {n} of those who come in”</li>" for n in range(6))
    document = weasyprint.HTML(string=f"<style>{style}</style><ul class='said'>{phrases}</ul>").render()
    texts = [box for box in document.pages[0]._page_box.descendants() if type(box).__name__ == "TextBox"]
    said = [box for box in texts if "phrase" in box.text]
    assert [len({round(getattr(box, place)) for box in said}) for place in ("position_x", "position_y")] == [
        3,
        2,
    ]


def test_work_carries_its_warnings_in_the_head_of_a_table_that_print_repeats(issue: Issue) -> None:
    soup = BeautifulSoup(paper_document(issue), "lxml")
    for kind in ("procedure", "test", "symptom"):
        for record_id in issue.packed.book.of_kind(kind):
            required = issue.packed.safety.required(kind, record_id)
            head = soup.select_one(f'thead [data-repeated="{kind}-{record_id}"]')
            assert (head is not None) == bool(required)
            for item in required:
                assert issue.packed.book.cautions[item.id].title in head.text


def test_every_link_of_the_document_leads_somewhere_and_no_id_stands_twice(issue: Issue) -> None:
    soup = BeautifulSoup(paper_document(issue), "lxml")
    ids = Counter(str(element["id"]) for element in soup.select("[id]"))
    assert [name for name, count in ids.items() if count > 1] == []
    dead = [a["href"] for a in soup.select('a[href^="#"]') if str(a["href"])[1:] not in ids]
    assert dead == []


def test_a_draft_says_so_on_each_sheet(project: Path, tmp_path: Path) -> None:
    linked = load_linked(project / "kb")
    issue = prepare_issue(linked, "whole-book", project / "mkdocs.yml", None)
    assert "DRAFT" in paper_document(issue).split("</style>")[0].replace("\\00003a", ":")


def test_two_prints_are_the_same_bytes(issue: Issue, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("weasyprint", exc_type=(ImportError, OSError))
    made = []
    for name, zone in (("one", "UTC"), ("two", "Pacific/Kiritimati")):
        monkeypatch.setenv("TZ", zone)
        (tmp_path / name).mkdir()
        (path,) = make_pdf(issue, tmp_path / name, lambda stage: None)
        made.append(path.read_bytes())
    assert made[0] == made[1]


def test_a_small_edition_is_one_volume_and_a_large_one_is_parted_by_system(issue: Issue) -> None:
    parts = tuple(parts_of(issue.packed))
    (whole,) = volumes.volumes_of(issue.packed, parts)
    every = [leaf.anchor for leaf in whole.leaves()]
    parted = volumes.volumes_of(issue.packed, parts, largest=12_000)
    assert [volume.number for volume in parted] == list(range(1, len(parted) + 1))
    assert len(parted) > 2
    homes = [
        leaf.anchor for volume in parted for leaf in volume.leaves() if leaf.anchor not in volume.repeated
    ]
    assert sorted(homes) == sorted(every)
    about = [bool(volume.systems) for volume in parted]  # at the end, what belongs to no one system
    assert about == sorted(about, reverse=True)
    assert not about[-1]
    for volume in parted:
        leaves = [leaf for leaf in volume.leaves() if leaf.anchor not in volume.repeated]
        assert sum(len(leaf.body) for leaf in leaves) <= 12_000 or len(leaves) == 1


@pytest.mark.parametrize(
    ("contents", "first"),
    [({}, "system"), ({"systems": ("auger-drive",)}, "system"), ({"kinds": ("procedure",)}, "procedure")],
)
def test_how_things_work_comes_first_where_it_is_told(
    project: Path, contents: dict[str, Any], first: str
) -> None:
    book = load_linked(project / "kb").book
    edition = book.editions["whole-book"]
    other = edition.model_copy(update={"contents": edition.contents.model_copy(update=contents)})
    files = (replace(file, record=other) if file.record is edition else file for file in book.files)
    linked = LinkedBook(replace(book, files=tuple(files)))
    packed = pack(linked, select(linked, "whole-book"))
    parts = tuple(parts_of(packed))
    assert parts[0].kind == first
    assert volumes.volumes_of(packed, parts, largest=12_000)[0].parts[0].kind == first


def test_what_must_be_done_first_stands_in_each_volume(issue: Issue) -> None:
    parted = volumes.volumes_of(issue.packed, tuple(parts_of(issue.packed)), largest=12_000)
    for volume in parted:
        held = {leaf.anchor for leaf in volume.leaves()}
        for leaf in volume.leaves():
            if leaf.anchor not in volume.repeated:
                before = getattr(issue.packed.book.get(leaf.kind, leaf.id), "before", ())
                assert {f"procedure-{name}" for name in before} <= held
    assert any(volume.repeated for volume in parted)


@pytest.fixture(scope="module")
def in_volumes(issue: Issue, tmp_path_factory: pytest.TempPathFactory) -> list[Any]:
    """The same edition in volumes, as a larger book is printed."""
    pytest.importorskip("weasyprint", exc_type=(ImportError, OSError))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(paper, "volumes_of", lambda *given: volumes.volumes_of(*given, largest=25_000))
        made = make_pdf(issue, tmp_path_factory.mktemp("volumes"), lambda stage: None)
    assert [path.stem for path in made] == [f"shear-bolts-1-volume-{n}" for n in range(1, len(made) + 1)]
    assert len(made) > 1
    return [pypdf.PdfReader(io.BytesIO(path.read_bytes())) for path in made]


def test_a_link_into_another_volume_names_volume_and_page(in_volumes: list[Any], issue: Issue) -> None:
    words = [[_plain(page.extract_text()) for page in volume.pages] for volume in in_volumes]
    heads = {}
    for number, pages in enumerate(words, 1):
        for place, page in enumerate(pages, 1):
            for record in issue.packed.book.procedures.values():
                if f"PROCEDURE {record.title}" in page:
                    heads[record.title] = (number, place)
    told = re.findall(r"([^()]{4,80}) \(volume (\d+), p\. (\d+)\)", " ".join(" ".join(p) for p in words))
    checked = 0
    for before, volume, page in told:
        for title, place in heads.items():
            if before.endswith(title):
                assert (int(volume), int(page)) == place
                checked += 1
    assert checked > 0


def test_each_volume_is_complete_in_itself(in_volumes: list[Any]) -> None:
    for number, volume in enumerate(in_volumes, 1):
        titles = [title for _, title in _outline(volume.outline)]
        assert titles[:3] == ["Safety notice", "Contents", "The volumes of this edition"]
        first = _plain(volume.pages[0].extract_text())
        assert f"Volume {number} of {len(in_volumes)}" in first
        assert volume.trailer["/Root"]["/MarkInfo"]["/Marked"]
        for place, page in enumerate(volume.pages, 1):
            words = _plain(page.extract_text())
            assert f"edition 1, 2026-11-01, volume {number}" in words
            assert f"Page {place} of {len(volume.pages)}" in words
    assert "Index of all volumes" in [title for _, title in _outline(in_volumes[-1].outline)]
