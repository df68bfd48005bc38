"""Owns the answer to a Python that is too old to run Shearpin; must parse and run on Python 2.7."""

OLDEST = (3, 11)


def refusal(version, script):
    # type: (tuple[int, int], str) -> str
    """Return what to tell the user of this Python version, or an empty string when it is new enough."""
    if version >= OLDEST:
        return ""
    return (
        "Shearpin needs Python {}.{} or newer; this is Python {}.{}.\n"
        "Install a newer one and run it by its name, for example: python3.12 {} (Windows: py -3.12 {}).\n"
        "The manual itself needs no Python: a built one opens by double-clicking its index.html."
    ).format(*(OLDEST + tuple(version) + (script, script.replace("/", "\\"))))
