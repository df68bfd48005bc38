"""The plain files at the top of a published folder: where to begin, how to verify, the licence."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import resources

from shearpin.book.book import Book
from shearpin.model.editions import Edition
from shearpin.site.html import text
from shearpin.site.interface import phrase, word
from shearpin.site.safety import DEFERENCE

VERIFY_FILE = "HOW-TO-VERIFY.txt"
LICENCE_FILE = "LICENCE.txt"
START_FILE = "START-HERE.html"
_DRAFT = "DRAFT: not all of it has been reviewed"

_START = """\
<!doctype html>
<html lang="{language}">
  <head>
    <meta charset="utf-8">
    <meta http-equiv="refresh" content="0; url=data/index.html">
    <title>{title}</title>
  </head>
  <body>
    <p><a href="data/index.html">{title}</a></p>
  </body>
</html>
"""


def how_to_verify(edition: Edition, files: int) -> bytes:
    """Return the text of `HOW-TO-VERIFY.txt`, with the line ends that every editor of Windows knows.

    It is in the language of the edition where the program has it, else in English.
    """
    folder = resources.files("shearpin.publish")
    own = folder.joinpath(f"how-to-verify.{edition.language.partition('-')[0]}.txt")
    text_file = own if own.is_file() else folder.joinpath("how-to-verify.txt")
    words = text_file.read_text(encoding="utf-8").format(
        title=edition.title, number=edition.number, issuer=edition.issuer, date=edition.date, files=files
    )
    return _for_every_editor(words)


def licence(edition: Edition, notice: Iterable[str], book: Book) -> bytes:
    """Return the text of `LICENCE.txt` in the language of the book: terms, credit, and the safety notice as plain text."""
    state = f"{word(book, _DRAFT)}.\n\n" if edition.state == "draft" else ""
    credit = edition.attribution or phrase(
        book, "{0}, edition {1}, {2}", edition.title, edition.number, edition.issuer
    )
    paragraphs = "\n\n".join((word(book, DEFERENCE), *notice))
    safety = word(book, "Safety")
    return _for_every_editor(
        f"{edition.title}\n{word(book, 'Edition')} {edition.number}, {edition.date}\n\n{state}"
        f"{word(book, 'Licence')}: {edition.licence}\n{word(book, 'Issued by')}: {edition.issuer}\n"
        f"{word(book, 'Credit it as')}: {credit}\n\n{safety}\n{'-' * len(safety)}\n\n{paragraphs}\n"
    )


def start_page(edition: Edition) -> bytes:
    """Return the page at the top that leads to the manual."""
    return _START.format(language=edition.language, title=text(edition.title)).encode("utf-8")


def _for_every_editor(words: str) -> bytes:
    return words.replace("\n", "\r\n").encode("utf-8")
