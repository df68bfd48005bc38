"""The plugin as MkDocs runs it: strict stops at errors, the previous site survives, hostile text stays text."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from mkdocs.commands.build import build as mkdocs_build
from mkdocs.config import load_config
from mkdocs.exceptions import Abort
from mkdocs.theme import Theme

from shearpin.book.linked import load_linked
from shearpin.publish.issue import prepare_issue
from shearpin.publish.website import build_site
from shearpin.site import ahead, writing
from shearpin.site.folders import partial_folder, remove_previous, take_place
from shearpin.site.plugin import ShearpinPlugin
from shearpin.site.theme import add_look

ROOT = Path(__file__).resolve().parents[2]
SOUND = ROOT / "tests" / "data" / "sound-book"


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project with the sound book as its records."""
    shutil.copytree(SOUND, tmp_path / "kb")
    (tmp_path / "kb" / "pages").mkdir(exist_ok=True)
    (tmp_path / "kb" / "pages" / "about.md").write_text(
        "# About\n\n[safe](procedure:make-machine-safe)\n", encoding="utf-8"
    )
    shutil.copytree(ROOT / "site_overrides", tmp_path / "site_overrides")
    settings = (ROOT / "mkdocs.yml").read_text(encoding="utf-8")
    head, _, rest = settings.partition("nav:")
    tail = rest[rest.index("markdown_extensions:") :]
    (tmp_path / "mkdocs.yml").write_text(f"{head}nav:\n  - About: about.md\n{tail}", encoding="utf-8")
    return tmp_path


def build(project: Path, *options: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "mkdocs", "build", *options]
    return subprocess.run(command, cwd=project, capture_output=True, encoding="utf-8", check=False)


def change(project: Path, path: str, old: str, new: str) -> None:
    file = project / "kb" / path
    content = file.read_text(encoding="utf-8")
    assert old in content
    file.write_text(content.replace(old, new, 1), encoding="utf-8")


def test_a_strict_build_of_a_sound_book_is_clean(project: Path) -> None:
    done = build(project, "--strict")
    assert done.returncode == 0, done.stderr
    assert "WARNING -" not in done.stderr
    about = BeautifulSoup((project / "site" / "about.html").read_text(encoding="utf-8"), "lxml")
    assert (
        about.select_one('a[data-ref="procedure:make-machine-safe"]')["href"]
        == "procedures/make-machine-safe.html"
    )
    assert [entry.name for entry in project.iterdir() if entry.name.startswith(".site")] == []


def test_an_error_stops_a_strict_build_and_leaves_the_previous_site(project: Path) -> None:
    assert build(project, "--strict").returncode == 0
    before = {p: p.read_bytes() for p in (project / "site").rglob("*") if p.is_file()}
    change(project, "tools/pin-punch.yaml", "title:", "titel: x\ntitle:")
    done = build(project, "--strict")
    assert done.returncode == 1
    assert "kb/tools/pin-punch.yaml:1:1: error[FLD001] unknown field `titel`" in done.stderr
    assert {p: p.read_bytes() for p in (project / "site").rglob("*") if p.is_file()} == before
    assert [entry.name for entry in project.iterdir() if entry.name.startswith(".site")] == []


def test_a_disk_that_is_full_is_said_in_words_and_the_previous_site_stays(project: Path) -> None:
    resource = pytest.importorskip("resource")
    assert build(project, "--strict").returncode == 0
    before = {p: p.read_bytes() for p in (project / "site").rglob("*") if p.is_file()}
    change(project, "tools/pin-punch.yaml", "title:", "also: drift\ntitle:")
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "--strict"],
        cwd=project,
        capture_output=True,
        encoding="utf-8",
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000)),
    )
    assert done.returncode == 1
    assert (
        "the manual could not be written: File too large; the previous one is left as it was" in done.stderr
    )
    assert "Traceback" not in done.stderr
    assert {p: p.read_bytes() for p in (project / "site").rglob("*") if p.is_file()} == before
    assert [entry.name for entry in project.iterdir() if entry.name.startswith(".site")] == []


def test_a_broken_record_shows_its_findings_and_the_rest_keeps_working(project: Path) -> None:
    change(project, "tools/pin-punch.yaml", "title:", "titel: x\ntitle:")
    assert build(project).returncode == 0
    page = BeautifulSoup((project / "site" / "tools" / "pin-punch.html").read_text(encoding="utf-8"), "lxml")
    said = page.article.get_text()
    assert "kb/tools/pin-punch.yaml:1:1 error FLD001: unknown field `titel`" in said
    assert "1 | titel: x\n    ^" in said
    assert "Help: did you mean `title`?" in said
    assert page.select("[data-missing]")
    assert (project / "site" / "procedures" / "replace-auger-shear-bolt.html").is_file()


def test_an_error_of_a_readable_record_takes_the_place_of_its_content_too(project: Path) -> None:
    change(project, "tools/pin-punch.yaml", "broken", "{part:no-such} broken")
    assert build(project).returncode == 0
    page = BeautifulSoup((project / "site" / "tools" / "pin-punch.html").read_text(encoding="utf-8"), "lxml")
    said = page.article.get_text()
    assert "kb/tools/pin-punch.yaml:2:22 error REF001" in said
    assert "Where this comes from" not in said


def test_a_lapsed_review_is_said_at_the_top_at_the_foot_and_at_each_figure(project: Path) -> None:
    held = "review: {state: reviewed, by: dean, on: 2026-10-02, digest: 0123456789abcdef}\nsources:"
    change(project, "machines/brook-d24.yaml", "sources:", held)
    assert build(project).returncode == 0
    machine = BeautifulSoup((project / "site/machines/brook-d24.html").read_text(encoding="utf-8"), "lxml")
    assert "changed since it was reviewed" in machine.select_one("article > .draft").get_text()
    foot = machine.select_one("#provenance").get_text()
    assert "Review lapsed. Reviewed by the dean on 2026-10-02, and changed since." in foot
    value = BeautifulSoup(
        (project / "site/values/auger-shear-bolt.torque.html").read_text(encoding="utf-8"), "lxml"
    )
    figure = value.select_one('[data-value="auger-shear-bolt.torque"][data-machine="brook-d24"]').get_text()
    assert "[changed since its review]" in figure
    assert "lapsed" in (project / "site/coverage.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "&lt;b&gt; \"quoted\" 'x'",
        "</article></main>",
    ],
)
def test_text_of_records_stays_text(project: Path, text: str) -> None:
    change(project, "tools/pin-punch.yaml", "summary:", "summary: |-\n  " + text + "\nalso: drift\nignore_: ")
    file = project / "kb" / "tools" / "pin-punch.yaml"
    lines = [line for line in file.read_text(encoding="utf-8").split("\n") if not line.startswith("ignore_")]
    file.write_text("\n".join(lines), encoding="utf-8")
    assert build(project).returncode == 0
    for path in ("tools/pin-punch.html", "tools/index.html"):
        page = BeautifulSoup((project / "site" / path).read_text(encoding="utf-8"), "lxml")
        assert text in page.article.get_text(), path
        assert not page.article.select("script, img[onerror]")


def test_text_of_records_and_settings_stays_text_around_every_page(project: Path) -> None:
    change(project, "machines/brook-d24.yaml", "title: Brook D24", "title: 'Brook <u>D24</u> & \"more\"'")
    change(project, "editions/whole-book.yaml", "title: Whole book", "title: <i>Whole</i> book")
    change(project, "editions/whole-book.yaml", "issuer: Brook Institute", "issuer: <b>Brook</b> & Sons")
    settings = project / "mkdocs.yml"
    named = settings.read_text(encoding="utf-8").replace("site_name: ", "site_name: <s>Bench</s> & ", 1)
    settings.write_text(named, encoding="utf-8")
    assert build(project, "--strict").returncode == 0
    for path in ("index.html", "about.html", "404.html"):
        text = (project / "site" / path).read_text(encoding="utf-8")
        assert "&lt;s&gt;Bench&lt;/s&gt; &amp; " in text, path
        assert not any(tag in text for tag in ("<u>", "<i>", "<b>Brook", "<s>")), path
    machines = (project / "site" / "machines-data.js").read_text(encoding="utf-8")
    listed = json.loads(machines.removeprefix("window.shearpinMachines=").rstrip(";\n"))
    assert dict(listed)["brook-d24"] == 'Brook <u>D24</u> & "more"'


def test_directory_urls_are_refused_with_a_reason(project: Path) -> None:
    settings = project / "mkdocs.yml"
    settings.write_text(
        settings.read_text(encoding="utf-8").replace("use_directory_urls: false", "use_directory_urls: true"),
        encoding="utf-8",
    )
    done = build(project)
    assert done.returncode == 1
    assert "use_directory_urls: false" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_link_to_an_unknown_record_in_a_hand_written_page_fails_strict(project: Path) -> None:
    (project / "kb" / "pages" / "about.md").write_text(
        "# About\n\n[x](procedure:no-such)\n", encoding="utf-8"
    )
    done = build(project, "--strict")
    assert done.returncode == 1
    assert "there is no record `procedure:no-such`" in done.stderr
    assert not (project / "site").exists()


def test_two_builds_give_the_same_bytes(project: Path, tmp_path: Path) -> None:
    pages = []
    for name, seed in (("one", "1"), ("two", "2")):
        command = [sys.executable, "-m", "mkdocs", "build", "--site-dir", str(tmp_path / name)]
        environment = {**os.environ, "PYTHONHASHSEED": seed, "SOURCE_DATE_EPOCH": "1767225600"}
        subprocess.run(command, cwd=project, capture_output=True, check=True, env=environment)
        folder = tmp_path / name
        pages.append({p.relative_to(folder): p.read_bytes() for p in folder.rglob("*") if p.is_file()})
    different = [str(path) for path in pages[0] if pages[0][path] != pages[1].get(path)]
    assert pages[0].keys() == pages[1].keys()
    assert [path for path in different if not path.endswith(".gz")] == []


def test_what_a_dead_build_left_is_removed_and_hidden_entries_survive(tmp_path: Path) -> None:
    site = tmp_path / "site"
    site.mkdir()
    (site / "old.html").write_text("old", encoding="utf-8")
    (site / ".git").mkdir()
    left = tmp_path / ".site.partial-999999999"
    left.mkdir()
    folder = partial_folder(site)
    assert not left.exists() or os.name == "nt"
    (folder / "new.html").write_text("new", encoding="utf-8")
    remove_previous(take_place(folder, site))
    assert sorted(entry.name for entry in site.iterdir()) == [".git", "new.html"]
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["site"]


@pytest.mark.skipif(os.name == "nt", reason="whether a process runs is not asked there")
@pytest.mark.parametrize("has_site", [True, False])
@pytest.mark.parametrize("is_used", [True, False])
def test_a_site_that_a_dead_build_has_put_away_is_put_back_where_there_is_none(
    tmp_path: Path, has_site: bool, is_used: bool
) -> None:
    site = tmp_path / "site"
    for number in (999_999_998, 999_999_997):  # the second was put away last
        left = tmp_path / f".site.previous-{number}"
        left.mkdir()
        (left / "index.html").write_text(str(number), encoding="utf-8")
        left.rename(left.with_name("moved"))
        time.sleep(0.02)
        left.with_name("moved").rename(left)
    if has_site:
        site.mkdir()
        (site / "index.html").write_text("the site", encoding="utf-8")
    if is_used:  # by a build that puts its own in the place now
        (tmp_path / f".site.previous-{os.getpid()}").mkdir()
    partial_folder(site).rmdir()
    names = [entry.name for entry in tmp_path.iterdir()]
    if has_site or not is_used:
        shown = (site / "index.html").read_text(encoding="utf-8")
        assert shown == ("the site" if has_site else "999999997")
    else:
        assert not site.exists()
    assert [name for name in names if "-9999" in name] == []
    assert (f".site.previous-{os.getpid()}" in names) == is_used


def test_a_failing_build_leaves_the_folder_of_another_one_alone(project: Path) -> None:
    other = project / f".site.partial-{os.getpid()}"  # of this running process
    other.mkdir()
    change(project, "tools/pin-punch.yaml", "title:", "titel: x\ntitle:")
    assert build(project, "--strict").returncode == 1
    assert other.is_dir()


def test_a_theme_lists_all_its_files_but_hidden_ones_and_its_own_scripts(tmp_path: Path) -> None:
    own = tmp_path / "assets" / "javascripts" / "of-this-book.js"
    own.parent.mkdir(parents=True)
    own.write_text("")
    theme = Theme(name="material", custom_dir=str(tmp_path))
    every = theme.get_env().list_templates()
    add_look(theme)
    look = Path(theme.dirs[1])
    ours = {path.relative_to(look).as_posix() for path in look.rglob("*") if path.is_file()}
    shown = {name for name in every if not any(part.startswith(".") for part in name.split("/")[:-1])}
    unused = {name for name in shown if re.match(r"assets/javascripts/|.*\.map$", name)}
    assert any(name.endswith(".js") for name in unused - {own.relative_to(tmp_path).as_posix()})
    kept = shown - unused | {own.relative_to(tmp_path).as_posix()}
    assert any(name.endswith(".css") for name in kept)
    assert theme.get_env().list_templates() == sorted(kept | ours)


def test_no_script_of_the_theme_is_in_the_site_and_all_that_pages_ask_of_it_is(built_site: Path) -> None:
    there = [
        path.relative_to(built_site).as_posix()
        for path in (built_site / "assets").rglob("*")
        if path.is_file()
    ]
    assert [name for name in there if not name.endswith((".css", ".png"))] == []
    asked = {
        name
        for page in built_site.rglob("*.html")
        for name in re.findall(r'"(?:\.\./)*(assets/[^"]+)"', page.read_text("utf-8"))
    }
    assert asked
    assert asked <= set(there)


class _AtOnce:
    """Work that another process had done before this one went on."""

    def __init__(self, work: Callable[[], object], shares: int) -> None:
        self.result = partial(lambda done: done, work())

    def stop(self) -> None:
        """Nothing is left to be stopped."""


def test_pages_that_are_linked_ahead_are_taken_over_and_none_is_lost(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert build(project, "--strict").returncode == 0
    before = {p: (p.read_bytes(), p.stat().st_ino) for p in (project / "site").rglob("*.html")}
    change(project, "tools/pin-punch.yaml", "title: ", "title: Another ")
    monkeypatch.setattr(ahead, "WORTH_SPARING", 1)
    monkeypatch.setattr(ahead, "shares_for", lambda files: 2)
    monkeypatch.setattr(ahead, "Elsewhere", _AtOnce)
    monkeypatch.chdir(project)
    mkdocs_build(load_config("mkdocs.yml", strict=True))
    after = {p: (p.read_bytes(), p.stat().st_ino) for p in (project / "site").rglob("*.html")}
    assert after.keys() == before.keys()
    same = [p for p in after if after[p][1] == before[p][1]]
    assert len(same) > len(after) // 2
    assert [p for p in same if after[p][0] != before[p][0]] == []
    assert "Another" in (project / "site/tools/pin-punch.html").read_text(encoding="utf-8")
    assert [entry.name for entry in project.iterdir() if entry.name.startswith(".site")] == []


@pytest.fixture
def built(project: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., dict[str, bytes]]:
    """Builds the project as a large one is built, in this process; the site as it lies there."""
    for module in (ahead, writing):
        monkeypatch.setattr(module, "WORTH_SPARING", 1)
    monkeypatch.chdir(project)

    def build_here(site: Path = project / "site") -> dict[str, bytes]:
        mkdocs_build(load_config("mkdocs.yml", strict=True, site_dir=str(site)))
        return files_of(site)

    return build_here


def files_of(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()
    }


def kept_in(project: Path) -> dict[str, int]:
    """The numbers of the pages in the folders that are kept for the next build."""
    folders = project / ".site.spare"
    return {path.relative_to(folders).as_posix(): path.stat().st_ino for path in folders.rglob("*.html")}


def test_folders_of_two_sites_take_turns(
    project: Path, built: Callable[..., dict[str, bytes]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    built()
    assert kept_in(project) == {}, "nothing was replaced"
    built()
    assert kept_in(project) != {}
    shutil.rmtree(project / "site")
    built()
    assert kept_in(project) == {}, "what is kept is of a site that is no more"
    page = "tools/pin-punch.html"
    for title, is_second in (("Another ", False), ("Yet another ", True), ("Just one more ", True)):
        change(project, "tools/pin-punch.yaml", "title: ", f"title: {title}")
        before = kept_in(project)
        assert built() == built(tmp_path_factory.mktemp("clean") / "site")
        if is_second:
            assert (project / "site" / page).stat().st_ino == before[page], "no new file was needed"
        assert page in kept_in(project)


@pytest.mark.parametrize(
    ("file", "addition"),
    [("tools/pin-punch.yaml", "titel: x\n"), ("pages/about.md", "[no record](procedure:of-no-book)\n")],
    ids=["an error", "a warning when all is written"],
)
def test_a_build_that_fails_gives_the_folders_back(
    project: Path, built: Callable[..., dict[str, bytes]], file: str, addition: str
) -> None:
    built()
    change(project, "tools/pin-punch.yaml", "title: ", "title: Another ")
    site, kept = built(), kept_in(project)
    sound = (project / "kb" / file).read_text(encoding="utf-8")
    (project / "kb" / file).write_text(addition + sound, encoding="utf-8")
    with pytest.raises(Abort):
        built()
    assert files_of(project / "site") == site
    assert kept_in(project).keys() == kept.keys()
    (project / "kb" / file).write_text(sound, encoding="utf-8")
    assert built() == site


def test_a_publication_leaves_nothing_to_the_next_build_of_its_process(project: Path, tmp_path: Path) -> None:
    settings = project / "mkdocs.yml"
    issue = prepare_issue(load_linked(project / "kb"), "whole-book", settings, None)
    build_site(settings, issue.packed, issue.pages(), issue.edition.title, tmp_path / "pack")
    assert (tmp_path / "pack" / "procedures" / "replace-auger-shear-bolt.html").is_file()
    (plugin,) = [p for p in load_config(str(settings)).plugins.values() if isinstance(p, ShearpinPlugin)]
    assert plugin.issue is None


def test_an_edition_has_its_own_search_whatever_was_built_before_in_its_process(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = project / "mkdocs.yml"
    monkeypatch.chdir(project)
    mkdocs_build(load_config(str(settings), strict=True))
    built = sorted(path.name for path in (project / "site" / "index").iterdir())
    issue = prepare_issue(load_linked(project / "kb"), "whole-book", settings, None)
    build_site(settings, issue.packed, issue.pages(), issue.edition.title, tmp_path / "pack")
    assert sorted(path.name for path in (tmp_path / "pack" / "index").iterdir()) == built
    assert "head.js" in built
