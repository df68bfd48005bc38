"""The pages of an edition as a folder: built by MkDocs from the packed book, less what a stick has no use for."""

from __future__ import annotations

import logging
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort, MkDocsException

from shearpin.book.linked import LinkedBook
from shearpin.publish.faults import PublishError
from shearpin.site.pages import Page
from shearpin.site.plugin import ShearpinPlugin
from shearpin.site.writing import Issue

_USELESS = ("sitemap.xml", "sitemap.xml.gz", "404.html")
"""What needs a server."""


def build_site(settings: Path, packed: LinkedBook, pages: tuple[Page, ...], title: str, site: Path) -> None:
    """Build the edition's pages into the folder `site`; raises `PublishError` with MkDocs's own words, `OSError` where
    the system refused to write.

    `settings` is the project's mkdocs.yml.
    """
    heard = _Listener()
    logger = logging.getLogger("mkdocs")
    quiet, logger.propagate = logger.propagate, False
    logger.addHandler(heard)
    try:
        config = load_config(str(settings), site_dir=str(site), site_name=title, strict=True)
        plugin = next((p for p in config.plugins.values() if isinstance(p, ShearpinPlugin)), None)
        if plugin is None:
            raise PublishError(f"{settings} does not name the plugin `shearpin`; add it there")
        plugin.issue = Issue(packed, pages)
        config.theme["language"] = packed.book.language
        config.plugins.on_startup(command="build", dirty=False)
        try:
            build(config)
        finally:
            config.plugins.on_shutdown()
            plugin.issue = None  # MkDocs keeps the plugin for the next build of this process
    except (Abort, MkDocsException) as error:
        behind = _behind(error)
        if behind is not None:
            raise behind from error  # a full disk is said in the same words as for every other format
        told = "\n".join(heard.lines) or str(error)
        raise PublishError(f"the pages could not be built:\n{told}") from error
    finally:
        logger.removeHandler(heard)
        logger.propagate = quiet
    for name in _USELESS:
        (site / name).unlink(missing_ok=True)
    for path in site.rglob("*.map"):
        path.unlink()


def _behind(error: BaseException | None) -> OSError | None:
    """Return what the system refused, where that is what the build ended with."""
    while error is not None and not isinstance(error, OSError):
        error = error.__cause__ or error.__context__
    return error


class _Listener(logging.Handler):
    """Keeps warnings and errors for the message that a failed build ends with."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())
