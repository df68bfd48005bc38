"""The edition as an e-book: EPUB 3.3, with what its accessibility needs said in its metadata.

Written by ourselves: the file is a few fixed texts around the leaves, its bytes must be the same on every computer, and
the library for it stands under a licence that ours cannot take in.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from importlib import resources
from pathlib import Path
from typing import Final

from shearpin.book.plaintext import plain_text
from shearpin.publish.archive import write_archive
from shearpin.publish.issue import Issue
from shearpin.publish.leaves import Leaf, Part, leaf_of, parts_of, rendered
from shearpin.site.html import text
from shearpin.site.interface import localized
from shearpin.site.safety import DEFERENCE

_NAMESPACE: Final = uuid.UUID("6f1c1d6e-6a51-4b7e-9a9e-0c1d3f5a7b90")
_CONTAINER: Final = """<?xml version="1.0" encoding="UTF-8"?>
<container version="1.0" xmlns="urn:oasis:names:tc:opendocument:xmlns:container">
  <rootfiles><rootfile full-path="EPUB/package.opf" media-type="application/oebps-package+xml"/></rootfiles>
</container>
"""
_ACCESS: Final = (
    ("schema:accessMode", "textual"),
    ("schema:accessMode", "visual"),
    ("schema:accessModeSufficient", "textual"),
    ("schema:accessibilityFeature", "alternativeText"),
    ("schema:accessibilityFeature", "readingOrder"),
    ("schema:accessibilityFeature", "structuralNavigation"),
    ("schema:accessibilityFeature", "tableOfContents"),
    ("schema:accessibilityHazard", "none"),
    (
        "schema:accessibilitySummary",
        "All text can be read aloud; every drawing has alternative text; signal words never rest on colour alone.",
    ),
)
"""What EPUB Accessibility 1.1 asks to be said."""


def make_epub(issue: Issue, target: Path) -> None:
    """Write the edition as EPUB."""
    with open(target, "wb") as stream:
        write_archive(stream, _files(issue), issue.moment)


def _files(issue: Issue) -> Iterator[tuple[str, bytes]]:
    parts = tuple(parts_of(issue.packed))
    further = tuple(leaf_of(page) for page in issue.pages())
    leaves = (*further, *(leaf for part in parts for leaf in part.leaves))
    drawings = _drawings(issue)
    style = resources.files("shearpin.publish").joinpath("ebook.css").read_bytes()
    yield "mimetype", b"application/epub+zip"  # first, and stored: that is how readers know the file
    yield "META-INF/container.xml", _CONTAINER.encode()
    yield "EPUB/package.opf", _package(issue, leaves, tuple(drawings)).encode()
    yield "EPUB/nav.xhtml", _navigation(issue, parts, further).encode()
    yield "EPUB/style.css", style
    yield "EPUB/text/title.xhtml", _title_page(issue).encode()
    known = {leaf.url: f"{leaf.anchor}.xhtml" for leaf in leaves}
    for leaf in leaves:
        body = rendered(leaf, known.get, lambda url: f"../figures/{url.rpartition('/')[2]}")
        yield f"EPUB/text/{leaf.anchor}.xhtml", _xhtml(issue, leaf.title, body, "../style.css").encode()
    for name, drawing in drawings.items():
        yield f"EPUB/figures/{name}", drawing


def _drawings(issue: Issue) -> dict[str, bytes]:
    folder = issue.packed.book.kb / "figures"
    files = {f"{figure}.svg": folder / f"{figure}.svg" for figure in issue.packed.book.figures}
    return {name: path.read_bytes() for name, path in files.items() if path.is_file()}


def _xhtml(issue: Issue, title: str, body: str, style: str) -> str:
    language = issue.edition.language
    draft = (
        '<p class="draft"><b>Draft edition.</b> Not all of it has been reviewed.</p>' if issue.draft else ""
    )
    page = (
        '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE html>\n'
        f'<html xmlns="http://www.w3.org/1999/xhtml" xmlns:epub="http://www.idpf.org/2007/ops" lang="{language}" xml:lang="{language}">'
        f'<head><meta charset="utf-8"/><title>{text(title)}</title><link rel="stylesheet" type="text/css" href="{style}"/></head>'
        f"<body>{draft}{body}</body></html>\n"
    )
    return localized(page, issue.packed.book)


def _title_page(issue: Issue) -> str:
    edition = issue.edition
    cover = "".join(f"<p>{text(plain_text(issue.packed, line))}</p>" for line in edition.cover)
    notice = "".join(f"<p>{text(plain_text(issue.packed, line))}</p>" for line in edition.notice)
    credit = f"<p>Credit it as: {text(edition.attribution)}</p>" if edition.attribution else ""
    body = (
        f"<h1>{text(edition.title)}</h1>{cover}<p>Edition {text(edition.number)}, issued by {text(edition.issuer)} on {edition.date}.</p>"
        f"<p>Licence: {text(edition.licence)}</p>{credit}<h2>Safety notice</h2><p>{text(DEFERENCE)}</p>{notice}"
    )
    return _xhtml(issue, edition.title, body, "../style.css")


def _navigation(issue: Issue, parts: tuple[Part, ...], further: tuple[Leaf, ...]) -> str:
    rows = [f'<li><a href="text/title.xhtml">{text(issue.edition.title)}</a></li>']
    rows += [f'<li><a href="text/{leaf.anchor}.xhtml">{text(leaf.title)}</a></li>' for leaf in further]
    for part in parts:
        inner = "".join(
            f'<li><a href="text/{leaf.anchor}.xhtml">{text(leaf.title)}</a></li>' for leaf in part.leaves
        )
        rows.append(f"<li><span>{text(part.title)}</span><ol>{inner}</ol></li>")
    body = f'<nav epub:type="toc" role="doc-toc" aria-label="Contents"><h1>Contents</h1><ol>{"".join(rows)}</ol></nav>'
    return _xhtml(issue, "Contents", body, "style.css")


def _package(issue: Issue, leaves: tuple[Leaf, ...], drawings: tuple[str, ...]) -> str:
    edition = issue.edition
    identifier = uuid.uuid5(_NAMESPACE, f"{issue.name} {edition.date} {edition.issuer}")
    rights = f"{edition.licence}. {edition.attribution or ''}".strip()
    metadata = [
        f'<dc:identifier id="id">urn:uuid:{identifier}</dc:identifier>',
        f"<dc:title>{text(edition.title)}</dc:title>",
        f"<dc:language>{edition.language}</dc:language>",
        f"<dc:creator>{text(edition.issuer)}</dc:creator>",
        f"<dc:publisher>{text(edition.issuer)}</dc:publisher>",
        f"<dc:date>{edition.date}</dc:date>",
        f"<dc:rights>{text(rights)}</dc:rights>",
        f'<meta property="dcterms:modified">{issue.moment:%Y-%m-%dT%H:%M:%SZ}</meta>',
        *(f'<meta property="{name}">{text(value)}</meta>' for name, value in _ACCESS),
    ]
    with_svg = {leaf.anchor for leaf in leaves if "<svg" in leaf.body}
    texts = [("title", "text/title.xhtml"), *((leaf.anchor, f"text/{leaf.anchor}.xhtml") for leaf in leaves)]
    manifest = [
        '<item id="nav" href="nav.xhtml" media-type="application/xhtml+xml" properties="nav"/>',
        '<item id="style" href="style.css" media-type="text/css"/>',
        *(_text_item(name, href, name in with_svg) for name, href in texts),
        *(f'<item id="drawing-{n}" href="figures/{name}" media-type="image/svg+xml"/>' for n, name in enumerate(drawings)),
    ]  # fmt: skip
    spine = [f'<itemref idref="text-{name}"/>' for name, _ in texts]
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<package xmlns="http://www.idpf.org/2007/opf" version="3.0" unique-identifier="id" xml:lang="{edition.language}">'
        f'<metadata xmlns:dc="http://purl.org/dc/elements/1.1/">{"".join(metadata)}</metadata>'
        f'<manifest>{"".join(manifest)}</manifest><spine><itemref idref="text-title"/><itemref idref="nav"/>{"".join(spine[1:])}</spine></package>\n'
    )


def _text_item(name: str, href: str, holds_svg: bool) -> str:
    properties = ' properties="svg"' if holds_svg else ""
    return f'<item id="text-{name}" href="{href}" media-type="application/xhtml+xml"{properties}/>'
