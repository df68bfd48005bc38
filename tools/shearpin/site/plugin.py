"""The MkDocs plugin: events only; what they do lives in the modules beside it."""

# Longer than 300 lines: MkDocs asks one class for every event of a build.

from __future__ import annotations

import gc
import logging
import shutil
import sys
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import Any, Literal

from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.utils import CountHandler

from shearpin.book.failure import BookError
from shearpin.book.marking import mark_of
from shearpin.book.memory import Memory
from shearpin.checks.rule import Found
from shearpin.diagnosis.history import History
from shearpin.model.ending import collect_again, hold_until_the_end
from shearpin.model.finding import Finding
from shearpin.model.progress import tell, told_as_asked
from shearpin.model.shares import Elsewhere, shares_for
from shearpin.model.translation import ORIGINAL
from shearpin.site.ahead import Ahead
from shearpin.site.asked import Asked, Meanwhile
from shearpin.site.earlier import PREVIEW, Earlier, Notes
from shearpin.site.firstlook import Shown
from shearpin.site.folders import partial_folder, remove_previous, take_place
from shearpin.site.found_before import still_found, to_be_kept
from shearpin.site.guides import (
    add_guides,
    fitted_to_book,
    guide_in_language,
    leave_out_pages_for_writers,
)
from shearpin.site.handwritten import page_in_language, page_path, with_record_links
from shearpin.site.interface import in_original, localized
from shearpin.site.later import LaterIndex, TakenIndex
from shearpin.site.preview import Preview
from shearpin.site.reporting import history_of, report
from shearpin.site.shell import Shells, with_root
from shearpin.site.templates import KeptTemplates
from shearpin.site.theme import add_look, book_facts
from shearpin.site.writing import (
    Issue,
    Material,
    Pending,
    Written,
    make_index,
    put_aside,
    since,
    start_index,
    write_site,
)
from shearpin.verdict import Question

log = get_plugin_logger(__name__)

_PAUSE_SECONDS = 0.04  # nothing is saved for so long before a preview: editors write a file in one go


class ShearpinConfig(Config):
    """Settings of the plugin in mkdocs.yml."""

    kb = config_options.Type(str, default="kb")
    log = config_options.Type(str, default="")


class ShearpinPlugin(BasePlugin[ShearpinConfig]):
    """Turns the records of a book into pages, and puts the finished site in place."""

    def __init__(self) -> None:
        self._serving = False
        self._final: Path | None = None
        self._partial: Path | None = None
        self._index: Pending | None = None
        self._asked: Asked | None = None
        self._ahead: Ahead | None = None
        self._earlier: Earlier | None = None
        self._known: Mapping[str, Found] = {}  # what rules find that need not be asked
        self._later = LaterIndex()
        self._memory: Memory | None = None
        self._preview: Preview | None = None
        self._counter: CountHandler | None = None
        self._own_pages: set[str] = set()
        self.issue: Issue | None = None

    def on_startup(self, *, command: Literal["build", "gh-deploy", "serve"], dirty: bool) -> None:
        """Note whether this is a preview; also keeps the plugin between rebuilds of one."""
        self._serving = command == "serve"
        self._memory = Memory() if self._serving else None
        self._preview = Preview() if self._serving else None
        tell(told_as_asked(sys.stderr))

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
        add_look(config.theme)
        if not self._serving:
            self._counter = CountHandler()
            self._counter.setLevel(logging.WARNING)
            logging.getLogger("mkdocs").addHandler(self._counter)
        return config

    def on_pre_build(self, *, config: MkDocsConfig) -> None:
        """Give up what an earlier build of this process makes or has left; let the garbage collector rest, for it would walk every record again and again."""
        self._later.finish()
        # MkDocs keeps the plugin: that build may have been of another book.
        self._index = self._asked = self._ahead = self._earlier = None
        self._own_pages.clear()
        gc.disable()
        self._go_on()

    def on_files(self, files: Any, *, config: MkDocsConfig) -> Any:
        """Load and check the book; errors are warnings to MkDocs, so that `--strict` stops at them."""
        assert self._final is not None
        # Not before: MkDocs has just emptied the folder.
        self._ahead = Ahead(self._final, Path(config.site_dir), wanted=not self._serving)
        pages = None
        if self.issue is not None:
            self._linked, pages = self.issue.linked, self.issue.pages
            # An edition is the same wherever it is made: no shop's own log goes into it.
            self._history = History(self._linked, ())
            self._before = since(self._final, Notes(), self._linked, self._ahead)
            self._index = start_index(self._linked, Path(config.site_dir))
        self._findings = self._records(config, self._final) if self.issue is None else ()
        self._go_on()
        config.extra["book"] = book_facts(self._linked, serving=self._serving, issued=pages)
        self._guides = add_guides(files, config)
        self._ahead.give_up(file.dest_uri for file in files)
        if self._linked.book.is_part:
            leave_out_pages_for_writers(files, config)
        return files

    def _records(self, config: MkDocsConfig, site: Path) -> tuple[Finding, ...]:
        """Load the book, begin with what goes on beside, and return the errors of the records."""
        folder = Path(config.config_file_path).parent
        question = Question(folder / self.config.kb, self.config.kb, self._memory)
        try:
            self._linked = linked = question.load()
        except BookError as error:
            raise PluginError(str(error)) from error
        now = Path(config.site_dir)
        self._asked = asked = Asked(question, linked)
        meanwhile = None
        if self._has_shown:  # the preview makes the new index when the new page is shown
            self._index = TakenIndex(site, now)
        else:
            self._index = meanwhile = Meanwhile(
                asked,
                lambda afterwards: make_index(linked, now, before=site, afterwards=afterwards),
                len(linked.book.files),
            )
        assert linked.links  # the index needs none; processes that make pages part from this one later
        self._history = history_of(linked, folder, self.config.log)
        name = PREVIEW if self._serving else str(site.resolve())
        self._earlier = Earlier(linked.book.kb, site, name, mark_of(self._history.repairs).hex())
        self._before = since(site, self._earlier.notes, linked, self._ahead)
        self._known = still_found(self._earlier.notes.found, self._before)
        if meanwhile is not None:
            meanwhile.take(self._known)
        findings = asked.errors(self._known)
        if meanwhile is not None:
            linked.forget_for_rules()  # another process asks the others, and pages need the room
        errors = report(findings)
        if errors and config.strict and not self._serving:
            raise PluginError(f"{errors} errors in the records; the previous site is left as it was")
        return findings

    def on_nav(self, nav: Any, *, config: MkDocsConfig, files: Any) -> None:
        """Keep the navigation for the shells."""
        self._nav, self._files = nav, files

    def on_page_markdown(self, markdown: str, *, page: Any, config: MkDocsConfig, files: Any) -> str:
        """Resolve links to records in hand-written pages, or in their translation where there is one that holds."""
        book, name = self._linked.book, page.file.src_uri
        guide = name in self._guides
        own = page_in_language(book.kb / page_path(book.language, name), markdown)
        if own is None and guide:
            own = page_in_language(guide_in_language(book.language, name), markdown)
        if own is not None:
            self._own_pages.add(name)
            markdown = own
        if guide or book.is_part:
            markdown = fitted_to_book(markdown, files.src_uris, {**book.file_of, **book.outside})
        text, unknown = with_record_links(markdown, self._linked, page.file.url.count("/"))
        for target in unknown:
            log.warning(f"{page.file.src_uri}: there is no record `{target}`")
        return text

    def on_env(self, env: Any, *, config: MkDocsConfig, files: Any) -> Any:
        """Keep the template environment for the shells, and its templates compiled for the next build."""
        env.bytecode_cache = KeptTemplates(self._linked.book.kb)
        self._env = env
        return env

    def on_post_page(self, output: str, *, page: Any, config: MkDocsConfig) -> str:
        """Tell scripts of hand-written pages the way to the root; what nobody translated says so."""
        book = self._linked.book
        if book.language != ORIGINAL and page.file.src_uri not in self._own_pages:
            output = in_original(output, book)
        return localized(with_root(output, page.file.url.count("/")), book)

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Write everything that comes from records, then put the complete site in place."""
        shells = Shells(self._env, config, self._nav, self._files, self._linked.book)
        assert self._final is not None
        assert self._index is not None
        book, now = self._linked.book, Path(config.site_dir)
        own = self.issue.pages if self.issue else ()
        material = Material(self._linked, self._findings, self._history, own)
        written = write_site(material, shells, now, self._before, self._index)
        log.info(
            f"{written.pages} pages from {len(book.files)} records; {written.made} files made, the others were there"
        )
        self._go_on()
        if self._asked is not None and not self._has_shown:
            self._asked.find_in_models(self._before.watched)
            report(self._asked.warnings())
        if config.strict and self._counter is not None and self._counter.get_counts():
            self._tidy_up(None, None)
            self._index.finish()
            return  # MkDocs stops right after this, and the previous site stays
        has_shown = self._has_shown
        previous = self._put_in_place(now, self._final, shells)
        config.site_dir = str(self._final)
        # The site before goes when what is kept of it has been put aside.
        tidy_up, remove = partial(self._tidy_up, previous, written), partial(remove_previous, previous)
        tidying = Elsewhere(tidy_up, shares_for(len(book.files)), remove)
        try:
            if self._earlier is not None and self._asked is not None:
                found = to_be_kept({**self._known, **self._asked.found_to_keep()}, self._before)
                self._earlier.keep(self._before.ledger.present(), written.traces, found)
        finally:
            tidying.result()
            remove_previous(previous, backwards=True)
            for work in (tidying, self._index):
                work.finish()
        hold_until_the_end(self._linked, material, self._before, written, shells)
        collect_again()
        if has_shown:
            self._later.begin(self._linked, self._final, self._warn)

    def _put_in_place(self, now: Path, final: Path, shells: Shells) -> Path | None:
        """Put the new site in the place of the one before; return where that is now, where there was one."""
        try:
            shown = Shown(self._linked, self._findings, self._history, shells, final)
            place = partial(take_place, now, final)
            return self._preview.place(place, shown) if self._preview is not None else place()
        except OSError as error:
            raise PluginError(
                f"the new site could not take the place of {final} ({error.strerror or error}); "
                "close what has it open and build again"
            ) from error

    @property
    def _has_shown(self) -> bool:
        """Whether a preview has shown a site already."""
        return self._preview is not None and self._preview.has_shown

    def _go_on(self) -> None:
        """Give up a build that nobody wants any more."""
        if self._preview is not None:
            self._preview.go_on()

    def _tidy_up(self, previous: Path | None, written: Written | None) -> None:
        """Keep the verdict, and put aside what was replaced by what was written, if it is in its place; another process does it while this one has more to keep.

        Previews and editions leave nothing behind.
        """
        if self._asked is not None:
            self._asked.keep()
        if written is not None and self._earlier is not None and not self._serving:
            assert self._final is not None
            put_aside(previous, self._final, written)

    def _warn(self, unwanted: Callable[[], bool]) -> None:
        """Say what only warns of the book that the preview shows."""
        if self._asked is not None:
            report(self._asked.warnings(unwanted))
            self._asked.keep()

    def on_build_error(self, *, error: Exception) -> None:
        """Leave nothing half-written behind; another build's folder is its own. Say in words what the system refused."""
        collect_again()
        for work in (self._index, self._ahead):
            if work is not None:
                work.stop()
        if self._partial is not None:
            shutil.rmtree(self._partial, ignore_errors=True)
        if isinstance(error, OSError):  # a full disk, a folder that was taken away: no fault of the program
            raise PluginError(
                f"the manual could not be written: {error.strerror or error}; the previous one is left as it was"
            ) from error

    def on_serve(self, server: Any, *, config: MkDocsConfig, builder: Any) -> Any:
        """Rebuild when a record changes."""
        # Only here: a build needs nothing of what watches.
        from shearpin.site.watcher import watch_with

        watcher = watch_with(server, [config.docs_dir, config.config_file_path])
        if self._preview is not None:
            self._preview.begin(server.builder, watcher)
            server.builder = self._preview.rebuild
        server.build_delay = _PAUSE_SECONDS
        server.watch(str(Path(config.config_file_path).parent / self.config.kb))
        return server

    def on_shutdown(self) -> None:
        """Stop counting warnings, and what still goes on."""
        if self._preview is not None:
            self._preview.stop()
        self._later.finish()
        if self._counter is not None:
            logging.getLogger("mkdocs").removeHandler(self._counter)
