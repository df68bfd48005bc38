"""`value`, `cautions` and `diagnose` on the demo book: the documented JSON, and plain words for mistakes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from shearpin.cli.main import main
from tests.sound_book import lay_over, sound

KB = str(Path(__file__).resolve().parents[2] / "kb")


def output(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    assert main([*words, "--kb", KB]) == code
    return capsys.readouterr().out


def test_a_value_resolves_through_the_engine(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(output(capsys, "value", "spark-plug.gap", "--machine", "osmere-d24", "--json"))
    assert found["recorded_in"] == "engine/ellvane-e212"
    assert found["plate"] == "engine"
    assert found["unit"] == "mm"
    assert 0.5 <= found["low"] < found["high"] <= 1.0
    assert "in" in found["converted"]
    assert found["basis"] == "demo"


def test_engines_shared_by_two_machines_keep_the_machines_values_apart(
    capsys: pytest.CaptureFixture[str],
) -> None:
    name = "governed-speed.top"
    thrower = json.loads(output(capsys, "value", name, "--machine", "osmere-d24", "--json"))
    tiller = json.loads(output(capsys, "value", name, "--machine", "osmere-r18", "--json"))
    assert thrower["recorded_in"] == "machine/osmere-d24"
    assert thrower["text"] != tiller["text"]


def test_a_value_the_machine_cannot_have_is_said_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(
        output(capsys, "value", "auger-shear-bolt.torque", "--machine", "osmere-r18", "--json", code=1)
    )
    assert "missing" in found
    assert "text" not in found


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["value", "spark-plug.gapp"], "did you mean `spark-plug.gap`"),
        (["value", "spark-plug.gap", "--machine", "osmere-d24x"], "did you mean `osmere-d24`"),
        (["diagnose", "engine-cranks-but-will-not-strat"], "did you mean `engine-cranks-but-will-not-start`"),
        (
            ["diagnose", "one-side-of-auger-does-not-turn", "--answer", "shear-bolt-inspection=x"],
            "has no result `x`",
        ),
        (["cautions", "replace-auger-sheer-bolt"], "did you mean `replace-auger-shear-bolt`"),
    ],
)
def test_mistakes_get_a_did_you_mean(capsys: pytest.CaptureFixture[str], words: list[str], said: str) -> None:
    assert main([*words, "--kb", KB]) == 2
    assert said in capsys.readouterr().err


def test_a_symptom_that_a_machine_cannot_have_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["diagnose", "one-side-of-auger-does-not-turn", "--machine", "osmere-r18", "--kb", KB]) == 1
    assert "does not occur on osmere-r18" in capsys.readouterr().err


def test_diagnose_prints_the_documented_json(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("diagnose", "one-side-of-auger-does-not-turn", "--machine", "osmere-d24", "--json", "--model")
    found = json.loads(output(capsys, *words))
    assert set(found) >= {
        "symptom",
        "machine",
        "take_out_of_use",
        "causes",
        "plan",
        "expected_minutes",
        "method",
    }
    assert found["causes"][0]["id"] == "auger-shear-bolt-sheared"
    assert sum(cause["probability"] for cause in found["causes"]) == pytest.approx(1)
    assert found["plan"][0]["test"] == "shear-bolt-inspection"
    expected = sum(item["minutes"] * item["reach_probability"] for item in found["plan"])
    assert found["expected_minutes"] == pytest.approx(expected)
    model = found["model"]
    assert sum(model["priors"].values()) == pytest.approx(1)
    for test in model["tests"]:
        for row in test["likelihood"].values():
            assert sum(row) == pytest.approx(1)


def test_an_answer_moves_the_chances_by_bayes_rule(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("diagnose", "one-side-of-auger-does-not-turn", "--machine", "osmere-d24", "--json", "--model")
    before = json.loads(output(capsys, *words))
    test = next(t for t in before["model"]["tests"] if t["id"] == "shear-bolt-inspection")
    result = test["results"][0]
    after = json.loads(output(capsys, *words, "--answer", f"shear-bolt-inspection={result}"))
    weights = {c: p * test["likelihood"][c][0] for c, p in before["model"]["priors"].items()}
    whole = sum(weights.values())
    for cause in after["causes"]:
        assert cause["probability"] == pytest.approx(weights[cause["id"]] / whole)
    assert "shear-bolt-inspection" not in [item["test"] for item in after["plan"]]


def test_cautions_say_why_and_the_gravest_come_first(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(output(capsys, "cautions", "procedure/clear-clogged-chute", "--json"))
    words = [item["signal_word"] for item in found["cautions"]]
    assert words == sorted(words, key=["DANGER", "WARNING", "CAUTION", "NOTICE"].index)
    assert all(item["because"] for item in found["cautions"])
    assert found["cautions"][0]["id"] == "rotating-auger-and-impeller"


def test_a_value_that_no_machine_has_is_said_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = "values/auger-shear-bolt.torque.yaml"
    kb = lay_over(tmp_path, {name: sound(name).replace("two-stage", "no-such-class")})
    assert main(["value", "auger-shear-bolt.torque", "--kb", str(kb)]) == 1
    assert capsys.readouterr().out == "no machine of this book has the value `auger-shear-bolt.torque`\n"


def test_an_id_in_use_goes_before_a_former_one_of_another_kind(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    name = "procedures/replace-auger-shear-bolt.yaml"
    kb = lay_over(tmp_path, {name: sound(name) + "formerly: [shear-bolt-inspection, old-name]\n"})
    for given, record in (
        ("shear-bolt-inspection", "test/shear-bolt-inspection"),
        ("old-name", "procedure/replace-auger-shear-bolt"),
        ("procedure/shear-bolt-inspection", "procedure/replace-auger-shear-bolt"),
    ):
        assert main(["cautions", given, "--kb", str(kb), "--json"]) == 0
        assert json.loads(capsys.readouterr().out)["record"] == record


def test_text_output_names_the_same_facts(capsys: pytest.CaptureFixture[str]) -> None:
    shown = output(capsys, "diagnose", "one-side-of-auger-does-not-turn", "--machine", "osmere-d24")
    assert shown.index("Safety first") < shown.index("Causes by chance") < shown.index("Tests")
    assert "{" not in shown
    assert "DANGER" in shown
