"""Pages at addresses that records had before: each leads to the record's page of today, with or without scripts."""

from __future__ import annotations

from collections.abc import Iterator

from shearpin.book.former import former_ids
from shearpin.book.linked import LinkedBook
from shearpin.site.html import text
from shearpin.site.view import address

_POLICY = "default-src 'none'; script-src 'self'; connect-src 'none'; base-uri 'none'; form-action 'none'"


def forwarding_pages(linked: LinkedBook) -> Iterator[tuple[str, str]]:
    """Yield address and whole text of a page for each former id.

    The script takes the chosen machine along, which stands in the address; a refresh without scripts cannot.
    """
    for (kind, old), record_id in sorted(former_ids(linked.book).items()):
        record = linked.book.get(kind, record_id)
        title = text(record.title if record is not None else record_id)
        target = f"{record_id}.html"
        yield (
            address(kind, old),
            f"""<!doctype html>
<html lang="en" data-root="../">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="{_POLICY}">
<meta name="robots" content="noindex">
<noscript><meta http-equiv="refresh" content="0; url={target}"></noscript>
<link rel="canonical" href="{target}">
<title>{title}</title>
</head>
<body>
<p>This page has another address now: <a data-forward data-ref="{kind}:{record_id}" href="{target}">{title}</a></p>
<script src="../look/forward.js"></script>
</body>
</html>
""",
        )
