"""Owns timing the guide on symptoms' pages: how long the next test takes to work out, at every answer.

Run by itself on a finished site: `python3 -m _bench.guide [--site site] [--slow 6]`, in tools/, with the project's Python.
Each group of machines of each symptom is asked cold, in a page that has worked out nothing before: for the first test, then
down a number of walks, on which the results are drawn by their chances and some tests cannot be done. The times are those of
one call in the page, slowed down by the browser.
"""

from __future__ import annotations

import argparse
import statistics
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from _bench.browser import opened_browser, opened_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser

SLOW: Final = 6
LIMIT_MS: Final = 100.0
_SHARE_SKIPPED: Final = 0.2
_WALKS: Final = 2

# A walk: [milliseconds, answers so far, skipped so far] for every step of it. `draw` is a small generator of even numbers
# from a seed (Park and Miller, Communications of the ACM 31, 1988), so that walks are the same on every run.
_WALK: Final = """([groupNumber, seed, skipping]) => {
  const data = window.shearpinDiagnosisData;
  const plan = window.shearpinPlan;
  let drawn = seed;
  const draw = () => { drawn = (drawn * 48271) % 2147483647; return drawn / 2147483647; };
  const began = performance.now();
  const numbers = plan.prepare(window.shearpinWords.unpack(data, data.groups[groupNumber]));
  const answers = [];
  const skipped = [];
  const steps = [];
  let since = began;
  const first = document.querySelector('[data-guide]').getAttribute('data-first').split(' ')[groupNumber].replace(/^-$/, '');
  for (;;) {
    const step = plan.next(numbers, answers, skipped, first);
    steps.push([performance.now() - since, answers.length, skipped.length]);
    if (step.test === null) return steps;
    if (draw() < skipping) skipped.push(step.test);
    else {
      let rest = draw();
      const outcome = step.outcomes.find((each) => { rest -= each.chance; return rest < 0; }) || step.outcomes[0];
      answers.push([step.test, outcome.results[0]]);
    }
    since = performance.now();
  }
}"""


class Step(NamedTuple):
    """How long one step of a guide took to work out, and after how many answers and tests that could not be done."""

    symptom: str
    group: int
    answered: int
    skipped: int
    milliseconds: float

    @property
    def is_first(self) -> bool:
        """Tell whether it is the step the page begins with."""
        return not self.answered and not self.skipped


def guide_steps(browser: Browser, site: Path, slowdown: float = SLOW) -> Iterator[Step]:
    """Yield the steps of all walks on all symptoms of a site."""
    for path in sorted((site / "symptoms").glob("*.html")):
        if "data-guide" not in path.read_text(encoding="utf-8"):
            continue
        for group in range(_groups(browser, path)):
            for walk in range(_WALKS):
                # A page of its own for each walk: what was worked out before, and compiled, must not help.
                with opened_page(browser, slowdown) as page:
                    page.goto(path.as_uri())
                    seed, skipping = 7919 * (walk + 1), _SHARE_SKIPPED if walk % 2 else 0.0
                    for milliseconds, answered, skipped in page.evaluate(_WALK, [group, seed, skipping]):
                        yield Step(path.stem, group, answered, skipped, milliseconds)


def _groups(browser: Browser, path: Path) -> int:
    with opened_page(browser, 1) as page:
        page.goto(path.as_uri())
        return int(page.evaluate("() => (window.shearpinDiagnosisData || {groups: []}).groups.length"))


def summary(steps: Sequence[Step]) -> Iterator[str]:
    """Yield lines on first and later steps, and the slowest symptoms."""
    for name, chosen in (
        ("first", [s for s in steps if s.is_first]),
        ("later", [s for s in steps if not s.is_first]),
    ):
        times = sorted(step.milliseconds for step in chosen)
        over = sum(time > LIMIT_MS for time in times)
        yield f"{name}: {len(times)} steps, median {statistics.median(times):.0f} ms, worst {times[-1]:.0f} ms, {over} over {LIMIT_MS:.0f} ms"
    worst: dict[str, float] = {}
    for step in steps:
        worst[step.symptom] = max(worst.get(step.symptom, 0.0), step.milliseconds)
    for symptom in sorted(worst, key=lambda name: -worst[name])[:10]:
        yield f"  {worst[symptom]:6.0f} ms  {symptom}"


def main(arguments: Sequence[str]) -> int:
    """Time the guides of a site and print the summary."""
    parser = argparse.ArgumentParser(
        prog="_bench.guide", description="Time the next test on symptoms' pages."
    )
    parser.add_argument("--site", type=Path, default=Path("site"))
    parser.add_argument(
        "--slow", type=float, default=SLOW, help=f"slow-down of the processor (default: {SLOW})"
    )
    given: Any = parser.parse_args(arguments)
    with opened_browser(given.site.resolve()) as browser:
        steps = list(guide_steps(browser, given.site.resolve(), given.slow))
    sys.stdout.write("\n".join(summary(steps)) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
