"""Loading: whatever lies in the folder, the outcome is a book and its findings."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from shearpin.book.failure import BookError
from shearpin.book.linked import load_linked
from shearpin.book.load import load_book
from shearpin.inspection import inspect_book
from shearpin.model.finding import Finding
from tests.sound_book import SOUND_BOOK, check_over, lay_over, sound, swap

PUNCH = "tools/pin-punch.yaml"
GOOD = "title: Pin punch\nsummary: Drives out pins.\n"


def _codes(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(finding.path, finding.code) for finding in findings]


def _link(path: Path, target: Path) -> None:
    try:
        path.symlink_to(target)
    except OSError:
        pytest.skip("this system or user may not make symbolic links")


def test_records_come_in_order_of_kind_and_id() -> None:
    book = load_book(SOUND_BOOK)
    assert [file.id for file in book.files if file.kind.name == "procedure"] == [
        "make-machine-safe",
        "replace-auger-shear-bolt",
    ]
    kinds = [file.kind.name for file in book.files]
    assert kinds.index("symptom") < kinds.index("cause") < kinds.index("machine") < kinds.index("edition")
    assert [key for key, _ in book.records()] == [(file.kind.name, file.id) for file in book.files]


def test_a_folder_that_is_not_there_is_a_mistake_of_the_user(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="--kb"):
        load_book(tmp_path / "absent")


def test_a_file_in_place_of_the_folder_is_a_mistake_of_the_user(tmp_path: Path) -> None:
    (tmp_path / "kb").write_text("a", encoding="utf-8")
    with pytest.raises(BookError):
        load_book(tmp_path / "kb")


def test_an_empty_folder_is_an_empty_book(tmp_path: Path) -> None:
    assert inspect_book(load_linked(tmp_path)) == ()


def test_faults_of_several_kinds_in_several_files_are_told_in_one_run_and_sorted(tmp_path: Path) -> None:
    findings = check_over(
        tmp_path,
        {
            **swap("procedures/make-machine-safe.yaml", "Pull the boot", "Pull the \u200bboot"),
            **swap("machines/brook-t28.yaml", "9 ± 1 N·m", "90 N·m"),
            "tools/torque-wrench.yaml": "title: Torque wrench\nsumary: a\n",
            PUNCH: b"\xff\xfe",
            "terms/shear-bolt.yaml": sound("terms/shear-bolt.yaml") + "related: [shear-pin, pin]\nsee: a\n",
            "symptoms/rattle.yaml": "title: A\nsummary: B.\nsystems: [auger-drve]\n",
        },
    )
    assert [f"{f.path}:{f.line}:{f.column} {f.code}" for f in findings] == [
        "kb/machines/brook-t28.yaml:8:33 QTY003",
        "kb/procedures/make-machine-safe.yaml:8:18 FMT006",
        "kb/symptoms/rattle.yaml:1:1 DIA003",
        "kb/symptoms/rattle.yaml:3:11 REF001",
        "kb/terms/shear-bolt.yaml:5:11 REF001",
        "kb/terms/shear-bolt.yaml:5:22 REF001",
        "kb/terms/shear-bolt.yaml:6:1 FLD001",
        "kb/tools/pin-punch.yaml:1:1 FMT003",
        "kb/tools/torque-wrench.yaml:1:1 FLD002",
        "kb/tools/torque-wrench.yaml:2:1 FLD001",
    ]


@pytest.mark.parametrize(
    ("files", "reference"),
    [
        (
            {"parts/auger-shear-bolt.yaml": sound("parts/auger-shear-bolt.yaml") + "colour: red\n"},
            "a faulty optional field",
        ),
        ({"parts/auger-shear-bolt.yaml": "title: A bolt\nplate: machine\n"}, "a missing field"),
        ({"parts/auger-shear-bolt.yaml": "title: [\n"}, "no YAML"),
        ({"parts/auger-shear-bolt.yaml": b"\xff"}, "no text"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_broken_record_is_the_only_thing_wrong(
    files: dict[str, str], reference: str, tmp_path: Path
) -> None:
    """Others may refer to it, and what it refers to may still be used only by it."""
    findings = check_over(tmp_path, files)
    assert {finding.path for finding in findings} == {"kb/parts/auger-shear-bolt.yaml"}, reference
    assert len(findings) == 1


@pytest.mark.parametrize(
    "name", sorted(path.relative_to(SOUND_BOOK).as_posix() for path in SOUND_BOOK.rglob("*.yaml"))
)
def test_one_record_that_cannot_be_read_brings_no_findings_elsewhere(name: str, tmp_path: Path) -> None:
    findings = check_over(tmp_path, {name: sound(name) + "\nnot: yaml: at all\n"})
    assert {finding.path for finding in findings} == {f"kb/{name}"}
    assert [finding.code for finding in findings] == ["FMT001"]


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("tools/drift.yml", "not read"),
        ("tools/drift.YAML", "not read"),
        ("tools/notes.md", "not read"),
        ("tools/drift", "not read"),
        ("figures/photo.png", "not read"),
        ("tools/shape.svg", "not read"),
        ("tools/old/a.yaml", "a folder inside `tools`"),
        ("Tools/a.yaml", "no kind of record lives in `Tools`"),
        ("tool/a.yaml", "no kind of record lives in `tool`"),
        ("README.md", "no kind of record lives in `README.md`"),
    ],
)
def test_what_nobody_reads_is_told(name: str, reason: str, tmp_path: Path) -> None:
    if name.startswith("Tools") and (SOUND_BOOK / "Tools").exists():
        pytest.skip("this file system does not tell capitals apart")
    (finding,) = check_over(tmp_path, {name: "title: A\n"})
    assert finding.code == "REF008"
    assert finding.message.startswith(reason)


def test_a_misspelt_folder_is_answered_with_the_nearest(tmp_path: Path) -> None:
    (finding,) = check_over(tmp_path, {"tols/a.yaml": GOOD})
    assert finding.help == "did you mean `tools`?"


def test_a_file_in_place_of_a_kinds_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "tools").write_text("a", encoding="utf-8")
    (finding,) = inspect_book(load_linked(tmp_path, "kb"))
    assert finding.code == "REF008"


@pytest.mark.parametrize("inside", [True, False], ids=["to a record of the book", "out of the folder"])
def test_a_link_to_a_file_is_not_followed(inside: bool, tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    secret = tmp_path / "secret.yaml"
    secret.write_text(GOOD, encoding="utf-8")
    _link(kb / "terms" / "drift.yaml", kb / "terms" / "shear-bolt.yaml" if inside else secret)
    linked = load_linked(kb, "kb")
    assert "drift" not in linked.book.terms
    assert _codes(inspect_book(linked)) == [("kb/terms/drift.yaml", "REF008")]


def test_a_link_in_place_of_a_kinds_folder_is_not_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "drift.yaml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "kb").mkdir()
    _link(tmp_path / "kb" / "tools", elsewhere)
    linked = load_linked(tmp_path / "kb", "kb")
    assert linked.book.files == ()
    assert _codes(inspect_book(linked)) == [("kb/tools", "REF008")]


def test_a_link_that_leads_nowhere_is_told(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    _link(kb / "tools" / "drift.yaml", tmp_path / "absent.yaml")
    assert _codes(inspect_book(load_linked(kb, "kb"))) == [("kb/tools/drift.yaml", "REF008")]


def test_a_linked_drawing_is_not_read(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {"figures/shear-bolt.svg": None})
    _link(kb / "figures" / "shear-bolt.svg", Path(os.devnull))
    assert _codes(inspect_book(load_linked(kb, "kb"))) == [
        ("kb/figures/shear-bolt.svg", "REF008"),
        ("kb/figures/shear-bolt.yaml", "FIG002"),
    ]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
@pytest.mark.parametrize("name", ["tools/drift.yaml", "figures/shear-bolt.svg"])
def test_a_pipe_is_not_waited_for(name: str, tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    (kb / name).unlink(missing_ok=True)
    os.mkfifo(kb / name)
    codes = {code for _, code in _codes(inspect_book(load_linked(kb, "kb")))}
    assert codes == ({"REF008"} if name.startswith("tools") else {"FIG002"})


@pytest.mark.skipif(sys.platform == "win32", reason="rights are kept otherwise there")
def test_a_file_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    (kb / PUNCH).chmod(0)
    try:
        (kb / PUNCH).read_bytes()
    except PermissionError:
        pass
    else:
        pytest.skip("this user may read everything")
    (finding,) = inspect_book(load_linked(kb, "kb"))
    assert (finding.path, finding.code) == (f"kb/{PUNCH}", "FMT002")


def test_a_file_that_vanishes_between_listing_and_reading_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import shearpin.book.readfiles as readfiles

    kb = lay_over(tmp_path, {})
    read_content = readfiles.content_of

    def vanish(place: str) -> bytes | OSError:
        if place.endswith("pin-punch.yaml"):
            Path(place).unlink()
        return read_content(place)

    monkeypatch.setattr(readfiles, "content_of", vanish)
    (finding,) = inspect_book(load_linked(kb, "kb"))
    assert (finding.path, finding.line, finding.code) == (f"kb/{PUNCH}", 1, "FMT002")
    assert "cannot be read" in finding.message


def test_a_file_that_vanishes_before_its_finding_is_placed_is_told_at_its_top(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {PUNCH: GOOD + "\ncolour: red\n"})
    linked = load_linked(kb, "kb")
    (kb / PUNCH).unlink()
    (finding,) = inspect_book(linked)
    assert (finding.line, finding.column, finding.code) == (1, 1, "FLD001")


@pytest.mark.skipif(sys.platform != "linux", reason="only here may a name be any bytes")
def test_a_name_that_is_no_text_is_told(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {})
    with open(os.fsencode(kb) + b"/terms/\xff.yaml", "wb") as stream:
        stream.write(b"title: A\ndefinition: B.\n")
    (finding,) = inspect_book(load_linked(kb, "kb"))
    assert finding.code == "REF003"


def test_findings_begin_with_the_folder_as_the_user_named_it(tmp_path: Path) -> None:
    kb = lay_over(tmp_path, {PUNCH: "title: A\n"})
    for shown in ("kb", "some/where/", "back\\slash\\kb"):
        (finding,) = inspect_book(load_linked(kb, shown))
        assert finding.path == f"{shown.replace(chr(92), '/').rstrip('/')}/{PUNCH}"
