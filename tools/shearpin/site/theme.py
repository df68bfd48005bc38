"""What the theme's templates may know of the book: machines to choose from, the edition, the word of caution."""

from __future__ import annotations

from shearpin.book.linked import LinkedBook
from shearpin.site.safety import DEFERENCE


def book_facts(linked: LinkedBook, *, serving: bool) -> dict[str, object]:
    """Return plain data for templates; `serving` allows the preview's reload connection."""
    machines = sorted(linked.book.machines.items(), key=lambda item: (item[1].title, item[0]))
    edition = next(iter(linked.book.editions.values()), None)
    return {
        "machines": [{"id": machine_id, "title": machine.title} for machine_id, machine in machines],
        "edition": None
        if edition is None
        else {
            "id": next(iter(linked.book.editions)),
            "title": edition.title,
            "number": edition.number,
            "issuer": edition.issuer,
            "date": edition.date,
            "licence": edition.licence,
            "state": edition.state,
        },
        "deference": DEFERENCE,
        "serving": serving,
    }
