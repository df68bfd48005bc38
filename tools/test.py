"""Sets the tests up and runs every check: `python3 tools/test.py` (Windows: `py tools\\test.py`).

Given pytest arguments, it runs pytest alone with them.

Parses on Python 2.7, so that an old Python gets a plain answer; everything else is imported after that check.
"""

import sys


def main():
    # type: () -> int
    from _setup.oldest_python import refusal

    message = refusal(sys.version_info[:2], "tools/test.py")
    if message:
        sys.stderr.write(message + "\n")
        return 2
    from _setup.checks import run_checks

    return run_checks(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
