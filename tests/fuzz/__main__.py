"""Runs hostile files by the thousand and reports failures with the seeds that make them again."""

from __future__ import annotations

import argparse
import resource
import sys
import time
import traceback

from tests.fuzz.hostile import hostile_file
from tests.fuzz.trial import try_file


def main() -> int:
    """Run the trials; returns the number of failures, at most 100."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz")
    parser.add_argument("--count", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=0, help="the first seed; each trial takes the next one")
    options = parser.parse_args()
    began, longest, failures = time.monotonic(), (0.0, -1), 0
    for seed in range(options.seed, options.seed + options.count):
        try:
            seconds = try_file(*hostile_file(seed), pages=seed % 10 == 0)
        except BaseException:
            failures += 1
            print(f"seed {seed}:\n{traceback.format_exc(limit=-4)}", flush=True)
            if failures == 100 or isinstance(sys.exc_info()[1], KeyboardInterrupt):
                break
            continue
        longest = max(longest, (seconds, seed))
    took, peak = time.monotonic() - began, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{options.count:,} hostile files: {failures} failures, {took:.0f} s, "
        f"longest {longest[0]:.2f} s (seed {longest[1]}), peak memory {peak:.0f} MB"
    )
    return failures


if __name__ == "__main__":
    sys.exit(main())
