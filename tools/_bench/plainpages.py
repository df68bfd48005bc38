"""Owns the same synthetic records as plain Markdown pages, in the set-up that is kindest to MkDocs and its theme.

Every record is one page with its title, prose, steps and links, the words of the cautions of its systems, the figures of the
values that it names, and what refers to it; every kind has a page that lists its records. Records stay out of the navigation,
whose cost is quadratic. Nothing is computed by the build: test plans, required cautions and checks are not there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from _bench.prose import capital
from _bench.scribe import Record

_REFERENCE: Final = re.compile(r"\{(?:[a-z]+:)?([a-z0-9.-]+)\}")
_SHORT: Final = 60
_NUMBERED: Final = ("steps", "finish")
_SETTINGS: Final = """\
site_name: Plain pages
docs_dir: docs
site_dir: site
use_directory_urls: false
theme:
  name: material
  font: false
plugins:
  - search
not_in_nav: |
  /*/
nav:
"""

_WORK: Final = ("procedures", "tests", "symptoms")

Titles = Mapping[str, tuple[str, str]]
"""Folder and title of every record by its id."""


def write_plain(root: Path, records: Sequence[Record]) -> None:
    """Write a project for MkDocs with Material's own search below `root`: settings, and a Markdown page for each record."""
    titles = {record_id: (folder, fields["title"]) for folder, record_id, fields in records}
    around = _Around(records, titles)
    kinds: dict[str, list[str]] = {}
    for folder, record_id, fields in records:
        page = root / "docs" / folder / f"{record_id}.md"
        if folder not in kinds:
            page.parent.mkdir(parents=True)
        kinds.setdefault(folder, []).append(f"- [{fields['title']}]({folder}/{record_id}.md)")
        _write(page, plain_page(fields, titles) + around.lines(folder, record_id, fields))
    front = "# Plain pages\n\n" + "".join(f"- [{capital(folder)}]({folder}.md)\n" for folder in kinds)
    _write(root / "docs" / "index.md", front)
    for folder, entries in kinds.items():
        _write(root / "docs" / f"{folder}.md", "\n".join([f"# {capital(folder)}", "", *entries]) + "\n")
    nav = "".join(f"  - {name}.md\n" for name in ("index", *kinds))
    _write(root / "mkdocs.yml", _SETTINGS + nav)


def plain_page(fields: Mapping[str, Any], titles: Titles) -> str:
    """Return the Markdown page of a record: every field under its name, and links where the record names another."""
    lines = [f"# {fields['title']}", ""]
    for name, value in fields.items():
        if name != "title" and value:
            lines += [*_field(name, value, titles), ""]
    return "\n".join(lines)


class _Around:
    """What a writer would copy onto a page from other records: cautions, figures, and what refers to it."""

    def __init__(self, records: Sequence[Record], titles: Titles) -> None:
        self._titles = titles
        self._of: dict[str, dict[str, Mapping[str, Any]]] = {folder: {} for folder, _, _ in records}
        self._figures: dict[str, list[str]] = {}
        self._referring: dict[str, list[str]] = {}
        for folder, record_id, fields in records:
            self._of[folder][record_id] = fields
            for value, entry in fields.get("values", {}).items() if folder in ("machines", "engines") else ():
                self._figures.setdefault(value, []).append(f"{fields['title']} {entry['is']}")
            for other in dict.fromkeys(_named(fields, titles)):
                self._referring.setdefault(other, []).append(record_id)

    def lines(self, folder: str, record_id: str, fields: Mapping[str, Any]) -> str:
        """Return the sections to add to the page of a record."""
        named = list(dict.fromkeys([record_id, *_named(fields, self._titles)]))
        figures = [
            f"- {_link(value, self._titles)}: {'; '.join(self._figures[value])}"
            for value in named
            if value in self._figures and folder not in ("machines", "engines")
        ]
        referring = [f"- {_link(other, self._titles)}" for other in self._referring.get(record_id, ())]
        cautions = self._cautions(named, fields) if folder in _WORK else []
        sections = (("Cautions", cautions), ("Figures", figures), ("Referred to by", referring))
        return "".join(f"\n## {name}\n\n" + "\n".join(found) + "\n" for name, found in sections if found)

    def _cautions(self, named: Sequence[str], fields: Mapping[str, Any]) -> list[str]:
        """Return the words of the cautions that the page names, and of the hazards and energies of its systems."""
        systems = [self._of["systems"][name] for name in fields.get("systems", ())]
        energies = {energy for system in systems for energy in system.get("energies", ())}
        hazards = {*named, *(hazard for system in systems for hazard in system.get("hazards", ()))}
        return [
            f"- **{caution['signal_word']}** {caution['hazard']} {caution['consequence']} {' '.join(caution['avoidance'])}"
            for name, caution in self._of["cautions"].items()
            if name in hazards or energies & set(caution["covers"]["energies"])
        ]


def _named(value: Any, titles: Titles) -> Iterator[str]:
    """Yield the ids that a value names, keys and placeholders included."""
    if isinstance(value, str):
        yield from (name for name in (value, *_REFERENCE.findall(value)) if name in titles)
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _named(key, titles)
            yield from _named(inner, titles)
    else:
        for item in value or ():
            yield from _named(item, titles)


def _field(name: str, value: Any, titles: Titles) -> Iterator[str]:
    heading = capital(name.replace("_", " "))
    if isinstance(value, str) and len(value) <= _SHORT:
        yield f"**{heading}:** {_text(value, titles)}"
        return
    yield f"## {heading}\n"
    if isinstance(value, str):
        yield _text(value, titles)
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield f"- {_text(key, titles)}: {_inline(inner, titles)}"
    else:
        mark = "1." if name in _NUMBERED else "-"
        for item in value:
            yield f"{mark} {_inline(item, titles)}"


def _inline(value: Any, titles: Titles) -> str:
    """Return a value on one line; the first text of a mapping leads, and the rest follows under its names."""
    if isinstance(value, str):
        return _text(value, titles)
    if isinstance(value, Mapping):
        said = [(name, _inline(inner, titles)) for name, inner in value.items() if inner]
        return " ".join(
            f"{capital(name)}: {text}" if index else text for index, (name, text) in enumerate(said)
        )
    return ", ".join(_inline(item, titles) for item in value)


def _text(text: str, titles: Titles) -> str:
    if text in titles:
        return _link(text, titles)
    return _REFERENCE.sub(lambda found: _link(found[1], titles), text)


def _link(record_id: str, titles: Titles) -> str:
    folder, title = titles[record_id]
    return f"[{title}](../{folder}/{record_id}.md)"


def _write(path: Path, content: str) -> None:
    path.write_text(content, encoding="utf-8", newline="\n")
