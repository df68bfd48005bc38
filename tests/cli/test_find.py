"""`shearpin find` from the outside: text, JSON, batches, reasons, filters, searches in vain."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from shearpin.cli import find
from shearpin.cli.main import main
from tests.conftest import ROOT

KB = str(ROOT / "kb")


@pytest.fixture(autouse=True)
def data_of_this_test(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SHEARPIN_DATA", str(tmp_path / "data"))


def run(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    assert main(["find", "--kb", KB, *words]) == code
    return capsys.readouterr().out


def as_json(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> Any:
    return json.loads(run(capsys, "--json", *words, code=code))


def test_the_json_has_the_documented_shape(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, "left", "augr", "not", "spinning")
    assert set(found) == {"query", "corrected", "answer", "hits"}
    assert found["corrected"] == "left auger not spinning"
    assert set(found["hits"][0]) == {"id", "kind", "title", "url", "score", "excerpt", "fits"}
    assert found["hits"][0]["id"] == "one-side-of-auger-does-not-turn"


def test_a_limit_that_is_no_number_of_pages_is_told_so(capsys: pytest.CaptureFixture[str]) -> None:
    for limit in ("0", "-1", "few", "9" * 5000):
        assert main(["find", "--kb", KB, "plug", f"--limit={limit}"]) == 2
        assert "is not a whole number, 1 or more" in capsys.readouterr().err


def test_reasons_add_up_to_the_score(capsys: pytest.CaptureFixture[str]) -> None:
    for hit in as_json(capsys, "--explain", "--machine", "osmere-d24", "plug", "gap")["hits"]:
        why = hit["explanation"]
        assert sum(match["points"] for match in why["matches"]) == why["sum"]
        assert why["steps"][-1]["score"] == hit["score"]
    shown = run(capsys, "--explain", "--limit", "1", "plug", "gap")
    assert "where the query asks for: value" in shown


def test_only_the_wanted_kinds_are_found(capsys: pytest.CaptureFixture[str]) -> None:
    hits = as_json(capsys, "--kind", "procedure", "--kind", "part", "auger belt")["hits"]
    assert {hit["kind"] for hit in hits} == {"procedure", "part"}
    assert main(["find", "--kb", KB, "--kind", "procedur", "x"]) == 2
    assert "did you mean `procedure`" in capsys.readouterr().err


def test_pages_that_do_not_fit_can_be_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("--machine", "tarnbrook-s20", "replace auger belt")
    assert not all(hit["fits"] for hit in as_json(capsys, *words)["hits"])
    assert all(hit["fits"] for hit in as_json(capsys, "--fitting", *words)["hits"])


def test_a_conversion_and_a_value_are_answered(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "24 Nm in ft lb").startswith("24 N·m = 17.7 lbf·ft\n")
    answer = as_json(capsys, "--machine", "osmere-d24", "spark plug gap")["answer"]
    assert answer.endswith("0.70–0.80 mm (0.028–0.031 in); invented figure")
    assert as_json(capsys, "torque of the flurble bolt")["answer"] is None


def test_one_bad_line_does_not_end_a_batch(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = b"auger\n\xff\xfe belt\n\n" + b"x" * 5000 + b"\nbreak\nplug gap\n"
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(lines)))
    sound = find._answer

    def failing(index: Any, query: str, options: Any) -> Any:
        if query == "break":
            raise RuntimeError(query)
        return sound(index, query, options)

    monkeypatch.setattr(find, "_answer", failing)
    printed = [json.loads(line) for line in run(capsys, "--stdin", "--json", code=3).splitlines()]
    assert len(printed) == 6
    assert [bool(found["hits"]) for found in printed] == [True, True, False, False, False, True]
    assert printed[4]["error"] == "RuntimeError('break')"


def test_searches_in_vain_are_kept_and_listed(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["zzqqx", "wwqq"], ["zzqqx wwqq"], ["--kind", "tool", "zzqqx"], ["plug gap"]):
        main(["find", "--kb", KB, *words])
    capsys.readouterr()
    assert run(capsys, "--misses") == "2\tzzqqx wwqq\n"
    found = as_json(capsys, "--misses")
    assert found["misses"] == [{"query": "zzqqx wwqq", "times": 2}]
    assert Path(found["file"]).is_file()
