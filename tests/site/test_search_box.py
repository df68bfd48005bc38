"""What the search suggests is from its own book."""

from __future__ import annotations

from pathlib import Path

from shearpin.site.search_box import complaint, figure, search_box
from shearpin.site.view import View
from tests.sound_book import read_over, swap

SYMPTOM = "symptoms/one-side-of-auger-does-not-turn.yaml"


def test_a_complaint_and_a_figure_of_the_book_are_suggested(tmp_path: Path) -> None:
    view = View(
        read_over(tmp_path, swap(SYMPTOM, "[half the auger is dead]", "[dead, one side 'just' stands]")),
        "../",
    )
    assert complaint(view) == "one side 'just' stands"
    assert figure(view) == view.book.values["auger-shear-bolt.torque"].title
    assert "&#x27;just&#x27;" in search_box(view, complaint(view))


def test_without_such_words_the_title_is(tmp_path: Path) -> None:
    view = View(read_over(tmp_path, swap(SYMPTOM, "half the auger is dead", "dead")), "../")
    assert complaint(view) == view.book.symptoms["one-side-of-auger-does-not-turn"].title
