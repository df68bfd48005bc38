"""`diagnose` as people use it: a dialogue on a terminal, symptoms by words, the cure at the end."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from shearpin.cli.main import main

pty = pytest.importorskip("pty", reason="pseudo-terminals exist on POSIX only")
select = pytest.importorskip("select")

ROOT = Path(__file__).resolve().parents[2]
KB = str(ROOT / "kb")
ONE_SIDE = ("one-side-of-auger-does-not-turn", "--machine", "osmere-d24")


def dialog(arguments: Sequence[str], answers: Sequence[str], seconds: float = 60.0) -> str:
    """Run the command on a pseudo-terminal, give one answer at each prompt, and return all that it showed."""
    own, theirs = pty.openpty()
    command = [sys.executable, "-m", "shearpin.cli", "diagnose", *arguments, "--kb", KB]
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "tools")}
    process = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, env=environment, cwd=ROOT)
    os.close(theirs)
    shown, answered, waiting = "", 0, list(answers)
    last = time.monotonic() + seconds
    while time.monotonic() < last:
        ready, _, _ = select.select([own], [], [], 0.1)
        if ready:
            try:
                piece = os.read(own, 65536)
            except OSError:  # how Linux tells that the other end is closed
                break
            shown += piece.decode()
        elif waiting and shown.endswith("> ") and len(shown) > answered:
            os.write(own, f"{waiting.pop(0)}\n".encode())
            answered = len(shown)
    process.kill()
    process.wait()
    os.close(own)
    return shown.replace("\r\n", "\n")


def test_a_dialogue_ends_in_the_cure_with_the_number_to_give() -> None:
    shown = dialog(ONE_SIDE, ["7", "1", "q"])
    assert shown.index("Safety first") < shown.index("NEXT: Inspect the shear bolts")
    assert "Why this one" in shown
    assert "a number is the answer" in shown.split("> 7")[1]  # there is no seventh result
    ending = shown.split("PROVEN: Auger shear bolt sheared")[1]
    assert "Replace an auger shear bolt" in ending
    assert "give OS-4471-20, by the machine plate" in ending


def test_an_answer_can_be_taken_back_and_a_test_left_out() -> None:
    shown = dialog(ONE_SIDE, ["1", "u", "c", "q"])
    assert "taken back: shear-bolt-inspection" in shown
    after = shown.split("> c")[1]
    assert "NEXT: Inspect the shear bolts" not in after
    assert "NEXT: " in after


def test_a_machine_out_of_use_is_told_before_anything_else() -> None:
    shown = dialog(["auger-keeps-turning-when-released", "--machine", "osmere-d28"], ["q"])
    assert shown.index("TAKE THE MACHINE OUT OF USE") < shown.index("Safety first") < shown.index("NEXT: ")


def test_the_machine_is_asked_for_when_it_is_not_named() -> None:
    shown = dialog(["one-side-of-auger-does-not-turn"], ["9", "1", "q"])
    assert "Which machine is it?" in shown
    assert "a number from 1 to 3" in shown
    assert "NEXT: " in shown.split("> 1")[1]


def test_elsewhere_than_on_a_terminal_the_plan_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", *ONE_SIDE, "--kb", KB]) == 0
    shown = capsys.readouterr().out
    assert "1. Inspect the shear bolts" in shown
    assert "NEXT" not in shown


def test_words_find_a_symptom_when_there_is_no_doubt(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["diagnose", "left", "auger", "not", "spinning", "--machine", "osmere-d24", "--json", "--kb", KB]
    assert main(words) == 0
    captured = capsys.readouterr()
    assert json.loads(captured.out)["symptom"] == "one-side-of-auger-does-not-turn"
    assert "taken as" in captured.err


def test_words_that_fit_several_symptoms_list_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "auger", "problem", "--machine", "osmere-d24", "--kb", KB]) == 2
    said = capsys.readouterr().err
    assert "may be one of several symptoms" in said
    assert "auger-does-not-turn" in said


@pytest.mark.parametrize("words", ["nosuch", "it is broken", "smoek"])
def test_a_guessed_spelling_or_a_single_word_is_not_taken_for_a_complaint(
    words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["diagnose", words, "--machine", "osmere-d24", "--kb", KB]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "symptom" in captured.err


def test_an_answer_without_a_result_is_told_what_is_missing(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", *ONE_SIDE, "--answer", "shear-bolt-inspection", "--kb", KB]) == 2
    assert "takes TEST=RESULT" in capsys.readouterr().err


def test_answers_that_prove_a_cause_end_with_its_procedures(capsys: pytest.CaptureFixture[str]) -> None:
    answer = ["--answer", "shear-bolt-inspection=auger-bolt-broken"]
    assert main(["diagnose", *ONE_SIDE, *answer, "--kb", KB]) == 0
    assert "PROVEN: Auger shear bolt sheared" in capsys.readouterr().out
    assert main(["diagnose", *ONE_SIDE, *answer, "--json", "--kb", KB]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["proven"] == "auger-shear-bolt-sheared"
    assert found["plan"] == []


def test_a_test_that_cannot_be_done_is_not_planned(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", *ONE_SIDE, "--skip", "shear-bolt-inspection", "--json", "--kb", KB]) == 0
    planned = [item["test"] for item in json.loads(capsys.readouterr().out)["plan"]]
    assert planned
    assert "shear-bolt-inspection" not in planned
    assert main(["diagnose", *ONE_SIDE, "--skip", "shear-bolt-inspectoin", "--kb", KB]) == 2
    assert "did you mean `shear-bolt-inspection`" in capsys.readouterr().err
