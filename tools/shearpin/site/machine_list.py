"""The machines to choose from, in a script that all pages share: each page with a list of its own would grow with the book."""

from __future__ import annotations

from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.site.packed import script

DATA_FILE: Final = "machines-data.js"


def data_script(linked: LinkedBook) -> str:
    """Return the script that hands `machine.js` the id and title of each machine, by title."""
    titles = {machine_id: linked.book.title("machine", machine_id) for machine_id in linked.book.machines}
    listed = sorted(titles.items(), key=lambda item: (item[1], item[0]))
    return script("shearpinMachines", listed)
