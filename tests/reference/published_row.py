"""One published figure against ours, and the exact factors that bring both to one unit."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

# Legal definitions: inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s².
MM_PER_IN = 25.4
M_PER_FT = 0.3048
N_PER_LBF = 0.45359237 * 9.80665
NM_PER_LBF_IN = N_PER_LBF * 0.0254
NM_PER_LBF_FT = N_PER_LBF * 0.3048
MPA_PER_PSI = N_PER_LBF / 25.4**2
W_PER_HP = 550 * NM_PER_LBF_FT


class Basis(StrEnum):
    """How a figure reached us; only the first three may judge, the fourth only says what was remembered."""

    READ = "read"
    SECOND_HAND = "second-hand"
    ARITHMETIC = "arithmetic"
    FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class PublishedRow:
    """A case: the row's id, what of it is checked, where it was published, what we compute, what is printed.

    Numbers agree within `within` (absolute) or `relative`, whichever is larger; without either, within the
    rounding of the last bits. Anything else must be equal.
    """

    id: str
    what: str
    basis: Basis
    source: str
    ours: Callable[..., object]
    printed: object
    within: float = 0.0
    relative: float = 1e-12

    @property
    def test_id(self) -> str:
        return f"{self.id} {self.what} [{self.source}, {self.basis.value}]"

    def agrees(self) -> bool:
        ours = self.ours()
        if isinstance(self.printed, float | int) and not isinstance(self.printed, bool):
            assert isinstance(ours, float | int)
            return math.isclose(ours, self.printed, rel_tol=self.relative, abs_tol=self.within)
        return ours == self.printed
