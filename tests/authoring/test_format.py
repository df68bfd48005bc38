"""`shearpin format`: order, spelling and folding; comments and meaning stay, and nothing is written half."""

from __future__ import annotations

import json
import os
import random
import stat
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from shearpin.authoring.fold import WIDTH
from shearpin.authoring.formatting import formatted, quantity_kinds
from shearpin.authoring.source import Source, scalar_text
from shearpin.book.load import load_book
from shearpin.cli.main import main
from shearpin.model.kinds import KIND_OF_FOLDER, KINDS
from shearpin.model.yamltext import parse
from tests.sound_book import lay_over, sound

KB = Path(__file__).resolve().parents[2] / "kb"
SOUND_KINDS = quantity_kinds(load_book(KB))


def form(kind: str, text: str) -> str:
    return formatted(text.encode("utf-8"), KINDS[kind], SOUND_KINDS).decode("utf-8")


class TestOrder:
    def test_is_that_of_the_model_with_sources_and_review_at_the_end(self) -> None:
        text = "sources: [s]\nreview: {on: 2026-10-02, state: draft}\nsummary: S.\ntitle: T\n"
        assert (
            form("tool", text)
            == "title: T\nsummary: S.\nsources: [s]\nreview: {state: draft, on: 2026-10-02}\n"
        )

    def test_takes_the_comments_above_and_below_a_field_with_it(self) -> None:
        text = (
            "# about the file\n\n# why this summary\nsummary: S.  # short\ntitle: T\nalso:  # names\n"
            "  # slang first\n  - drift\n  # end of names\n# at the end\n"
        )
        assert form("tool", text) == (
            "# about the file\n\ntitle: T\n# why this summary\nsummary: S.  # short\nalso:  # names\n"
            "  # slang first\n  - drift\n  # end of names\n# at the end\n"
        )

    def test_moves_the_first_field_of_a_list_item_behind_its_dash(self) -> None:
        text = "title: T\nsteps:\n  - action: run-engine\n    do: Start it.  # now\n    # below\n"
        assert form("procedure", text) == (
            "title: T\nsteps:\n  - do: Start it.  # now\n    action: run-engine\n    # below\n"
        )

    def test_leaves_a_list_item_in_its_order_where_a_comment_would_come_behind_the_dash(self) -> None:
        text = "title: T\nsteps:\n  - action: run-engine\n    # why\n    do: Start it.\n"
        assert form("procedure", text) == text

    def test_moves_list_items_without_comments(self) -> None:
        text = "title: T\nsteps:\n  - action: run-engine\n    do: >\n      Start it\n      now.\n  - do: B\n"
        assert form("procedure", text) == (
            "title: T\nsteps:\n  - do: >\n      Start it\n      now.\n    action: run-engine\n  - do: B\n"
        )

    def test_leaves_a_record_with_an_unknown_field_in_its_order(self) -> None:
        assert form("tool", "summary: S.\nbogus: x\ntitle: T\n") == "summary: S.\nbogus: x\ntitle: T\n"

    def test_keeps_document_marks_and_texts_that_keep_their_line_ends(self) -> None:
        text = "%YAML 1.2\n---\nsummary: |+\n  S.\n\ntitle: T\n...\n"
        assert form("tool", text) == "%YAML 1.2\n---\ntitle: T\nsummary: |+\n  S.\n\n...\n"


class TestSpelling:
    @pytest.mark.parametrize(
        ("written", "printed"),
        [
            ("is: 24 +- 2 Nm", "is: 24 ± 2 N·m"),
            ("is: '18 ft-lb'", "is: '18 lbf·ft'"),
            ('is: "20 to 27 N.m"', 'is: "20–27 N·m"'),
            ("is: 24 lb", "is: 24 lb"),
            ("is: 9 ± 1 N·m", "is: 9 ± 1 N·m"),
        ],
    )
    def test_of_a_torque_is_as_printed_and_quotes_stay(self, written: str, printed: str) -> None:
        text = f"title: T\nvalues:\n  auger-shear-bolt.torque: {{{written}, basis: demo}}  # c\n"
        assert form("machine", text) == text.replace(written, printed)

    def test_of_a_time_and_of_a_band(self) -> None:
        assert form("procedure", "title: T\ntime: 1h 30min\n") == "title: T\ntime: 1 h 30 min\n"
        assert form("value", "title: T\nquantity: torque\nband: 4-20Nm\n") == (
            "title: T\nquantity: torque\nband: 4–20 N·m\n"
        )

    def test_is_left_alone_where_the_book_does_not_know_the_value(self) -> None:
        text = "title: T\nvalues: {unknown.value: {is: 3 Nm}}\n"
        assert form("machine", text) == text

    def test_puts_into_quotes_what_needs_them(self) -> None:
        text = "title: T\nvalues: {auger-gearbox.ratio: {is: 10 to 1}}\n"
        assert parse(form("machine", text).encode())[1] == ()


class TestFolding:
    def test_breaks_long_prose_at_blanks_and_keeps_its_text(self) -> None:
        words = " ".join(["word"] * 80)
        new = form("tool", f"title: T\nsummary: {words}\n")
        assert max(map(len, new.split("\n"))) <= WIDTH
        assert parse(new.encode())[0]["summary"] == words
        assert new.startswith("title: T\nsummary: >-\n  word")

    def test_folds_a_paragraph_anew_and_leaves_the_next(self) -> None:
        text = f"title: T\nsummary: >\n  {' '.join(['word'] * 80)}\n\n  short\n  lines\n    code\n"
        new = form("tool", text)
        assert parse(new.encode()) == parse(text.encode())
        assert new.endswith("\n\n  short lines\n    code\n")

    def test_breaks_a_long_list_at_commas(self) -> None:
        items = ", ".join(f"name-{n}" for n in range(60))
        new = form("tool", f"title: T\nalso: [{items}]\n")
        assert [len(line) <= WIDTH for line in new.split("\n")] == [True] * new.count("\n") + [True]
        assert new.split("\n")[2].startswith("  name-")

    @pytest.mark.parametrize(
        "line",
        [
            "summary: " + "x" * 200,
            "summary: a" + "  b" * 90,
            'summary: "a\\n' + "b " * 100 + '"',
            "also: [a, " + "b" * 200 + "]",
            "summary: |\n  " + "word " * 60,
            "summary: " + "word " * 50 + " # comment",
        ],
    )  # fmt: skip
    def test_leaves_what_cannot_be_broken_with_the_same_meaning(self, line: str) -> None:
        text = f"title: T\n{line}\n"
        assert parse(form("tool", text).encode()) == parse(text.encode())
        assert form("tool", form("tool", text)) == form("tool", text)

    def test_takes_blanks_from_line_ends_outside_of_texts(self) -> None:
        assert form("tool", "title: T  \nalso:   # c  \n  - a \nsummary: |\n  keep  \n") == (
            "title: T\nsummary: |\n  keep  \nalso:   # c\n  - a\n"
        )

    def test_ends_the_last_line(self) -> None:
        assert form("tool", "title: T\nsummary: S.") == "title: T\nsummary: S.\n"


def book_files() -> dict[str, bytes]:
    return {
        f"{folder}/{path.name}": path.read_bytes()
        for folder in KIND_OF_FOLDER
        for path in sorted((KB / folder).glob("*.yaml"))
    }


class TestOnceIsEnough:
    """Files that took two rounds to come to rest."""

    @pytest.mark.parametrize(
        "text",
        [
            f"title: Air filter{' word' * 36}  \nmechanism: M.\n",
            "mechanism: >\n  The cable.\ntitle: Auger\n   \nconfirmed_by: It hangs.  \n",
        ],
    )
    def test(self, text: str) -> None:
        once = form("cause", text)
        assert once != text
        assert form("cause", once) == once


class TestWholeBook:
    def test_every_record_means_the_same_to_an_independent_reader(self) -> None:
        reader = YAML(typ="safe", pure=True)
        files = book_files()
        picked = random.Random(7).sample(sorted(files), 40)
        for name in picked:
            new = formatted(files[name], KIND_OF_FOLDER[name.split("/")[0]], {})
            assert reader.load(new.decode()) == reader.load(files[name].decode()), name

    def test_formatting_twice_changes_nothing_more(self) -> None:
        for name, raw in book_files().items():
            kind = KIND_OF_FOLDER[name.split("/")[0]]
            once = formatted(raw, kind, SOUND_KINDS)
            assert once == raw or formatted(once, kind, SOUND_KINDS) == once, name


_COMMENTS = st.sampled_from(["# c", "#", "# it's: {odd} [", "# - x", '# "', "#: y"])
_RECORDS = sorted(
    path for folder in KIND_OF_FOLDER for path in (KB / folder).glob("*.yaml") if path.stat().st_size < 4000
)


@st.composite
def mangled(draw: st.DrawFn) -> tuple[str, str]:
    """A record of the book with lines moved, comments, blank lines, blanks and other line ends put in."""
    path = draw(st.sampled_from(_RECORDS))
    lines = path.read_text(encoding="utf-8").split("\n")
    for _ in range(draw(st.integers(0, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        what = draw(st.sampled_from(["comment", "tail", "blank", "trailing", "swap", "long", "indented"]))
        if what == "comment":
            lines.insert(at, draw(_COMMENTS))
        elif what == "indented":
            lines.insert(at, " " * draw(st.integers(1, 6)) + draw(_COMMENTS))
        elif what == "tail":
            lines[at] += "  " + draw(_COMMENTS)
        elif what == "blank":
            lines.insert(at, " " * draw(st.integers(0, 4)))
        elif what == "trailing":
            lines[at] += "  "
        elif what == "long":
            lines[at] += " word" * draw(st.integers(1, 60))
        else:
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
    return path.parent.name, draw(st.sampled_from(["\n", "\r\n"])).join(lines) + draw(
        st.sampled_from(["", "\n", "\n\n"])
    )


@settings(
    max_examples=250, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(mangled())
def test_formatting_keeps_meaning_and_comments_and_is_done_once(record: tuple[str, str]) -> None:
    folder, text = record
    kind = KIND_OF_FOLDER[folder]
    raw = text.encode("utf-8")
    data, faults = parse(raw)
    if faults:
        with pytest.raises(ValueError):  # noqa: PT011 - whatever is wrong, nothing is formatted
            formatted(raw, kind, {})
        return
    once = formatted(raw, kind, {})
    assert parse(once) == (data, ())
    plain = text.replace("\r\n", "\n")
    assert Source(once.decode().replace("\r\n", "\n")).comment_texts() == Source(plain).comment_texts()
    assert formatted(once, kind, {}) == once


@settings(max_examples=300, deadline=None)
@given(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=30),
    st.booleans(),
    st.sampled_from([None, "'", '"']),
)
def test_any_text_written_as_a_scalar_reads_back(value: str, in_flow: bool, style: str | None) -> None:
    written = scalar_text(value, in_flow=in_flow, style=style)
    text = f"a: {{b: {written}, c: d}}\n" if in_flow else f"a: {written}\n"
    data, faults = parse(text.encode("utf-8"))
    assert faults == ()
    assert (data["a"]["b"] if in_flow else data["a"]) == value


UNSORTED = "summary: Drives out pins.\ntitle: Pin punch\n"
SORTED = "title: Pin punch\nsummary: Drives out pins.\n"


class TestCommand:
    def test_rewrites_and_then_finds_nothing_to_do(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": UNSORTED})
        path = kb / "tools" / "pin-punch.yaml"
        path.chmod(0o640)
        assert main(["format", "--kb", str(kb), str(path)]) == 0
        assert path.read_text(encoding="utf-8") == SORTED
        assert stat.S_IMODE(path.stat().st_mode) == 0o640
        assert capsys.readouterr().out == f"{kb}/tools/pin-punch.yaml\n1 record: 1 changed\n"
        assert main(["format", "--kb", str(kb), "--check", str(path)]) == 0
        assert sorted(entry.name for entry in path.parent.iterdir()) == [
            "pin-punch.yaml",
            "torque-wrench.yaml",
        ]

    @pytest.mark.parametrize("option", ["--check", "--diff"])
    def test_only_looks_when_asked_to(
        self, option: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": UNSORTED})
        assert main(["format", "--kb", str(kb), option]) == 1
        assert (kb / "tools" / "pin-punch.yaml").read_text(encoding="utf-8") == UNSORTED
        said = capsys.readouterr().out
        assert "tools/pin-punch.yaml" in said
        assert ("\n+title: Pin punch\n" in said) == (option == "--diff")

    def test_keeps_windows_line_ends(self, tmp_path: Path) -> None:
        kb = lay_over(
            tmp_path, {"tools/pin-punch.yaml": b"\xef\xbb\xbf" + UNSORTED.replace("\n", "\r\n").encode()}
        )
        assert main(["format", "--kb", str(kb)]) == 0
        assert (kb / "tools" / "pin-punch.yaml").read_bytes() == SORTED.replace("\n", "\r\n").encode()

    @pytest.mark.parametrize(
        ("content", "place"),
        [
            (b"title: Pin punch\nsummary: a: b\n", "2:11: error[FMT001]"),
            (b"title: Pin punch\n\tsummary: S.\n", "2:1: error[FMT001]"),
            (b"title: P\x00\nsummary: S.\n", "1:9: error[FMT003]"),
            (b"title: P\nsummary: \xff\n", "2:10: error[FMT003]"),
            (b"summary: S.\ntitle: a\ntitle: b\n", "3:1: error[FMT004]"),
            (b"summary: S.\ntitle: P\nbogus: x\n", "3:1: error[FLD001]"),
        ],
    )
    def test_leaves_a_broken_file_and_says_what_is_wrong(
        self, content: bytes, place: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": content})
        assert main(["format", "--kb", str(kb)]) == 1
        assert f"{kb}/tools/pin-punch.yaml:{place}" in capsys.readouterr().out
        assert (kb / "tools" / "pin-punch.yaml").read_bytes() == content

    def test_prints_json(self, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": UNSORTED})
        assert main(["format", "--kb", str(kb), "--check", "--json"]) == 1
        document = json.loads(capsys.readouterr().out)
        assert f"{kb}/tools/pin-punch.yaml" in document["changed"]
        assert (document["findings"], document["not_written"], document["written"]) == ([], [], False)

    def test_refuses_a_file_that_is_no_record(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        assert main(["format", "--kb", str(kb), str(kb / "tools" / "pin-punsh.yaml")]) == 2
        assert "did you mean" in capsys.readouterr().err

    def test_does_not_write_through_a_link_or_into_a_read_only_file(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": UNSORTED})
        outside = tmp_path / "outside.yaml"
        outside.write_text(UNSORTED, encoding="utf-8")
        os.symlink(outside, kb / "tools" / "linked.yaml")
        (kb / "tools" / "pin-punch.yaml").chmod(0o444)
        assert main(["format", "--kb", str(kb)]) == 1
        assert "is read-only" in capsys.readouterr().out
        assert outside.read_text(encoding="utf-8") == UNSORTED
        assert (kb / "tools" / "pin-punch.yaml").read_text(encoding="utf-8") == UNSORTED

    def test_the_sound_book_is_in_its_usual_form_once_formatted(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert main(["format", "--kb", str(kb)]) == 0
        assert main(["format", "--kb", str(kb), "--check"]) == 0
        assert parse((kb / "tools" / "pin-punch.yaml").read_bytes()) == parse(
            sound("tools/pin-punch.yaml").encode()
        )
