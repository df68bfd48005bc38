"""Building HTML from text: everything is escaped here, so no record text becomes markup."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from html import escape
from typing import Final

text: Final[Callable[[str], str]] = escape
"""Escapes text for an element or a quoted attribute."""


def paragraph(content: str, css: str = "") -> str:
    """Wrap ready markup in a paragraph; nothing for nothing."""
    if not content:
        return ""
    return f'<p class="{css}">{content}</p>' if css else f"<p>{content}</p>"


def bullets(items: Iterable[str], css: str = "") -> str:
    """Return a list of ready markup; nothing for no items."""
    rows = list(items)
    if not rows:
        return ""
    begin = f'<ul class="{css}">' if css else "<ul>"
    return f"{begin}<li>{'</li><li>'.join(rows)}</li></ul>"


def section(heading: str, content: str, identifier: str, css: str = "") -> str:
    """Return a section with its heading, or nothing when there is no content."""
    if not content:
        return ""
    extra = f' class="{css}"' if css else ""
    return f'<section id="{identifier}"{extra}><h2>{text(heading)}</h2>{content}</section>'


def table(head: Iterable[str], rows: Iterable[str], css: str = "", caption: str = "") -> str:
    """Return a table of ready rows (`<tr>…</tr>`) that scrolls by itself on narrow screens."""
    heads = "".join(f'<th scope="col">{text(name)}</th>' for name in head)
    return table_with_head(heads, rows, css, caption)


def table_with_head(heads: str, rows: Iterable[str], css: str = "", caption: str = "") -> str:
    """Return a table whose head cells are ready markup too; nothing for no rows."""
    body = "".join(rows)
    return table_of_groups(heads, [body], css, caption) if body else ""


def table_of_groups(heads: str, groups: Iterable[str], css: str = "", caption: str = "") -> str:
    """Return a table with one body for each group of ready rows; nothing for no groups."""
    body = "</tbody><tbody>".join(groups)
    if not body:
        return ""
    title = f"<caption>{text(caption)}</caption>" if caption else ""
    return (
        f'<div class="table-scroll" tabindex="0" role="group" aria-label="{text(caption or "Table")}">'
        f'<table class="{css}">{title}<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table></div>'
    )


def cell_name(name: str) -> str:
    """Return what a cell is called where narrow screens show it without the head of its table."""
    return f'<b class="cell-name" aria-hidden="true">{text(name)} </b>'


def scrolling(content: str, label: str) -> str:
    """Return text of a file, its lines kept, which scrolls by itself on narrow screens."""
    return (
        f'<div class="table-scroll" tabindex="0" role="group" aria-label="{text(label)}">'
        f"<pre><code>{text(content)}</code></pre></div>"
    )


def facts(pairs: Iterable[tuple[str, str]]) -> str:
    """Return a list of names and ready markup, without the empty ones."""
    rows = "".join(f"<div><dt>{text(name)}</dt><dd>{value}</dd></div>" for name, value in pairs if value)
    return f'<dl class="facts">{rows}</dl>' if rows else ""
