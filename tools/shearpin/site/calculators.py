"""The page of bench calculators: forms from the registry of calculations, worked by a script from the same tables."""

from __future__ import annotations

from shearpin.site.view import View


def page(view: View) -> str:
    """Return the page of bench calculators."""
    return '<article data-kind="page" data-id="calculators"><h1>Bench calculators</h1></article>'
