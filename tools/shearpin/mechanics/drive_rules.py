"""Rules on belts and speeds: what must hold between pulleys, distances, ratios and speeds of one machine."""

# Longer than 300 lines: every rule carries its reason and its examples.

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.checks.rule import AnyRule, Fault, Wording, rule
from shearpin.mechanics.belts import open_belt_length_mm
from shearpin.mechanics.guards import ImpossibleInputError, shown
from shearpin.mechanics.recorded import OF_RECORDED, Recorded, companion_of, recorded_values
from shearpin.model.finding import Severity
from shearpin.model.printed import printed_range
from shearpin.model.quantity import QuantityKind

SLOWEST_SHARE: Final = 0.90
FASTEST_SHARE: Final = 1.02
"""Ours, no source: a belt that slips more than a tenth smokes, and none is faster than its pulleys make it; two
percent are left for diameters measured to the rim."""


@dataclass(frozen=True, slots=True)
class _Drive:
    """A belt as recorded: the two pulleys and their distance, each between two bounds in millimetres."""

    drive: Recorded
    driven: Recorded
    distance: Recorded
    drive_mm: tuple[float, float]
    driven_mm: tuple[float, float]
    distance_mm: tuple[float, float]


@rule("DRV001", wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def belt_too_short_for_its_pulleys(linked: LinkedBook) -> Iterator[Fault]:
    """A belt is shorter than the way round its two pulleys.

    ## Why
    Such a belt cannot be put on, or it drags the lever and the auger turns with the lever released. The length round the
    two pulleys is exact geometry; idlers and slack only add to it. Found at the shortest that the recorded figures allow.

    ## Hint
    correct the length, a diameter or the distance; a belt with an idler is longer still

    ## Bad
    ```yaml
    # kb/values/drive-belt.length.yaml
    title: Drive belt length
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    belt: {drive: drive-pulley.diameter, driven: driven-pulley.diameter, center_distance: pulley.center-distance}
    sources: [bench-notes]
    # kb/values/drive-pulley.diameter.yaml
    title: Drive pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/driven-pulley.diameter.yaml
    title: Driven pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/pulley.center-distance.yaml
    title: Pulley center distance
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      drive-belt.length: {is: 1014 mm, basis: demo}
      drive-pulley.diameter: {is: 76 mm, basis: demo}
      driven-pulley.diameter: {is: 238 mm, basis: demo}
      pulley.center-distance: {is: 300 mm, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/drive-belt.length.yaml
    title: Drive belt length
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    belt: {drive: drive-pulley.diameter, driven: driven-pulley.diameter, center_distance: pulley.center-distance}
    sources: [bench-notes]
    # kb/values/drive-pulley.diameter.yaml
    title: Drive pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/driven-pulley.diameter.yaml
    title: Driven pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/pulley.center-distance.yaml
    title: Pulley center distance
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      drive-belt.length: {is: 1140 mm, basis: demo}
      drive-pulley.diameter: {is: 76 mm, basis: demo}
      driven-pulley.diameter: {is: 238 mm, basis: demo}
      pulley.center-distance: {is: 300 mm, basis: demo}
    sources: [bench-notes]
    ```
    """
    for belt, drive in _belts(linked):
        length = printed_range(belt.quantity, "mm")
        longest_mm = length[1] if length is not None else belt.quantity.bounds_in("mm")[1]
        if longest_mm is None:
            continue  # only a lower limit is given
        try:
            needed_mm = open_belt_length_mm(drive.driven_mm[0], drive.drive_mm[0], drive.distance_mm[0])
        except ImpossibleInputError:
            continue  # pulleys that overlap are another finding
        if longest_mm < needed_mm:
            message = (
                f"`{belt.quantity}` does not reach round pulleys of {drive.drive.quantity} and {drive.driven.quantity} "
                f"{drive.distance.quantity} apart, which need {shown(needed_mm)} mm"
            )
            advice = "correct the length, a diameter or the distance; a belt with an idler is longer still"
            yield Fault(belt.file, belt.path, message, advice, related=_places(drive))


@rule("DRV002", wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def pulleys_that_overlap(linked: LinkedBook) -> Iterator[Fault]:
    """Two pulleys are recorded closer together than their rims allow.

    ## Why
    One of the three figures is wrong, and the belt's length cannot be checked.

    ## Hint
    correct the distance or a diameter

    ## Bad
    ```yaml
    # kb/values/drive-belt.length.yaml
    title: Drive belt length
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    belt: {drive: drive-pulley.diameter, driven: driven-pulley.diameter, center_distance: pulley.center-distance}
    sources: [bench-notes]
    # kb/values/drive-pulley.diameter.yaml
    title: Drive pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/driven-pulley.diameter.yaml
    title: Driven pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/pulley.center-distance.yaml
    title: Pulley center distance
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      drive-belt.length: {is: 1140 mm, basis: demo}
      drive-pulley.diameter: {is: 76 mm, basis: demo}
      driven-pulley.diameter: {is: 238 mm, basis: demo}
      pulley.center-distance: {is: 30.0 mm, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/drive-belt.length.yaml
    title: Drive belt length
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    belt: {drive: drive-pulley.diameter, driven: driven-pulley.diameter, center_distance: pulley.center-distance}
    sources: [bench-notes]
    # kb/values/drive-pulley.diameter.yaml
    title: Drive pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/driven-pulley.diameter.yaml
    title: Driven pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/pulley.center-distance.yaml
    title: Pulley center distance
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      drive-belt.length: {is: 1140 mm, basis: demo}
      drive-pulley.diameter: {is: 76 mm, basis: demo}
      driven-pulley.diameter: {is: 238 mm, basis: demo}
      pulley.center-distance: {is: 300 mm, basis: demo}
    sources: [bench-notes]
    ```
    """
    told: set[tuple[str, str]] = set()
    for _, drive in _belts(linked):
        place = (drive.distance.file, drive.distance.name)
        if place not in told and drive.distance_mm[1] < (drive.drive_mm[0] + drive.driven_mm[0]) / 2:
            told.add(place)
            message = (
                f"pulleys of {drive.drive.quantity} and {drive.driven.quantity} would overlap at a distance of "
                f"`{drive.distance.quantity}`"
            )
            advice = "correct the distance or a diameter"
            yield Fault(drive.distance.file, drive.distance.path, message, advice, related=_places(drive)[:2])


def _belts(linked: LinkedBook) -> Iterator[tuple[Recorded, _Drive]]:
    """Yield every belt's length whose pulleys and distance are recorded too."""
    length = QuantityKind.LENGTH
    names = [name for name, kind in linked.book.values.items() if kind.belt is not None]
    for recorded in recorded_values(linked, names):
        belt = recorded.kind.belt
        if belt is None:
            continue
        found = [
            companion_of(linked, recorded, n, length) for n in (belt.drive, belt.driven, belt.center_distance)
        ]
        drive, driven, distance = found
        if drive is None or driven is None or distance is None:
            continue
        spans = [printed_range(each.quantity, "mm") for each in (drive, driven, distance)]
        drive_mm, driven_mm, distance_mm = spans
        if drive_mm is not None and driven_mm is not None and distance_mm is not None:
            yield recorded, _Drive(drive, driven, distance, drive_mm, driven_mm, distance_mm)


def _places(drive: _Drive) -> tuple[tuple[str, tuple[str | int, ...]], ...]:
    return tuple((each.file, each.path) for each in (drive.drive, drive.driven, drive.distance))


@rule("DRV003", Severity.WARNING, wording=Wording.NONE, titles_of=(), bones_of=OF_RECORDED)
def speed_its_drive_cannot_make(linked: LinkedBook) -> Iterator[Fault]:
    """A recorded speed differs from what pulleys or gearbox make of the speed before them.

    ## Why
    The page would show two figures that contradict each other. Belts slip a little, so a tenth less is let pass.

    ## Hint
    correct the speed, the speed before it, or the diameters or ratio between them

    ## Bad
    ```yaml
    # kb/values/fan.speed.yaml
    title: Fan speed
    quantity: rotational-speed
    plate: machine
    applies_to: {machines: brook-d24}
    behind_belt: {speed: top.speed, drive: drive-pulley.diameter, driven: driven-pulley.diameter}
    sources: [bench-notes]
    # kb/values/top.speed.yaml
    title: Top governed speed
    quantity: rotational-speed
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/drive-pulley.diameter.yaml
    title: Drive pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/driven-pulley.diameter.yaml
    title: Driven pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      fan.speed: {is: 1510 rpm, basis: demo}
      top.speed: {is: 3600 ± 100 rpm, basis: demo}
      drive-pulley.diameter: {is: 76 mm, basis: demo}
      driven-pulley.diameter: {is: 238 mm, basis: demo}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/values/fan.speed.yaml
    title: Fan speed
    quantity: rotational-speed
    plate: machine
    applies_to: {machines: brook-d24}
    behind_belt: {speed: top.speed, drive: drive-pulley.diameter, driven: driven-pulley.diameter}
    sources: [bench-notes]
    # kb/values/top.speed.yaml
    title: Top governed speed
    quantity: rotational-speed
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/drive-pulley.diameter.yaml
    title: Drive pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/values/driven-pulley.diameter.yaml
    title: Driven pulley diameter
    quantity: length
    plate: machine
    applies_to: {machines: brook-d24}
    sources: [bench-notes]
    # kb/machines/brook-d24.yaml
    title: Brook D24
    summary: A two-stage snow thrower.
    class: two-stage
    engine: ell-e212
    plate: {where: rear frame}
    values:
      auger-shear-bolt.torque: {is: 8 N·m, basis: demo}
      fan.speed: {is: 1150 rpm, basis: demo}
      top.speed: {is: 3600 ± 100 rpm, basis: demo}
      drive-pulley.diameter: {is: 76 mm, basis: demo}
      driven-pulley.diameter: {is: 238 mm, basis: demo}
    sources: [bench-notes]
    ```
    """
    for recorded, made_rpm, words in _driven_speeds(linked):
        span = printed_range(recorded.quantity, "rpm")
        if span is None:
            continue
        slowest, fastest = made_rpm[0] * SLOWEST_SHARE, made_rpm[1] * FASTEST_SHARE
        if span[1] < slowest or span[0] > fastest:
            low, high = shown(made_rpm[0]), shown(made_rpm[1])
            made = f"{low} rpm" if low == high else f"{low} to {high} rpm"
            message = f"`{recorded.quantity}` contradicts {words}, which make {made}"
            advice = "correct the speed, the speed before it, or the diameters or ratio between them"
            yield Fault(recorded.file, recorded.path, message, advice)


def _driven_speeds(linked: LinkedBook) -> Iterator[tuple[Recorded, tuple[float, float], str]]:
    """Yield every speed behind a belt or a gearbox, with the bounds that follow and from what."""
    rpm, length = QuantityKind.ROTATIONAL_SPEED, QuantityKind.LENGTH
    names = [name for name, kind in linked.book.values.items() if kind.behind_belt or kind.behind_gears]
    for recorded in recorded_values(linked, names):
        kind = recorded.kind
        if kind.behind_belt is not None:
            speed = companion_of(linked, recorded, kind.behind_belt.speed, rpm)
            drive = companion_of(linked, recorded, kind.behind_belt.drive, length)
            driven = companion_of(linked, recorded, kind.behind_belt.driven, length)
            if speed is not None and drive is not None and driven is not None:
                made = _scaled(speed, drive, driven, "mm")
                if made is not None:
                    yield (
                        recorded,
                        made,
                        f"{speed.quantity} and pulleys of {drive.quantity} and {driven.quantity}",
                    )
        if kind.behind_gears is not None:
            speed = companion_of(linked, recorded, kind.behind_gears.speed, rpm)
            ratio = companion_of(linked, recorded, kind.behind_gears.ratio, QuantityKind.RATIO)
            if speed is not None and ratio is not None:
                made = _scaled(speed, None, ratio, ":1")
                if made is not None:
                    yield recorded, made, f"{speed.quantity} and a ratio of {ratio.quantity}"


def _scaled(speed: Recorded, over: Recorded | None, under: Recorded, unit: str) -> tuple[float, float] | None:
    """Return speed·over/under between its bounds; None where a bound is open or nothing."""
    fast = printed_range(speed.quantity, "rpm")
    top = printed_range(over.quantity, unit) if over is not None else (1.0, 1.0)
    bottom = printed_range(under.quantity, unit)
    if fast is None or top is None or bottom is None or bottom[0] <= 0 or fast[0] < 0 or top[0] <= 0:
        return None
    return fast[0] * top[0] / bottom[1], fast[1] * top[1] / bottom[0]


DRIVE_RULES: Final[tuple[AnyRule, ...]] = (
    belt_too_short_for_its_pulleys,
    pulleys_that_overlap,
    speed_its_drive_cannot_make,
)
