"""`shearpin new`: a file that can be read at once, says what waits for its writer, and stands in nobody's place."""

from __future__ import annotations

import json
import os
import pickle
import re
from dataclasses import replace
from pathlib import Path

import pytest

from shearpin.authoring.formatting import formatted, quantity_kinds
from shearpin.authoring.ids import IdRefused, check_free, neighbours
from shearpin.book.linked import load_linked
from shearpin.book.load import load_book
from shearpin.cli.main import main
from shearpin.inspection import inspect_book
from shearpin.model.kinds import KINDS
from tests.sound_book import check_over, lay_over, swap

KB = Path(__file__).resolve().parents[2] / "kb"
# What may be found in a record that nobody has written yet; everything else would be the skeleton's fault.
_AWAITED = {"LNG030", "REF001", "REF007", "FIG002", "VAL001", "VAL006"}


def new(kb: Path, *words: str) -> int:
    return main(["new", "--kb", str(kb), *words])


def id_for(kind: str) -> str:
    return "muffler-nut.depth" if kind == "value" else "brand-new-thing"


class TestSkeleton:
    @pytest.mark.parametrize("kind", KINDS)
    def test_passes_the_rules_of_format_and_says_what_waits(
        self, kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, kind, id_for(kind), "--json") == 0
        document = json.loads(capsys.readouterr().out)
        path = kb / KINDS[kind].folder / f"{id_for(kind)}.yaml"
        assert document["path"] == str(path)
        linked = load_linked(kb, "kb")
        found = [f for f in inspect_book(linked) if f.path == f"kb/{KINDS[kind].folder}/{path.name}"]
        assert {finding.code for finding in found} <= _AWAITED
        assert [(w["code"], w["line"]) for w in document["waiting"]] == [(f.code, f.line) for f in found]
        assert "LNG030" in {finding.code for finding in found}
        raw = path.read_bytes()
        assert formatted(raw, KINDS[kind], quantity_kinds(linked.book)) == raw

    @pytest.mark.parametrize("kind", KINDS)
    def test_every_line_that_is_commented_out_can_be_switched_on(self, kind: str, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, kind, id_for(kind)) == 0
        path = kb / KINDS[kind].folder / f"{id_for(kind)}.yaml"
        fields = "|".join(re.escape(name) for name in _names(kind))
        text = path.read_text(encoding="utf-8")
        switched = re.sub(rf"^# ((?:{fields}):.*|  .*)$", r"\1", text, flags=re.MULTILINE)
        assert switched.count("#") < text.count("#")
        path.write_text(switched, encoding="utf-8")
        # Marks and placeholders are no figures, so quantities and what they stand for may be found besides.
        found = {f.code for f in inspect_book(load_linked(kb, "kb")) if f.path.endswith(path.name)}
        assert not {code for code in found if code.startswith(("FMT", "FLD"))}

    def test_lists_the_ids_that_fit(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, "procedure", "grease-auger-drive") == 0
        text = (kb / "procedures" / "grease-auger-drive.yaml").read_text(encoding="utf-8")
        assert "# system ids: auger-drive" in text
        assert "# tool ids: pin-punch, torque-wrench" in text
        assert "# cause ids: auger-shear-bolt-sheared" in text

    def test_of_a_value_knows_its_quantity_and_plate_by_its_name(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, "value", "impeller-bolt.torque") == 0
        assert "\nquantity: torque\n" in (kb / "values" / "impeller-bolt.torque.yaml").read_text(
            encoding="utf-8"
        )

    def test_names_what_waits_in_words(self, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, "term", "drift") == 0
        assert capsys.readouterr().out == (
            f"{kb}/terms/drift.yaml\nWhat waits for you:\n"
            "  line 4: `<write what the page is called>` still waits for its words [LNG030]\n"
            "  line 6: `<write definition>` still waits for its words [LNG030]\n"
            "It is a draft until `review` says otherwise. `shearpin check` says what is still missing.\n"
        )


def _names(kind: str) -> list[str]:
    return [info.alias or name for name, info in KINDS[kind].record.model_fields.items()]


class TestCopy:
    def test_takes_everything_but_what_is_true_of_the_other_alone(self, tmp_path: Path) -> None:
        other = (
            "title: Pin punch  # its name\nsummary: >\n  Drives out\n  pins.\nignore: [{code: LNG001, reason: old}]\n"
            "formerly: [drift]\nreview: {state: reviewed, by: lead instructor, on: 2026-10-02}\n"
        )
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": other})
        assert new(kb, "tool", "hollow-punch", "--from", "tool/pin-punch") == 0
        assert (kb / "tools" / "hollow-punch.yaml").read_text(encoding="utf-8") == (
            "# Copied from pin-punch: what stands here is still said of that one.\n"
            "title: <write what the page is called; the copied one is called Pin punch>  # its name\n"
            "summary: >\n  Drives out\n  pins.\nreview: {state: draft}\n"
        )

    @pytest.mark.parametrize("kind", KINDS)
    def test_of_any_kind_can_be_read(self, kind: str, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        other = sorted(load_book(kb).of_kind(kind))[0]
        assert new(kb, kind, id_for(kind), "--from", other) == 0
        linked = load_linked(kb, "kb")
        found = [f for f in inspect_book(linked) if f.path.endswith(f"/{id_for(kind)}.yaml")]
        assert {finding.code for finding in found} <= _AWAITED | {
            "SAF001",
            "DIA001",
            "CON005",
        }  # a copy is a double until it is reworded
        assert "LNG030" in {finding.code for finding in found}

    @pytest.mark.parametrize(
        ("given", "message"),
        [
            ("pin-punsh", "did you mean `pin-punch`?"),
            ("part/auger-shear-bolt", "there is no tool"),
            ("", "there is no tool"),
        ],
    )
    def test_of_what_is_not_there_is_refused(
        self, given: str, message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, "tool", "hollow-gauge", "--from", given) == 2
        assert message in capsys.readouterr().err
        assert not (kb / "tools" / "hollow-gauge.yaml").exists()

    def test_of_a_broken_file_is_refused(self, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        kb = lay_over(tmp_path, {"tools/pin-punch.yaml": "title: [\n"})
        assert new(kb, "tool", "hollow-gauge", "--from", "pin-punch") == 2
        assert "mend it first" in capsys.readouterr().err


class TestRefusals:
    def test_of_an_id_whose_record_comes_from_the_cache(self, tmp_path: Path) -> None:
        book = load_book(lay_over(tmp_path, {}))
        kept = next(file for file in book.files if file.id == "pin-punch")
        copied = replace(book, files=(pickle.loads(pickle.dumps(kept)),))
        with pytest.raises(IdRefused, match="exists already"):
            check_free(copied, KINDS["tool"], "pin-punch")

    @pytest.mark.parametrize(
        ("words", "message"),
        [
            (("tool", "pin-punch"), "exists already: "),
            (("tool", "pin-punche"), "is very like `pin-punch`; if it is another thing all the same, say --distinct"),
            (("tool", "punch-pin"), "is very like `pin-punch`"),
            (("tool", "pins-punch"), "is very like `pin-punch`"),
            (("tols", "drift"), "did you mean `tools`?"),
            (("tool", "Drift Pin"), "did you mean `drift-pin`?"),
            (("tool", "../drift"), "did you mean `drift`?"),
            (("tool", "a/b"), "is not an id"),
            (("tool", "a\\b"), "is not an id"),
            (("tool", ""), "is not an id"),
            (("tool", "drift\n"), "is not an id"),
            (("tool", "drift\x00"), "U+0000"),
            (("tool", "drіft"), "is not an id"),
            (("tool", "con"), "Windows"),
            (("tool", "lpt1"), "Windows"),
            (("value", "aux.torque"), "Windows"),
            (("tool", "drift.pin"), "write `drift-pin`"),
            (("tool", "index"), "lists the tools"),
            (("tool", "x" * 81), "at most 80"),
        ],
    )  # fmt: skip
    def test_say_why_and_write_nothing(
        self, words: tuple[str, str], message: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        before = sorted(str(path) for path in tmp_path.rglob("*"))
        assert new(kb, *words) == 2
        assert message in capsys.readouterr().err
        assert sorted(str(path) for path in tmp_path.rglob("*")) == before

    def test_of_a_neighbour_give_way_when_the_writer_insists(self, tmp_path: Path) -> None:
        kb = lay_over(tmp_path, {})
        assert new(kb, "tool", "pin-punche", "--distinct") == 0

    def test_models_of_one_family_are_no_neighbours(self) -> None:
        book = load_book(KB)
        assert neighbours(book, KINDS["machine"], "osmere-d26") == ()
        assert neighbours(book, KINDS["tool"], "feler-gauge") == ("feeler-gauge",)

    def test_an_id_that_old_links_use_is_not_free(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, swap("tools/pin-punch.yaml", "title:", "formerly: [drift]\ntitle:"))
        assert new(kb, "tool", "drift") == 2
        assert "former id of `pin-punch`" in capsys.readouterr().err

    def test_a_folder_that_is_a_link_is_not_followed(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        outside = tmp_path / "outside"
        (kb / "terms").rename(outside)
        os.symlink(outside, kb / "terms")
        assert new(kb, "term", "drift") == 1
        assert "not a link" in capsys.readouterr().err
        assert sorted(path.name for path in outside.iterdir()) == ["shear-bolt.yaml"]

    def test_a_link_or_file_in_its_place_is_left_alone(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        kb = lay_over(tmp_path, {})
        os.symlink(tmp_path / "nowhere.yaml", kb / "terms" / "drift.yaml")
        assert new(kb, "term", "drift") == 1
        assert "exists already" in capsys.readouterr().err
        assert not (tmp_path / "nowhere.yaml").exists()


class TestUnwritten:
    def test_is_found_at_its_mark(self, tmp_path: Path) -> None:
        found = check_over(
            tmp_path,
            {
                "tools/pin-punch.yaml": "title: P\nsummary: Drives <write what it drives> out.\nalso: [<write>, <write x>]\n"
            },
        )
        assert [(f.code, f.line, f.column) for f in found] == [("LNG030", 2, 17), ("LNG030", 3, 17)]

    def test_is_not_seen_in_what_only_looks_like_it(self, tmp_path: Path) -> None:
        assert (
            check_over(
                tmp_path,
                {"tools/pin-punch.yaml": "title: P\nsummary: A gap < write it down > 3 mm; <writes x>.\n"},
            )
            == ()
        )
