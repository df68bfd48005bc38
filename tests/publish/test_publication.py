"""Publishing: what lies in the folder, the same bytes anywhere, refusals, changes, and what survives a fault."""

from __future__ import annotations

import errno
import json
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from importlib.util import find_spec
from pathlib import Path

import bagit
import pytest
from bs4 import BeautifulSoup

from shearpin.cli.main import main
from shearpin.publish import place
from shearpin.publish.names import base_name, faults_of_names
from shearpin.publish.place import alone
from shearpin.publish.verification import verify
from tests.publish.conftest import make_project

BAG = "shear-bolts-1"


def publish(project: Path, out: Path, *options: str) -> int:
    return main(["publish", "shear-bolts", "--kb", str(project / "kb"), "--out", str(out), *options])


def command(project: Path, out: Path, *options: str) -> list[str]:
    words = ["publish", "shear-bolts", "--kb", str(project / "kb"), "--out", str(out), *options]
    return [sys.executable, "-m", "shearpin.cli", *words]


def change(project: Path, path: str, old: str, new: str) -> None:
    file = project / "kb" / path
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def snapshot(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture
def own_project(tmp_path: Path) -> Path:
    """A project that the test may change."""
    (tmp_path / "own").mkdir()
    return make_project(tmp_path / "own")


def test_folder_and_zip_hold_the_same_files_and_are_valid(published: Path) -> None:
    bag = published / BAG
    assert bagit.Bag(str(bag)).is_valid()
    with zipfile.ZipFile(published / f"{BAG}.zip") as archive:
        zipped = {name.removeprefix(f"{BAG}/"): archive.read(name) for name in archive.namelist()}
    assert zipped == snapshot(bag)
    assert all(report.problems == () for report in verify(published))
    info = bagit.Bag(str(bag)).info
    assert (info["Source-Organization"], info["Bagging-Date"]) == ("Brook Institute", "2026-11-01")


def test_nothing_else_is_left_in_the_folder(published: Path) -> None:
    assert sorted(entry.name for entry in published.iterdir()) == [BAG, f"{BAG}.sha256", f"{BAG}.zip"]


def test_every_link_and_file_of_the_pages_leads_somewhere(published: Path) -> None:
    site = published / BAG / "data"
    for page in site.rglob("*.html"):
        soup = BeautifulSoup(page.read_text(encoding="utf-8"), "lxml")
        for element in soup.select("[href], [src]"):
            target = str(element.get("href") or element.get("src")).split("#")[0].split("?")[0]
            if target and not target.startswith(("https:", "data:")):
                assert (page.parent / target).resolve().is_file(), (page.name, target)


def test_start_here_leads_to_the_manual(published: Path) -> None:
    page = (published / BAG / "START-HERE.html").read_text(encoding="utf-8")
    assert 'href="data/index.html"' in page
    assert (published / BAG / "data/index.html").is_file()


def test_pages_carry_the_edition_as_their_name(published: Path) -> None:
    page = (published / BAG / "data/index.html").read_text(encoding="utf-8")
    assert "<title>Course pack: shear bolts</title>" in page
    assert "edition 1, issued by Brook Institute on 2026-11-01" in page
    assert "data-edition-state" not in page


@pytest.mark.parametrize("tool", ["sha256sum", "shasum"])
def test_the_usual_tools_of_linux_and_macos_verify_it_as_the_text_says(
    published: Path, tmp_path: Path, tool: str
) -> None:
    if shutil.which(tool) is None:
        pytest.skip(f"there is no {tool} here")
    bag = Path(shutil.copytree(published / BAG, tmp_path / BAG))
    told = (bag / "HOW-TO-VERIFY.txt").read_text(encoding="utf-8")
    lines = [line.strip() for line in told.splitlines()]
    check = next(line for line in lines if tool in line and "--check" in line)
    count = next(line for line in lines if line.startswith("find data"))
    done = subprocess.run(["sh", "-c", check], cwd=bag, capture_output=True, text=True, check=False)
    assert (done.stdout, done.stderr) == ("", "")
    counted = subprocess.run(["sh", "-c", count], cwd=bag, capture_output=True, text=True, check=True)
    assert f"{counted.stdout.strip()} files, none more" in told
    (bag / "data/index.html").write_bytes(b"other")
    (bag / "data/search.html").unlink()
    done = subprocess.run(["sh", "-c", check], cwd=bag, capture_output=True, text=True, check=False)
    assert "data/index.html: FAILED" in done.stdout
    assert "data/search.html: FAILED open or read" in done.stdout


def test_the_way_of_windows_reads_the_manifests_as_they_are_written(published: Path) -> None:
    # No PowerShell runs here: what its lines rely on is checked, their words by reading them.
    bag = published / BAG
    for manifest in ("tagmanifest-sha256.txt", "manifest-sha256.txt"):
        for line in (bag / manifest).read_text(encoding="utf-8").splitlines():
            digest, name = line.split("  ", 1)
            assert re.fullmatch("[0-9a-f]{64}", digest)
            assert (bag / name).is_file()
            assert name == name.strip()
    told = (bag / "HOW-TO-VERIFY.txt").read_text(encoding="utf-8")
    assert told.count("{") == told.count("}") == 3


EVERY_FORMAT = "site,zip,pdf,epub,scorm,learner,instructor"


def _elsewhere(project: Path, out: Path, umask: str, surroundings: dict[str, str]) -> None:
    """Publish every format with another umask and environment."""
    formats = EVERY_FORMAT if find_spec("weasyprint") is not None else EVERY_FORMAT.replace(",pdf", "")
    script = f"umask {umask}; exec {shlex.join(command(project, out, '--format', formats))}"
    environment = {**os.environ, **surroundings}
    done = subprocess.run(["sh", "-c", script], env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_the_same_records_give_the_same_bytes_anywhere(
    project: Path, published: Path, tmp_path: Path
) -> None:
    other = Path(shutil.copytree(project, tmp_path / "Ålesund – 100 %"))
    one, two = tmp_path / "one", tmp_path / "two"
    _elsewhere(project, one, "022", {"PYTHONHASHSEED": "1", "TZ": "UTC", "HOME": str(tmp_path)})
    far_away = {
        "TZ": "Pacific/Kiritimati",
        "LC_ALL": "C",
        "LANG": "C",
        "USER": "somebody",
        "LOGNAME": "somebody",
    }
    _elsewhere(other, two, "077", {"PYTHONHASHSEED": "7", **far_away})
    first, second = snapshot(one), snapshot(two)
    assert [name for name in first if second.get(name) != first[name]] == []
    assert first.keys() == second.keys()
    endings = {Path(name).suffix for name in first if "/" not in name}
    assert {".zip", ".epub", ".html", ".sha256"} <= endings
    for name, data in snapshot(published).items():
        assert name.endswith(".sha256") or first[name] == data, name


def test_source_date_epoch_is_the_time_in_the_archive(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1767225600")
    assert publish(project, tmp_path, "--format", "zip") == 0
    with zipfile.ZipFile(tmp_path / f"{BAG}.zip") as archive:
        assert {entry.date_time for entry in archive.infolist()} == {(2026, 1, 1, 0, 0, 0)}
    for given in ("soon", "-5", str(1 << 32)):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", given)
        assert publish(project, tmp_path, "--format", "zip") == 1


def test_json_names_what_was_written(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert publish(project, tmp_path, "--json") == 0
    shown = capsys.readouterr()
    told = json.loads(shown.out)
    assert shown.err == ""  # quiet where nobody watches
    assert [file["format"] for file in told["files"]] == ["site", "zip"]
    assert told["files"][0]["sha256"] == verify(tmp_path / BAG)[0].fingerprint
    assert told["files"][1]["bytes"] == (tmp_path / f"{BAG}.zip").stat().st_size


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["shear-bolt"], "did you mean `shear-bolts`?"),
        (["shear-bolts", "--format", "zipp"], "did you mean `zip`?"),
        (["shear-bolts", "--format", ","], "name a format"),
    ],
)
def test_a_slip_of_the_pen_is_answered(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str], told: str
) -> None:
    code = main(["publish", *words, "--kb", str(project / "kb"), "--out", str(tmp_path)])
    assert code == 2
    assert told in capsys.readouterr().err


@pytest.mark.parametrize("state", ["draft", "withdrawn", "", "reviewed, digest: 0123456789abcdef"])
def test_a_final_edition_refuses_what_is_not_reviewed(
    own_project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], state: str
) -> None:
    path = own_project / "kb/tools/pin-punch.yaml"
    text = re.sub(
        r"review: .*\n", f"review: {{state: {state}}}\n" if state else "", path.read_text(encoding="utf-8")
    )
    path.write_text(text, encoding="utf-8")
    assert publish(own_project, tmp_path / "out") == 1
    assert "tools/pin-punch.yaml" in capsys.readouterr().err
    assert not (tmp_path / "out" / BAG).exists()


def test_a_draft_edition_says_so_on_every_page(own_project: Path, tmp_path: Path) -> None:
    change(own_project, "editions/shear-bolts.yaml", "state: final", "state: draft")
    change(own_project, "tools/pin-punch.yaml", "state: reviewed", "state: draft")
    assert publish(own_project, tmp_path, "--format", "site") == 0
    pages = list((tmp_path / BAG / "data").rglob("*.html"))
    assert len(pages) > 20
    for page in pages:
        assert 'data-edition-state="draft"' in page.read_text(encoding="utf-8"), page


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("  symptoms: one-side-of-auger-does-not-turn", "  class: two-stages", "did you mean `two-stage`?"),
        ("  symptoms: one-side-of-auger-does-not-turn", "  kinds: procedures", "did you mean `procedure`?"),
        ("  symptoms: one-side-of-auger-does-not-turn", "  kinds: edition", "would be empty"),
        (
            "  symptoms: one-side-of-auger-does-not-turn",
            "  procedures: nothing-such",
            "no procedure `nothing-such`",
        ),
        ('number: "1"', 'number: ".."', "cannot stand in the names of its files"),
        ('number: "1"', f'number: "{"9" * 300}"', "cannot stand in the names of its files"),
        ("date: 2026-11-01", "date: 2026-13-45", "editions/shear-bolts.yaml:4:7: error[FLD004]"),
        ("licence:", "language: english\nlicence:", "error[FLD004] `language`"),
    ],
)
def test_an_edition_that_makes_no_sense_is_refused_with_the_reason(
    own_project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, told: str
) -> None:
    change(own_project, "editions/shear-bolts.yaml", old, new)
    assert publish(own_project, tmp_path / "out") == 1
    assert told in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_a_title_with_signs_of_markup_and_paths_is_only_a_title(own_project: Path, tmp_path: Path) -> None:
    title = "../../etc/<b>x</b> & “q” / C:x"
    change(own_project, "editions/shear-bolts.yaml", '"Course pack: shear bolts"', f"'{title}'")
    assert publish(own_project, tmp_path / "out", "--format", "site,epub,learner") == 0
    names = [f"{BAG}", f"{BAG}-learner.html", f"{BAG}.epub", f"{BAG}.sha256"]
    assert sorted(entry.name for entry in (tmp_path / "out").iterdir()) == names
    soup = BeautifulSoup((tmp_path / "out" / BAG / "data/index.html").read_text(encoding="utf-8"), "lxml")
    assert soup.title is not None
    assert soup.title.get_text() == title


def test_errors_in_the_records_stop_it(
    own_project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(own_project, "tools/pin-punch.yaml", "title:", "titel: x\ntitle:")
    assert publish(own_project, tmp_path / "out") == 1
    assert "error[FLD001]" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_changed_values_come_first_with_old_and_new(
    own_project: Path, published: Path, tmp_path: Path
) -> None:
    change(own_project, "machines/brook-d24.yaml", "is: 8 N·m", "is: 9 N·m")
    change(own_project, "cautions/rotating-auger.yaml", "hazard:", "hazard: Mind, ")
    change(
        own_project,
        "procedures/replace-auger-shear-bolt.yaml",
        "Drive the broken bolt out",
        "Push the broken bolt out",
    )
    for since in (published / BAG, published / f"{BAG}.zip", published / BAG / "edition.json"):
        assert publish(own_project, tmp_path, "--since", str(since), "--format", "site") == 0
        soup = BeautifulSoup((tmp_path / BAG / "data/changes.html").read_text(encoding="utf-8"), "lxml")
        sections = [section["id"] for section in soup.select("article section")]
        assert sections == ["changed-figures", "changed-cautions", "reworded"]
        row = soup.select_one('[data-change="machine:brook-d24 auger-shear-bolt.torque"]')
        assert (row.select_one("del").text, row.select_one("ins").text) == ("8 N·m", "9 N·m")
        assert "Mind," in soup.select_one("#changed-cautions ins").text
        assert "steps" in soup.select_one("#reworded").text
    front = (tmp_path / BAG / "data/index.html").read_text(encoding="utf-8")
    assert 'href="changes.html"' in front


def test_records_added_and_withdrawn_are_named(own_project: Path, published: Path, tmp_path: Path) -> None:
    (own_project / "kb/terms/shear-pin.yaml").write_text(
        "title: Shear pin\ndefinition: A pin that breaks first.\ntools: pin-punch\n"
        "review: {state: reviewed, by: lead instructor, on: 2026-10-02}\n",
        encoding="utf-8",
    )
    assert publish(own_project, tmp_path, "--since", str(published / BAG), "--format", "site") == 0
    soup = BeautifulSoup((tmp_path / BAG / "data/changes.html").read_text(encoding="utf-8"), "lxml")
    assert "Shear pin" in soup.select_one("#added").text


def test_a_renamed_record_is_the_same_under_another_name(
    own_project: Path, published: Path, tmp_path: Path
) -> None:
    kb = str(own_project / "kb")
    for old, new in (
        ("procedure/replace-auger-shear-bolt", "change-auger-shear-bolt"),
        ("value/auger-shear-bolt.torque", "auger-bolt.torque"),
        ("tool/pin-punch", "drift-punch"),
        ("caution/rotating-auger", "turning-auger"),
    ):
        assert main(["rename", old, new, "--kb", kb]) == 0
    change(own_project, "machines/brook-d24.yaml", "is: 8 N·m", "is: 9 N·m")
    assert publish(own_project, tmp_path, "--since", str(published / BAG), "--format", "site") == 0
    soup = BeautifulSoup((tmp_path / BAG / "data/changes.html").read_text(encoding="utf-8"), "lxml")
    row = soup.select_one('[data-change="machine:brook-d24 auger-bolt.torque"]')
    assert (row.select_one("del").text, row.select_one("ins").text) == ("8 N·m", "9 N·m")
    assert len(soup.select("#changed-figures tbody tr")) == 1
    assert "formerly replace-auger-shear-bolt" in soup.select_one("#renamed").text
    assert soup.select_one("#added, #withdrawn, #changed-cautions") is None
    assert soup.select_one("#reworded") is None, "those that mention it say the same"


def test_what_is_no_edition_is_refused_as_an_earlier_one(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "x.zip").write_bytes(b"PK\x03\x04")
    for path in (tmp_path / "x.zip", tmp_path, tmp_path / "none"):
        assert publish(project, tmp_path / "out", "--since", str(path)) == 1
        assert "no published edition" in capsys.readouterr().err


def test_a_draft_takes_the_place_of_the_one_before(own_project: Path, tmp_path: Path) -> None:
    change(own_project, "editions/shear-bolts.yaml", "state: final", "state: draft")
    assert publish(own_project, tmp_path / "out") == 0
    before = verify(tmp_path / "out")
    change(own_project, "machines/brook-d24.yaml", "is: 8 N·m", "is: 9 N·m")
    assert publish(own_project, tmp_path / "out") == 0
    after = verify(tmp_path / "out")
    assert [report.problems for report in after] == [(), ()]
    assert before[0].fingerprint != after[0].fingerprint == after[1].fingerprint


def test_a_final_number_stands_for_one_content(
    own_project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert publish(own_project, tmp_path / "out") == 0
    before = snapshot(tmp_path / "out")
    assert publish(own_project, tmp_path / "out") == 0  # the same again
    change(own_project, "machines/brook-d24.yaml", "is: 8 N·m", "is: 9 N·m")
    assert publish(own_project, tmp_path / "out") == 1
    assert "number 1 of 2026-11-01 is final" in capsys.readouterr().err
    shutil.rmtree(tmp_path / "out" / BAG)
    assert publish(own_project, tmp_path / "out", "--format", "zip") == 1  # the zip says so too
    assert {name: data for name, data in before.items() if "/" not in name} == snapshot(tmp_path / "out")
    change(own_project, "editions/shear-bolts.yaml", 'number: "1"', 'number: "2"')
    assert publish(own_project, tmp_path / "out") == 0


def _put(place: Path, what: str) -> None:
    if what == "file":
        place.write_text("mine", encoding="utf-8")
    elif what == "link":
        (place.parent / "elsewhere").mkdir()
        (place.parent / "elsewhere/mine.txt").write_text("mine", encoding="utf-8")
        place.symlink_to(place.parent / "elsewhere")
    else:
        place.mkdir()
        (place / "mine.txt").write_text("mine", encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "what", "told"),
    [
        (BAG, "folder", "files that no edition of yours put there: mine.txt"),
        (BAG, "file", "is a file, and the folder"),
        (BAG, "link", "is a link, and the folder"),
        (f"{BAG}.zip", "folder", "is a folder, and a file"),
        (f"{BAG}-learner.html", "folder", "is a folder, and a file"),
    ],
)
def test_nothing_of_anybody_else_is_replaced(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, what: str, told: str
) -> None:
    _put(tmp_path / name, what)
    before = snapshot(tmp_path)
    assert publish(project, tmp_path) == 1
    assert told in capsys.readouterr().err
    assert snapshot(tmp_path) == before


def test_what_an_instructor_put_into_the_folder_is_not_lost(
    project: Path, published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = Path(shutil.copytree(published, tmp_path / "out"))
    (out / BAG / "data/my notes.txt").write_text("mine", encoding="utf-8")
    (out / BAG / "Thumbs.db").write_bytes(b"x")
    assert publish(project, out) == 1
    told = capsys.readouterr().err
    assert "data/my notes.txt" in told
    assert "Thumbs.db" not in told
    (out / BAG / "data/my notes.txt").unlink()
    (out / BAG / "data/index.html").write_bytes(b"damaged")
    assert publish(project, out) == 0
    assert [report.problems for report in verify(out)] == [(), ()]


@pytest.mark.parametrize("number", ["1 1", "1/1"])
def test_two_editions_of_one_name_do_not_replace_each_other(
    own_project: Path, published: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], number: str
) -> None:
    change(own_project, "editions/shear-bolts.yaml", 'number: "1"', f'number: "{number}"')
    assert publish(own_project, tmp_path) == 0
    change(own_project, "editions/shear-bolts.yaml", f'number: "{number}"', 'number: "1-1"')
    assert publish(own_project, tmp_path) == 1
    assert f"number {number}: its files have the names" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("out", "code", "told"),
    [
        ("kb/dist", 2, "belongs to the book"),
        ("kb", 2, "belongs to the book"),
        ("site/dist", 2, "belongs to the book"),
        ("dist ", 2, "ends with a blank or a dot"),
        ("mkdocs.yml", 1, "a file of that name"),
        ("mkdocs.yml/dist", 1, "a file of that name, or of one above it"),
    ],
)
def test_a_folder_that_cannot_serve_is_refused(
    project: Path, capsys: pytest.CaptureFixture[str], out: str, code: int, told: str
) -> None:
    before = snapshot(project)
    assert publish(project, Path(f"{project}/{out}")) == code
    assert told in capsys.readouterr().err
    assert snapshot(project) == before


def _limited(*words: str) -> list[str]:
    """Return a command that may write no file above 20 kB, as on a disk that fills up."""
    script = (
        "import resource, signal, sys; signal.signal(signal.SIGXFSZ, signal.SIG_IGN); "
        "resource.setrlimit(resource.RLIMIT_FSIZE, (20000, 20000)); "
        "from shearpin.cli.main import main; sys.exit(main(sys.argv[1:]))"
    )
    return [sys.executable, "-c", script, *words]


def test_a_disk_that_takes_no_more_leaves_the_edition_before_whole(
    project: Path, published: Path, tmp_path: Path
) -> None:
    out = Path(shutil.copytree(published, tmp_path / "out"))
    before = snapshot(out)
    words = command(project, out)[3:]
    done = subprocess.run(_limited(*words), capture_output=True, text=True, check=False)
    assert done.returncode == 1, done.stderr
    assert "What was published there before is as it was." in done.stderr
    assert "--out" in done.stderr
    assert snapshot(out) == before
    assert sorted(entry.name for entry in out.iterdir()) == sorted(
        entry.name for entry in published.iterdir()
    )


def test_a_full_disk_is_called_by_its_name(project: Path, published: Path, tmp_path: Path) -> None:
    out = tmp_path / "stick"
    out.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=1500k", "tmpfs", str(out)]
    if shutil.which("mount") is None or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("this user may not mount a small disk")
    try:
        (out / "kept").mkdir()
        shutil.copyfile(published / BAG / "bagit.txt", out / "kept" / "bagit.txt")
        done = subprocess.run(command(project, out), capture_output=True, text=True, check=False)
        assert done.returncode == 1
        assert "there is no room left on the disk" in done.stderr
        assert [entry.name for entry in out.iterdir()] == ["kept"]
        subprocess.run(["mount", "-o", "remount,ro", str(out)], check=True)
        done = subprocess.run(command(project, out), capture_output=True, text=True, check=False)
        assert done.returncode == 1
        assert "can only be read" in done.stderr
    finally:
        subprocess.run(["umount", str(out)], check=True)


def _mounted(*options: str, at: Path) -> None:
    mount = ["mount", *options, str(at)]
    if shutil.which("mount") is None or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("this user may not mount anything")


def test_a_full_disk_while_a_volume_is_set_is_called_by_its_name(project: Path, tmp_path: Path) -> None:
    pytest.importorskip("weasyprint", exc_type=(ImportError, OSError))
    out = tmp_path / "stick"
    out.mkdir()
    _mounted("-t", "tmpfs", "-o", "size=40k", "tmpfs", at=out)
    try:
        words = command(project, out, "--format", "pdf")
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        assert done.returncode == 1, done.stderr
        assert "there is no room left on the disk" in done.stderr
        assert list(out.iterdir()) == []
    finally:
        subprocess.run(["umount", str(out)], check=True)


def test_a_stick_pulled_half_way_still_holds_the_edition_before(
    project: Path, published: Path, tmp_path: Path
) -> None:
    stick = Path(shutil.copytree(published, tmp_path / "stick"))
    out = tmp_path / "drive"
    out.mkdir()
    _mounted("--bind", str(stick), at=out)
    process = subprocess.Popen(command(project, out), stderr=subprocess.PIPE, text=True)
    try:
        while process.poll() is None and not list(stick.glob(".*.partial-*/*/data*")):
            time.sleep(0.02)
        subprocess.run(["umount", "--lazy", str(out)], check=True)
        told = process.communicate()[1]
    finally:
        subprocess.run(["umount", str(out)], capture_output=True, check=False)
    assert process.returncode == 1, told
    assert "was the stick pulled" in told
    assert "Put it back and publish again." in told
    assert [report.problems for report in verify(stick)] == [(), ()]


def test_killed_at_any_moment_an_edition_is_whole_or_the_next_run_finishes_it(
    project: Path, published: Path, tmp_path: Path
) -> None:
    out = Path(shutil.copytree(published, tmp_path / "out"))
    for wait in (0.3, 0.6, 0.8, 1.0, 1.2):
        process = subprocess.Popen(
            command(project, out), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        time.sleep(wait)
        process.send_signal(signal.SIGKILL)
        process.wait()
        if any(
            place.is_unfinished(path) for path in out.iterdir()
        ):  # what was complete was taking its places
            assert "cut off" in str([report.problems for report in verify(out)])
            with place.staging(out, BAG):
                pass
        assert [report.problems for report in verify(out)] == [(), ()]
    assert publish(project, out) == 0
    assert sorted(entry.name for entry in out.iterdir()) == [BAG, f"{BAG}.sha256", f"{BAG}.zip"]


class _Death(BaseException):
    """The process ends, and cleans up nothing."""


def _contents(out: Path) -> dict[str, bytes]:
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in out.rglob("*") if path.is_file()}


def _places(
    folder: Path, made: str, monkeypatch: pytest.MonkeyPatch, moves: int, fault: BaseException
) -> None:
    """Exchange all of `folder` for what was made; the fault stands in the way after so many moves, for good if it is a death."""
    work = Path(shutil.copytree(folder.parent / made, folder / f".{BAG}.partial-x"))
    done = 0

    def move(path: Path, target: Path) -> None:
        nonlocal done
        done += 1
        if done == moves or (done > moves and isinstance(fault, _Death)):
            raise fault
        path.rename(target)

    monkeypatch.setattr(place, "_move", move)
    if isinstance(fault, _Death):
        monkeypatch.setattr(place, "_clear", lambda *folders: None)
    place.exchange(sorted(work.iterdir()), [], folder, BAG)


def _two_sets(folder: Path) -> tuple[dict[str, bytes], dict[str, bytes]]:
    for name, words in (("out", b"before"), ("made", b"now")):
        (folder / name / BAG / "data").mkdir(parents=True)
        (folder / name / BAG / "data/index.html").write_bytes(words)
        (folder / name / f"{BAG}.zip").write_bytes(words)
    (folder / "made" / f"{BAG}.pdf").write_bytes(b"now")
    return _contents(folder / "out"), _contents(folder / "made")


@pytest.mark.parametrize("moves", range(1, 10))
def test_all_formats_take_their_places_or_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, moves: int
) -> None:
    before, _ = _two_sets(tmp_path)
    with pytest.raises(PermissionError):
        _places(tmp_path / "out", "made", monkeypatch, moves, PermissionError(errno.EACCES, "open elsewhere"))
    left = {name: data for name, data in _contents(tmp_path / "out").items() if ".partial-" not in name}
    assert left == before


@pytest.mark.parametrize("moves", range(1, 10))
def test_a_death_while_they_take_their_places_is_mended_by_the_next_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, moves: int
) -> None:
    before, now = _two_sets(tmp_path)
    out = tmp_path / "out"
    with pytest.raises(_Death):
        _places(out, "made", monkeypatch, moves, _Death())
    monkeypatch.undo()
    unfinished = [report for report in verify(out) if "cut off" in str(report.problems)]
    with place.staging(out, BAG):
        pass
    assert _contents(out) == (now if unfinished else before)
    assert bool(unfinished) == (moves > 4)


def test_a_second_publication_at_once_is_told_to_wait(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with alone(tmp_path, BAG):
        assert publish(project, tmp_path) == 1
        assert "is being published" in capsys.readouterr().err
        other = subprocess.run(command(project, tmp_path), capture_output=True, text=True, check=False)
        assert other.returncode == 1
    assert publish(project, tmp_path) == 0


def test_names_that_some_system_cannot_hold_are_found() -> None:
    bad = ["data/con.html", "data/a:b.html", "data/dot.", "x" * 200, "data/Index.html", "data/index.html"]
    told = "\n".join(faults_of_names(bad))
    for word in ("`con.html`", "`a:b.html`", "`dot.`", "200 characters", "are the same file"):
        assert word in told
    assert list(faults_of_names(["data/index.html", "data/look/page.css"])) == []
    assert base_name("whole-book", "2026.1 / b") == "whole-book-2026.1-b"
