"""Whatever lies in `kb/` besides records ends in findings: devices, pipes, links, giants, files that vanish."""

from __future__ import annotations

import os
import socket
import sys
import tracemalloc
from pathlib import Path

import pytest

from shearpin.book.linked import load_linked
from shearpin.cli.main import main
from shearpin.inspection import inspect_book
from shearpin.model.finding import Finding
from tests.sound_book import lay_over

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="made of pipes and links that Windows lacks")
STRAY = "tools/stray.yaml"


@pytest.fixture
def kb(tmp_path: Path) -> Path:
    return lay_over(tmp_path, {})


def _check(kb: Path) -> tuple[Finding, ...]:
    return inspect_book(load_linked(kb, "kb"))


def _at_the_stray(kb: Path) -> str:
    (finding,) = _check(kb)
    assert finding.path == f"kb/{STRAY}"
    assert (finding.line, finding.column) == (1, 1)
    return finding.message


def test_a_pipe_is_not_waited_for(kb: Path) -> None:
    os.mkfifo(kb / STRAY)
    assert _at_the_stray(kb) == "not a file"


def test_a_drawing_that_is_a_pipe_is_not_waited_for(kb: Path) -> None:
    (kb / "figures" / "shear-bolt.svg").unlink()
    os.mkfifo(kb / "figures" / "shear-bolt.svg")
    assert {finding.path.split("/")[1] for finding in _check(kb)} == {"figures"}


def test_a_socket_is_not_read(kb: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(kb / "tools")  # the path of a socket is short
    with socket.socket(socket.AF_UNIX) as listener:
        listener.bind("stray.yaml")
        assert _at_the_stray(kb) == "not a file"


def test_a_link_to_a_device_or_out_of_the_folder_is_not_followed(kb: Path, tmp_path: Path) -> None:
    outside = tmp_path / "outside.yaml"
    outside.write_text("title: Secret\nsummary: Not of this book.\n", encoding="utf-8")
    for target in ("/dev/zero", "/dev/stdin", "/etc/passwd", str(outside), "stray.yaml", "../.."):
        (kb / STRAY).symlink_to(target)
        assert "a link" in _at_the_stray(kb)
        (kb / STRAY).unlink()


def test_a_folder_named_like_a_record_is_not_entered(kb: Path) -> None:
    (kb / STRAY).mkdir()
    (kb / STRAY / "deep.yaml").write_text("title: x\n", encoding="utf-8")
    assert "a folder inside" in _at_the_stray(kb)


def test_a_linked_drawing_is_not_followed(kb: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.svg").write_text("<svg/>", encoding="utf-8")
    (kb / "figures" / "shear-bolt.svg").unlink()
    (kb / "figures" / "shear-bolt.svg").symlink_to(tmp_path / "secret.svg")
    assert {finding.path.split("/")[1] for finding in _check(kb)} == {"figures"}


def test_fifty_megabytes_are_not_read(kb: Path) -> None:
    with open(kb / STRAY, "wb") as stream:
        stream.truncate(50_000_000)
    tracemalloc.start()
    try:
        assert _at_the_stray(kb) == "the file is larger than 1,000,000 bytes"
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert peak < 20_000_000


def test_a_file_that_vanishes_between_listing_and_reading_is_a_finding(
    kb: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = kb / "tools" / "pin-punch.yaml"
    real = os.scandir

    def listing_then_gone(folder: object) -> object:
        entries = list(real(folder))  # type: ignore[call-overload]
        if str(folder).endswith("tools"):
            path.unlink(missing_ok=True)
        return iter(entries)

    monkeypatch.setattr(os, "scandir", listing_then_gone)
    findings = load_linked(kb, "kb").book.file_of[("tool", "pin-punch")].text_faults
    assert [fault.code for fault in findings] == ["FMT002"]


def test_a_file_that_vanishes_before_its_line_is_looked_up_is_reported_at_its_top(kb: Path) -> None:
    path = kb / "tools" / "pin-punch.yaml"
    path.write_text("title: Pin punch\nsummary: A.\nspecial: perhaps\n", encoding="utf-8")
    linked = load_linked(kb, "kb")
    path.unlink()
    (finding,) = inspect_book(linked)
    assert (finding.code, finding.line, finding.column) == ("FLD004", 1, 1)


@pytest.mark.parametrize(
    "name", ["..yaml", "a b.yaml", "con.yaml", "Ä.yaml", "index.yaml", "pin-punсh.yaml", "x" * 200 + ".yaml"]
)
def test_a_name_that_tricks_a_path_is_a_finding(name: str, kb: Path) -> None:
    (kb / "tools" / name).write_text("title: Odd\nsummary: Odd.\n", encoding="utf-8")
    codes = {finding.code for finding in _check(kb)}
    assert codes & {"REF003", "REF004"} or name.startswith(".")


def test_a_name_that_is_no_text_is_a_finding(kb: Path) -> None:
    try:
        (kb / "tools" / os.fsdecode(b"\xff\xfe.yaml")).write_text(
            "title: Odd\nsummary: Odd.\n", encoding="utf-8"
        )
    except OSError:
        pytest.skip("this file system refuses such names")
    assert "REF003" in {finding.code for finding in _check(kb)}


def test_a_check_writes_nothing_into_the_project(
    kb: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (kb / STRAY).write_bytes(b"\x00\xff- [")
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    monkeypatch.chdir(tmp_path)
    assert main(["check"]) == 1
    assert "stray.yaml" in capsys.readouterr().out
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before
