"""Fuel in the can and in the tank: two-stroke mix, stabiliser and ethanol."""

from __future__ import annotations

from shearpin.mechanics.guards import (
    ImpossibleInputError,
    require_between,
    require_finite,
    require_not_negative,
    require_positive,
)

# 40 CFR 80.1504(a)(1), as quoted by the agency: no more than 10.0 % ethanol by volume in nonroad gasoline
# engines.
ETHANOL_CEILING_PERCENT = 10.0


def oil_for_fuel_ml(fuel_l: float, ratio: float) -> float:
    """Oil to add to gasoline.

    Formula: V_oil = V_fuel/R.
    Symbols: V_fuel gasoline, L; R parts of gasoline to one of oil; V_oil mL.
    Valid: the ratio is oil against gasoline, not against the mixture: 50:1 is 1/51 of the mix.
    Errors: ImpossibleInputError (a ValueError) for a volume at or below zero or not finite, or a ratio
        outside 10 to 200.
    Source: definition of the ratio.
    """
    require_positive(fuel_l=fuel_l)
    _require_ratio(ratio)
    return fuel_l * 1000 / ratio


def fuel_for_oil_l(oil_ml: float, ratio: float) -> float:
    """Gasoline that a measured amount of oil is enough for.

    Formula: V_fuel = R·V_oil.
    Symbols: as `oil_for_fuel_ml`.
    Valid: as `oil_for_fuel_ml`.
    Errors: ImpossibleInputError for a volume at or below zero or not finite, or a ratio outside 10 to 200.
    Source: definition of the ratio.
    """
    require_positive(oil_ml=oil_ml)
    _require_ratio(ratio)
    return oil_ml * ratio / 1000


def oil_share_of_mix(ratio: float) -> float:
    """Share of oil in the finished mix.

    Formula: 1/(R + 1).
    Symbols: R parts of gasoline to one of oil; result without unit.
    Valid: volumes that add up.
    Errors: ImpossibleInputError for a ratio outside 10 to 200.
    Source: definition of the ratio.
    """
    _require_ratio(ratio)
    return 1 / (ratio + 1)


def stabiliser_dose_ml(fuel_l: float, label_dose_ml: float, label_fuel_l: float) -> float:
    """Stabiliser for an amount of fuel, by the rate on its label.

    Formula: V = V_fuel·(dose on the label)/(fuel on the label).
    Symbols: volumes of fuel, L; doses, mL.
    Valid: fresh fuel; the label's own limits go first.
    Errors: ImpossibleInputError for volumes at or below zero or not finite, or a label dose above a tenth of
        its fuel.
    Source: proportion.
    """
    require_positive(fuel_l=fuel_l, label_dose_ml=label_dose_ml, label_fuel_l=label_fuel_l)
    if label_dose_ml > 100 * label_fuel_l:
        raise ImpossibleInputError("label_dose_ml", "a dose above a tenth of the fuel is no stabiliser rate")
    return fuel_l * label_dose_ml / label_fuel_l


def ethanol_after_top_up_percent(
    tank_l: float, tank_ethanol_percent: float, added_l: float, added_ethanol_percent: float
) -> float:
    """Ethanol in the tank after topping up.

    Formula: e = (V1·e1 + V2·e2)/(V1 + V2).
    Symbols: V1 fuel left in the tank and V2 added, L; e ethanol, % by volume.
    Valid: volumes that add up (they shrink by less than 0.3 %); no water layer has formed.
    Errors: ImpossibleInputError for negative volumes, both volumes zero, ethanol outside 0 to 100, numbers
        not finite.
    Source: conservation of volume.
    """
    require_not_negative(tank_l=tank_l, added_l=added_l)
    require_between(
        0, 100, tank_ethanol_percent=tank_ethanol_percent, added_ethanol_percent=added_ethanol_percent
    )
    if tank_l + added_l <= 0:
        raise ImpossibleInputError("added_l", "there is no fuel at all: both volumes are zero")
    share = added_l / (tank_l + added_l)
    return tank_ethanol_percent + share * (added_ethanol_percent - tank_ethanol_percent)


def ethanol_allowed(ethanol_percent: float, flexible_fuel: bool = False) -> bool:
    """Whether gasoline with so much ethanol may go into a nonroad engine.

    Formula: e <= 10.0 % by volume; engines certified as flexible-fuel are outside the rule.
    Symbols: e ethanol, % by volume.
    Valid: United States rule; the maker's manual may ask for less.
    Errors: ImpossibleInputError outside 0 to 100 or not finite.
    Source: 40 CFR 80.1504(a)(1) as quoted by the agency; the successor section in part 1090 was not
        confirmed.
    """
    require_between(0, 100, ethanol_percent=ethanol_percent)
    # A millionth: mixing E10 with E10 must stay E10 in floating point.
    return flexible_fuel or ethanol_percent <= ETHANOL_CEILING_PERCENT + 1e-6


def _require_ratio(ratio: float) -> None:
    require_finite(ratio=ratio)
    if not 10 <= ratio <= 200:
        raise ImpossibleInputError(
            "ratio", f"a two-stroke mix lies between 10:1 and 200:1, and {ratio:g}:1 does not"
        )
