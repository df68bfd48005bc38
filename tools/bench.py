"""Times Shearpin on synthetic books: `python3 tools/bench.py` (Windows: `py tools\\bench.py`).

Writes books of 300, 3,000 and 10,000 linked records, runs whole commands on them and opens their sites in Chromium,
and prints what that took beside the budgets of the design. `--help` lists the options; `_bench/report.py` describes
the JSON. Parses on Python 2.7, so that an old Python gets a plain answer; everything else is imported after that check.
"""

import sys


def main():
    # type: () -> int
    from _setup.oldest_python import refusal

    message = refusal(sys.version_info[:2], "tools/bench.py")
    if message:
        sys.stderr.write(message + "\n")
        return 2
    from _bench.command import bench

    return bench(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
