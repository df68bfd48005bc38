"""Translation files: `translations/<language>/<folder>/<id>.yaml`, read beside the records that they translate."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Final

from pydantic import ValidationError

from shearpin.book.book import Book, Key
from shearpin.checks.rule import Fault
from shearpin.model.fields import Record
from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.inline import Link, ValueMention, Words, parse_inline
from shearpin.model.kinds import KIND_OF_FOLDER, KINDS
from shearpin.model.translation import STAYS_AS_IT_IS, TextPair, TranslationText, texts_to_translate
from shearpin.model.yamltext import parse

FOLDER: Final = "translations"
PAGES: Final = "pages"
"""Folder of translated hand-written pages, beside those of the kinds."""

_ALIKE: Final = 0.5  # a text that changed less than this is the one that was translated, in newer words
_IGNORED: Final = (".", "~", "#")


@dataclass(frozen=True, slots=True)
class TranslationFile:
    """One file: its path below `kb/`, language, record, and what it says; `content` is None where it cannot be read."""

    path: str
    language: str
    key: Key
    content: TranslationText | None
    faults: tuple[Fault, ...] = ()

    @property
    def words(self) -> Mapping[str, str]:
        """Return translations by original text, without what nobody has translated."""
        return {pair.from_: pair.to for pair in self.content.texts if pair.to} if self.content else {}


@dataclass(frozen=True, slots=True)
class OpenText:
    """A text of a record without a translation that holds; `formerly` is what was translated, if it was changed since."""

    key: Key
    path: str
    text: str
    formerly: str | None

    @property
    def stale(self) -> bool:
        """Whether it was translated before the original changed."""
        return self.formerly is not None


def translation_path(language: str, key: Key) -> str:
    """Return where the translation of a record lies, below `kb/`."""
    return f"{FOLDER}/{language}/{KINDS[key[0]].folder}/{key[1]}.yaml"


def read_translations(kb: Path) -> tuple[TranslationFile, ...]:
    """Return every translation file below `kb`, sorted by path; what is none of them is a file with a fault."""
    return tuple(_read(kb, path) for path in sorted(_listed(kb, FOLDER)) if not _is_page(path))


def _is_page(path: str) -> bool:
    parts = path.split("/")
    return len(parts) == 4 and parts[2] == PAGES and path.endswith(".md")


def _listed(kb: Path, folder: str) -> Iterator[str]:
    try:
        entries = list(os.scandir(kb / folder))
    except OSError:
        return  # no translations, or none that can be listed: then an edition says what it lacks
    for entry in entries:
        path = f"{folder}/{entry.name}"
        if entry.name.startswith(_IGNORED) or entry.name.endswith("~"):
            continue
        if entry.is_dir(follow_symlinks=False) and path.count("/") < 3:
            yield from _listed(kb, path)
        else:
            yield path


def _read(kb: Path, path: str) -> TranslationFile:
    parts = path.split("/")
    kind = KIND_OF_FOLDER.get(parts[2]) if len(parts) == 4 else None
    if kind is None or not path.endswith(".yaml") or kind.name in STAYS_AS_IT_IS:
        return _stray(path, "not read: nothing that is translated lives here")
    place = kb / path
    if place.is_symlink() or not place.is_file():
        return _stray(path, "not read: it is a link, or no file")
    key = (kind.name, parts[3].removesuffix(".yaml"))
    try:
        with open(place, "rb") as stream:
            data, text_faults = parse(stream.read(MAX_BYTES + 1))
    except OSError as error:
        return _stray(path, f"cannot be read: {error.strerror or error}")
    if text_faults:
        faults = tuple(Fault(path, (), f.message, f.help, place=(f.line, f.column)) for f in text_faults)
        return TranslationFile(path, parts[1], key, None, faults)
    try:
        return TranslationFile(path, parts[1], key, TranslationText.model_validate(data))
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
        faults = tuple(
            Fault(
                path, detail["loc"], f"`{'.'.join(map(str, detail['loc']))}`: {detail['msg'].lower()}", _SHAPE
            )
            for detail in details
        )
        return TranslationFile(path, parts[1], key, None, faults)


_SHAPE: Final = "a translation has `state` and `texts`: a list of `from` and `to`"


def _stray(path: str, reason: str) -> TranslationFile:
    advice = f"translations are files `{FOLDER}/<language>/<folder>/<id>.yaml`"
    return TranslationFile(path, "", ("", ""), None, (Fault(path, (), reason, advice, place=(1, 1)),))


def open_texts(book: Book, files: Mapping[Key, TranslationFile], language: str) -> Iterator[OpenText]:
    """Yield every text of a book that has no translation, or one of words that have changed since."""
    for key, record in book.records():
        yield from open_in(record, files.get(key), key, translation_path(language, key))


def open_in(record: Record, file: TranslationFile | None, key: Key, path: str) -> Iterator[OpenText]:
    """Yield the open texts of one record, for the file that translates it, if there is one."""
    words = file.words if file is not None else {}
    texts = texts_to_translate(record)
    leftover = [text for text in words if text not in texts]
    for text in texts:
        if text not in words:
            near = get_close_matches(text, leftover, n=1, cutoff=_ALIKE)
            yield OpenText(key, path, text, near[0] if near else None)


def what_is_lost(pair: TextPair) -> str:
    """Return what stands in a text and not in its translation, or the other way round; nothing where they agree."""
    original, translated = _fixed(pair.from_), _fixed(pair.to)
    lost, added = original - translated, translated - original
    told = [f"`{item}` is missing" for item in sorted(lost)] + [f"`{item}` is new" for item in sorted(added)]
    return ", ".join(told)


def _fixed(text: str) -> Counter[str]:
    """Return what no translation may change: values, links, and figures that are written out."""
    found: Counter[str] = Counter()
    for piece in parse_inline(text):
        if isinstance(piece, ValueMention):
            found[f"{{{piece.name}}}"] += 1
        elif isinstance(piece, Link):
            found[f"{{{piece.kind}:{piece.id}}}"] += 1
        elif isinstance(piece, Words):
            found.update(_figures(piece.text))
    return found


def _figures(text: str) -> Iterator[str]:
    for word in text.split():
        figure = word.strip(".,;:()?!¿¡")
        if figure[:1].isdigit():
            yield figure
