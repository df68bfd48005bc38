"""Names of published files: short, and the same file on Windows, macOS and Linux."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

MAX_PATH: Final = 199
"""Characters of a path inside a publication: Windows stops at 260, its folder's own path included."""

LONGEST_NUMBER: Final = 40
"""Characters of an edition's number: it stands in the name of every file."""

_RESERVED: Final = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)
_REFUSED: Final = re.compile(r'[\x00-\x1f<>:"\\|?*\x7f]')


def base_name(edition_id: str, number: str) -> str:
    """Return the name that every file of an edition begins with, such as `whole-book-2026.1`."""
    slug = re.sub(r"[^A-Za-z0-9.]+", "-", number).strip("-.") or "1"
    return f"{edition_id}-{slug}"[:80].rstrip("-.")


def names_something(number: str) -> bool:
    """Return whether an edition's number has anything that a file name may hold on every system."""
    return re.search(r"[A-Za-z0-9]", number) is not None


def faults_of_names(paths: Iterable[str]) -> Iterator[str]:
    """Yield in words each relative path, its parts joined by `/`, that some system cannot hold."""
    known: dict[str, str] = {}
    for path in paths:
        if len(path) > MAX_PATH:
            yield f"the path `{path}` has {len(path)} characters; Windows needs it to have at most {MAX_PATH}"
        for part in path.split("/"):
            if _RESERVED.fullmatch(part) or _REFUSED.search(part) or part.endswith((".", " ")) or not part:
                yield f"Windows cannot hold a file called `{part}` ({path})"
        other = known.setdefault(path.casefold(), path)
        if other != path:
            yield f"`{path}` and `{other}` are the same file on Windows and macOS"
