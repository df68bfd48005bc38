"""A packed book in another language: what is translated replaces the original, the rest is noted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from shearpin.book.book import Key
from shearpin.book.linked import LinkedBook
from shearpin.book.translations import OpenText, TranslationFile, open_texts
from shearpin.model.knowledge import Caution, Symptom
from shearpin.model.translation import STAYS_AS_IT_IS, rewritten


@dataclass(frozen=True, slots=True)
class Translated:
    """A book with its translated text, what is still open, and the files that no mechanic has reviewed."""

    linked: LinkedBook
    open: tuple[OpenText, ...]
    drafts: tuple[str, ...]

    @property
    def unsafe(self) -> tuple[OpenText, ...]:
        """Return the open texts of safety messages: an edition must not show these in another language than its own."""
        return tuple(item for item in self.open if _warns(self.linked, item))


def _warns(linked: LinkedBook, item: OpenText) -> bool:
    record = linked.book.get(*item.key)
    return isinstance(record, Caution) or (
        isinstance(record, Symptom) and record.take_out_of_use == item.text
    )


def translated(linked: LinkedBook, language: str) -> Translated:
    """Return a packed book in `language`; reviews of the originals go with it, for they are tied to their words."""
    files = {file.key: file for file in linked.translations if file.language == language}
    book = linked.book
    remaining = tuple(open_texts(book, files, language))
    records = tuple(
        replace(file, record=rewritten(file.record, _words_of((file.kind.name, file.id), files)))
        if file.record is not None and file.kind.name not in STAYS_AS_IT_IS
        else file
        for file in book.files
    )
    outside = {key: _words_of(key, files)(title) for key, title in book.outside.items()}
    left = {key: title for key, title in book.outside.items() if outside[key] == title}
    untranslated = frozenset(item.text for item in remaining) | frozenset(left.values())
    changed = replace(
        book,
        files=records,
        outside=MappingProxyType(outside),
        language=language,
        untranslated=untranslated - _words_in_use(files.values()),
        facts={},
    )
    result = LinkedBook(changed)
    vars(result)["reviews"] = linked.reviews
    held = {(file.kind.name, file.id) for file in book.files}
    drafts = (f.path for key, f in files.items() if key in held and f.content and f.content.state == "draft")
    return Translated(result, remaining, tuple(drafts))


def _words_of(key: Key, files: Mapping[Key, TranslationFile]) -> Callable[[str], str]:
    words = files[key].words if key in files else {}
    return lambda text: words.get(text, text)


def _words_in_use(files: Iterable[TranslationFile]) -> frozenset[str]:
    return frozenset(text for file in files for text in file.words.values())
