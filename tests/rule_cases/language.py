"""Boundary cases of the rules of plain language (LNG)."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case, found, silent
from tests.sound_book import swap

SAFE = "procedures/make-machine-safe.yaml"
CAUTION = "cautions/rotating-auger.yaml"
PUNCH = "tools/pin-punch.yaml"
STEP = "Take the key out of the switch."
TWENTY_FIVE = "Drives out the two ends of a shear bolt that has broken in its hole after a stone or lump of ice in the snow"


def _step(text: str) -> dict[str, str]:
    """The first step of a procedure; its text begins at 7:9."""
    return swap(SAFE, STEP, text)


def _punch(summary: str) -> dict[str, str]:
    return {PUNCH: f"title: Pin punch\nsummary: {summary}\n"}


LANGUAGE: Final[tuple[Case, ...]] = (
    found("LNG002", "three commands", _step("Take the key out, pull the boot off, and hang it up."), f"{SAFE}:7:50"),
    found("LNG002", "first one, then another", _step("Take the key out, then pull the boot off."), f"{SAFE}:7:32"),
    found("LNG002", "a second sentence", _step("Take the key out. Pull the boot off."), f"{SAFE}:7:27"),
    found("LNG002", "three behind a condition", _step("If it is hot, wait, let it cool and pull the boot off."), f"{SAFE}:7:45"),
    silent("LNG002", "two hands", _step("Take the key out, and pull the boot off.")),
    silent("LNG002", "two behind a condition", _step("If it is hot, let it cool and pull the boot off.")),
    silent("LNG002", "one movement", _step("Push and pull the boot, and watch its base.")),
    silent("LNG002", "words that are nouns here", _step("Take the key, the pin and the punch out, and watch lock and seal.")),
    found("LNG003", "a statement", _step("The key is out of the switch."), f"{SAFE}:7:9"),
    found("LNG003", "a duty", _step("Each key must be out of the switch."), f"{SAFE}:7:18"),
    found("LNG003", "doing", _step("Pulling the boot off."), f"{SAFE}:7:9"),
    found(
        "LNG003",
        "in an avoidance",
        swap(CAUTION, "Stop the engine", "A hand stays out"),
        f"{CAUTION}:5:13",
    ),
    silent("LNG003", "a command that ends like a form of another verb", _step("Swing the lever back.")),
    silent("LNG003", "a duty of something else", _step("Take out the key that must be kept.")),
    found("LNG004", "may be done", _step("With the key out, the boot can be pulled off."), f"{SAFE}:7:36"),
    silent("LNG004", "a state", _step("Take the key out when the boot is closed.")),
    silent("LNG004", "of something else", _step("Take out the key that can be pulled.")),
    found("LNG005", "behind a comma", _step("Take the key out, if it is there."), f"{SAFE}:7:27"),
    found("LNG005", "without a comma", _step("Take the key out unless it is stuck."), f"{SAFE}:7:26"),
    silent("LNG005", "in front", _step("If it is there, take the key out.")),
    silent("LNG005", "a question", _step("Look if the key is out.")),
    silent("LNG005", "a prohibition", _step("Do not take the key out unless it is cold.")),
    found("LNG006", "four", _punch("For a wrench auger bolt punch."), f"{PUNCH}:2:16"),
    silent("LNG006", "three", _punch("For a wrench auger bolt.")),
    silent("LNG006", "a name among them", _punch("For an auger shear bolt punch.")),
    found("LNG007", "one thing", _step("Take key out of the switch."), f"{SAFE}:7:14"),
    silent("LNG007", "a pair", _step("Put bolt and nut together.")),
    silent("LNG007", "a plural", _step("Take bolts out of the switch.")),
    found("LNG008", "properly", _step("Pull the boot off properly."), f"{SAFE}:7:27"),
    found("LNG008", "as required", _step("Pull the boot off as required."), f"{SAFE}:7:27"),
    silent("LNG008", "a word within a word", _step("Pull the boot off the property.")),
    found("LNG009", "do not", _step("Don't put the key back."), f"{SAFE}:7:9"),
    found("LNG009", "with a printer's apostrophe", _step("Pull until it’s off."), f"{SAFE}:7:20"),
    silent("LNG009", "whose", _step("Pull the plug's boot off.")),
    found("LNG010", "one word too many", _punch(f"{TWENTY_FIVE} here today."), f"{PUNCH}:2:10"),
    silent("LNG010", "the last word that is allowed", _punch(f"{TWENTY_FIVE}.")),
    silent("LNG010", "two sentences", _punch(f"{TWENTY_FIVE}. It does.")),
)  # fmt: skip
