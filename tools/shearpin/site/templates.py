"""Compiled templates of the theme, kept in the user's cache: compiling them takes a tenth of a small build."""

from __future__ import annotations

from pathlib import Path

from jinja2.bccache import Bucket, BytecodeCache

from shearpin.model.usercache import cache_of, program_digest, read_kept, write_kept


class KeptTemplates(BytecodeCache):
    """Code of templates, of use as long as neither the template, this program nor Jinja changes.

    It is run: only what this program sealed is loaded.
    """

    def __init__(self, kb: Path) -> None:
        self._folder = cache_of(kb)

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fill a bucket, if what it is for is kept; Jinja empties it when the template is another."""
        payload = read_kept(*self._place(bucket))
        if payload is not None:
            bucket.bytecode_from_string(payload)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what is in a bucket."""
        write_kept(*self._place(bucket), bucket.bytecode_to_string())

    def _place(self, bucket: Bucket) -> tuple[Path, str]:
        return self._folder / f"template-{bucket.key}.bin", f"{program_digest()} template {bucket.key}"
