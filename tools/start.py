"""Sets Shearpin up and opens the manual: `python3 tools/start.py` (Windows: `py tools\\start.py`).

Parses on Python 2.7, so that an old Python gets a plain answer; everything else is imported after that check.
"""

import sys


def main():
    # type: () -> int
    from _setup.oldest_python import refusal

    message = refusal(sys.version_info[:2], "tools/start.py")
    if message:
        sys.stderr.write(message + "\n")
        return 2
    from _setup.manual import start

    return start(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
