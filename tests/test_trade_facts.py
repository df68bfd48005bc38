"""The demo book does not contradict what the trade holds. All of it: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.values import ResolvedValue
from shearpin.diagnosis.model import build_model
from shearpin.model.fields import Plate

KB = Path(__file__).resolve().parents[1] / "kb"
TWO_STAGE = ("osmere-d24", "osmere-d28", "osmere-t28")
SINGLE_STAGE = ("tarnbrook-s20", "tarnbrook-s22e")


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


def figure(linked: LinkedBook, name: str, machine: str) -> ResolvedValue:
    found = linked.values.resolve(name, machine)
    assert isinstance(found, ResolvedValue), (name, machine, found)
    return found


def bounds(linked: LinkedBook, name: str, machine: str, unit: str) -> tuple[float, float]:
    low, high = figure(linked, name, machine).quantity.bounds_in(unit)
    return (low if low is not None else 0.0), (high if high is not None else float("inf"))


def chances(linked: LinkedBook, symptom: str, machine: str) -> dict[str, float]:
    return dict(build_model(linked, symptom, machine).priors)


def snow_depth_name(linked: LinkedBook) -> str:
    names = [name for name in linked.book.values if "depth" in name and "snow" in name]
    assert len(names) == 1, names
    return names[0]


@pytest.mark.parametrize("machine", SINGLE_STAGE)
def test_single_stage_machines_suit_snow_up_to_about_15_cm(linked: LinkedBook, machine: str) -> None:
    _, high = bounds(linked, snow_depth_name(linked), machine, "cm")
    assert high <= 16


@pytest.mark.parametrize("machine", TWO_STAGE)
def test_two_stage_machines_suit_30_cm_and_more(linked: LinkedBook, machine: str) -> None:
    _, high = bounds(linked, snow_depth_name(linked), machine, "cm")
    assert high >= 30


@pytest.mark.parametrize("machine", TWO_STAGE)
def test_one_dead_side_is_a_sheared_bolt_most_of_the_time(linked: LinkedBook, machine: str) -> None:
    assert chances(linked, "one-side-of-auger-does-not-turn", machine)["auger-shear-bolt-sheared"] > 0.5


def test_shear_bolts_break_by_design(linked: LinkedBook) -> None:
    words = " ".join(
        [
            linked.book.parts["auger-shear-bolt"].summary,
            linked.book.causes["auger-shear-bolt-sheared"].mechanism,
        ]
    ).lower()
    assert "gearbox" in words
    assert "design" in words or "on purpose" in words or "meant to" in words


@pytest.mark.parametrize("machine", TWO_STAGE)
def test_the_auger_turns_much_slower_than_the_impeller(linked: LinkedBook, machine: str) -> None:
    _, auger = bounds(linked, "auger.speed", machine, "rpm")
    impeller, _ = bounds(linked, "impeller.speed", machine, "rpm")
    assert impeller > 5 * auger


def test_a_broken_belt_stops_the_auger_and_a_worn_one_does_not_stop_it_for_certain(
    linked: LinkedBook,
) -> None:
    names = {suspect.cause for suspect in linked.book.symptoms["auger-does-not-turn"].causes}
    assert "auger-belt-broken" in names
    one_side = {suspect.cause for suspect in linked.book.symptoms["one-side-of-auger-does-not-turn"].causes}
    assert not one_side & {"auger-belt-broken", "auger-belt-worn-or-glazed"}


def test_worn_belt_cable_or_friction_ring_stops_the_drive(linked: LinkedBook) -> None:
    names = set(chances(linked, "no-drive-in-either-direction", "osmere-d24"))
    assert {"traction-belt-worn", "traction-cable-slack", "friction-ring-worn"} <= names
    assert "friction-ring-worn" not in chances(linked, "no-drive-in-either-direction", "osmere-t28")


@pytest.mark.parametrize("machine", [*TWO_STAGE, *SINGLE_STAGE, "osmere-r18"])
def test_gasoline_with_more_than_ten_percent_ethanol_is_out(linked: LinkedBook, machine: str) -> None:
    _, high = bounds(linked, "fuel.ethanol-limit", machine, "%")
    assert high <= 10


def test_fuel_kept_longer_than_three_months_wants_stabilizer(linked: LinkedBook) -> None:
    assert figure(linked, "fuel.storage-limit", "osmere-d24").quantity.si <= 92 * 86_400
    assert "stabilizer" in linked.book.values["fuel.storage-limit"].title
    assert "fuel-stabilizer" in linked.book.parts


def test_worn_belts_throw_weakly_and_broken_ones_not_at_all(linked: LinkedBook) -> None:
    assert (
        "short" in linked.book.causes["auger-belt-worn-or-glazed"].mechanism
        or "weak" in linked.book.causes["auger-belt-worn-or-glazed"].mechanism
    )


@pytest.mark.parametrize("machine", TWO_STAGE)
def test_on_gravel_the_scraper_rides_several_inches_clear(linked: LinkedBook, machine: str) -> None:
    low, _ = bounds(linked, "scraper.clearance-gravel", machine, "in")
    assert low > 2.5
    _, paved = bounds(linked, "scraper.clearance-pavement", machine, "in")
    assert paved < 0.5


def test_a_clogged_chute_is_cleared_with_a_tool(linked: LinkedBook) -> None:
    procedure = linked.book.procedures["clear-clogged-chute"]
    assert "clearing-tool" in procedure.tools
    assert any("clear-chute" in step.action for step in procedure.steps)
    required = [item.id for item in linked.safety.required("procedure", "clear-clogged-chute")]
    assert required[0] == "rotating-auger-and-impeller"
    words = " ".join(linked.book.cautions["rotating-auger-and-impeller"].avoidance).lower()
    assert "never with a hand" in words


def test_plates_decide_parts(linked: LinkedBook) -> None:
    assert linked.book.parts["carburetor"].plate is Plate.ENGINE
    assert linked.book.parts["spark-plug"].plate is Plate.ENGINE
    assert linked.book.parts["scraper-blade"].plate is Plate.MACHINE
    assert linked.book.parts["traction-control-cable"].plate is Plate.MACHINE


@pytest.mark.parametrize("machine", [*TWO_STAGE, *SINGLE_STAGE, "osmere-r18"])
def test_most_no_starts_are_spark_plug_or_carburetor(linked: LinkedBook, machine: str) -> None:
    found = chances(linked, "engine-cranks-but-will-not-start", machine)
    assert found["spark-plug-fouled-or-worn"] + found["carburetor-jet-blocked"] > 0.5
