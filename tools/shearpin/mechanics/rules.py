"""Every rule that needs workshop calculations, once, in the order in which they run."""

from __future__ import annotations

from typing import Final

from shearpin.checks.rule import AnyRule
from shearpin.mechanics.drive_rules import DRIVE_RULES
from shearpin.mechanics.engine_rules import ENGINE_RULES
from shearpin.mechanics.fastener_rules import TORQUE_RULES
from shearpin.mechanics.following_rules import FOLLOWING_RULES
from shearpin.mechanics.shear_rules import SHEAR_RULES

MECHANICS_RULES: Final[tuple[AnyRule, ...]] = (
    *FOLLOWING_RULES,
    *TORQUE_RULES,
    *SHEAR_RULES,
    *DRIVE_RULES,
    *ENGINE_RULES,
)
