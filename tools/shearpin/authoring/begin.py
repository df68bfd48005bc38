"""Begins a record: a new file from a skeleton or from another record, never in the place of anything."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from ruamel.yaml.nodes import ScalarNode

from shearpin.authoring.change import FileChange, new_findings, staged
from shearpin.authoring.files import WriteRefused, create_file, read_plain_file, record_path
from shearpin.authoring.formatting import formatted, plain_data, quantity_kinds, says
from shearpin.authoring.ids import IdRefused, check_form, check_free, neighbours
from shearpin.authoring.skeleton import skeleton
from shearpin.authoring.source import Edit, Source, apply_edits, read_text, scalar_text
from shearpin.book.linked import LinkedBook
from shearpin.checks.nearest import did_you_mean
from shearpin.checks.unwritten import unwritten
from shearpin.model.finding import Finding
from shearpin.model.kinds import Kind

_NOT_COPIED: Final = ("ignore", "formerly", "review")


@dataclass(frozen=True, slots=True)
class Beginning:
    """A record that is about to be written: its path below the records' folder, its text, what waits for its writer."""

    path: str
    text: str
    waiting: tuple[Finding, ...]


def prepare(
    linked: LinkedBook, kind: Kind, record_id: str, copied: str | None, *, distinct: bool
) -> Beginning:
    """Return the new record; raises `IdRefused` or `WriteRefused` with what to do."""
    check_form(record_id, kind)
    check_free(linked.book, kind, record_id)
    near = neighbours(linked.book, kind, record_id)
    if near and not distinct:
        listed = ", ".join(f"`{other}`" for other in near)
        raise IdRefused(
            f"`{record_id}` is very like {listed}; if it is another thing all the same, say --distinct"
        )
    text = skeleton(linked.book, kind, record_id) if copied is None else _copy(linked, kind, copied)
    path = record_path(linked.book.kb, kind, record_id).relative_to(linked.book.kb).as_posix()
    # A new record is in its usual form from the first line on.
    text = formatted(text.encode("utf-8"), kind, quantity_kinds(linked.book)).decode("utf-8")
    with staged(linked.book.kb, [FileChange(path, None, text.encode("utf-8"))]) as after:
        waiting = new_findings(linked, after)
    return Beginning(path, text, waiting)


def write(linked: LinkedBook, beginning: Beginning) -> None:
    """Create the file; raises `WriteRefused` when anything stands in its place."""
    create_file(linked.book.kb / beginning.path, beginning.text.encode("utf-8"))


def _copy(linked: LinkedBook, kind: Kind, given: str) -> str:
    """Return the text of another record without what is true of that one only: its title, review, and exceptions."""
    other = given.removeprefix(f"{kind.name}/").removeprefix(f"{kind.folder}/")
    file = linked.book.file_of.get((kind.name, other))
    if file is None:
        advice = (
            did_you_mean(other, linked.book.of_kind(kind.name))
            or f"a {kind.name} is copied from a {kind.name}"
        )
        raise IdRefused(f"there is no {kind.name} `{other}`; {advice}")
    if file.broken:
        raise IdRefused(f"{linked.book.shown}/{file.path} cannot be read; mend it first")
    text, _ = read_text(read_plain_file(linked.book.kb / file.path))
    source = Source(text)
    data: dict[str, Any] = plain_data(text)
    edits = []
    for key, value in source.root.value:
        name = str(key.value)
        if name in _NOT_COPIED:
            end = source.end(value)
            edits.append(
                Edit(source.start(key), end if text[end - 1 : end] == "\n" else source.line_end(end), "")
            )
            del data[name]
        elif name == "title" and isinstance(value, ScalarNode):
            data["title"] = unwritten(f"what the page is called; the copied one is called {value.value}")
            after = "\n" if text[source.end(value) - 1 : source.end(value)] == "\n" else ""
            edits.append(Edit(source.start(value), source.end(value), scalar_text(data["title"]) + after))
    made = f"# Copied from {other}: what stands here is still said of that one.\n{apply_edits(text, edits)}"
    made = (made if made.endswith("\n") else made + "\n") + "review: {state: draft}\n"
    if not says(made, {**data, "review": {"state": "draft"}}):
        raise WriteRefused(f"{file.path} cannot be copied: it is written in an unusual way; format it first")
    return made
