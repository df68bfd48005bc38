"""Chances agree with published networks and with pgmpy.

The engine takes one cause at a time and results that are independent given the cause. A network fits when every joint
state of its hidden variables is made a cause of its own, and its observed variables are tests: their chances then hang on
the state alone. So the whole joint distribution of the burglary, sprinkler and chest-clinic networks can be checked. What
is not checked: propagation through a graph (we have none), and noisy-OR, which single-fault models do not use.
"""

from __future__ import annotations

import itertools
import json
from collections.abc import Callable, Mapping
from math import prod
from pathlib import Path
from typing import Any, Final

import pytest

from shearpin.diagnosis.model import DiagnosisModel, TestModel
from shearpin.diagnosis.plan import posterior, state_after
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.diagnosis.state import Numbers

World = dict[str, bool]
Chance = Callable[[World], float]

PGMPY = Path(__file__).with_name("pgmpy_posteriors.json")


class Network:
    """A network of yes-or-no variables as causes and tests; each chance is that of yes, given what comes before it."""

    def __init__(self, hidden: Mapping[str, Chance], seen: Mapping[str, Chance]) -> None:
        worlds = [
            dict(zip(hidden, values, strict=True))
            for values in itertools.product((True, False), repeat=len(hidden))
        ]
        self.worlds = {"".join("ny"[yes] for yes in world.values()): world for world in worlds}
        priors = {
            name: prod(
                share(world) if world[variable] else 1 - share(world) for variable, share in hidden.items()
            )
            for name, world in self.worlds.items()
        }
        known: dict[str, Chance] = {name: _itself(name) for name in hidden} | dict(seen)
        tests = tuple(
            TestModel(
                name, 1.0, (), False, ("yes", "no"),
                {cause: (share(world), 1 - share(world)) for cause, world in self.worlds.items()}
                | {SOMETHING_ELSE: (0.5, 0.5)},
            )
            for name, share in known.items()
        )  # fmt: skip
        self.model = DiagnosisModel("a-network", None, {**priors, SOMETHING_ELSE: 0.0}, tests, {})

    def chance(self, of: Chance | str, **seen: str) -> float:
        """Return the chance of a hidden variable, or of an observed one, after what was seen."""
        chances = posterior(self.model, seen)
        share = _itself(of) if isinstance(of, str) else of
        return sum(chances[name] * share(world) for name, world in self.worlds.items())

    def weight(self, **seen: str) -> float:
        """Return the chance of all that was seen together, as the planners carry it along."""
        return sum(state_after(Numbers(self.model), seen).weights)


def _itself(name: str) -> Chance:
    return lambda world: float(world[name])


def _row(*names: str, **shares: float) -> Chance:
    """A table of chances by the values of `names`, written as y and n in their order."""
    return lambda world: shares["".join("ny"[world[name]] for name in names)]


BURGLARY: Final = Network(
    {
        "burglary": lambda _: 0.001,
        "earthquake": lambda _: 0.002,
        "alarm": _row("burglary", "earthquake", yy=0.95, yn=0.94, ny=0.29, nn=0.001),
    },
    {"john": _row("alarm", y=0.90, n=0.05), "mary": _row("alarm", y=0.70, n=0.01)},
)


def test_burglary() -> None:
    """Russell & Norvig, Artificial Intelligence, section 14: 0.284 and 0.000628 (printed; from memory), the rest derived."""
    assert BURGLARY.chance("burglary", john="yes", mary="yes") == pytest.approx(0.284, abs=0.0005)
    assert BURGLARY.chance("burglary", john="yes", mary="yes") == pytest.approx(0.2841718, abs=5e-8)
    quiet = BURGLARY.weight(john="yes", mary="yes", alarm="yes", burglary="no", earthquake="no")
    assert quiet == pytest.approx(0.00062811, abs=5e-9)
    assert BURGLARY.chance("burglary", john="yes") == pytest.approx(0.01628, abs=5e-6)


def test_an_earthquake_explains_the_alarm_away() -> None:
    """The same network; 0.00326 derived."""
    chance = BURGLARY.chance("burglary", john="yes", mary="yes", earthquake="yes")
    assert chance == pytest.approx(0.00326, abs=5e-6)


SPRINKLER: Final = Network(
    {
        "cloudy": lambda _: 0.5,
        "sprinkler": _row("cloudy", y=0.1, n=0.5),
        "rain": _row("cloudy", y=0.8, n=0.2),
    },
    {"wet": _row("sprinkler", "rain", yy=0.99, yn=0.9, ny=0.9, nn=0.0)},
)


def test_sprinkler() -> None:
    """Russell & Norvig, section 14, and K. Murphy's tutorial, which prints 0.430 and 0.708 (from memory)."""
    assert SPRINKLER.weight(wet="yes") == pytest.approx(0.6471)
    assert SPRINKLER.chance("sprinkler", wet="yes") == pytest.approx(0.4298, abs=5e-5)
    assert SPRINKLER.chance("rain", wet="yes") == pytest.approx(0.7079, abs=5e-5)
    assert SPRINKLER.chance("sprinkler", wet="yes", rain="yes") == pytest.approx(0.1945, abs=5e-5)
    assert SPRINKLER.chance("rain", sprinkler="yes") == pytest.approx(0.3)


def _either(world: World) -> bool:
    return world["tub"] or world["lung"]


def _breathless(world: World) -> float:
    return {(1, 1): 0.9, (1, 0): 0.7, (0, 1): 0.8, (0, 0): 0.1}[_either(world), world["bronc"]]


def _shadow(world: World) -> float:
    return 0.98 if _either(world) else 0.05


ASIA: Final = Network(
    {
        "asia": lambda _: 0.01,
        "smoke": lambda _: 0.5,
        "tub": _row("asia", y=0.05, n=0.01),
        "lung": _row("smoke", y=0.10, n=0.01),
        "bronc": _row("smoke", y=0.60, n=0.30),
    },
    {"dysp": _breathless, "xray": _shadow},
)
VISIT, BREATH, CLEAR, SHADOW = {"asia": "yes"}, {"dysp": "yes"}, {"xray": "no"}, {"xray": "yes"}


@pytest.mark.parametrize(
    ("seen", "tub", "lung", "bronc", "either", "smoke", "xray"),
    [
        ({}, 0.0104, 0.055, 0.45, 0.064828, 0.5, 0.110290),
        (VISIT, 0.05, 0.055, 0.45, 0.102250, 0.5, 0.145093),
        (BREATH, 0.018845, 0.102759, 0.833967, 0.120536, 0.633997, 0.162098),
        (VISIT | BREATH, 0.087751, 0.099525, 0.811402, 0.182300, 0.625920, 0.219539),
        (VISIT | BREATH | CLEAR, 0.002249, 0.002550, 0.862761, 0.004672, 0.604512, None),
        (VISIT | BREATH | SHADOW, 0.391712, 0.444271, 0.628822, 0.813769, 0.702025, None),
        (VISIT | BREATH | SHADOW | {"smoke": "yes"}, 0.289581, 0.579163, 0.700920, 0.839786, 1.0, None),
        (SHADOW, 0.092411, 0.488711, 0.506326, 0.576040, 0.687754, None),
    ],
)
def test_chest_clinic(
    seen: dict[str, str],
    tub: float,
    lung: float,
    bronc: float,
    either: float,
    smoke: float,
    xray: float | None,
) -> None:
    """Lauritzen & Spiegelhalter, Journal of the Royal Statistical Society B 50 (1988).

    Tables of chances as quoted in BUGS Examples Vol. 2; answers by plain enumeration and by pgmpy 1.1.2, which agree to
    six digits. The paper's own figures were not seen.
    """
    found = [ASIA.chance(name, **seen) for name in ("tub", "lung", "bronc", "smoke")]
    assert found == pytest.approx([tub, lung, bronc, smoke], abs=6e-7)
    assert ASIA.chance(lambda world: float(_either(world)), **seen) == pytest.approx(either, abs=6e-7)
    if xray is not None:
        assert ASIA.chance(_shadow, **seen) == pytest.approx(xray, abs=6e-7)


def test_shortness_of_breath_in_a_chest_clinic() -> None:
    """The same network: 0.4359706 of all, derived."""
    assert ASIA.weight(dysp="yes") == pytest.approx(0.4359706, abs=5e-8)


def _frozen() -> list[dict[str, Any]]:
    cases: list[dict[str, Any]] = json.loads(PGMPY.read_text(encoding="utf-8"))["cases"]
    return cases


@pytest.mark.parametrize("case", _frozen(), ids=lambda case: case["symptom"])
def test_models_of_the_demo_book_have_the_chances_of_pgmpy(case: dict[str, Any]) -> None:
    """Frozen numbers of pgmpy 1.1.2; the file says how they were made."""
    assert posterior(_as_model(case), dict(case["seen"])) == pytest.approx(case["posterior"], abs=1e-9)


@pytest.mark.parametrize("case", _frozen(), ids=lambda case: case["symptom"])
def test_the_frozen_chances_are_those_of_pgmpy(case: dict[str, Any]) -> None:
    """Where pgmpy is installed; it is no part of what the project needs."""
    models, factors = pytest.importorskip("pgmpy.models"), pytest.importorskip("pgmpy.factors.discrete")
    inference = pytest.importorskip("pgmpy.inference")
    causes, tests = list(case["priors"]), case["tests"]
    network = models.DiscreteBayesianNetwork([("cause", test["id"]) for test in tests])
    shares = [[share] for share in case["priors"].values()]
    network.add_cpds(factors.TabularCPD("cause", len(causes), shares, state_names={"cause": causes}))
    for test in tests:
        columns = [list(column) for column in zip(*(test["likelihood"][c] for c in causes), strict=True)]
        names = {test["id"]: test["results"], "cause": causes}
        network.add_cpds(
            factors.TabularCPD(test["id"], len(columns), columns, ["cause"], [len(causes)], state_names=names)
        )
    found = inference.VariableElimination(network).query(
        ["cause"], evidence=dict(case["seen"]), show_progress=False
    )
    assert {c: found.get_value(cause=c) for c in causes} == pytest.approx(case["posterior"], abs=1e-12)


def _as_model(case: Mapping[str, Any]) -> DiagnosisModel:
    tests = tuple(
        TestModel(test["id"], 1.0, (), False, tuple(test["results"]), test["likelihood"])
        for test in case["tests"]
    )
    return DiagnosisModel(case["symptom"], case["machine"], case["priors"], tests, {})
