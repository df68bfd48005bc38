"""A package for a school's learning system: SCORM 1.2, the manual to study and the quiz whose result is reported."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from importlib import resources
from pathlib import Path

from shearpin.publish.archive import files_below, write_archive
from shearpin.publish.issue import Issue
from shearpin.publish.teaching import PASS_PERCENT, quiz_page
from shearpin.site.html import text


def make_scorm(issue: Issue, site: Path, target: Path) -> None:
    """Write the package; `site` is the folder of the edition's pages."""
    own = [("quiz/index.html", quiz_page(issue, "../manual/").encode())]
    for name in ("quiz.css", "quiz.js"):
        own.append((f"quiz/{name}", resources.files("shearpin.publish").joinpath(name).read_bytes()))
    manual = list(files_below(site, "manual/"))
    manifest = _manifest(issue, [name for name, _ in manual], [name for name, _ in own])
    with open(target, "wb") as stream:
        write_archive(stream, (("imsmanifest.xml", manifest.encode()), *manual, *own), issue.moment)


def _manifest(issue: Issue, manual: Sequence[str], quiz: Sequence[str]) -> str:
    """Return `imsmanifest.xml`: two activities, of which only the quiz reports."""
    title = text(issue.edition.title)
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<manifest identifier="{issue.name}" version="1.0" xmlns="http://www.imsproject.org/xsd/imscp_rootv1p1p2"'
        ' xmlns:adlcp="http://www.adlnet.org/xsd/adlcp_rootv1p2">\n'
        "<metadata><schema>ADL SCORM</schema><schemaversion>1.2</schemaversion></metadata>\n"
        f'<organizations default="course"><organization identifier="course"><title>{title}</title>\n'
        '<item identifier="study" identifierref="manual"><title>Manual</title></item>\n'
        f'<item identifier="test" identifierref="quiz"><title>Quiz</title><adlcp:masteryscore>{PASS_PERCENT}</adlcp:masteryscore></item>\n'
        "</organization></organizations>\n<resources>\n"
        f"{_resource('manual', 'asset', 'manual/index.html', manual)}"
        f"{_resource('quiz', 'sco', 'quiz/index.html', quiz)}</resources>\n</manifest>\n"
    )


def _resource(identifier: str, kind: str, start: str, files: Iterable[str]) -> str:
    listed = "".join(f'<file href="{text(name)}"/>\n' for name in files)
    return f'<resource identifier="{identifier}" type="webcontent" adlcp:scormtype="{kind}" href="{start}">\n{listed}</resource>\n'
