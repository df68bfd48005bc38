"""The dialogue of `shearpin diagnose` where answers cannot be true together, without a terminal."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.cli.diagnose_dialog import hold_dialog
from shearpin.diagnosis.model import DiagnosisModel, build_model
from tests.sound_book import SOUND_BOOK, read_over

SYMPTOM = "one-side-of-auger-does-not-turn"
TEST = "tests/shear-bolt-inspection.yaml"


def _sure(cause: str) -> str:
    """Return a test that shows for certain whether a cause, or anything else, is the fault."""
    head, _, _ = (SOUND_BOOK / TEST).read_text(encoding="utf-8").partition("results:")
    return head + (
        "results:\n"
        f'  - {{id: found, seen: Found., given: {{{cause}: "1"}}, otherwise: "0"}}\n'
        f'  - {{id: sound, seen: Sound., given: {{{cause}: "0"}}, otherwise: "1"}}\n'
    )


def test_an_answer_that_no_cause_can_show_is_not_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    causes = "".join(f"  - {{cause: {cause}, chance: often}}\n" for cause in ("rust", "ice"))
    linked = read_over(
        tmp_path,
        {
            f"symptoms/{SYMPTOM}.yaml": f'title: A\nsummary: B.\nsystems: auger-drive\nsomething_else: "0"\ncauses:\n{causes}',
            "causes/rust.yaml": "title: A\nmechanism: B.\nconfirmed_by: C.\nsystems: auger-drive\n",
            "causes/ice.yaml": "title: D\nmechanism: B.\nconfirmed_by: C.\nsystems: auger-drive\n",
            "tests/look-for-rust.yaml": _sure("rust"),
            "tests/look-for-ice.yaml": _sure("ice"),
            TEST: None,
        },
    )

    def model_for(machine: str) -> DiagnosisModel:
        return build_model(linked, SYMPTOM, machine)

    # Rust is out of the question, so ice cannot be absent as well.
    answers = iter(["sound", "u", "q"])
    monkeypatch.setattr("builtins.input", lambda prompt: next(answers))
    assert hold_dialog(linked, model_for("brook-d24"), {"look-for-rust": "sound"}, (), model_for) == 0
    shown = capsys.readouterr().out
    assert "cannot be, after what was seen before: check again, or u to take an answer back" in shown
    assert "taken back: look-for-rust" in shown
