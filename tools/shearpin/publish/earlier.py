"""The content record of an edition published earlier: from its folder, its zip, or the record file itself."""

from __future__ import annotations

import zipfile
from pathlib import Path

from shearpin.publish.contentrecord import FILE_NAME, MAX_BYTES, EditionContent, from_json
from shearpin.publish.faults import PublishError


def content_of_earlier(path: Path) -> EditionContent:
    """Read it; raises `PublishError` where there is none."""
    try:
        return from_json(_raw(path), str(path))
    except (OSError, zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError) as error:
        raise PublishError(f"{path} is no published edition: {error}") from error


def _raw(path: Path) -> bytes:
    if path.is_dir():
        with open(path / FILE_NAME, "rb") as stream:
            return stream.read(MAX_BYTES)
    if path.suffix.lower() != ".zip":
        with open(path, "rb") as stream:
            return stream.read(MAX_BYTES)
    with zipfile.ZipFile(path) as archive:
        names = [
            name for name in archive.namelist() if name.count("/") == 1 and name.endswith(f"/{FILE_NAME}")
        ]
        if len(names) != 1:
            raise PublishError(f"{path} is no published edition: it holds no {FILE_NAME}")
        with archive.open(names[0]) as member:
            return member.read(MAX_BYTES)
