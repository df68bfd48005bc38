"""The PDF as a library reads it: tags, bookmarks, contents; warnings on every sheet; draft on every sheet."""

from __future__ import annotations

import io
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup

from shearpin.book.linked import load_linked
from shearpin.publish.issue import Issue, prepare_issue
from shearpin.publish.paper import make_pdf, paper_document

pypdf = pytest.importorskip("pypdf")


@pytest.fixture(scope="module")
def issue(project: Path) -> Issue:
    return prepare_issue(load_linked(project / "kb"), "shear-bolts", project / "mkdocs.yml", None)


@pytest.fixture(scope="module")
def pdf(issue: Issue, tmp_path_factory: pytest.TempPathFactory) -> Any:
    pytest.importorskip(
        "weasyprint", reason="the extra `print` is not installed", exc_type=(ImportError, OSError)
    )
    target = tmp_path_factory.mktemp("pdf") / "shear-bolts.pdf"
    make_pdf(issue, target)
    return pypdf.PdfReader(io.BytesIO(target.read_bytes()))


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


def test_each_sheet_names_the_edition_and_itself(pdf: Any) -> None:
    for number, page in enumerate(pdf.pages, 1):
        words = page.extract_text()
        assert "Course pack: shear bolts, edition 1, 2026-11-01" in words
        assert f"Page {number} of {len(pdf.pages)}" in words


def test_contents_and_links_name_the_page(pdf: Any) -> None:
    pages = [page.extract_text() for page in pdf.pages]
    place = next(i for i, words in enumerate(pages, 1) if "PROCEDURE\nReplace an auger shear bolt" in words)
    contents = next(words for words in pages if words.lstrip().startswith("Contents"))
    row = next(line for line in contents.splitlines() if line.startswith("Replace an auger shear bolt"))
    assert row.endswith(str(place))
    assert f"Replace an auger shear bolt (p.\xa0{place})" in "\n".join(pages).replace("(p. ", "(p.\xa0")


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
    for name, zone in (("one.pdf", "UTC"), ("two.pdf", "Pacific/Kiritimati")):
        monkeypatch.setenv("TZ", zone)
        make_pdf(issue, tmp_path / name)
        made.append((tmp_path / name).read_bytes())
    assert made[0] == made[1]
