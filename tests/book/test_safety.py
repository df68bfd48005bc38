"""Required cautions: computed from what is touched, done and called; a writer can add to them, never drop one."""

from __future__ import annotations

import itertools
import time
from collections.abc import Mapping
from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from tests.sound_book import lay_over

SYSTEMS = {
    "systems/drive.yaml": "title: Drive\nsummary: A.\nenergies: [moving-drive, springs]\nhazards: [heavy]\n",
    "systems/chute.yaml": "title: Chute\nsummary: A.\n",
}
BASE = "purpose: A.\ntime: 1 min\n"


def _caution(word: str, more: str = "") -> str:
    return f"title: {word}\nsignal_word: {word}\nhazard: A.\nconsequence: B.\navoidance: C.\nseverity: {_HARM[word]}\n{more}"


_HARM = {
    "DANGER": "serious\nlikelihood: will",
    "WARNING": "serious\nlikelihood: could",
    "CAUTION": "minor\nlikelihood: could",
    "NOTICE": "none\nlikelihood: could",
}

CAUTIONS = {
    "cautions/drive.yaml": _caution("WARNING", "covers: {energies: moving-drive}\n"),
    "cautions/spring.yaml": _caution("CAUTION", "covers: {energies: springs, actions: release-spring}\n"),
    "cautions/heavy.yaml": _caution("CAUTION"),
    "cautions/fumes.yaml": _caution("DANGER", "covers: {actions: run-engine}\n"),
    "cautions/noise.yaml": _caution("CAUTION", "covers: {actions: run-engine}\n"),
    "cautions/oil.yaml": _caution("NOTICE"),
    "cautions/track.yaml": _caution(
        "WARNING", "covers: {actions: run-engine}\napplies_to: {fitted: tracks}\n"
    ),
}


def _book(folder: Path, files: Mapping[str, str]) -> LinkedBook:
    return load_linked(
        lay_over(folder, {**SYSTEMS, **CAUTIONS, "cautions/rotating-auger.yaml": None, **files}), "kb"
    )


def _procedure(title: str, text: str, steps: str = "steps:\n  - do: Look.\n") -> str:
    systems = "" if "systems:" in text else "systems: chute\n"
    return f"title: {title}\n{BASE}{systems}{text}{steps}"


def _required(linked: LinkedBook, kind: str, record_id: str) -> dict[str, tuple[str, ...]]:
    return {caution.id: caution.reasons for caution in linked.safety.required(kind, record_id)}


def test_a_system_brings_the_cautions_of_its_energies_and_its_hazards(tmp_path: Path) -> None:
    linked = _book(tmp_path, {"procedures/a.yaml": _procedure("A", "systems: [chute, drive]\n")})
    assert _required(linked, "procedure", "a") == {
        "drive": ("the system “Drive” holds: moving drive",),
        "spring": ("the system “Drive” holds: springs",),
        "heavy": ("it touches the system “Drive”",),
    }


def test_an_action_of_a_step_brings_its_cautions(tmp_path: Path) -> None:
    steps = (
        "steps:\n  - {do: Look., action: run-engine}\nfinish:\n  - {do: Let go., action: release-spring}\n"
    )
    linked = _book(tmp_path, {"procedures/a.yaml": _procedure("A", "", steps)})
    required = _required(linked, "procedure", "a")
    assert set(required) == {"fumes", "noise", "track", "spring"}
    assert required["fumes"] == ("a step takes the action: run engine",)
    assert required["spring"] == ("a step takes the action: release spring",)


def test_a_caution_of_a_step_and_one_of_the_page_are_required(tmp_path: Path) -> None:
    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": _procedure(
                "A", "cautions: oil\n", "steps:\n  - {do: Look., caution: heavy}\n"
            )
        },
    )
    assert _required(linked, "procedure", "a") == {
        "oil": ("the writer put it on this page",),
        "heavy": ("a step of this page needs it",),
    }


def test_a_tool_brings_its_cautions(tmp_path: Path) -> None:
    linked = _book(
        tmp_path,
        {
            "tools/press.yaml": "title: Press\nsummary: A.\ncautions: [heavy]\n",
            "procedures/a.yaml": _procedure("A", "tools: [pin-punch, press]\n"),
        },
    )
    assert _required(linked, "procedure", "a") == {"heavy": ("it uses the tool “Press”",)}


def test_work_done_before_brings_its_cautions_along_the_whole_chain(tmp_path: Path) -> None:
    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": _procedure("A", "before: b\n"),
            "procedures/b.yaml": _procedure("B", "before: c\ncautions: oil\n"),
            "procedures/c.yaml": _procedure("C", "systems: drive\n"),
        },
    )
    assert _required(linked, "procedure", "a") == dict.fromkeys(
        ("drive", "spring", "heavy", "oil"), ("it calls the procedure “B”",)
    )


@pytest.mark.parametrize("called", ["procedure", "test"])
def test_work_that_a_step_calls_by_a_link_brings_its_cautions(called: str, tmp_path: Path) -> None:
    results = "results:\n  - {id: x, seen: A.}\n  - {id: y, seen: B.}\n"
    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": _procedure("A", "", f"steps:\n  - do: Then {{{called}:b}}.\n"),
            f"{called}s/b.yaml": _procedure("B", "cautions: oil\n") + (results if called == "test" else ""),
        },
    )
    assert _required(linked, "procedure", "a") == {"oil": (f"it calls the {called} “B”",)}


def test_a_link_in_a_note_is_no_call(tmp_path: Path) -> None:
    steps = "steps:\n  - {do: Look., note: 'See {procedure:b}.', confirm: 'As in {procedure:b}.'}\n"
    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": _procedure("A", "", steps),
            "procedures/b.yaml": _procedure("B", "cautions: oil\n"),
        },
    )
    assert _required(linked, "procedure", "a") == {}


def test_a_symptom_requires_the_cautions_of_its_tests_and_of_what_is_done_before_them(tmp_path: Path) -> None:
    results = (
        "results:\n  - {id: x, seen: A., given: {rust: usually}, otherwise: rarely}\n"
        "  - {id: y, seen: B., given: {rust: rarely}, otherwise: usually}\n"
    )
    linked = _book(
        tmp_path,
        {
            "causes/rust.yaml": "title: Rust\nmechanism: A.\nconfirmed_by: B.\nsystems: chute\n",
            "symptoms/a.yaml": "title: A\nsummary: B.\nsystems: chute\ncautions: oil\nbefore: c\ncauses: [{cause: rust, chance: often}]\n",
            "tests/b.yaml": _procedure("B", "", "steps:\n  - {do: Look., action: run-engine}\n") + results,
            "procedures/c.yaml": _procedure("C", "cautions: heavy\n"),
        },
    )
    assert _required(linked, "symptom", "a") == {
        "fumes": ("it calls the test “B”",),
        "track": ("it calls the test “B”",),
        "heavy": ("it calls the procedure “C”",),
        "noise": ("it calls the test “B”",),
        "oil": ("the writer put it on this page",),
    }
    assert linked.safety.tests_for("a") == ("b",)


@pytest.mark.parametrize(
    ("condition", "shown"),
    [("", True), ("applies_to: {fitted: tracks}\n", True), ("applies_to: {fitted: friction-drive}\n", False)],
    ids=["all machines", "the machine it concerns", "other machines"],
)
def test_a_caution_is_left_out_only_where_no_machine_of_the_page_has_what_it_is_about(
    condition: str, shown: bool, tmp_path: Path
) -> None:
    text = _procedure("A", condition, "steps:\n  - {do: Look., action: run-engine}\n")
    linked = _book(tmp_path, {"procedures/a.yaml": text})
    assert ("track" in _required(linked, "procedure", "a")) is shown
    assert "fumes" in _required(linked, "procedure", "a")


def test_a_page_for_no_machine_keeps_every_caution(tmp_path: Path) -> None:
    text = _procedure("A", "applies_to: {class: sledge}\n", "steps:\n  - {do: Look., action: run-engine}\n")
    linked = _book(tmp_path, {"procedures/a.yaml": text})
    assert "track" in _required(linked, "procedure", "a")


def test_the_gravest_come_first_and_among_equals_the_pages_own(tmp_path: Path) -> None:
    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": _procedure("A", "cautions: [oil, noise]\nbefore: b\n"),
            "procedures/b.yaml": _procedure(
                "B", "systems: drive\n", "steps:\n  - {do: Look., action: run-engine}\n"
            ),
        },
    )
    required = linked.safety.required("procedure", "a")
    assert [caution.id for caution in required] == [
        "fumes",
        "drive",
        "track",
        "noise",
        "heavy",
        "spring",
        "oil",
    ]


def test_a_caution_required_twice_stands_once_with_both_reasons(tmp_path: Path) -> None:
    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": _procedure(
                "A", "systems: drive\n", "steps:\n  - {do: Let go., action: release-spring}\n"
            )
        },
    )
    assert _required(linked, "procedure", "a")["spring"] == (
        "the system “Drive” holds: springs",
        "a step takes the action: release spring",
    )


@pytest.mark.parametrize("how", ["before: {}\n", "link"])
def test_circles_of_calls_end(how: str, tmp_path: Path) -> None:
    def work(title: str, called: str, caution: str) -> str:
        if how == "link":
            return _procedure(
                title, f"cautions: {caution}\n", f"steps:\n  - do: Then {{procedure:{called}}}.\n"
            )
        return _procedure(title, f"cautions: {caution}\n" + how.format(called))

    linked = _book(
        tmp_path,
        {
            "procedures/a.yaml": work("A", "b", "oil"),
            "procedures/b.yaml": work("B", "c", "heavy"),
            "procedures/c.yaml": work("C", "a", "noise"),
            "procedures/d.yaml": work("D", "d", "oil"),
        },
    )
    for start in "abc":
        assert set(_required(linked, "procedure", start)) == {"oil", "heavy", "noise"}
    assert _required(linked, "procedure", "a")["oil"] == ("the writer put it on this page",)
    assert _required(linked, "procedure", "d") == {"oil": ("the writer put it on this page",)}


def test_many_ways_to_the_same_work_are_walked_once(tmp_path: Path) -> None:
    """Forty layers of two procedures, each calling both of the next: a million million ways."""
    files = {
        f"procedures/p{layer}{side}.yaml": _procedure("P", f"before: [p{layer + 1}a, p{layer + 1}b]\n")
        for layer, side in itertools.product(range(40), "ab")
    }
    last = {f"procedures/p40{side}.yaml": _procedure("P", "cautions: oil\n") for side in "ab"}
    linked = _book(tmp_path, {**files, **last})
    begun = time.process_time()
    assert set(_required(linked, "procedure", "p0a")) == {"oil"}
    assert time.process_time() - begun < 1.0


@pytest.mark.parametrize(
    "attempt",
    [
        "cautions: []\n",
        "cautions: [oil]\n",
        "review: {state: reviewed}\n",
        "applies_to: {class: two-stage}\n",
        "ignore: [{code: SAF001, reason: none}, {code: SAF005, reason: none}]\n",
    ],
)
def test_a_writer_cannot_drop_a_required_caution(attempt: str, tmp_path: Path) -> None:
    steps = "steps:\n  - {do: Look., action: run-engine}\n"
    linked = _book(
        tmp_path,
        {
            "procedures/plain.yaml": _procedure("A", "systems: drive\nbefore: b\n", steps),
            "procedures/tried.yaml": _procedure("A", f"systems: drive\nbefore: b\n{attempt}", steps),
            "procedures/b.yaml": _procedure("B", "cautions: oil\n"),
        },
    )
    plain, tried = _required(linked, "procedure", "plain"), _required(linked, "procedure", "tried")
    assert set(plain) == {"fumes", "drive", "track", "noise", "spring", "heavy", "oil"}
    assert set(tried) >= set(plain)


def test_the_cautions_of_a_step_are_its_own_and_those_of_its_actions_gravest_first(tmp_path: Path) -> None:
    steps = "steps:\n  - {do: Look., caution: [oil, heavy, absent], action: [run-engine, release-spring, swing]}\n"
    linked = _book(tmp_path, {"procedures/a.yaml": _procedure("A", "", steps)})
    step = linked.book.procedures["a"].steps[0]
    assert linked.safety.of_step(step) == ("fumes", "track", "heavy", "noise", "spring", "oil")


def test_what_requires_no_cautions_has_none(tmp_path: Path) -> None:
    linked = _book(tmp_path, {})
    assert linked.safety.required("tool", "pin-punch") == ()
    assert linked.safety.required("procedure", "absent") == ()
