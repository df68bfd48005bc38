"""Writes everything of a site that comes from records: pages, drawings, search shards."""

from __future__ import annotations

import os
from pathlib import Path

from shearpin.book.linked import LinkedBook
from shearpin.diagnosis.history import History
from shearpin.model.finding import Finding
from shearpin.search.documents import documents_of, synonyms_of
from shearpin.search.model import build_model
from shearpin.search.shards import export_shards
from shearpin.site import diagnosis_data, job_page
from shearpin.site.folders import write_text
from shearpin.site.forwarding import forwarding_pages
from shearpin.site.interface import localized
from shearpin.site.pages import Page, all_pages
from shearpin.site.shell import Shells
from shearpin.site.view import View, address


def write_site(
    linked: LinkedBook,
    findings: tuple[Finding, ...],
    shells: Shells,
    site: Path,
    history: History | None = None,
    further: tuple[Page, ...] = (),
) -> int:
    """Write into the folder `site`, with `further` pages; returns the number of pages."""
    count = 0
    for page in (*all_pages(linked, findings, history), *further):
        write_text(site / page.url, localized(shells.wrap(page), linked.book))
        count += 1
    for url, content in forwarding_pages(linked):
        write_text(site / url, content)
    for figure_id in linked.book.figures:
        drawing = linked.book.kb / "figures" / f"{figure_id}.svg"
        if os.path.isfile(drawing) and not os.path.islink(drawing):
            target = site / "figures" / drawing.name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(drawing.read_bytes())
    write_text(site / job_page.DATA_FILE, job_page.data_script(linked))
    view = View(linked, "../", history)
    for symptom_id in linked.book.symptoms:
        target = site / address("symptom", symptom_id).replace(".html", ".js")
        write_text(target, diagnosis_data.data_script(view, symptom_id))
    export_shards(build_model(documents_of(linked), synonyms_of(linked)), site)
    return count
