"""The numbers of a diagnosis: priors from the symptom, likelihoods from the tests, minutes and shared access."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shearpin.diagnosis.likelihood import likelihood_row
from shearpin.diagnosis.model import CURED, NOT_CURED, DiagnosisModel, alike, build_model
from shearpin.diagnosis.plan import make_plan
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.model.fields import SHARE_OF_WORD, ChanceWord
from shearpin.model.steps import Test
from tests.sound_book import read_over, sound

SYMPTOM = "symptoms/one-side-of-auger-does-not-turn.yaml"
CAUSE = "title: A\nmechanism: B.\nconfirmed_by: C.\nsystems: auger-drive\n"
TEXT = (
    "title: A\npurpose: B.\nsystems: auger-drive\nbefore: {before}\ntime: {minutes} min\nsteps:\n  - do: C.\n"
)


def _test(results: str) -> Test:
    return Test.model_validate(
        {
            "title": "A",
            "purpose": "B",
            "systems": ["c"],
            "time": "1 min",
            "steps": [{"do": "D"}],
            "results": [
                {"id": f"r{n}", "seen": "E", **_result(text)} for n, text in enumerate(results.split("; "), 1)
            ],
        }
    )


def _result(text: str) -> dict[str, object]:
    """`often/rarely` is what a result says of the cause `rust`, and otherwise; a dash says nothing."""
    given_, otherwise = text.split("/")
    return {
        **({"given": {"rust": given_}} if given_ != "-" else {}),
        **({"otherwise": otherwise} if otherwise != "-" else {}),
    }


@pytest.mark.parametrize(
    ("results", "rust", "other"),
    [
        ("0.9/0.1; 0.1/0.9", (0.9, 0.1), (0.1, 0.9)),
        ("90 %/0.1; 10 %/0.9", (0.9, 0.1), (0.1, 0.9)),
        ("usually/rarely; rarely/usually", (0.85 / 0.95, 0.10 / 0.95), (0.10 / 0.95, 0.85 / 0.95)),
        ("often/often; often/often", (0.5, 0.5), (0.5, 0.5)),
        ("0.9/0.2; -/-", (0.9, 0.1), (0.2, 0.8)),
        ("0.6/0.2; -/-; -/-", (0.6, 0.2, 0.2), (0.2, 0.4, 0.4)),
        ("-/0.3; -/-", (0.3, 0.7), (0.3, 0.7)),
        ("-/-; -/-", (0.5, 0.5), (0.5, 0.5)),
        ("1/0; -/-", (1 / 1.02, 0.02 / 1.02), (0.0, 1.0)),
        ("0/0; 0/0", (0.5, 0.5), (0.5, 0.5)),
        ("0.9/-; 0.1/0.7", (0.9, 0.1), (0.3, 0.7)),
    ],
)
def test_a_row_says_how_often_each_result_shows(
    results: str, rust: tuple[float, ...], other: tuple[float, ...]
) -> None:
    assert likelihood_row(_test(results), "rust") == pytest.approx(rust)
    assert likelihood_row(_test(results), SOMETHING_ELSE) == pytest.approx(other)


CHANCES = st.sampled_from(["-", *(word.value for word in ChanceWord), "0", "0.25", "1", "40 %"])


@settings(max_examples=80, deadline=None)
@given(st.lists(st.tuples(CHANCES, CHANCES), min_size=2, max_size=5))
def test_every_row_sums_to_one_whatever_is_said_or_left_out(said: list[tuple[str, str]]) -> None:
    test = _test("; ".join(f"{given_}/{otherwise}" for given_, otherwise in said))
    for cause in ("rust", "another", SOMETHING_ELSE):
        row = likelihood_row(test, cause)
        assert sum(row) == pytest.approx(1.0)
        assert all(0.0 <= share <= 1.0 for share in row)


def _model(folder: Path, files: Mapping[str, str], machine: str | None = None) -> DiagnosisModel:
    return build_model(read_over(folder, files), SYMPTOM.split("/")[1].removesuffix(".yaml"), machine)


def _symptom(causes: str, more: str = "") -> dict[str, str]:
    text = "title: A\nsummary: B.\napplies_to: {class: two-stage}\nsystems: auger-drive\n"
    return {SYMPTOM: f"{text}{more}causes:\n{causes}", "causes/rust.yaml": CAUSE, "causes/ice.yaml": CAUSE}


BOTH = "  - {cause: rust, chance: often}\n  - {cause: ice, chance: sometimes}\n"


def test_priors_follow_the_writers_words_with_a_tenth_for_something_else(tmp_path: Path) -> None:
    priors = _model(tmp_path, _symptom(BOTH)).priors
    assert sum(priors.values()) == pytest.approx(1.0)
    assert priors[SOMETHING_ELSE] == pytest.approx(SHARE_OF_WORD[ChanceWord.RARELY])
    assert priors["rust"] / priors["ice"] == pytest.approx(0.60 / 0.30)


@pytest.mark.parametrize(("said", "share"), [("sometimes", 0.30), ("0.2", 0.2), ("0", 0.0), ("1", 1.0)])
def test_something_else_has_the_share_that_is_said(said: str, share: float, tmp_path: Path) -> None:
    priors = _model(tmp_path, _symptom(BOTH, f"something_else: {said}\n")).priors
    assert priors[SOMETHING_ELSE] == pytest.approx(share)
    assert sum(priors.values()) == pytest.approx(1.0)


def test_causes_that_cannot_occur_on_the_machine_are_left_out(tmp_path: Path) -> None:
    causes = BOTH.replace("chance: sometimes", "chance: sometimes, applies_to: {fitted: tracks}")
    files = {**_symptom(causes), "causes/rust.yaml": CAUSE + "applies_to: {not_fitted: tracks}\n"}
    assert set(_model(tmp_path / "1", files, "brook-d24").priors) == {"rust", SOMETHING_ELSE}
    assert set(_model(tmp_path / "2", files, "brook-t28").priors) == {"ice", SOMETHING_ELSE}
    assert set(_model(tmp_path / "3", files).priors) == {"rust", "ice", SOMETHING_ELSE}


def test_a_cause_that_cannot_be_read_is_left_out(tmp_path: Path) -> None:
    files = {**_symptom(BOTH), "causes/ice.yaml": "title: [\n"}
    assert set(_model(tmp_path, files).priors) == {"rust", SOMETHING_ELSE}


def test_no_cause_leaves_something_else(tmp_path: Path) -> None:
    assert _model(tmp_path, _symptom("  []\n")).priors == {SOMETHING_ELSE: 1.0}


RESULTS = (
    "results:\n  - {{id: yes, seen: D., given: {{{cause}: always}}, otherwise: never}}\n"
    "  - {{id: no, seen: E., given: {{{cause}: never}}, otherwise: always}}\n"
)


def _told(before: str = "[]", minutes: int = 2, more: str = "", cause: str = "rust") -> str:
    return TEXT.format(before=before, minutes=minutes) + more + RESULTS.format(cause=cause)


def test_tests_that_tell_of_a_possible_cause_belong_to_the_model(tmp_path: Path) -> None:
    files = {
        **_symptom(BOTH),
        "tests/a.yaml": _told(),
        "tests/b.yaml": _told(cause="ice"),
        "tests/c.yaml": _told(more="applies_to: {fitted: tracks}\n"),
        "tests/d.yaml": _told(cause="auger-shear-bolt-sheared"),
    }
    d24, t28 = _model(tmp_path / "1", files, "brook-d24"), _model(tmp_path / "2", files, "brook-t28")
    assert [test.id for test in d24.tests] == ["a", "b"]
    assert [test.id for test in t28.tests] == ["a", "b", "c"]
    assert d24.tests[0].results == ("yes", "no")
    assert set(d24.tests[0].likelihood) == {"rust", "ice", SOMETHING_ELSE}


def test_a_test_that_cannot_tell_the_causes_of_the_machine_apart_is_left_out(tmp_path: Path) -> None:
    causes = (
        "  - {cause: rust, chance: often}\n  - {cause: ice, chance: often, applies_to: {fitted: tracks}}\n"
    )
    files = {**_symptom(causes), "tests/a.yaml": _told(cause="ice")}
    assert _model(tmp_path / "1", files, "brook-d24").tests == ()
    assert len(_model(tmp_path / "2", files, "brook-t28").tests) == 1


def test_minutes_are_the_tests_own_and_access_is_all_that_is_done_before(tmp_path: Path) -> None:
    cover = "title: A\npurpose: B.\nsystems: auger-drive\nbefore: make-machine-safe\ntime: 1 h\nsteps:\n  - do: C.\n"
    files = {
        **_symptom(BOTH),
        "procedures/open-cover.yaml": cover,
        "tests/a.yaml": _told("[open-cover]", 7),
        "tests/b.yaml": _told("[make-machine-safe, absent]", 4, cause="ice"),
    }
    model = _model(tmp_path, files)
    assert [(test.minutes, test.access) for test in model.tests] == [
        (7.0, ("make-machine-safe", "open-cover")),
        (4.0, ("make-machine-safe",)),
    ]
    assert model.access_minutes == {"make-machine-safe": 3.0, "open-cover": 60.0}
    plan = make_plan(model)
    assert [(planned.test, planned.minutes, planned.opens) for planned in plan.tests] == [
        ("b", 7.0, ("make-machine-safe",)),
        ("a", 67.0, ("open-cover",)),
    ]


def test_minutes_for_a_state_that_tests_share_are_not_the_tests_own(tmp_path: Path) -> None:
    files = {
        **_symptom(BOTH),
        "tests/a.yaml": _told(minutes=7, more="access: {spark-plug-out: 3 min}\n"),
        "tests/b.yaml": _told(minutes=5, more="access: {spark-plug-out: 2 min}\n", cause="ice"),
    }
    model = _model(tmp_path, files)
    assert [test.minutes for test in model.tests] == [4.0, 3.0]
    assert model.access_minutes == {"spark-plug-out": 2.0}


def test_a_trial_cures_the_causes_it_remedies_and_no_other(tmp_path: Path) -> None:
    text = "title: A\npurpose: B.\nsystems: auger-drive\ntime: 9 min\ntrial: yes\nremedies: rust\nsteps:\n  - do: C.\n"
    (trial,) = _model(tmp_path, {**_symptom(BOTH), "procedures/oil-it.yaml": text}).tests
    assert {cause: row.index(max(row)) for cause, row in trial.likelihood.items()} == {
        "rust": trial.results.index(CURED),
        "ice": trial.results.index(NOT_CURED),
        SOMETHING_ELSE: trial.results.index(NOT_CURED),
    }


def test_machines_are_alike_where_the_same_causes_occur_on_them(tmp_path: Path) -> None:
    machines = ("brook-d24", "brook-t28")
    symptom = "one-side-of-auger-does-not-turn"
    for_all = read_over(tmp_path / "1", _symptom(BOTH))
    assert alike(for_all, symptom, machines) == (machines,)
    on_tracks = {"causes/rust.yaml": CAUSE + "applies_to: {fitted: tracks}\n"}
    for_some = read_over(tmp_path / "2", {**_symptom(BOTH), **on_tracks})
    assert alike(for_some, symptom, machines) == (("brook-d24",), ("brook-t28",))


def test_access_for_other_machines_costs_nothing(tmp_path: Path) -> None:
    cover = "title: A\npurpose: B.\nsystems: auger-drive\ntime: 9 min\napplies_to: {fitted: tracks}\nsteps:\n  - do: C.\n"
    files = {**_symptom(BOTH), "procedures/open-cover.yaml": cover, "tests/a.yaml": _told("[open-cover]")}
    assert _model(tmp_path / "1", files, "brook-d24").access_minutes == {}
    assert _model(tmp_path / "2", files, "brook-t28").access_minutes == {"open-cover": 9.0}


@pytest.mark.parametrize(
    ("action", "live"),
    [
        ("run-engine", True),
        ("run-auger", True),
        ("connect-mains", True),
        ("run-pump", True),
        ("connect-battery", True),
        ("disconnect-battery", False),
        ("pull-recoil", False),
        ("drain-fuel", False),
    ],
)
def test_a_test_that_puts_energy_into_the_machine_is_live(action: str, live: bool, tmp_path: Path) -> None:
    text = _told().replace("do: C.", f"do: C.\n    action: {action}")
    files = {**_symptom(BOTH), "tests/a.yaml": text}
    assert _model(tmp_path, files).tests[0].live is live


def test_an_unknown_symptom_or_machine_is_an_error_of_the_caller(tmp_path: Path) -> None:
    linked = read_over(tmp_path, {})
    with pytest.raises(KeyError):
        build_model(linked, "absent")
    with pytest.raises(KeyError):
        build_model(linked, "one-side-of-auger-does-not-turn", "absent")


def test_the_sound_book_points_to_the_shear_bolt(tmp_path: Path) -> None:
    assert "usually" in sound(SYMPTOM)
    model = build_model(read_over(tmp_path, {}), "one-side-of-auger-does-not-turn", "brook-d24")
    assert max(model.priors, key=lambda cause: model.priors[cause]) == "auger-shear-bolt-sheared"
    assert [planned.test for planned in make_plan(model).tests] == ["shear-bolt-inspection"]
