"""Writes documents that are made, not typed: `python3 tools/documents.py` (Windows: `py tools\\...`).

`commands` writes the page of all commands from the parsers themselves; `gallery DIR` takes pictures of the built manual.
Needs the test extras. Parses on Python 2.7, so that an old Python gets a plain answer.
"""

import sys


def main():
    # type: () -> int
    from _setup.oldest_python import refusal

    message = refusal(sys.version_info[:2], "tools/documents.py")
    if message:
        sys.stderr.write(message + "\n")
        return 2
    from _documents.command import make

    return make(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
