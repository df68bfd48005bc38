"""The MkDocs plugin: events only; what they do lives in the modules beside it."""

from __future__ import annotations

import gc
import logging
import shutil
from pathlib import Path
from typing import Any, Literal

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.utils import CountHandler

from shearpin.book.failure import BookError
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.model.finding import Finding, Severity
from shearpin.model.shares import Elsewhere
from shearpin.site.earlier import PREVIEW, Earlier
from shearpin.site.folders import partial_folder, take_place
from shearpin.site.handwritten import with_record_links
from shearpin.site.shell import Shells, with_root
from shearpin.site.theme import book_facts
from shearpin.site.watcher import watch_with
from shearpin.site.writing import start_index, write_site
from shearpin.verdict import Question

log = get_plugin_logger(__name__)


class ShearpinConfig(Config):
    """Settings of the plugin in mkdocs.yml."""

    kb = config_options.Type(str, default="kb")


class ShearpinPlugin(BasePlugin[ShearpinConfig]):
    """Turns the records of a book into pages, and puts the finished site in place."""

    def __init__(self) -> None:
        self._serving = False
        self._final: Path | None = None
        self._partial: Path | None = None
        self._index: Elsewhere[int] | None = None
        self._counter: CountHandler | None = None

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Note whether this is a preview; also keeps the plugin between rebuilds of one."""
        self._serving = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Check the settings that everything relies on, and send the build to a folder of its own."""
        if config.use_directory_urls:
            raise PluginError(
                "`use_directory_urls: false` is needed in mkdocs.yml: pages must open from a folder"
            )
        self._final = Path(config.site_dir)
        try:
            self._partial = partial_folder(self._final)
        except OSError as error:
            raise PluginError(f"cannot write beside {self._final}: {error.strerror or error}") from error
        config.site_dir = str(self._partial)
        if not self._serving:
            self._counter = CountHandler()
            self._counter.setLevel(logging.WARNING)
            logging.getLogger("mkdocs").addHandler(self._counter)
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Let the garbage collector rest until the site is there: it would walk every record again and again."""
        gc.disable()

    def on_files(self, files: Any, *, config: MkDocsConfig) -> Any:
        """Load and check the book; errors are warnings to MkDocs, so that `--strict` stops at them."""
        folder = Path(config.config_file_path).parent / self.config.kb
        question = Question(folder, self.config.kb)
        try:
            self._linked: LinkedBook = load_linked(folder, self.config.kb)
        except BookError as error:
            raise PluginError(str(error)) from error
        self._index = start_index(self._linked, Path(config.site_dir))  # while the rules are asked
        self._findings = question.answer(self._linked).findings
        errors = _report(self._findings)
        if errors and config.strict and not self._serving:
            raise PluginError(f"{errors} errors in the records; the previous site is left as it was")
        config.extra["book"] = book_facts(self._linked, serving=self._serving)
        return files

    def on_nav(self, nav: Any, *, config: MkDocsConfig, files: Any) -> Any:
        """Keep the navigation for the shells."""
        self._nav, self._files = nav, files
        return nav

    def on_page_markdown(self, markdown: str, *, page: Any, config: MkDocsConfig, files: Any) -> str:
        """Resolve links to records in hand-written pages."""
        text, unknown = with_record_links(markdown, self._linked, page.file.url.count("/"))
        for target in unknown:
            log.warning(f"{page.file.src_uri}: there is no record `{target}`")
        return text

    def on_env(self, env: Any, *, config: MkDocsConfig, files: Any) -> Any:
        """Keep the template environment for the shells."""
        self._env = env
        return env

    def on_post_page(self, output: str, *, page: Any, config: MkDocsConfig) -> str:
        """Tell scripts of hand-written pages the way to the root."""
        return with_root(output, page.file.url.count("/"))

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write everything that comes from records, then put the complete site in place."""
        shells = Shells(self._env, config, self._nav, self._files)
        assert self._final is not None
        assert self._index is not None
        book, now = self._linked.book, Path(config.site_dir)
        name = PREVIEW if self._serving else str(self._final.resolve())
        earlier = Earlier(book.kb, self._final, name)
        written = write_site(
            self._linked, self._findings, shells, now, (earlier.notes, self._final), self._index
        )
        log.info(
            f"{written.pages} pages from {len(book.files)} records, {written.made} of them new or changed"
        )
        if config.strict and self._counter is not None and self._counter.get_counts():
            return  # MkDocs stops right after this, and the previous site stays
        try:
            take_place(now, self._final)
        except OSError as error:
            raise PluginError(
                f"the new site could not take the place of {self._final} ({error.strerror or error}); "
                "close what has it open and build again"
            ) from error
        config.site_dir = str(self._final)
        earlier.keep(written.past, dict(written.traces))
        gc.enable()

    def on_build_error(self, *, error: Exception) -> None:
        """Leave nothing half-written behind; another build's folder is its own."""
        gc.enable()
        if self._index is not None:
            self._index.stop()
        if self._partial is not None:
            shutil.rmtree(self._partial, ignore_errors=True)

    def on_serve(self, server: Any, *, config: MkDocsConfig, builder: Any) -> Any:
        """Rebuild when a record changes."""
        watch_with(server, [config.docs_dir, config.config_file_path])
        server.watch(str(Path(config.config_file_path).parent / self.config.kb))
        return server

    def on_shutdown(self) -> None:
        """Stop counting warnings."""
        if self._counter is not None:
            logging.getLogger("mkdocs").removeHandler(self._counter)


def _report(findings: tuple[Finding, ...]) -> int:
    errors = 0
    for finding in findings:
        advice = f" ({finding.help})" if finding.help else ""
        if finding.severity is Severity.ERROR:
            errors += 1
            log.warning(f"{finding}{advice}")
        else:
            log.info(f"{finding}{advice}")
    return errors
