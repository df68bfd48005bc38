"""What a record holds but for its words: other words leave it as it is, everything else does not."""

from __future__ import annotations

import pytest

from shearpin.model.bones import bones
from shearpin.model.kinds import KINDS
from shearpin.model.reading import read_record

TEXT = """\
title: Adjust the chute deflector
purpose: The deflector flaps. It stands on {part:chute-deflector}.
said: [aim the snow higher]
systems: [chute]
remedies: [chute-deflector-loose]
time: 20 min
skill: trainee
tools: [pliers]
steps:
  - do: Hook the spring scale to the lip.
    applies_to: {not_fitted: four-way-chute}
    confirm: It holds {chute-deflector.holding-force}.
  - do: Brush both faces clean.
    note: The hinge is not greased.
"""


def _bones(text: str) -> str:
    file = read_record("procedures/adjust.yaml", KINDS["procedure"], "adjust", text.encode())
    assert file.record is not None
    assert not file.broken, file.field_faults  # a faulty field is left out, which would make any two differ
    return repr(bones(file.record))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("Adjust the chute", "Set the chute"),
        ("The deflector flaps.", "It sinks, or flies up."),
        ("Brush both faces clean.", "Wipe both faces dry."),
        ("It holds {chute", "Pull, and it holds {chute"),
        ("    note: The hinge is not greased.\n", ""),
    ],
)
def test_other_words_are_none_of_it(old: str, new: str) -> None:
    assert old in TEXT
    assert _bones(TEXT.replace(old, new)) == _bones(TEXT)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("{part:chute-deflector}", "{part:chute}"),
        ("{part:chute-deflector}", "{cause:chute-deflector}"),
        ("{chute-deflector.holding-force}", "{chute-cable.free-play}"),
        ("systems: [chute]", "systems: [drive]"),
        ("remedies: [chute-deflector-loose]\n", ""),
        ("20 min", "25 min"),
        ("[pliers]", "[pliers, brush]"),
        ("not_fitted:", "fitted:"),
        ("    applies_to: {not_fitted: four-way-chute}\n", ""),
        ("  - do: Brush both faces clean.\n    note: The hinge is not greased.\n", ""),
        ("Brush both faces clean.", "Brush both faces clean, by {chute-deflector.holding-force}."),
    ],
)
def test_everything_else_is_part_of_it(old: str, new: str) -> None:
    assert old in TEXT
    assert _bones(TEXT.replace(old, new)) != _bones(TEXT)


def test_a_mention_in_another_step_is_another_one() -> None:
    held, brush = "It holds {chute-deflector.holding-force}.", "The hinge is not greased."
    moved = TEXT.replace(held, "It holds.").replace(brush, "By {chute-deflector.holding-force}.")
    assert _bones(moved) != _bones(TEXT)
