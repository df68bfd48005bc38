"""The page of a record that cannot be shown: what is wrong, where, and the line itself."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.finding import Finding
from shearpin.site.common import article
from shearpin.site.html import scrolling, text

_BEFORE: Final = 60  # characters of a line shown before the place, and behind it
_MOST: Final = 50  # findings; a record with more is mended from the top


def broken_page(kind: str, record_id: str, file: Path, findings: Sequence[Finding]) -> str:
    """Return the findings of a record in place of its content, each with its help and the line it stands in."""
    lines = _lines(file)
    rows = "".join(
        # One that stands in another record hides this one too; its line is not of this file.
        _row(finding, lines if finding.path.endswith(f"/{file.parent.name}/{file.name}") else ())
        for finding in findings[:_MOST]
    )
    more = f"<p>{len(findings) - _MOST} more.</p>" if len(findings) > _MOST else ""
    return article(
        kind, record_id,
        f'<header class="page-head"><h1>{text(record_id)}</h1></header>'
        '<p class="draft" data-missing="record"><b>This record cannot be shown until it is corrected.</b>'
        f" Do not work from memory instead.</p><ol data-findings>{rows}</ol>{more}",
    )  # fmt: skip


def _row(finding: Finding, lines: Sequence[str]) -> str:
    place = text(f"{finding.path}:{finding.line}:{finding.column}")
    code = f'<b data-code="{finding.code}">{text(f"{finding.severity.value} {finding.code}")}</b>'
    advice = f"<p>Help: {text(finding.help)}</p>" if finding.help else ""
    return f"<li><code>{place}</code> {code}: {text(finding.message)}{_excerpt(finding, lines)}{advice}</li>"


def _excerpt(finding: Finding, lines: Sequence[str]) -> str:
    """Return the line, cut where it is long, with a mark under the place."""
    if not 1 <= finding.line <= len(lines):
        return ""
    line = lines[finding.line - 1].replace("\t", " ")
    start = max(0, finding.column - 1 - _BEFORE)
    shown = line[start : finding.column - 1 + _BEFORE]
    number = f"{finding.line} | "
    mark = " " * (len(number) + finding.column - 1 - start) + "^"
    return scrolling(f"{number}{shown}\n{mark}", f"line {finding.line}")


def _lines(file: Path) -> list[str]:
    if os.path.islink(file) or not os.path.isfile(file):  # which answer for any name
        return []
    try:
        with open(file, "rb") as stream:
            raw = stream.read(MAX_BYTES)
    except OSError:
        return []
    return raw.decode("utf-8", "replace").removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
