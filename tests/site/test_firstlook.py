"""The first look at saved records shows what the whole build will show on their pages, or leaves it to that build."""

from __future__ import annotations

import random
import re
import shutil
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

import pytest

from shearpin.book.linked import load_linked
from shearpin.diagnosis.history import History
from shearpin.inspection import inspect_book
from shearpin.model.finding import Severity
from shearpin.site import firstlook
from shearpin.site.earlier import Notes
from shearpin.site.firstlook import Shown, look
from shearpin.site.pages import BODIES
from shearpin.site.view import address
from shearpin.site.writing import Material, since, start_index, write_site
from tests.conftest import ROOT
from tests.site.edits import Editor
from tests.site.test_rebuilds import PlainShells
from tests.sound_book import SOUND_BOOK, lay_over


@dataclass(frozen=True)
class Preview:
    """A folder of records, and what is shown of it."""

    shown: Shown

    @property
    def kb(self) -> Path:
        return self.shown.linked.book.kb

    def change(self, path: str, pattern: str, by: str) -> str:
        """Replace the first match of a pattern in a file; return the place of the file."""
        file = self.kb / path
        before = file.read_text(encoding="utf-8")
        after = re.sub(pattern, by, before, count=1, flags=re.MULTILINE)
        assert after != before, path
        file.write_text(after, encoding="utf-8")
        return str(file)


def shown_of(kb: Path, site: Path) -> Shown:
    linked = load_linked(kb, "kb")
    return Shown(linked, inspect_book(linked), History(linked, ()), PlainShells(), site)  # type: ignore[arg-type]


def whole_site(kb: Path, site: Path) -> None:
    site.mkdir()
    linked = load_linked(kb, "kb")
    material = Material(linked, inspect_book(linked))
    write_site(material, PlainShells(), site, since(site, Notes(), linked), start_index(linked, site))  # type: ignore[arg-type]


def pages_written(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()
    }


def assert_as_in_a_whole_site(shown: Shown, folder: Path, expected: Iterable[str]) -> None:
    written = pages_written(shown.site)
    assert set(expected) <= set(written)
    whole_site(shown.linked.book.kb, folder / "whole")
    whole = pages_written(folder / "whole")
    assert [url for url, content in written.items() if whole.get(url) != content] == []


@pytest.fixture
def sound(tmp_path: Path) -> Preview:
    return Preview(shown_of(lay_over(tmp_path, {}), tmp_path / "site"))


def test_one_record_of_each_kind_is_shown_as_the_whole_build_shows_it(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "kb", tmp_path / "kb")
    preview = Preview(shown_of(tmp_path / "kb", tmp_path / "site"))
    book = preview.shown.linked.book
    chosen = {kind: sorted(book.of_kind(kind))[-1] for kind in BODIES}
    saved = [preview.change(book.file_of[key].path, r"^(title: .*)$", r"\1 anew") for key in chosen.items()]
    # Links that come and go, a condition that is joined to others, a figure of a machine.
    symptom = next(id for id, each in book.symptoms.items() if len(each.causes) > 3)
    saved.append(preview.change(f"symptoms/{symptom}.yaml", r"^  - {cause: .*\n", ""))
    machine = next(
        path for path in sorted((tmp_path / "kb/machines").glob("*.yaml")) if "± 1.0 N·m" in path.read_text()
    )
    saved.append(preview.change(f"machines/{machine.name}", r"± 1\.0 N·m", "± 1.5 N·m"))
    now = look(preview.shown, saved)
    assert now is not None
    expected = [address(*key) for key in chosen.items()]
    expected += [address("symptom", symptom), address("symptom", symptom).replace(".html", ".js")]
    assert_as_in_a_whole_site(now, tmp_path, expected)


@pytest.mark.parametrize("seed", range(20))
def test_after_a_random_edit_the_page_is_that_of_the_whole_build(tmp_path: Path, seed: int) -> None:
    kb = lay_over(tmp_path, {})
    shown = shown_of(kb, tmp_path / "site")
    before = {path: path.read_bytes() for path in kb.rglob("*.yaml")}
    done = Editor(kb, SOUND_BOOK, random.Random(seed)).edit()
    saved = [str(path) for path in {*before, *kb.rglob("*.yaml")} if before.get(path) != _bytes(path)]
    now = look(shown, saved)
    if now is None:
        assert not shown.site.exists(), done
        return
    whole_site(kb, tmp_path / "whole")
    whole = pages_written(tmp_path / "whole")
    hidden = [each for each in inspect_book(load_linked(kb, "kb")) if each.severity is Severity.ERROR]
    for url, content in pages_written(now.site).items():
        # What a rule on the whole book hides is shown until that is asked.
        assert content == whole[url] or hidden, done


def _bytes(path: Path) -> bytes | None:
    return path.read_bytes() if path.exists() else None


def test_a_look_after_a_look_knows_what_the_first_one_read(sound: Preview, tmp_path: Path) -> None:
    saved = sound.change("tools/pin-punch.yaml", r"^title: .*$", "title: Slender punch")
    first = look(sound.shown, [saved])
    assert first is not None
    again = sound.change("procedures/replace-auger-shear-bolt.yaml", r"^title: .*$", "title: Put a bolt in")
    second = look(first, [again])
    assert second is not None
    page = (second.site / "procedures/replace-auger-shear-bolt.html").read_text(encoding="utf-8")
    assert "Put a bolt in" in page
    assert "Slender punch" in page


def test_a_record_that_is_broken_shows_why_and_is_shown_again_once_mended(sound: Preview) -> None:
    path = "tools/pin-punch.yaml"
    broken = look(sound.shown, [sound.change(path, r"^title:", "titel:")])
    assert broken is not None
    page = broken.site / address("tool", "pin-punch")
    assert "kb/tools/pin-punch.yaml:1:1" in page.read_text(encoding="utf-8")
    assert "cannot be shown until it is corrected" in page.read_text(encoding="utf-8")
    mended = look(broken, [sound.change(path, r"^titel:", "title:")])
    assert mended is not None
    assert mended.findings == sound.shown.findings
    assert "cannot be shown" not in page.read_text(encoding="utf-8")


def test_what_a_rule_on_the_whole_book_hides_is_left_to_the_whole_build(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    file = kb / "procedures" / "replace-auger-shear-bolt.yaml"
    file.write_text(file.read_text().replace("pin-punch", "pin-pusher"))
    shown = shown_of(kb, tmp_path / "site")
    assert [each.code for each in shown.findings if each.path.endswith(file.name)] == ["REF001"]
    assert look(shown, [str(file)]) is None
    assert not shown.site.exists()


def test_work_that_is_not_made_safe_is_not_shown_wherever_the_fault_stands(tmp_path: Path) -> None:
    """Two records lack what makes them safe on one machine; the one finding stands in the procedure that should hold there."""
    kb = lay_over(tmp_path, {})
    safe = kb / "procedures" / "make-machine-safe.yaml"
    safe.write_text(safe.read_text().replace("isolates:", "applies_to: {fitted: friction-drive}\nisolates:"))
    whole_site(kb, tmp_path / "whole")
    for page in (
        "tests/shear-bolt-inspection",
        "procedures/replace-auger-shear-bolt",
        "procedures/make-machine-safe",
    ):
        content = (tmp_path / "whole" / f"{page}.html").read_text(encoding="utf-8")
        assert "cannot be shown until it is corrected" in content
        assert "kb/procedures/make-machine-safe.yaml:4:1" in content
    assert "cannot be shown" not in (tmp_path / "whole/tools/pin-punch.html").read_text(encoding="utf-8")
    shown = shown_of(kb, tmp_path / "site")
    assert look(shown, [str(kb / "tests" / "shear-bolt-inspection.yaml")]) is None


@pytest.mark.parametrize(
    "path", ["kb/tools/new-one.yaml", "kb/pages/about.md", "mkdocs.yml", "kb/figures/shear-bolt.svg"]
)
def test_a_file_that_is_no_record_of_the_book_takes_the_whole_build(
    sound: Preview, tmp_path: Path, path: str
) -> None:
    file = tmp_path / path
    file.parent.mkdir(exist_ok=True)
    file.write_text("title: New\n")
    saved = sound.change("tools/pin-punch.yaml", r"^title: .*$", "title: Slender punch")
    assert look(sound.shown, [saved, str(file)]) is None
    assert not sound.shown.site.exists()


def test_a_record_that_was_removed_takes_the_whole_build(sound: Preview) -> None:
    file = sound.kb / "tools" / "pin-punch.yaml"
    file.unlink()
    assert look(sound.shown, [str(file)]) is None


def test_what_an_editor_makes_while_it_saves_is_passed_over(sound: Preview) -> None:
    saved = sound.change("tools/pin-punch.yaml", r"^title: .*$", "title: Slender punch")
    (sound.kb / "tools" / ".pin-punch.yaml.swp").write_text("")
    (sound.kb / "tools" / "pin-punch.yaml~").write_text("")
    besides = [str(sound.kb / "tools" / name) for name in (".pin-punch.yaml.swp", "pin-punch.yaml~", "4913")]
    now = look(sound.shown, [*besides, saved])
    assert now is not None
    assert "Slender punch" in (now.site / "tools/pin-punch.html").read_text(encoding="utf-8")


def test_many_records_at_once_take_the_whole_build(sound: Preview, monkeypatch: pytest.MonkeyPatch) -> None:
    files = [str(sound.kb / file.path) for file in sound.shown.linked.book.files]
    monkeypatch.setattr(firstlook, "_MOST", 3)
    assert look(sound.shown, files[:4]) is None
    assert look(sound.shown, files[:3]) is not None


def test_whoever_has_the_page_by_another_name_keeps_the_old_one(sound: Preview, tmp_path: Path) -> None:
    page = sound.shown.site / "tools" / "pin-punch.html"
    page.parent.mkdir(parents=True)
    page.write_text("as it was")
    other = tmp_path / "other-site.html"
    other.hardlink_to(page)
    assert look(sound.shown, [sound.change("tools/pin-punch.yaml", r"^title: .*$", "title: Slender punch")])
    assert other.read_text() == "as it was"
    assert [each.name for each in page.parent.iterdir()] == ["pin-punch.html"]
