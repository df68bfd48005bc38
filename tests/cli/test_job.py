"""`shearpin job`: the documented JSON, words for people, and mistakes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shearpin.cli.main import main
from tests.sound_book import SOUND_BOOK

KB = str(Path(__file__).resolve().parents[2] / "kb")
MACHINE = ("--machine", "osmere-d24", "--kb", KB)


def test_the_shear_bolt_job_of_the_demo_book(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["job", "replace-auger-shear-bolt", *MACHINE, "--rate", "92,50", "--json"]) == 0
    job = json.loads(capsys.readouterr().out)
    assert [(item["procedure"], item["minutes"]) for item in job["work"]] == [
        ("make-machine-safe", 3),
        ("replace-auger-shear-bolt", 15),
    ]
    assert job["parts"]["machine"][0]["number"] == "OS-4471-20"
    assert job["labour"] == {"rate": "92.50", "amount": "27.75"}  # 18 min of 92.50 an hour
    assert (job["minutes"], job["minutes_saved"], job["refused"]) == (18, 0, [])


def test_people_read_cautions_work_tools_parts_and_time(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["job", "replace-spark-plug", "free-hydrostatic-arm", *MACHINE, "--rate", "60"]
    assert main(words) == 0
    out = capsys.readouterr().out
    places = [
        out.index(mark)
        for mark in (
            "Left out: Free the control arm",
            "DANGER:",
            "Work, in this order:\n  1. Make the machine safe",
            "Tools:",
            "by the number on the engine plate:\n  1 × Spark plug: EL-1212-101",
            "Working time: 13 min.",
            "Labor at 60.00 an hour: 13.00. Parts are not in it.",
        )
    ]
    assert places == sorted(places)


def test_a_proven_cause_brings_its_quickest_cure_and_names_the_others(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["job", "--cause", "auger-shear-bolt-sheared", *MACHINE]) == 0
    assert "  2. Replace an auger shear bolt (15 min)" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["replace-auger-shear-bolts"], "did you mean `replace-auger-shear-bolt`"),
        ([], "name at least one procedure"),
        (["replace-auger-shear-bolt", "--rate", "cheap"], "`cheap` is not an amount"),
        (["--cause", "spark-plug-fouled"], "there is no cause `spark-plug-fouled`"),
        (["replace-auger-shear-bolt"] * 61, "61 procedures"),
    ],
)
def test_mistakes_are_told_in_plain_words(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["job", *words, "--machine", "brook-d24", "--kb", str(SOUND_BOOK)]) == 2
    assert said in capsys.readouterr().err


def test_a_job_of_nothing_that_fits_is_no_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["job", "free-hydrostatic-arm", *MACHINE]) == 1
    assert "is not for this machine" in capsys.readouterr().out
