"""A torque wrench with a crowfoot or offset adapter: what to set, and what reaches the fastener."""

from __future__ import annotations

import math

from shearpin.mechanics.guards import ImpossibleInputError, require_finite, require_positive


def effective_lever_mm(lever_mm: float, adapter_mm: float, angle_deg: float) -> float:
    """Distance from the hand to the fastener, square to the pull.

    Formula: L + E·cos θ.
    Symbols: L wrench lever, centre of grip to centre of drive, mm; E adapter, centre of drive to centre of
        fastener, mm; θ angle between adapter and the line of the wrench: 0° straight out, 90° square, 180°
        folded back.
    Valid: adapter in the plane of the wrench; hand where L was measured to. An extension along the drive axis
        is no adapter and changes nothing.
    Errors: ImpossibleInputError (a ValueError) for lengths at or below zero, numbers not finite, and an
        adapter folded back so far that L + E·cos θ is zero or less: the wrench would turn the fastener the
        wrong way.
    Source: TM 9-254 fig. 4-6; NAVEDTRA 14008.
    """
    require_positive(lever_mm=lever_mm, adapter_mm=adapter_mm)
    require_finite(angle_deg=angle_deg)
    lever = lever_mm + adapter_mm * _cosine(angle_deg)
    if lever <= lever_mm * 1e-9:
        raise ImpossibleInputError(
            "adapter_mm",
            "the adapter is folded back past the hand: the wrench lever must be longer than that",
        )
    return lever


def wrench_setting_nm(torque_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float = 0.0) -> float:
    """What to set the wrench to so that the fastener gets its torque.

    Formula: S = T·L/(L + E·cos θ).
    Symbols: S setting and T torque at the fastener, N·m; L, E, θ as in `effective_lever_mm`.
    Valid: as `effective_lever_mm`; S is below T under 90°, equal at 90°, above beyond; even in θ.
    Errors: ImpossibleInputError for a torque or length at or below zero, numbers not finite, or L + E·cos θ
        <= 0.
    Source: FAA AC 43.13-1B, paragraph 7-40; NAVEDTRA 14315 fig. 3-45; TM 9-254.
    """
    require_positive(torque_nm=torque_nm)
    return torque_nm * lever_mm / effective_lever_mm(lever_mm, adapter_mm, angle_deg)


def torque_at_fastener_nm(
    setting_nm: float, lever_mm: float, adapter_mm: float, angle_deg: float = 0.0
) -> float:
    """What the fastener gets from a wrench set to a given torque.

    Formula: T = S·(L + E·cos θ)/L.
    Symbols: S setting and T torque at the fastener, N·m; L, E, θ as in `effective_lever_mm`.
    Valid: as `effective_lever_mm`.
    Errors: ImpossibleInputError for a setting or length at or below zero, numbers not finite, or L + E·cos θ
        <= 0.
    Source: TM 9-254 fig. 4-5.
    """
    require_positive(setting_nm=setting_nm)
    return setting_nm * effective_lever_mm(lever_mm, adapter_mm, angle_deg) / lever_mm


def _cosine(angle_deg: float) -> float:
    """Cosine that is exactly 0 at 90° and even: a square adapter needs no correction to the last digit."""
    folded = abs(angle_deg) % 360
    return 0.0 if folded in (90.0, 270.0) else math.cos(math.radians(folded))
