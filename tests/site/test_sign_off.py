"""Lines to fill in by hand: only a machine with an engine has an engine's plate."""

from __future__ import annotations

from pathlib import Path

from bs4 import BeautifulSoup

from shearpin.site.bodies import work
from shearpin.site.view import View
from tests.sound_book import read_over, swap

PROCEDURE = "make-machine-safe"


def lines_of(folder: Path, *without_engine: str) -> dict[str, str | None]:
    """Return each line with the machines it is for, None where it is for all."""
    files = {}
    for machine in without_engine:
        files |= swap(f"machines/{machine}.yaml", "engine: ell-e212\n", "")
    page = BeautifulSoup(work.procedure(View(read_over(folder, files), "../"), PROCEDURE), "lxml")
    return {span.get_text(): span.get("data-for") for span in page.select(".sign-off span")}  # type: ignore[misc]


def test_the_line_for_the_engine_plate_is_for_machines_with_an_engine(tmp_path: Path) -> None:
    assert lines_of(tmp_path / "all")["Engine plate, code"] is None
    assert lines_of(tmp_path / "one", "brook-t28")["Engine plate, code"] == "brook-d24"


def test_without_any_engine_there_is_no_such_line(tmp_path: Path) -> None:
    assert list(lines_of(tmp_path, "brook-t28", "brook-d24")) == [
        "Machine plate, serial number", "Done by", "Date", "Checked by",
    ]  # fmt: skip
