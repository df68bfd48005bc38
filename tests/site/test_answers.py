"""What pages ask for: a later build can work out again all of it before it makes a page, and so tell what changed."""

from __future__ import annotations

from pathlib import Path

from shearpin.book.ledger import Ledger
from shearpin.book.linked import load_linked
from shearpin.book.watched import WatchedLinked
from shearpin.site.pages import all_pages, planned_pages
from shearpin.site.view import View
from tests.conftest import ROOT
from tests.sound_book import lay_over


def test_whatever_pages_asked_for_is_known_before_the_first_page() -> None:
    linked = load_linked(ROOT / "kb", "kb")
    first, second = Ledger(), Ledger()
    for _ in all_pages(WatchedLinked(linked, first)):
        pass
    watched = WatchedLinked(linked, second)
    assert list(planned_pages(View(watched, ""), View(watched, "../"), ()))
    asked = {name[0] for name in first.present().names}
    assert asked - second.marks.keys() - second.answers.keys() == set()
    assert {"rows of a value", "misfits", "symptoms of a cause"} <= asked


def test_another_title_of_a_machine_leaves_what_holds_for_it(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    before = WatchedLinked(load_linked(kb, "kb"), Ledger())
    marks = [before._ledger.marks[name]() for name in ("facts", "order of machines")]
    file = kb / "machines" / "brook-d24.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("title: Brook", "title: Brook Mk", 1), encoding="utf-8")
    now = WatchedLinked(load_linked(kb, "kb"), Ledger())
    assert [now._ledger.marks[name]() for name in ("facts", "order of machines")] == marks
    assert now._ledger.marks["title"]("machine", "brook-d24") != before._ledger.marks["title"](
        "machine", "brook-d24"
    )
