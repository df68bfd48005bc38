"""A job: shared work once and in order, quantities added up, cautions by gravity, the estimate in whole hundredths."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.diagnosis.job import JobPart, PerhapsNeeded, labour, make_job, money, read_rate
from tests.sound_book import read_over

KB = Path(__file__).resolve().parents[2] / "kb"
HEAD = "title: {title}\npurpose: B.\nsystems: auger-drive\ntime: {minutes} min\nbefore: [{before}]\n"
STEPS = "steps:\n  - do: C.\nsources: bench-notes\n"


def procedure(title: str, minutes: int, before: str = "", more: str = "") -> str:
    return HEAD.format(title=title, minutes=minutes, before=before) + more + STEPS


FILES: dict[str, str | bytes | None] = {
    "procedures/cover-off.yaml": procedure("Cover off", 5, "make-machine-safe"),
    "procedures/belt.yaml": procedure(
        "Belt", 20, "cover-off", "parts:\n  - {part: auger-shear-bolt, quantity: 2}\ntools: pin-punch\n"
    ),
    "procedures/pulley.yaml": procedure(
        "Pulley",
        30,
        "make-machine-safe, cover-off",
        "parts:\n  - auger-shear-bolt\n  - {part: auger-shear-bolt, quantity: 3, if_needed: when worn}\n".replace(
            "- auger-shear-bolt", "- {part: auger-shear-bolt}"
        )
        + "tools: [torque-wrench, pin-punch]\n",
    ),
    "procedures/track.yaml": procedure("Track", 7, more="applies_to: {fitted: tracks}\n"),
}


@pytest.fixture(scope="module")
def demo() -> LinkedBook:
    return load_linked(KB)


@pytest.fixture
def linked(tmp_path: Path) -> LinkedBook:
    return read_over(tmp_path, FILES)


def test_what_two_procedures_share_is_done_once_and_first(linked: LinkedBook) -> None:
    job = make_job(linked, ["pulley", "belt", "pulley"], "brook-d24")
    assert [item.procedure for item in job.work] == ["make-machine-safe", "cover-off", "pulley", "belt"]
    assert [item.asked for item in job.work] == [False, False, True, True]
    assert [item.serves for item in job.work] == [("pulley", "belt"), ("pulley", "belt"), (), ()]
    safe = linked.book.procedures["make-machine-safe"].time.si or 0
    assert job.seconds == safe + (5 + 30 + 20) * 60
    assert job.seconds_saved == safe + 5 * 60


def test_a_preparation_that_is_asked_for_too_stands_once(linked: LinkedBook) -> None:
    job = make_job(linked, ["belt", "cover-off"], "brook-d24")
    assert [item.procedure for item in job.work] == ["make-machine-safe", "cover-off", "belt"]
    assert [item.asked for item in job.work] == [False, True, True]


def test_parts_add_up_and_what_is_perhaps_needed_is_told_apart(linked: LinkedBook) -> None:
    job = make_job(linked, ["belt", "pulley"], "brook-d24")
    part = linked.book.parts["auger-shear-bolt"].numbers["brook-d24"].number
    assert job.machine_parts == (
        JobPart("auger-shear-bolt", 3, (PerhapsNeeded("when worn", 3),), part, None, ("belt", "pulley")),
    )
    assert job.engine_parts == ()
    assert job.tools[-2:] == ("pin-punch", "torque-wrench")


def test_what_is_not_for_the_machine_is_refused_with_the_reason(linked: LinkedBook) -> None:
    job = make_job(linked, ["track", "belt"], "brook-d24")
    assert job.refused == (("track", "it needs tracks, which this machine does not have"),)
    assert "track" not in [item.procedure for item in job.work]
    with pytest.raises(KeyError):
        make_job(linked, ["no-such"], "brook-d24")
    with pytest.raises(KeyError):
        make_job(linked, ["belt"], "no-such")


def test_cautions_are_those_of_every_page_the_gravest_first(demo: LinkedBook) -> None:
    for machine in demo.book.machines:
        job = make_job(demo, demo.book.procedures, machine)
        expected = {
            item.id
            for entry in job.work
            for item in demo.safety.required("procedure", entry.procedure)
            if machine in demo.applicability.machines_for(demo.book.cautions[item.id].applies_to)
        }
        assert set(job.cautions) == expected
        words = [demo.book.cautions[caution].signal_word.value for caution in job.cautions]
        assert words == sorted(words, key=["DANGER", "WARNING", "CAUTION", "NOTICE"].index)


def test_after_an_engine_has_run_the_machine_is_made_safe_again(demo: LinkedBook) -> None:
    job = make_job(demo, ["replace-auger-shear-bolt", "replace-spark-plug"], "osmere-d24")
    again = {item.procedure: item.again for item in job.work}
    assert again["replace-auger-shear-bolt"] == ("make-machine-safe",)  # it ends with a test run
    assert again["replace-spark-plug"] == ()  # nothing comes after it
    assert again["make-machine-safe"] == ()


@pytest.mark.parametrize(
    ("text", "hundredths"),
    [("90", 9000), (" 87.5 ", 8750), ("87,50", 8750), ("0", 0), ("", None), ("-1", None), ("1.234", None), ("9e3", None), ("٩", None), ("1 000", None)],
)  # fmt: skip
def test_rates_are_read_as_people_write_them(text: str, hundredths: int | None) -> None:
    assert read_rate(text) == hundredths


@given(st.integers(0, 10**6), st.integers(0, 10**8))
def test_the_estimate_is_exact_with_halves_rounded_up(seconds: int, rate: int) -> None:
    exact = (Decimal(rate) * seconds / 3600).quantize(Decimal(1), ROUND_HALF_UP)
    assert labour(seconds, rate) == exact
    assert money(labour(seconds, rate)) == f"{exact / 100:.2f}"


def test_each_plate_orders_its_own_parts(tmp_path: Path) -> None:
    plug = "title: Plug\nsummary: It lights.\nplate: engine\nnumbers:\n  ell-e212: {number: E-1}\nsources: bench-notes\n"
    work = procedure("Tune", 10, more="parts:\n  - {part: plug}\n  - {part: auger-shear-bolt}\n")
    linked = read_over(tmp_path, {"parts/plug.yaml": plug, "procedures/tune.yaml": work})
    job = make_job(linked, ["tune"], "brook-d24")
    assert [part.part for part in job.engine_parts] == ["plug"]
    assert [part.part for part in job.machine_parts] == ["auger-shear-bolt"]
