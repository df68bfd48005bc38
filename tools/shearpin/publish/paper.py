"""The printed edition: one document for WeasyPrint, tagged, with bookmarks, contents and page numbers of links."""

from __future__ import annotations

from importlib import resources
from importlib.util import find_spec
from pathlib import Path

from shearpin.book.plaintext import plain_text
from shearpin.publish.faults import PublishError
from shearpin.publish.issue import Issue
from shearpin.publish.leaves import Leaf, Part, leaf_of, parts_of, rendered, targets_of
from shearpin.site.html import facts, text
from shearpin.site.interface import localized, signal_word, word
from shearpin.site.safety import DEFERENCE

_REPEATING = frozenset({"procedure", "test", "symptom"})


def make_pdf(issue: Issue, target: Path) -> None:
    """Write the edition as PDF; raises `PublishError` where WeasyPrint, or a library it rests on, is missing."""
    if find_spec("weasyprint") is None:
        raise PublishError(
            "a PDF needs WeasyPrint: `pip install weasyprint` in Shearpin's environment, then publish again"
        )
    try:
        from weasyprint import HTML
    except OSError as error:
        raise PublishError(
            f"WeasyPrint lacks a library that sets type ({error}). On Debian, as root: "
            "apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
        ) from error
    figures = issue.packed.book.kb / "figures"
    document = HTML(string=paper_document(issue), base_url=figures.resolve().as_uri() + "/")
    identifier = issue.name.encode("utf-8")
    document.write_pdf(target, pdf_tags=True, pdf_variant="pdf/ua-1", pdf_identifier=identifier)


def paper_document(issue: Issue) -> str:
    """Return the whole edition as one HTML document."""
    parts = tuple(parts_of(issue.packed))
    further = tuple(leaf_of(page) for page in issue.pages())
    targets = targets_of(parts, *further)

    def link(url: str) -> str | None:
        return f"#{targets[url]}" if url in targets else None

    def image(url: str) -> str:
        return url.rpartition("/")[2]

    body = [_cover(issue), _contents(parts, further)]
    body += [_leaf(issue, leaf, rendered(leaf, link, image)) for leaf in further]
    for part in parts:
        leaves = "".join(_leaf(issue, leaf, rendered(leaf, link, image)) for leaf in part.leaves)
        body.append(
            f'<section class="part" data-part="{part.kind}"><h1 class="part-title" id="part-{part.kind}">{text(part.title)}</h1>'
            f"{_listed(part) if part.kind in _REPEATING else ''}{leaves}</section>"
        )
    style = resources.files("shearpin.publish").joinpath("paper.css").read_text(encoding="utf-8")
    edition = issue.edition
    whole = (
        f'<!doctype html><html lang="{edition.language}"><head><meta charset="utf-8"><title>{text(edition.title)}</title>'
        f'<meta name="author" content="{text(edition.issuer)}">'
        f'<meta name="dcterms.created" content="{edition.date}"><meta name="dcterms.modified" content="{edition.date}">'
        f"<style>{style}{_running(issue)}</style></head><body>{''.join(body)}</body></html>"
    )
    return localized(whole, issue.packed.book)


def _running(issue: Issue) -> str:
    """Return what stands on each sheet: which edition this is, and whether it is a draft."""
    edition = issue.edition
    name = _css_string(f"{edition.title}, edition {edition.number}, {edition.date}")
    draft = word(issue.packed.book, "DRAFT: not all of it has been reviewed") if issue.draft else ""
    return f"@page {{ @bottom-left {{ content: {name} }} @top-right {{ content: {_css_string(draft)} }} }}"


def _css_string(words: str) -> str:
    safe = "".join(c if c.isalnum() or c in " .,:;()-" else f"\\{ord(c):06x}" for c in words)
    return f'"{safe}"'


def _cover(issue: Issue) -> str:
    edition = issue.edition
    draft = '<p class="draft"><b>Draft.</b> Not all of it has been reviewed.</p>' if issue.draft else ""
    cover = "".join(f"<p>{text(plain_text(issue.packed, line))}</p>" for line in edition.cover)
    notice = "".join(f"<p>{text(plain_text(issue.packed, line))}</p>" for line in edition.notice)
    pairs = facts(
        [
            ("Number", text(edition.number)),
            ("Date", text(edition.date)),
            ("Issued by", text(edition.issuer)),
            ("Licence", text(edition.licence)),
            ("Credit it as", text(edition.attribution or "")),
        ]
    )
    return (
        f'<section class="cover"><h1 class="book-title">{text(edition.title)}</h1>{draft}{cover}{pairs}</section>'
        f'<section class="notice"><h1 id="notice">Safety notice</h1><p>{text(DEFERENCE)}</p>{notice}</section>'
    )


def _contents(parts: tuple[Part, ...], further: tuple[Leaf, ...]) -> str:
    rows = ['<li class="of-part"><a href="#notice">Safety notice</a></li>']
    rows += [f'<li class="of-part"><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in further]
    for part in parts:
        rows.append(f'<li class="of-part"><a href="#part-{part.kind}">{text(part.title)}</a></li>')
        rows += [f'<li><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in part.leaves]
    return f'<nav class="contents"><h1>Contents</h1><ul>{"".join(rows)}</ul></nav>'


def _listed(part: Part) -> str:
    """Return what a part of working sheets holds; each of them begins a sheet of its own."""
    rows = "".join(f'<li><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in part.leaves)
    return f'<ul class="listed">{rows}</ul>'


def _leaf(issue: Issue, leaf: Leaf, body: str) -> str:
    """Return a leaf; work from which people can be hurt carries its warnings at the head of every sheet.

    They stand in the head of a table, which is what print repeats when it breaks a page.
    """
    required = issue.packed.safety.required(leaf.kind, leaf.id) if leaf.kind in _REPEATING else ()
    if not required:
        return f'<section class="leaf" id="{leaf.anchor}">{body}</section>'
    words: dict[str, list[str]] = {}
    for item in required:
        words.setdefault(signal_word(issue.packed.book, item.signal_word), []).append(
            issue.packed.book.title("caution", item.id)
        )
    repeated = "".join(
        f'<p><b class="word" data-word="{word}">{word}</b> {text("; ".join(titles))}</p>'
        for word, titles in words.items()
    )
    return (
        f'<table class="leaf" id="{leaf.anchor}"><thead><tr><th scope="col" class="repeated" data-repeated="{leaf.anchor}">'
        f'<p class="of">{text(leaf.title)}</p>{repeated}</th></tr></thead><tbody><tr><td>{body}</td></tr></tbody></table>'
    )
