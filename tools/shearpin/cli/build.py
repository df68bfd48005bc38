"""`shearpin build`: check the records and build the manual, as `mkdocs build --strict` does."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from shearpin.book.failure import BookError
from shearpin.cli.common import (
    UserError,
    add_work_options,
    new_parser,
    print_json,
    records_folder,
    refuse_errors,
    told_of_work,
)
from shearpin.cli.log_file import add_log_option, chosen_log, logged_repairs
from shearpin.diagnosis.repair_log import BUILD_LOG
from shearpin.verdict import verdict_on


def run(words: Sequence[str]) -> int:
    """Build; returns 1 and leaves the previous site as it was when the records have errors."""
    parser = new_parser("build", "Check the records and build the manual.")
    parser.add_argument(
        "--site", metavar="DIR", help="folder of the finished site (default: as mkdocs.yml says)"
    )
    add_log_option(
        parser, "show what this repair log teaches beside the chances: for your own shop, not to hand on"
    )
    add_work_options(parser)
    options = parser.parse_args(list(words))
    log = ""
    if options.log:
        logged_repairs(options.log)  # said before the work, not after it
        log = str(chosen_log(options.log).path)
    folder, _ = records_folder(options.kb)
    settings = folder.resolve().parent / "mkdocs.yml"
    if not settings.is_file():
        raise UserError(f"there is no mkdocs.yml beside {folder}")
    with told_of_work(options):
        return _built(options, settings, log)


def _built(options: argparse.Namespace, settings: Path, log: str) -> int:
    try:
        verdict = verdict_on(*records_folder(options.kb))  # kept: MkDocs asks for it again
    except BookError as error:
        raise UserError(str(error), 1) from error
    refuse_errors(verdict.findings, "built")
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--config-file", str(settings)]
    if options.site:
        command += ["--site-dir", str(Path(options.site).resolve())]
    # MkDocs speaks on its own; with --json its words go to the error stream.
    finished = subprocess.run(
        command,
        stdout=sys.stderr if options.json else None,
        env={**os.environ, "NO_MKDOCS_2_WARNING": "1", BUILD_LOG: log},
        check=False,
    )
    if options.json:
        print_json({"built": finished.returncode == 0, "records": verdict.records})
    return 0 if finished.returncode == 0 else 1
