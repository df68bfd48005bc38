"""What the rules on one file found, kept by the content of the file: a file that nobody changed need not be judged again."""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final

from shearpin.book.keptrecords import WORTH_KEEPING
from shearpin.catalogue import ON_ONE_FILE
from shearpin.checks.rule import Fault
from shearpin.model.progress import counted
from shearpin.model.reading import RecordFile
from shearpin.model.shares import share_out, shares_for
from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept

_FILE: Final = "faults.bin"

_Found = tuple[tuple[str, Fault], ...]
"""Faults with the codes of their rules."""


def faults_of_files(kb: Path, files: Sequence[RecordFile]) -> list[tuple[str, Fault]]:
    """Return what every rule on one file finds, with the code of the rule."""
    if len(files) < WORTH_KEEPING:
        return [each for file in files for each in _judged(file)]
    place, key = cache_of(kb) / _FILE, f"{program_digest()} faults of files"
    kept = _load(place, key)
    known = {file.path: kept[file.path, file.digest] for file in files if (file.path, file.digest) in kept}
    unknown = [file for file in files if file.path not in known]
    shares = shares_for(len(unknown))
    parts = share_out(
        lambda share: [_judged(file) for file in counted("checking records", unknown[share::shares])], shares
    )
    for share, part in enumerate(parts):
        known.update(zip((file.path for file in unknown[share::shares]), part, strict=True))
    if unknown or len(kept) != len(files):
        now = {(file.path, file.digest): known[file.path] for file in files if file.digest}
        write_kept(place, key, pickle.dumps(now, pickle.HIGHEST_PROTOCOL))
    return [each for file in files for each in known[file.path]]


def _judged(file: RecordFile) -> _Found:
    return tuple((rule.code, fault) for rule in ON_ONE_FILE for fault in rule.find(file))


def _load(place: Path, key: str) -> dict[tuple[str, bytes], _Found]:
    payload = read_kept(place, key)
    with suppress(Exception):  # sealed by this program, and still: what cannot be unpickled is found anew
        found: dict[tuple[str, bytes], _Found] = pickle.loads(payload) if payload is not None else {}
        return found
    return {}
