"""What a build says to the person who asked for it, and what it takes from the shop's own repair log."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from mkdocs.exceptions import PluginError
from mkdocs.plugins import get_plugin_logger

from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.history import History
from shearpin.diagnosis.repair_log import BUILD_LOG, LogError, RepairLog
from shearpin.model.finding import Finding, Severity

log = get_plugin_logger(__name__)


def report(findings: Iterable[Finding]) -> int:
    """Say what was found, errors as warnings to MkDocs, so that `--strict` stops at them; return how many errors there are."""
    errors = 0
    for finding in findings:
        advice = f" ({finding.help})" if finding.help else ""
        if finding.severity is Severity.ERROR:
            errors += 1
            log.warning(f"{finding}{advice}")
        else:
            log.info(f"{finding}{advice}")
    return errors


def history_of(linked: LinkedBook, folder: Path, log_setting: str) -> History:
    """Return what the repair log teaches, nothing without one; raises `PluginError` for one that cannot be read.

    The log is named by the environment or by the setting, from the folder of mkdocs.yml.
    """
    named = os.environ.get(BUILD_LOG) or log_setting
    if not named:
        return History(linked, ())
    repair_log = RepairLog(folder / named)
    if not repair_log.path.exists():
        raise PluginError(f"there is no repair log {repair_log.path}")
    try:
        history = History(linked, repair_log.repairs())
    except LogError as error:
        raise PluginError(str(error)) from error
    for item in history.unknown:
        log.info(
            f"the repair log names the {item.kind} `{item.id}`, which this book does not have: not counted"
        )
    return history
