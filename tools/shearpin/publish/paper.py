"""The printed edition as documents for WeasyPrint, one for each volume: contents, cautions on each sheet, room for page numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Final

from shearpin.book.plaintext import plain_text
from shearpin.publish.issue import Issue
from shearpin.publish.leaves import Leaf, Part, leaf_of, parts_of, rendered, targets_of
from shearpin.publish.volumes import Volume, volumes_of
from shearpin.site.html import facts, text
from shearpin.site.interface import localized, phrase, signal_word, word
from shearpin.site.safety import DEFERENCE

_REPEATING = frozenset({"procedure", "test", "symptom"})
_NAMED_CAUTION: Final = re.compile(r'<b data-name="([^"]*)">.*?</b>', re.DOTALL)
"""A safety message repeated at its step. It stands in full above the work, so that its name is enough on paper."""

_LINK: Final = re.compile(r'<a((?: [^>]*?)?) href="#([^"]+)"([^>]*)>(.*?)</a>', re.DOTALL)

ROOM: Final = "\u2007" * 3
"""Stands where a page number will: as wide as three digits, and never broken at the end of a line."""


@dataclass(frozen=True, slots=True)
class Paper:
    """One volume as a document, and the names in it that links lead to; those `repeated` have their place in another one.

    What shows the page of another place has the name of that place as `data-place`, and `ROOM` where the number will be.
    """

    volume: int
    markup: str
    anchors: tuple[str, ...]
    repeated: frozenset[str]


def papers_of(issue: Issue) -> tuple[Paper, ...]:
    """Return the edition as one document for each volume."""
    parts = tuple(parts_of(issue.packed))
    further = tuple(leaf_of(page) for page in issue.pages())
    volumes = volumes_of(issue.packed, parts)
    targets = targets_of(parts, *further)
    names = [frozenset(_anchors(volume, volumes, further)) for volume in volumes]
    homes = {
        anchor: volume.number
        for volume, own in zip(volumes, names, strict=True)
        for anchor in own - volume.repeated
    }
    return tuple(
        _paper(issue, volume, volumes, further, targets, {**homes, **dict.fromkeys(own, volume.number)})
        for volume, own in zip(volumes, names, strict=True)
    )


def _placed(issue: Issue, markup: str, here: int, homes: Mapping[str, int]) -> str:
    """Return markup whose links have room for their page; a link into another volume becomes words that name it."""
    book = issue.packed.book

    def linked(match: re.Match[str]) -> str:
        before, anchor, after, words = match.groups()
        volume = homes.get(anchor)
        if volume is None:
            return match[0]
        if volume == here:
            where = phrase(book, "(p.\u00a0{0})", ROOM)
            return f'<a{before} href="#{anchor}"{after} data-place="{anchor}" data-page="{ROOM}" data-where="{where}">{words}</a>'
        where = phrase(book, "(volume {0}, p.\u00a0{1})", volume, ROOM)
        return f'<span{before}{after} data-place="{anchor}" data-page="{volume} / {ROOM}" data-where="{where}">{words}</span>'

    return _LINK.sub(linked, markup)


def _paper(
    issue: Issue,
    volume: Volume,
    volumes: tuple[Volume, ...],
    further: tuple[Leaf, ...],
    targets: Mapping[str, str],
    homes: Mapping[str, int],
) -> Paper:
    def link(url: str) -> str | None:
        return f"#{targets[url]}" if url in targets else None

    def image(url: str) -> str:
        return url.rpartition("/")[2]

    edition = issue.edition
    anchors = tuple(_anchors(volume, volumes, further))
    further = further if volume.number == 1 else ()
    body = [_cover(issue, volume, volumes), _contents(issue, volume, volumes, further)]
    body += [_leaf(issue, leaf, rendered(leaf, link, image)) for leaf in further]
    for part in volume.parts:
        leaves = "".join(_leaf(issue, leaf, rendered(leaf, link, image)) for leaf in part.leaves)
        body.append(
            f'<section class="part" data-part="{part.kind}"><h1 class="part-title" id="{_part(volume, part)}">{text(part.title)}</h1>'
            f"{_listed(part) if part.kind in _REPEATING else ''}{leaves}</section>"
        )
    if volume is volumes[-1] and len(volumes) > 1:
        body.append(_index(volume, volumes))
    style = resources.files("shearpin.publish").joinpath("paper.css").read_text(encoding="utf-8")
    title = edition.title if len(volumes) == 1 else f"{edition.title}, {_named(issue, volume)}"
    whole = (
        f'<!doctype html><html lang="{edition.language}"><head><meta charset="utf-8"><title>{text(title)}</title>'
        f'<meta name="author" content="{text(edition.issuer)}">'
        f'<meta name="dcterms.created" content="{edition.date}"><meta name="dcterms.modified" content="{edition.date}">'
        f"<style>{style}{_running(issue, volume, volumes)}</style></head><body>{''.join(body)}</body></html>"
    )
    markup = _placed(issue, localized(whole, issue.packed.book), volume.number, homes)
    return Paper(volume.number, markup, anchors, volume.repeated)


def _anchors(volume: Volume, volumes: tuple[Volume, ...], further: tuple[Leaf, ...]) -> Iterator[str]:
    """Yield the names in a volume that links lead to; `further` leaves stand in the first one."""
    further = further if volume.number == 1 else ()
    yield f"notice-{volume.number}"
    yield from (leaf.anchor for leaf in (*further, *volume.leaves()))
    yield from (_part(volume, part) for part in volume.parts)
    if volume is volumes[-1] and len(volumes) > 1:
        yield "index"


def _part(volume: Volume, part: Part) -> str:
    return f"part-{volume.number}-{part.kind}"


def _named(issue: Issue, volume: Volume) -> str:
    return phrase(issue.packed.book, "volume {0}", volume.number)


def _running(issue: Issue, volume: Volume, volumes: tuple[Volume, ...]) -> str:
    """Return what stands on each sheet: which edition this is, its page, and whether it is a draft."""
    edition, book = issue.edition, issue.packed.book
    name = phrase(book, "{0}, edition {1}, {2}", edition.title, edition.number, edition.date)
    if len(volumes) > 1:
        name += f", {_named(issue, volume)}"
    draft = word(book, "DRAFT: not all of it has been reviewed") if issue.draft else ""
    before, _, between = phrase(book, "Page {0} of {1}", "\0", "").partition("\0")
    page = f"{css_string(before)} counter(page) {css_string(between + ROOM)}"
    return (
        f"@page {{ @bottom-left {{ content: {css_string(name)} }} @bottom-right {{ content: {page} }} "
        f"@top-right {{ content: {css_string(draft)} }} }}"
    )


def css_string(words: str) -> str:
    """Return words as a string of a stylesheet; every sign that could end it is written by its number, and a blank ends that."""
    safe = "".join(c if c.isalnum() or c in " .,:;()-" else f"\\{ord(c):06x} " for c in words)
    return f'"{safe}"'


def _cover(issue: Issue, volume: Volume, volumes: tuple[Volume, ...]) -> str:
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
    which = ""
    if len(volumes) > 1:
        told = phrase(issue.packed.book, "Volume {0} of {1}", volume.number, len(volumes))
        which = f'<p class="which-volume"><b>{text(told)}</b></p>{_about(volume)}'
    return (
        f'<section class="cover"><h1 class="book-title">{text(edition.title)}</h1>{which}{draft}{cover}{pairs}</section>'
        f'<section class="notice"><h1 id="notice-{volume.number}">Safety notice</h1><p>{text(DEFERENCE)}</p>{notice}</section>'
    )


def _about(volume: Volume) -> str:
    """Return what a volume is about; what belongs to no one system is named by its kinds."""
    names = volume.systems or tuple(part.title for part in volume.parts)
    return f'<ul class="about-volume">{"".join(f"<li>{text(name)}</li>" for name in names)}</ul>'


def _contents(issue: Issue, volume: Volume, volumes: tuple[Volume, ...], further: tuple[Leaf, ...]) -> str:
    rows = [f'<li class="of-part"><a href="#notice-{volume.number}">Safety notice</a></li>']
    rows += [f'<li class="of-part"><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in further]
    for part in volume.parts:
        rows.append(f'<li class="of-part"><a href="#{_part(volume, part)}">{text(part.title)}</a></li>')
        rows += [f'<li><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in part.leaves]
    if len(volumes) == 1:
        return f'<nav class="contents"><h1>Contents</h1><ul>{"".join(rows)}</ul></nav>'
    if volume is volumes[-1]:
        rows.append('<li class="of-part"><a href="#index">Index of all volumes</a></li>')
    others = "".join(
        f"<div><dt>{text(phrase(issue.packed.book, 'Volume {0}', other.number))}</dt><dd>{_about(other)}</dd></div>"
        for other in volumes
    )
    return (
        f'<nav class="contents"><h1>Contents</h1><ul>{"".join(rows)}</ul></nav>'
        f'<section class="volumes"><h1>The volumes of this edition</h1><dl>{others}</dl></section>'
    )


def _index(volume: Volume, volumes: tuple[Volume, ...]) -> str:
    """Return every title of the edition with its volume and page."""
    leaves = sorted(
        (leaf for each in volumes for leaf in each.leaves() if leaf.anchor not in each.repeated),
        key=lambda leaf: (leaf.title.casefold(), leaf.anchor),
    )
    rows = "".join(f'<li><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in leaves)
    return (
        '<section class="part index"><h1 class="part-title" id="index">Index of all volumes</h1>'
        f"<p>The first number is that of the volume, the second that of the page. Without a first number: in this volume.</p><ul>{rows}</ul></section>"
    )


def _listed(part: Part) -> str:
    """Return what a part of working sheets holds; each of them begins a sheet of its own."""
    rows = "".join(f'<li><a href="#{leaf.anchor}">{text(leaf.title)}</a></li>' for leaf in part.leaves)
    return f'<ul class="listed">{rows}</ul>'


def _leaf(issue: Issue, leaf: Leaf, body: str) -> str:
    """Return a leaf; work from which people can be hurt carries its warnings at the head of every sheet.

    They stand in the head of a table, which is what print repeats when it breaks a page.
    """
    body = _NAMED_CAUTION.sub(r"<b>\1</b>", body)
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
