"""Where the repair log lies, for every command that takes `--log`."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from shearpin.cli.common import UserError
from shearpin.diagnosis.repair import Repair
from shearpin.diagnosis.repair_log import LogError, RepairLog
from shearpin.model.userdata import data_home

HELP = "file of the repair log (default: $SHEARPIN_LOG, else repairs.sqlite in your own data folder)"


def add_log_option(parser: argparse.ArgumentParser, words: str = HELP) -> None:
    """Give a command the option `--log`."""
    parser.add_argument("--log", metavar="FILE", help=words)


def chosen_log(given: str | None) -> RepairLog:
    """Return the log; raises `UserError` for a place inside a book's records or a built manual."""
    path = Path(given or os.environ.get("SHEARPIN_LOG") or data_home() / "repairs.sqlite").absolute()
    for folder in path.resolve().parents:
        if folder.name == "kb" and (folder / "symptoms").is_dir():
            raise UserError(f"{path} lies inside the records {folder}; the repair log never goes there")
        if (folder / "index.html").is_file() and (folder / "look").is_dir():
            raise UserError(f"{path} lies inside a built manual, which others get; choose another folder")
    return RepairLog(path)


def logged_repairs(given: str | None) -> tuple[Repair, ...]:
    """Return the repairs of a log that must exist; raises `UserError`."""
    log = chosen_log(given)
    if not os.path.lexists(log.path):
        raise UserError(f"there is no repair log {log.path}", 1)
    try:
        return log.repairs()
    except LogError as error:
        raise UserError(str(error), 1) from error
