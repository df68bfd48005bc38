"""Thread designations as the trade writes them, and the areas of a thread that carry load."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from shearpin.mechanics.guards import ImpossibleInputError, require_positive, shown
from shearpin.mechanics.thread_series import (
    METRIC_COARSE_PITCH_MM,
    METRIC_FINE_PITCHES_MM,
    UNIFIED_SERIES,
    numbered_diameter_in,
)

MM_PER_INCH = 25.4


class ThreadSystem(StrEnum):
    """The two families of 60° threads on these machines."""

    METRIC = "metric"
    UNIFIED = "unified"


@dataclass(frozen=True, slots=True)
class Thread:
    """A screw thread by its nominal size.

    `designation` is the canonical spelling (`M8`, `M8×1`, `1/4-20 UNC`, `No. 10-32 UNF`), `series` is
    `coarse`, `fine`, `UNC`, `UNF`, `UNEF` or `UNS`. Sizes in millimetres for both systems.
    """

    designation: str
    system: ThreadSystem
    series: str
    diameter_mm: float
    pitch_mm: float
    left_hand: bool = False


_METRIC = re.compile(r"m ?([0-9]+(?:\.[0-9]+)?)(?: ?x ?([0-9]+(?:\.[0-9]+)?))?$")
_UNIFIED = re.compile(
    r"(?P<number>no\.? ?|#)?"
    r"(?P<size>[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*\.[0-9]+|[0-9]+)"
    r'(?: ?(?:in|inch|"))?'
    r"(?: ?- ?(?P<tpi>[0-9]+))?"
    r"(?: (?P<series>unc|unf|unef|uns))?$"
)
_CLASS_OF_FIT = re.compile(r" ?- ?(?:[1-8][a-h](?:[1-8][a-h])?)$")
_LEFT_HAND = re.compile(r"[ -]lh$")
_LONGEST = 40  # longer than any designation; bounds the work on hostile text
_HINT = "write it like M6, M8×1, 1/4-20, 5/16-18 UNC or No. 10-32"


def parse_thread(text: str) -> Thread:
    """The thread that a designation names.

    Formula: none; a look-up in the standard series, so that a misprint such as `1/4-21` is caught.
    Symbols: `M6`, `M6x1`, `M8×1.25`, `1/4-20`, `5/16-18 UNC`, `1-1/4-12`, `No. 10-32`, `#10-24`, bare
        `10-32`; a class of fit (`-2A`, `-6g`) is read over, `LH` is kept.
    Valid: metric M1.6 to M39 in ISO 261 pitches; unified No. 0 to 1 1/2 in, series UNC, UNF, UNEF and 1-14
        UNS.
    Errors: ImpossibleInputError (a ValueError) when the text is no designation, when the pitch belongs to no
        standard series of that size, when a unified size comes without its threads per inch or series, and
        for `M6x20`, which is a bolt 20 mm long and not a thread.
    Source: ISO 261 and ASME B1.1 series, from memory; sizes No. 8 to 3/4 in as in Shigley's Mechanical
        Engineering Design, 9th ed., Table 8-2.
    """
    if len(text) > _LONGEST:
        raise ImpossibleInputError("thread", f"{len(text)} characters are too many for a thread; {_HINT}")
    plain = " ".join(
        text.lower().replace("×", "x").replace("*", "x").replace("″", '"').replace("–", "-").split()
    )
    plain, left_hand = _LEFT_HAND.sub("", plain), bool(_LEFT_HAND.search(plain))
    plain = _CLASS_OF_FIT.sub("", plain)
    if match := _METRIC.match(plain):
        return _metric_thread(text, match[1], match[2], left_hand)
    if match := _UNIFIED.match(plain):
        return _unified_thread(text, match, left_hand)
    raise ImpossibleInputError("thread", f"`{text.strip()}` is not a thread; {_HINT}")


def _metric_thread(text: str, diameter_text: str, pitch_text: str | None, left_hand: bool) -> Thread:
    diameter_mm = float(diameter_text)
    size = f"M{shown(diameter_mm)}"
    coarse_mm = METRIC_COARSE_PITCH_MM.get(diameter_mm)
    if coarse_mm is None:
        raise ImpossibleInputError("thread", f"{size} is not a standard metric size; {_HINT}")
    pitch_mm = float(coarse_mm if pitch_text is None else pitch_text)
    fine = METRIC_FINE_PITCHES_MM.get(diameter_mm, ())
    suffix = " LH" if left_hand else ""
    if pitch_mm == coarse_mm:
        return Thread(f"{size}{suffix}", ThreadSystem.METRIC, "coarse", diameter_mm, pitch_mm, left_hand)
    if pitch_mm in fine:
        name = f"{size}×{shown(pitch_mm)}{suffix}"
        return Thread(name, ThreadSystem.METRIC, "fine", diameter_mm, pitch_mm, left_hand)
    if pitch_mm >= diameter_mm / 2:
        raise ImpossibleInputError(
            "thread",
            f"`{text.strip()}` reads as a bolt {shown(pitch_mm)} mm long; give the thread alone: {size}",
        )
    known = ", ".join(shown(pitch) for pitch in (coarse_mm, *fine))
    raise ImpossibleInputError(
        "thread", f"{size} has no pitch of {shown(pitch_mm)} mm; the standard has {known} mm"
    )


def _unified_thread(text: str, match: re.Match[str], left_hand: bool) -> Thread:
    tpi = int(match["tpi"]) if match["tpi"] else None
    name, diameter_in = _unified_size(text, match["size"], bool(match["number"]), tpi)
    series = {label: per_inch[name] for label, per_inch in UNIFIED_SERIES.items() if name in per_inch}
    if not series:
        raise ImpossibleInputError("thread", f"{name} is not a unified thread size; {_HINT}")
    known = ", ".join(f"{name}-{per_inch} {label}" for label, per_inch in series.items())
    wanted = match["series"].upper() if match["series"] else None
    fits = [
        (label, per_inch)
        for label, per_inch in series.items()
        if (wanted is None or wanted == label) and (tpi is None or tpi == per_inch)
    ]
    if tpi is None and wanted is None:
        raise ImpossibleInputError("thread", f"`{text.strip()}` lacks its threads per inch; {known} exist")
    if not fits:
        raise ImpossibleInputError("thread", f"`{text.strip()}` is no standard thread; {known} exist")
    label, per_inch = fits[0]
    suffix = " LH" if left_hand else ""
    return Thread(
        f"{name}-{per_inch} {label}{suffix}",
        ThreadSystem.UNIFIED,
        label,
        diameter_in * MM_PER_INCH,
        MM_PER_INCH / per_inch,
        left_hand,
    )


def _unified_size(text: str, size: str, numbered: bool, tpi: int | None) -> tuple[str, float]:
    """The name a size has in the series tables, and its diameter in inches."""
    # A bare whole number is a numbered size in the trade ("10-32"), except 1, which is an inch ("1-8") unless
    # its threads are those of a No. 1.
    if numbered or (size.isdigit() and (int(size) != 1 or tpi in (64, 72))):
        if not size.isdigit() or int(size) > 12:
            raise ImpossibleInputError(
                "thread", f"`{text.strip()}` is not a thread; numbered sizes run from 0 to 12"
            )
        return f"No. {int(size)}", numbered_diameter_in(int(size))
    try:
        parts = re.split(r"[ -]", size)
        inches = sum((Fraction(part) for part in parts), Fraction(0))
    except ZeroDivisionError:
        raise ImpossibleInputError("thread", f"`{text.strip()}` is not a thread; {_HINT}") from None
    whole, rest = divmod(inches, 1)
    name = " ".join(str(part) for part in (whole, rest) if part)
    return name or "0", float(inches)


def stress_area_mm2(diameter_mm: float, pitch_mm: float, system: ThreadSystem) -> float:
    """Tensile stress area of a 60° thread: the area that carries the bolt's load.

    Formula: unified A_t = (π/4)·(D - 0.9743/n)²; metric A_s = (π/4)·(d - 0.9382·p)².
    Symbols: D, d nominal diameter, mm; p = 25.4/n pitch, mm; n threads per inch; result mm².
    Valid: single-start 60° threads; the pitch at most half the diameter.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or a pitch above half the diameter.
    Source: ASME B1.1 Appendix B, from memory, reproduces Shigley 9th ed. Table 8-2; metric form as handbooks
        quote ISO 898-1, clause 9.1.6.1.
    """
    _require_thread_shape(diameter_mm, pitch_mm)
    share = 0.9743 if system is ThreadSystem.UNIFIED else 0.9382
    return float(math.pi / 4 * (diameter_mm - share * pitch_mm) ** 2)


def minor_area_mm2(diameter_mm: float, pitch_mm: float, system: ThreadSystem) -> float:
    """Area across the root of the thread, which shears when the thread lies in the shear plane.

    Formula: A_r = (π/4)·d_r², with unified d_r = d - 1.299038·p and metric d3 = d - 1.226869·p.
    Symbols: d nominal diameter, mm; p pitch, mm; result mm².
    Valid: single-start 60° threads; the pitch at most half the diameter.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or a pitch above half the diameter.
    Source: Shigley 9th ed., Table 8-2 footnote (unified); ISO 724 (metric), as library sources quote it.
    """
    return float(math.pi / 4 * minor_diameter_mm(diameter_mm, pitch_mm, system) ** 2)


def minor_diameter_mm(diameter_mm: float, pitch_mm: float, system: ThreadSystem) -> float:
    """Diameter at the root of the external thread.

    Formula: unified d_r = d - 1.299038·p; metric d3 = d - 1.226869·p.
    Symbols: d nominal diameter, mm; p pitch, mm; result mm.
    Valid: single-start 60° threads; the pitch at most half the diameter.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or a pitch above half the diameter.
    Source: Shigley 9th ed., Table 8-2 footnote; ISO 724, as library sources quote it.
    """
    _require_thread_shape(diameter_mm, pitch_mm)
    return diameter_mm - (1.299038 if system is ThreadSystem.UNIFIED else 1.226869) * pitch_mm


def pitch_diameter_mm(diameter_mm: float, pitch_mm: float) -> float:
    """Diameter at which thread and groove are equally wide.

    Formula: d2 = d - 0.649519·p.
    Symbols: d nominal diameter, mm; p pitch, mm; result mm.
    Valid: single-start 60° threads of both systems; the pitch at most half the diameter.
    Errors: ImpossibleInputError for sizes at or below zero or not finite, or a pitch above half the diameter.
    Source: Shigley 9th ed., Table 8-2 footnote; ISO 724, as library sources quote it.
    """
    _require_thread_shape(diameter_mm, pitch_mm)
    return diameter_mm - 0.649519 * pitch_mm


def _require_thread_shape(diameter_mm: float, pitch_mm: float) -> None:
    require_positive(diameter_mm=diameter_mm, pitch_mm=pitch_mm)
    if pitch_mm > diameter_mm / 2:
        raise ImpossibleInputError(
            "pitch_mm", f"a thread of {shown(diameter_mm)} mm cannot have a pitch of {shown(pitch_mm)} mm"
        )
