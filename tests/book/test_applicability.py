"""Applicability: for which machines a condition holds, and why not in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.applicability import Applicability
from shearpin.model.fields import AppliesTo
from tests.sound_book import read_over, swap

D24, T28, S20, BARE = "brook-d24", "brook-t28", "brook-s20", "brook-cart"


@pytest.fixture(scope="module")
def machines(tmp_path_factory: pytest.TempPathFactory) -> Applicability:
    """Two two-stage machines on one engine, a single-stage one on another, and one without an engine."""
    linked = read_over(
        tmp_path_factory.mktemp("machines"),
        {
            **swap("engines/ell-e212.yaml", "sources", "fitted: [choke, lighting-coil]\nsources"),
            "engines/ell-e127.yaml": "title: Ell E127\nsummary: A.\nplate: {where: b}\nfitted: primer\n",
            f"machines/{S20}.yaml": "title: Brook S20\nsummary: A.\nclass: single-stage\nengine: ell-e127\nplate: {where: b}\n"
            "fitted: [recoil-start, paddles]\n",
            f"machines/{BARE}.yaml": "title: Brook Cart\nsummary: A.\nclass: cart\nplate: {where: b}\n",
        },
    )
    return linked.applicability


CASES = [
    ({}, {D24, T28, S20, BARE}),
    ({"machines": D24}, {D24}),
    ({"machines": [D24, S20]}, {D24, S20}),
    ({"engines": "ell-e212"}, {D24, T28}),
    ({"engines": ["ell-e212", "ell-e127"]}, {D24, T28, S20}),
    ({"class": "two-stage"}, {D24, T28}),
    ({"class": ["two-stage", "cart"]}, {D24, T28, BARE}),
    ({"fitted": "recoil-start"}, {D24, T28, S20}),
    ({"fitted": ["recoil-start", "tracks"]}, {T28}),
    ({"fitted": "choke"}, {D24, T28}),
    ({"any_fitted": ["tracks", "paddles"]}, {T28, S20}),
    ({"any_fitted": ["tracks", "primer"]}, {T28, S20}),
    ({"not_fitted": "tracks"}, {D24, S20, BARE}),
    ({"not_fitted": ["tracks", "paddles"]}, {D24, BARE}),
    ({"not_fitted": "lighting-coil"}, {S20, BARE}),
    ({"class": "two-stage", "not_fitted": "tracks"}, {D24}),
    ({"class": "two-stage", "fitted": "paddles"}, set()),
    (
        {"machines": [D24, T28], "fitted": "choke", "any_fitted": ["tracks", "lamp"], "not_fitted": "lamp"},
        {T28},
    ),
]


@pytest.mark.parametrize(("condition", "holds_for"), CASES, ids=[str(condition) for condition, _ in CASES])
def test_a_condition_holds_for_the_machines_that_meet_all_of_it(
    machines: Applicability, condition: dict[str, object], holds_for: set[str]
) -> None:
    applies_to = AppliesTo.model_validate(condition)
    assert machines.machines_for(applies_to) == holds_for
    for machine in (D24, T28, S20, BARE):
        assert (machines.reason_against(applies_to, machine) is None) == (machine in holds_for)


@pytest.mark.parametrize(
    ("condition", "machine", "reason"),
    [
        ({"machines": T28}, D24, "it is for other models"),
        ({"engines": "ell-e127"}, D24, "it is for other engines"),
        ({"engines": "ell-e127"}, BARE, "it is for other engines"),
        ({"class": "two-stage"}, S20, "it is for two-stage machines; this one is single-stage"),
        (
            {"class": ["two-stage", "single-stage"]},
            BARE,
            "it is for two-stage and single-stage machines; this one is cart",
        ),
        ({"fitted": "friction-drive"}, T28, "it needs friction drive, which this machine does not have"),
        (
            {"fitted": ["recoil-start", "friction-drive", "lamp"]},
            T28,
            "it needs friction drive and lamp, which this machine does not have",
        ),
        (
            {"any_fitted": ["lamp", "paddles", "primer"]},
            T28,
            "it needs lamp, paddles or primer, which this machine does not have",
        ),
        ({"not_fitted": "tracks"}, T28, "it is for machines without tracks"),
        (
            {"not_fitted": ["tracks", "recoil-start", "lamp"]},
            T28,
            "it is for machines without tracks and recoil start",
        ),
    ],
)
def test_the_reason_against_is_told_in_words(
    machines: Applicability, condition: dict[str, object], machine: str, reason: str
) -> None:
    assert machines.reason_against(AppliesTo.model_validate(condition), machine) == reason


def test_no_condition_holds_everywhere(machines: Applicability) -> None:
    assert machines.machines_for(None) == machines.everywhere == {D24, T28, S20, BARE}
    assert machines.reason_against(None, S20) is None


def test_a_machine_that_is_not_in_the_book_is_an_error_of_the_caller(machines: Applicability) -> None:
    with pytest.raises(KeyError):
        machines.reason_against(AppliesTo.model_validate({"class": "cart"}), "brook-x1")


def test_features_are_those_of_machines_and_engines(machines: Applicability) -> None:
    assert machines.features == {
        "engine",
        "recoil-start",
        "friction-drive",
        "tracks",
        "paddles",
        "choke",
        "lighting-coil",
        "primer",
    }
    assert machines.classes == {"two-stage", "single-stage", "cart"}


def test_an_engine_that_cannot_be_read_lends_no_features(tmp_path: Path) -> None:
    linked = read_over(tmp_path, {"engines/ell-e212.yaml": "title: [\n"})
    assert linked.applicability.machines[D24].features == {"engine", "recoil-start", "friction-drive"}
    assert linked.applicability.machines[D24].engine == "ell-e212"
