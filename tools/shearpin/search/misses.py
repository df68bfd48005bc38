"""Searches that found nothing, kept on this computer for the writer: the query and how often, nothing else.

A file in the user's own folder for data, a line each: how often, a tab, the query. It never lies in the book. What looks
like an address or a telephone number is left out, for it would be a customer's.
"""

from __future__ import annotations

import hashlib
import os
import re
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.model.userdata import data_home

MOST_KEPT: Final = 200
_LONGEST: Final = 120
_NAME: Final = "searched-in-vain.txt"
_PRIVATE: Final = re.compile(r"\S+@\S+|\+?\(?\d{3}\)?[-. ]?\d{3}[-. ]\d{4}\b|\b\d{10,}\b")


def misses_file(kb: Path) -> Path:
    """Return the file of searches in vain in the records of `kb`."""
    return data_home() / hashlib.sha256(str(kb.resolve()).encode()).hexdigest()[:32] / _NAME


def read_misses(kb: Path) -> list[tuple[str, int]]:
    """Return queries that found nothing with how often, the oldest first; lines that cannot be read are passed over."""
    try:
        lines = misses_file(kb).read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return []
    found = []
    for line in lines:
        times, _, query = line.partition("\t")
        if times.isdecimal() and query:
            found.append((query, int(times)))
    return found


def keep_miss(kb: Path, query: str) -> None:
    """Note that `query` found nothing; a note that cannot be written is no fault."""
    said = " ".join(_PRIVATE.sub(" ", query).split())[:_LONGEST].strip()
    if not said:
        return
    kept = dict(read_misses(kb))
    kept[said] = kept.pop(said, 0) + 1
    path = misses_file(kb)
    temporary = path.with_name(f"{path.name}.{os.getpid()}")
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        try:
            temporary.write_text(as_text(list(kept.items())[-MOST_KEPT:]), encoding="utf-8", errors="replace")
            temporary.replace(path)
        finally:
            temporary.unlink(missing_ok=True)


def as_text(misses: list[tuple[str, int]]) -> str:
    """Return misses as the file holds them, and as the coverage page reads them."""
    return "".join(f"{times}\t{query}\n" for query, times in misses)
