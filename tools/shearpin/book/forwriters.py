"""Which hand-written pages are for those who write or publish the book: a course pack does without them."""

from __future__ import annotations

from typing import Final

_GUIDES: Final = frozenset(
    {
        "commands.md",
        "guide-for-the-school.md",
        "guide-for-the-writer.md",
        "serving-a-network.md",
        "writing-records.md",
    }
)
"""Those of the program's own guides."""

_MARK: Final = "<!-- for writers -->"
"""First line of such a page in the book itself."""


def is_for_writers(name: str, markdown: str) -> bool:
    """Whether a page is of use only to those who write or publish the book; `name` is its path below the folder of pages."""
    return name in _GUIDES or markdown.startswith(_MARK)
