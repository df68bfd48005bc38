"""What lies already where an edition would go: it takes the place of an earlier make of itself, and of nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from shearpin.publish.bag import MANIFESTS
from shearpin.publish.contentrecord import EditionContent
from shearpin.publish.earlier import content_of_earlier
from shearpin.publish.faults import PublishError
from shearpin.publish.judging import LISTED, is_of_the_system

_ENDINGS: Final = (".zip", ".pdf", ".epub", "-scorm.zip", "-learner.html", "-instructor.html", ".sha256")
_NAMED: Final = 3


def require_free(out: Path, name: str, content: EditionContent) -> None:
    """Refuse to publish over what is no earlier make of this edition; raises `PublishError`.

    A final edition stays what it was: its number stands for one content.
    """
    folder = out / name
    for path in (out / f"{name}{ending}" for ending in _ENDINGS):
        if path.is_dir():
            raise PublishError(f"{path} is a folder, and a file of the edition must go there. {_TAKE_AWAY}")
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        what = "a link" if folder.is_symlink() else "a file"
        raise PublishError(f"{folder} is {what}, and the folder of the edition must go there. {_TAKE_AWAY}")
    if folder.is_dir():
        strange = sorted(_not_published(folder))
        if strange:
            more = f", and {len(strange) - _NAMED} more" if len(strange) > _NAMED else ""
            raise PublishError(
                f"{folder} would be replaced, and holds files that no edition of yours put there: "
                f"{', '.join(strange[:_NAMED])}{more}. {_TAKE_AWAY}"
            )
    for path in (folder, out / f"{name}.zip"):
        _require_same(path, content)


_TAKE_AWAY: Final = "Move it away, or name another folder with --out."


def _not_published(folder: Path) -> Iterator[str]:
    """Yield the files in a folder that its own lists of digests do not name; where these are damaged, what they still name."""
    listed = {*MANIFESTS}
    for manifest in MANIFESTS:
        try:
            text = (folder / manifest).read_text(encoding="utf-8", errors="replace")
        except OSError:
            continue
        listed |= {match[2] for match in map(LISTED.fullmatch, text.split("\n")) if match}
    for path in folder.rglob("*"):
        within = path.relative_to(folder).as_posix()
        if not path.is_dir() and within not in listed and not is_of_the_system(within):
            yield within


def _require_same(path: Path, content: EditionContent) -> None:
    """Refuse where another edition of the same name lies, or the final one of this number with another content."""
    try:
        there = replace(content_of_earlier(path), files={})
    except PublishError:
        return  # nothing, or a copy too damaged to say: it may be made again
    if (there.id, there.number) != (content.id, content.number):
        raise PublishError(
            f"{path} is the edition `{there.id}`, number {there.number}: its files have the names that yours would get. "
            "Give this one another `number`, or name another folder with --out."
        )
    if there.state == "final" and there != content:
        raise PublishError(
            f"number {there.number} of {there.date} is final and lies in {path} with another content. Who has a copy of it must "
            "be able to tell: give the edition a new `number` and `date`, or take the old one away if nobody has it yet."
        )
