"""`python -m shearpin.cli`; an old Python, which no installer has looked at here, is told so in plain words."""

import sys

OLDEST = (3, 11)  # as in pyproject.toml

if __name__ == "__main__":
    if sys.version_info[:2] < OLDEST:
        sys.stderr.write(
            "Shearpin needs Python %s.%s or newer; this is Python %s.%s.\n" % (OLDEST + sys.version_info[:2])
        )
        sys.exit(2)
    from shearpin.cli.main import run

    run()
