"""`shearpin rename`: every mention, all or nothing, and the old id still leads to the record."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from shearpin.authoring import change
from shearpin.authoring.change import FileChange, recover, write_all
from shearpin.authoring.files import WriteRefused
from shearpin.authoring.mentions import Renaming, renamed_page, renamed_text
from shearpin.book.linked import load_linked
from shearpin.cli.main import main
from shearpin.inspection import inspect_book
from shearpin.model.kinds import KINDS
from shearpin.site.forwarding import forwarding_pages
from tests.sound_book import check_over, lay_over, sound, swap

BOLT = "auger-shear-bolt.torque"
NEW = "auger-shear-bolt.tightening-torque"


def contents(kb: Path) -> dict[str, bytes]:
    return {
        path.relative_to(kb).as_posix(): path.read_bytes() for path in sorted(kb.rglob("*")) if path.is_file()
    }


def rename(kb: Path, *words: str) -> int:
    return main(["rename", "--kb", str(kb), *words])


class TestMentions:
    @pytest.mark.parametrize(
        ("renaming", "text", "expected"),
        [
            (Renaming("value", BOLT, NEW), f"to {{{BOLT}}} or {{ {BOLT} }}.", f"to {{{NEW}}} or {{ {NEW} }}."),
            (Renaming("value", BOLT, NEW), f"{{value:{BOLT}|it}} {BOLT} {{{{{BOLT}}}}}", f"{{value:{NEW}|it}} {BOLT} {{{{{BOLT}}}}}"),
            (Renaming("part", "belt", "drive-belt"), "{part:belt} {part:belt|the belt} {tool:belt} {part:belt-guard}", "{part:drive-belt} {part:drive-belt|the belt} {tool:belt} {part:belt-guard}"),
            (Renaming("part", "belt", "drive-belt"), "  {part:belt}\n", "  {part:drive-belt}\n"),
        ],
    )  # fmt: skip
    def test_in_a_text_are_those_in_braces(self, renaming: Renaming, text: str, expected: str) -> None:
        assert renamed_text(text, renaming)[0] == expected

    def test_on_a_page_are_links_by_kind_and_by_address(self) -> None:
        page = "[a](part:belt) [b](part:belt-guard) [c](../parts/belt.html#x) [d](parts/belt-guard.html) ![e](figures/belt.svg)"
        assert renamed_page(page, Renaming("part", "belt", "band")) == (
            "[a](part:band) [b](part:belt-guard) [c](../parts/band.html#x) [d](parts/belt-guard.html) ![e](figures/belt.svg)", 2
        )  # fmt: skip


class TestTranslations:
    WORK = "translations/es/procedures/replace-auger-shear-bolt.yaml"
    TEXT = (
        "# by the second translator\nstate: draft\ntexts:\n"
        '  - from: "Fit the new bolt, and tighten it to {auger-shear-bolt.torque}."\n'
        '    to: "Coloque el perno nuevo y apriételo a {auger-shear-bolt.torque}."\n'
    )

    def test_a_translation_moves_with_its_record(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {self.WORK: self.TEXT})
        assert rename(kb, "procedure/replace-auger-shear-bolt", "renew-auger-shear-bolt") == 0
        assert not (kb / self.WORK).exists()
        moved = kb / "translations/es/procedures/renew-auger-shear-bolt.yaml"
        assert moved.read_text(encoding="utf-8") == self.TEXT
        assert inspect_book(load_linked(kb, "kb")) == ()

    def test_original_and_translation_name_the_new_id(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {self.WORK: self.TEXT})
        assert rename(kb, f"value/{BOLT}", NEW) == 0
        assert (kb / self.WORK).read_text(encoding="utf-8") == self.TEXT.replace(BOLT, NEW)
        assert inspect_book(load_linked(kb, "kb")) == ()

    def test_a_translation_that_cannot_be_read_stops_it(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {self.WORK: "texts: ["})
        before = contents(kb)
        assert rename(kb, f"value/{BOLT}", NEW) != 0
        assert self.WORK in capsys.readouterr().err
        assert contents(kb) == before


class TestRename:
    def test_rewrites_names_of_fields_lists_texts_and_pages(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        page = f"See [the torque](value:{BOLT}) and [it](values/{BOLT}.html).\n"
        kb = lay_over(tmp_path, {"pages/bolts.md": page})
        before = contents(kb)
        assert rename(kb, f"value/{BOLT}", NEW, "--json") == 0
        document = json.loads(capsys.readouterr().out)
        assert document["written"]
        after = contents(kb)
        assert [name for name in after if BOLT.encode() in after[name]] == [f"values/{NEW}.yaml"]
        assert after[f"values/{NEW}.yaml"] == before[f"values/{BOLT}.yaml"] + f"formerly: [{BOLT}]\n".encode()
        assert after["pages/bolts.md"] == page.replace(BOLT, NEW).encode()
        for name in before.keys() & after.keys():
            assert after[name] == before[name].replace(BOLT.encode(), NEW.encode())
        assert {item["path"]: item["count"] for item in document["mentions"]} == {
            name: before[name].count(BOLT.encode()) for name in before if BOLT.encode() in before[name]
        }
        assert inspect_book(load_linked(kb)) == ()
        assert not (tmp_path / ".shearpin" / "change").exists()

    @pytest.mark.parametrize(
        ("kind", "old"),
        [
            ("cause", "auger-shear-bolt-sheared"), ("caution", "rotating-auger"), ("engine", "ell-e212"),
            ("figure", "shear-bolt"), ("machine", "brook-d24"), ("part", "auger-shear-bolt"),
            ("procedure", "make-machine-safe"), ("source", "bench-notes"), ("symptom", "one-side-of-auger-does-not-turn"),
            ("system", "auger-drive"), ("term", "shear-bolt"), ("test", "shear-bolt-inspection"), ("tool", "pin-punch"),
            ("edition", "whole-book"), ("value", BOLT),
        ],
    )  # fmt: skip
    def test_of_every_kind_leaves_a_sound_book_that_knows_the_old_id(
        self, kind: str, old: str, tmp_path: Path
    ) -> None:
        kb = lay_over(tmp_path, {})
        assert rename(kb, f"{kind}/{old}", "brand-new") == 0
        linked = load_linked(kb)
        assert inspect_book(linked) == ()
        assert linked.book.get(kind, old) is None
        record = linked.book.get(kind, "brand-new")
        assert record is not None
        assert record.formerly == (old,)
        assert {url for url, _ in forwarding_pages(linked)} == {f"{KINDS[kind].folder}/{old}.html"}
        assert (kb / "figures" / "brand-new.svg").is_file() == (kind == "figure")

    def test_back_to_a_former_id_keeps_the_other_one(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert rename(kb, "tool/pin-punch", "drift") == 0
        assert rename(kb, "tool/drift", "pin-punch") == 0
        record = load_linked(kb).book.get("tool", "pin-punch")
        assert record is not None
        assert record.formerly == ("drift",)

    def test_keeps_comments_quotes_folding_and_line_ends(self, tmp_path: Path) -> None:
        text = (
            "# a note on torque-wrench\r\ntitle: Pin punch  # torque-wrench\r\nsummary: >\r\n  Not the {tool:torque-wrench|wrench\r\n"
            "  of torque}: a punch.\r\nalso: [\"drift\"]\r\nignore:\r\n  - {code: LNG001, reason: 'see torque-wrench, not torque-wrench-2'}\r\n"
        )
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": text.encode()})
        assert rename(kb, "tool/torque-wrench", "click-wrench") == 0
        assert (kb / "tools" / "pin-punch.yaml").read_bytes().decode() == text.replace(
            "tool:torque-wrench", "tool:click-wrench"
        ).replace("see torque-wrench,", "see click-wrench,")

    def test_rewrites_a_mention_that_is_spelt_with_an_escape(self, tmp_path: Path) -> None:
        kb = lay_over(
            tmp_path, {"tools/pin-punch.yaml": 'title: T\nsummary: "Not the {tool:torque\\x2dwrench}."\n'}
        )
        assert rename(kb, "tool/torque-wrench", "click-wrench") == 0
        assert "{tool:click-wrench}" in (kb / "tools" / "pin-punch.yaml").read_text(encoding="utf-8")

    def test_shows_what_it_would_do_and_does_nothing(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        before = contents(kb)
        assert rename(kb, "tool/pin-punch", "drift", "--dry-run") == 0
        assert "tool `pin-punch` would be called `drift`" in capsys.readouterr().out
        assert contents(kb) == before

    @pytest.mark.parametrize(
        ("words", "message"),
        [
            (("tool/pin-punch", "torque-wrench"), "exists already"),
            (("tool/pin-punch", "Pin Punch 2"), "did you mean `pin-punch-2`?"),
            (("tool/pin-punch", "../../x"), "is not an id"),
            (("tool/pin-punch", "nul"), "Windows keeps for a device"),
            (("tool/pin-punch", "index"), "lists the tools"),
            (("tool/pin-punch", "a.b"), "only the name of a value has a dot"),
            (("tool/pin-punch", "x" * 81), "at most 80"),
            (("tool/pin-punch", "pin-punch"), "it has already"),
            (("tool/pin-punsh", "drift"), "did you mean `pin-punch`?"),
            (("tol/pin-punch", "drift"), "did you mean `tool`?"),
            (("pin-punch", "drift"), "is not KIND/OLD"),
        ],
    )
    def test_refuses_and_says_why(
        self, words: tuple[str, str], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        before = contents(kb)
        assert rename(kb, *words) == 2
        assert message in capsys.readouterr().err
        assert contents(kb) == before

    def test_refuses_while_files_cannot_be_read(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {"tools/torque-wrench.yaml": "title: [\n"})
        assert rename(kb, "tool/pin-punch", "drift") == 2
        assert "tools/torque-wrench.yaml; mend them first" in capsys.readouterr().err

    def test_refuses_where_a_machine_and_an_engine_have_the_id(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        part = swap("parts/auger-shear-bolt.yaml", "brook-d24:", "ell-e212:")
        kb = lay_over(tmp_path, {"machines/ell-e212.yaml": sound("machines/brook-d24.yaml"), **part})
        assert rename(kb, "engine/ell-e212", "ell-e213") == 2
        assert "not clear which is meant" in capsys.readouterr().err

    def test_refuses_an_id_that_old_links_lead_elsewhere_with(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, swap("tools/pin-punch.yaml", "title:", "formerly: [drift]\ntitle:"))
        assert rename(kb, "tool/torque-wrench", "drift") == 2
        assert "`drift` is a former id of `pin-punch`" in capsys.readouterr().err


class TestAllOrNothing:
    CHANGES = (
        FileChange("tools/pin-punch.yaml", b"a", b"A"),
        FileChange("tools/new.yaml", None, b"N"),
        FileChange("tools/old.yaml", b"o", None),
        FileChange("tools/torque-wrench.yaml", b"b", b"B"),
    )

    @pytest.fixture
    def kb(self, tmp_path: Path) -> Path:
        tools = tmp_path / "kb" / "tools"
        tools.mkdir(parents=True)
        for change_ in self.CHANGES:
            if change_.before is not None:
                (tmp_path / "kb" / change_.path).write_bytes(change_.before)
        return tmp_path / "kb"

    @pytest.mark.parametrize("calls", range(4))
    def test_what_fails_half_way_is_undone_at_once(
        self, calls: int, kb: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        before = contents(kb)
        make: Callable[..., None] = change._make
        left = [calls]

        def failing(*arguments: Any) -> None:
            left[0] -= 1
            if left[0] == -1:
                raise WriteRefused("no space left")
            make(*arguments)

        monkeypatch.setattr(change, "_make", failing)
        with pytest.raises(WriteRefused, match="everything is as it was"):
            write_all(kb, self.CHANGES)
        assert contents(kb) == before
        assert recover(kb) == ()

    @pytest.mark.parametrize("calls", range(5))
    def test_what_dies_half_way_is_undone_by_the_next_run(self, calls: int, kb: Path) -> None:
        before = contents(kb)
        program = (
            "import os, sys\nfrom pathlib import Path\nfrom shearpin.authoring import change\n"
            "from shearpin.authoring.change import FileChange\n"
            f"make, left = change._make, [{calls}]\n"
            "def dying(*arguments):\n    if not left[0]: os._exit(9)\n    left[0] -= 1\n    make(*arguments)\n"
            "change._make = dying\nchange._end_journal = lambda kb: os._exit(9)\n"
            f"change.write_all(Path(sys.argv[1]), {self.CHANGES!r})\n"
        )
        died = subprocess.run([sys.executable, "-c", program, str(kb)], check=False)
        assert died.returncode == 9
        put_back = recover(kb)
        assert contents(kb) == before
        assert len(put_back) == calls
        assert recover(kb) == ()

    def test_a_file_edited_after_the_interruption_is_left_alone_and_named(
        self, kb: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(change, "_end_journal", lambda kb: None)
        write_all(kb, self.CHANGES)
        monkeypatch.undo()
        (kb / "tools" / "torque-wrench.yaml").write_bytes(b"mine")
        with pytest.raises(WriteRefused, match=r"edited since.*torque-wrench"):
            recover(kb)
        assert contents(kb) == {
            "tools/old.yaml": b"o", "tools/pin-punch.yaml": b"a", "tools/torque-wrench.yaml": b"mine"
        }  # fmt: skip
        assert recover(kb) == ()

    def test_a_journal_that_names_files_outside_is_not_followed(self, kb: Path) -> None:
        folder = kb.parent / ".shearpin" / "change"
        folder.mkdir(parents=True)
        entry = {"path": "../victim", "old": "0.old", "before": None, "after": change._of(b"v")}
        (folder / "journal.json").write_text(json.dumps([entry]), encoding="utf-8")
        (kb.parent / "victim").write_bytes(b"v")
        with pytest.raises(WriteRefused, match="outside of the book"):
            recover(kb)
        assert (kb.parent / "victim").read_bytes() == b"v"

    def test_a_read_only_file_stops_it_and_nothing_is_changed(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        before = contents(kb)
        (kb / "procedures" / "replace-auger-shear-bolt.yaml").chmod(0o444)
        assert rename(kb, "tool/torque-wrench", "click-wrench") == 1
        assert "is read-only" in capsys.readouterr().err
        assert contents(kb) == before

    def test_a_file_changed_meanwhile_stops_it(self, kb: Path) -> None:
        (kb / "tools" / "torque-wrench.yaml").write_bytes(b"mine")
        with pytest.raises(WriteRefused, match="changed meanwhile"):
            write_all(kb, self.CHANGES)
        assert (kb / "tools" / "pin-punch.yaml").read_bytes() == b"a"

    def test_a_link_is_not_written_through(self, kb: Path, tmp_path: Path) -> None:
        outside = tmp_path / "outside"
        outside.write_bytes(b"b")
        (kb / "tools" / "torque-wrench.yaml").unlink()
        os.symlink(outside, kb / "tools" / "torque-wrench.yaml")
        with pytest.raises(WriteRefused, match="is a link"):
            write_all(kb, self.CHANGES)
        assert outside.read_bytes() == b"b"

    def test_the_interrupted_change_is_undone_and_named_by_the_next_renaming(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        kb = lay_over(tmp_path, {})
        path = kb / "tools" / "pin-punch.yaml"
        monkeypatch.setattr(change, "_end_journal", lambda kb: None)
        write_all(kb, (FileChange("tools/pin-punch.yaml", path.read_bytes(), b"half"),))
        monkeypatch.undo()
        assert rename(kb, "tool/pin-punch", "drift") == 0
        assert "has been undone first: tools/pin-punch.yaml" in capsys.readouterr().out
        assert (
            (kb / "tools" / "drift.yaml")
            .read_text(encoding="utf-8")
            .startswith(sound("tools/pin-punch.yaml"))
        )


class TestFormerIds:
    FORMER = swap(
        "tools/pin-punch.yaml", "title:", "formerly: [drift, torque-wrench, pin-punch, index]\ntitle:"
    )

    def test_that_are_in_use_are_findings(self, tmp_path: Path) -> None:
        found = check_over(tmp_path, self.FORMER)
        assert [(f.code, f.line, f.column, f.message) for f in found] == [
            ("REF015", 1, 19, "the former id `torque-wrench` is the id of another tool"),
            ("REF015", 1, 34, "the former id `pin-punch` is the id that this record has now"),
            ("REF015", 1, 45, "the former id `index` is the name of the list of records"),
        ]

    def test_that_two_records_claim_are_findings(self, tmp_path: Path) -> None:
        both = {**swap("tools/pin-punch.yaml", "title:", "formerly: drift\ntitle:"), **swap("tools/torque-wrench.yaml", "title:", "formerly: [drift]\ntitle:")}  # fmt: skip
        found = check_over(tmp_path, both)
        assert [(f.code, f.path, f.line, f.column) for f in found] == [
            ("REF015", "kb/tools/torque-wrench.yaml", 1, 12)
        ]

    def test_of_another_kind_are_none(self, tmp_path: Path) -> None:
        assert (
            check_over(tmp_path, swap("tools/pin-punch.yaml", "title:", "formerly: [shear-bolt]\ntitle:"))
            == ()
        )

    def test_lead_to_the_record_by_a_page_without_scripts(self, tmp_path: Path) -> None:
        pages = dict(forwarding_pages(load_linked(lay_over(tmp_path, self.FORMER))))
        assert list(pages) == ["tools/drift.html"]
        page = pages["tools/drift.html"]
        assert '<meta http-equiv="refresh" content="0; url=pin-punch.html">' in page
        assert '<meta name="robots" content="noindex">' in page
        assert 'href="pin-punch.html">Pin punch</a>' in page

    def test_answer_for_the_record_in_every_look_up(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        for record in (
            "machine/brook-d24",
            f"value/{BOLT}",
            "symptom/one-side-of-auger-does-not-turn",
            "test/shear-bolt-inspection",
        ):
            kind = record.partition("/")[0]
            assert rename(kb, record, f"new-{kind}") == 0
        calls = (
            ["value", BOLT, "--machine", "brook-d24"],
            ["diagnose", "one-side-of-auger-does-not-turn", "--answer", "shear-bolt-inspection=broken"],
            ["cautions", "test/shear-bolt-inspection"],
            ["find", "one-side-of-auger-does-not-turn", "--machine", "brook-d24"],
        )
        for call in calls:
            # A process of its own: what the search has open is closed when it ends.
            command = [sys.executable, "-m", "shearpin.cli", *call, "--kb", str(kb)]
            said = subprocess.run(command, capture_output=True, encoding="utf-8", check=False)
            assert said.returncode == 0, call
            assert "is called `new-" in said.stderr
            assert said.stdout
