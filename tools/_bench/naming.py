"""Owns what things are called in synthetic books: systems, assemblies, faults, checks, work, hazards, values."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

ENGINE_SYSTEMS: Final = (
    "ignition", "fuel supply", "breathing", "engine lubrication", "cooling", "governor", "recoil starter",
    "electric starter", "charging", "exhaust", "valve train", "cylinder",
)  # fmt: skip
MACHINE_SYSTEMS: Final = (
    "auger drive", "gearbox", "impeller", "traction drive", "steering", "wheel brake", "chute", "housing", "controls",
    "lighting", "wheels", "tracks", "cutting deck", "blade drive", "grass collection", "tine drive", "hydraulics",
    "water pump", "lance", "chipping chamber", "frame", "handles", "hitch", "bucket",
)  # fmt: skip

POSITIONS: Final = ("", "upper", "lower", "front", "rear", "inner", "outer", "left", "right")
COMPONENTS: Final = (
    "drive belt", "control cable", "idler arm", "brake pad", "pulley shaft", "gear case", "spindle housing",
    "clutch spring", "lever pivot", "guide rail", "shear bolt", "bearing seat", "wire harness", "switch bracket",
    "oil passage", "shaft seal", "adjuster rod", "tension spring", "drive pin", "chain guard", "bowl gasket",
    "feed line", "return line", "cover plate", "mounting boss", "lock collar", "spacer tube", "pressure plate",
    "friction disc", "ratchet pawl", "rope guide", "link rod", "vane arm", "valve seat", "check valve", "inlet screen",
    "outlet fitting", "coil leg", "ground strap", "terminal block",
)  # fmt: skip

FAULTS: Final = (
    "worn", "cracked", "seized", "blocked", "broken", "loose", "bent", "out of adjustment", "leaking", "corroded",
    "missing", "swollen", "slipping", "frozen", "fitted the wrong way round", "rubbing on its cover", "too tight",
    "too slack", "burnt", "sheared", "full of dirt", "dry of grease", "short to ground", "open inside",
)  # fmt: skip
COMPLAINTS: Final = (
    "makes a knocking noise", "does not move", "moves only one way", "slips under load", "gets hot", "leaks",
    "does not release", "works only when cold", "works only when warm", "rattles at idle", "squeals at first",
    "smells of burning", "shakes the handles", "stops after a few minutes",
)  # fmt: skip
CHECKS: Final = (
    "visual check of the {}", "play check of the {}", "free movement check of the {}", "leak check of the {}",
    "tension check of the {}", "alignment check of the {}", "continuity check of the {}", "wear check of the {}",
    "fit check of the {}", "temperature check of the {}", "noise check of the {}", "load check of the {}",
)  # fmt: skip
WORKS: Final = (
    "replace the {}", "adjust the {}", "clean the {}", "inspect the {}", "grease the {}", "refit the {}",
    "align the {}", "remove the {}", "free the {}", "rebuild the {}", "balance the {}", "secure the {}",
    "set up the {}", "deburr the {}", "seal the {}", "straighten the {}", "measure the {}", "store the {}",
)  # fmt: skip
SUBPARTS: Final = (
    "kit", "gasket", "bolt", "bushing", "spring", "clip", "sleeve", "seal", "washer set", "bracket", "pin", "cap",
    "plate", "ring", "spacer", "nut", "cover", "screw set",
)  # fmt: skip
TOOLS: Final = (
    "torque wrench", "feeler gauge", "pin punch", "hammer", "socket set", "wrench set", "screwdriver set", "pliers",
    "ruler", "brush", "spring scale", "test lamp", "multimeter", "bearing puller", "seal driver", "strap wrench",
    "dial indicator", "straightedge", "vacuum pump", "pressure gauge",
)  # fmt: skip

CLASSES: Final = ("two-stage", "single-stage", "tiller", "mower", "chipper", "washer")
FEATURES: Final = (
    "recoil-start", "electric-start", "headlight", "heated-grips", "friction-drive", "hydrostatic-drive", "skid-shoes",
    "parking-brake",
)  # fmt: skip
ISOLATED: Final = ("rotating-parts", "moving-belts", "unexpected-start")
"""Energies that making the machine safe takes away."""
ENERGIES: Final = (
    *ISOLATED,
    "spring-tension",
    "sharp-edges",
    "hot-surfaces",
    "fuel-vapour",
    "stored-pressure",
    "electric-shock",
)

RUN_ENGINE: Final = "run-engine"
STEP_ACTIONS: Final = ("reach-into-housing", "drive-pin", "use-solvent", "release-spring", "turn-by-hand")


@dataclass(frozen=True, slots=True)
class ValueSort:
    """A sort of value that assemblies have: `figures` are what different makers state, in the same order for a whole family."""

    suffix: str
    title: str
    quantity: str
    figures: tuple[str, ...]
    band: str | None = None


FAMILIES: Final[tuple[tuple[ValueSort, ...], ...]] = (
    (
        ValueSort("-bolt.thread", "bolt thread", "designation", ("M6", "M8", "1/4-20 UNC", "5/16-18 UNC")),
        ValueSort(
            "-bolt.grade", "bolt grade", "designation",
            ("ISO 898-1 class 8.8", "ISO 898-1 class 8.8", "SAE J429 grade 5", "SAE J429 grade 5"),
        ),
        ValueSort(
            "-bolt.torque", "tightening torque", "torque",
            ("9 ± 1 N·m", "24 ± 2 N·m", "10 ± 1 N·m", "22 ± 2 N·m"), "5–40 N·m",
        ),
    ),
    (ValueSort(".gap", "gap", "length", ("0.70–0.80 mm", "0.5 ± 0.1 mm", "0.25–0.35 mm", "0.030 in"), "0.2–1.2 mm"),),
    (ValueSort(".clearance", "clearance", "length", ("3 ± 1 mm", "2–4 mm", "1.5–3.0 mm", "4 ± 0.5 mm"), "1–8 mm"),),
    (
        ValueSort(".deflection", "deflection", "length", ("12 ± 2 mm", "10 ± 2 mm", "8 ± 1 mm", "0.5 in"), "5–20 mm"),
        ValueSort(".deflection-force", "force of the deflection test", "force", ("22 N", "15 N", "18 N", "30 N"), "5–60 N"),
    ),
    (ValueSort(".pressure", "pressure", "pressure", ("140 ± 10 kPa", "17 ± 1 psi", "120 kPa", "20 psi"), "50–250 kPa"),),
    (ValueSort(".resistance", "resistance", "resistance", ("12 ± 2 Ω", "8 ± 1 Ω", "15 Ω", "10–14 Ω"), "1–50 Ω"),),
    (ValueSort(".capacity", "capacity", "volume", ("90 ± 10 mL", "0.60 L", "0.12 L", "500 mL"), "50–1500 mL"),),
    (ValueSort(".speed", "speed", "rotational-speed", ("3600 ± 100 rpm", "1150 rpm", "1750 ± 100 rpm", "115 rpm"), "50–4000 rpm"),),
    (ValueSort(".play-limit", "greatest play", "length", ("1.5 mm", "1.0 mm", "0.8 mm", "2.0 mm"), "0.2–5 mm"),),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Hazard:
    """A caution that systems or acts bring to pages."""

    title: str
    signal_word: str
    severity: str
    likelihood: str
    consequence: str
    energies: tuple[str, ...] = ()
    actions: tuple[str, ...] = ()


HAZARDS: Final = (
    Hazard("Rotating parts", "DANGER", "serious", "will", "A hand that touches them is drawn in and cut off.", ("rotating-parts",), ("reach-into-housing",)),
    Hazard("Moving belts", "WARNING", "serious", "could", "Fingers are crushed between belt and pulley.", ("moving-belts",)),
    Hazard("Unexpected start", "WARNING", "serious", "could", "Blades and belts move under your hands.", ("unexpected-start",), (RUN_ENGINE,)),
    Hazard("Spring tension", "WARNING", "serious", "could", "A spring that lets go strikes eyes and hands.", ("spring-tension",), ("release-spring",)),
    Hazard("Sharp edges", "CAUTION", "minor", "could", "Edges of sheet metal cut hands.", ("sharp-edges",), ("turn-by-hand",)),
    Hazard("Hot surfaces", "CAUTION", "minor", "could", "Muffler and cylinder burn skin for half an hour.", ("hot-surfaces",)),
    Hazard("Fuel vapour", "DANGER", "serious", "will", "Vapour catches fire from a spark several steps away.", ("fuel-vapour",)),
    Hazard("Stored pressure", "WARNING", "serious", "could", "A jet goes through gloves and skin.", ("stored-pressure",)),
    Hazard("Electric shock", "WARNING", "serious", "could", "High voltage throws the body against the machine.", ("electric-shock",)),
    Hazard("Flying chips", "WARNING", "serious", "could", "A chip of a struck pin takes an eye.", (), ("drive-pin",)),
    Hazard("Solvent", "CAUTION", "minor", "could", "Solvent dries out skin and makes dizzy.", (), ("use-solvent",)),
    Hazard("Exhaust gas", "DANGER", "serious", "will", "The gas kills within minutes in a closed room.", (), (RUN_ENGINE,)),
)  # fmt: skip


def slug(title: str) -> str:
    """Return the id that a title makes, without articles."""
    words = re.findall(r"[a-z0-9]+", title.lower())
    return "-".join(word for word in words if word not in ("the", "of", "a"))
