"""The plain files at the top of a published folder: where to begin, how to verify, the licence."""

from __future__ import annotations

from collections.abc import Iterable

from shearpin.model.editions import Edition
from shearpin.site.html import text

VERIFY_FILE = "HOW-TO-VERIFY.txt"
LICENCE_FILE = "LICENCE.txt"
START_FILE = "START-HERE.html"

_HOW = """\
How to verify this edition
==========================

{title}
Edition {number}, issued by {issuer} on {date}.

Every file below `data` must be as it was published: {files} files, none more, none less.

With Shearpin:

    shearpin verify FOLDER

Without it, with what the computer has. Each way prints nothing but OK, or nothing
at all, when all is well. Open a terminal in the folder that holds this file.

Linux

    sha256sum --check --quiet tagmanifest-sha256.txt manifest-sha256.txt
    find data -type f | wc -l

macOS

    cat tagmanifest-sha256.txt manifest-sha256.txt | shasum -a 256 --check | grep -v ': OK$'
    find data -type f | wc -l

Windows 8.1 and later (PowerShell 4 and later; copy the lines together)

    Get-Content -Encoding UTF8 tagmanifest-sha256.txt, manifest-sha256.txt | ForEach-Object {{
      $sum, $name = $_ -split '  ', 2
      if (-not (Test-Path -LiteralPath $name)) {{ "MISSING  $name" }}
      elseif ((Get-FileHash -Algorithm SHA256 -LiteralPath $name).Hash -ne $sum) {{ "CHANGED  $name" }}
    }}
    (Get-ChildItem data -Recurse -File -Force | Measure-Object).Count

The last line of each way counts the files below `data`; it must say {files}.

One file alone, on Windows 7 and later (Command Prompt); compare with the line of
that file in manifest-sha256.txt:

    certutil -hashfile data\\index.html SHA256

Whether it is the edition that its issuer published, and not another one that is
whole in itself, only the fingerprint tells. It is the SHA-256 of the file
tagmanifest-sha512.txt. `shearpin publish` and `shearpin verify` print it; ask the
issuer for it by another way than this folder came:

    sha256sum tagmanifest-sha512.txt               (Linux)
    shasum -a 256 tagmanifest-sha512.txt           (macOS)
    certutil -hashfile tagmanifest-sha512.txt SHA256    (Windows)

If anything differs, do not work from this copy. Ask the issuer for a new one.
"""

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
    """Return the text of `HOW-TO-VERIFY.txt`, with the line ends that every editor of Windows knows."""
    words = _HOW.format(
        title=edition.title, number=edition.number, issuer=edition.issuer, date=edition.date, files=files
    )
    return _for_every_editor(words)


def licence(edition: Edition, notice: Iterable[str], deference: str) -> bytes:
    """Return the text of `LICENCE.txt`: terms, credit, and the safety notice as plain text.

    `deference` says in the language of the edition what comes before it.
    """
    state = "DRAFT: not all of it has been reviewed.\n\n" if edition.state == "draft" else ""
    credit = edition.attribution or f"{edition.title}, edition {edition.number}, {edition.issuer}"
    paragraphs = "\n\n".join((deference, *notice))
    return _for_every_editor(
        f"{edition.title}\nEdition {edition.number}, {edition.date}\n\n{state}Licence: {edition.licence}\n"
        f"Issued by: {edition.issuer}\nCredit it as: {credit}\n\nSafety\n------\n\n{paragraphs}\n"
    )


def start_page(edition: Edition) -> bytes:
    """Return the page at the top that leads to the manual."""
    return _START.format(language=edition.language, title=text(edition.title)).encode("utf-8")


def _for_every_editor(words: str) -> bytes:
    return words.replace("\n", "\r\n").encode("utf-8")
