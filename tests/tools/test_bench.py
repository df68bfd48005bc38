"""Tests tools/bench.py: that its synthetic books are sound, and that what it measures is what it says. Times nothing."""

from __future__ import annotations

import ast
import dataclasses
import json
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from _bench import baseline, book, command, edits, markdown, plainpages, plan, report, rounds
from _bench.measures import GROUPS, PAIRS, Measure, Reading, Readings, SizeReport
from _bench.project import BUILD, CHECK, MeasuringFault, NotHere, Project, make_project
from shearpin.book.linked import LinkedBook, load_linked
from shearpin.inspection import inspect_book
from shearpin.model.finding import Severity
from shearpin.model.kinds import KINDS
from tests.browser.harness import missing
from tests.conftest import ROOT

BENCH = ROOT / "tools" / "bench.py"
RECORDS = 300
BROWSER_VISIT = """
import json, sys
from pathlib import Path
from _bench.book import SyntheticBook
from _bench.browser import load_pages, opened_browser, search_pages
from _bench.project import NotHere

site = Path(sys.argv[1])
book = SyntheticBook(site, 1, 1, {}, ("worn belt", "plug gap"), site, "page.html")
try:
    with opened_browser(site) as browser:
        found = {**load_pages(browser, site, book), **search_pages(browser, site, book)}
except NotHere as reason:
    sys.exit(f"not here: {reason}")
print(json.dumps({name: reading.value for name, reading in found.items()}))
"""

SERVED_VISIT = """
import json, sys
from pathlib import Path
from _bench.browser import Searched, opened_browser, search_once
from _bench.project import NotHere
from _bench.served import served

site = Path(sys.argv[1])
try:
    with opened_browser(site) as browser, served(site) as address:
        where = Searched(site, address, "index.html", site / "search", ".hits a[href]", "No matching documents")
        visits = [search_once(browser, where, query, 1) for query in ("belt", "plug")]
except NotHere as reason:
    sys.exit(f"not here: {reason}")
print(json.dumps([(visit.hit_seconds, visit.index_bytes) for visit in visits]))
"""


def run_bench(*arguments: object) -> subprocess.CompletedProcess[str]:
    """Run tools/bench.py in a pipe."""
    command = [sys.executable, str(BENCH), *map(str, arguments)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", check=False)


def bytes_below(folder: Path) -> dict[str, bytes]:
    """Return the content of every file below a folder by its path."""
    files = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> book.SyntheticBook:
    """A synthetic book. Tests change nothing in it."""
    return book.write_book(tmp_path_factory.mktemp("book") / "kb", RECORDS)


@pytest.fixture(scope="module")
def linked(written: book.SyntheticBook) -> LinkedBook:
    """The same book, loaded."""
    return load_linked(written.kb)


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Project:
    """A small project of this checkout."""
    return make_project(ROOT, tmp_path_factory.mktemp("bench") / "here", plan.SMALLEST, seed=1)


@pytest.fixture(scope="module")
def measured(
    tmp_path_factory: pytest.TempPathFactory,
) -> tuple[subprocess.CompletedProcess[str], Mapping[str, Any]]:
    """One small measurement of this checkout against itself, and its JSON."""
    file = tmp_path_factory.mktemp("bench") / "bench.json"
    run = run_bench("--sizes", plan.SMALLEST, "--runs", 1, "--only", "check", "--json", file, "--against", ROOT)  # fmt: skip
    return run, json.loads(file.read_text(encoding="utf-8"))


DRAWN_BY_LOT = "DIA008"
"""Chances are drawn by lot, so that some cause has no test that proves it."""


class TestSyntheticBook:
    def test_has_no_findings(self, linked: LinkedBook) -> None:
        assert [str(finding) for finding in inspect_book(linked) if finding.code != DRAWN_BY_LOT] == []

    def test_holds_as_many_records_as_asked_for(self, linked: LinkedBook) -> None:
        assert len(linked.book.files) == RECORDS

    def test_holds_every_kind_as_often_as_planned(
        self, linked: LinkedBook, written: book.SyntheticBook
    ) -> None:
        found = {kind: len(linked.book.of_kind(kind)) for kind in KINDS}
        assert found == dict(written.kinds)
        assert min(found.values()) > 0

    def test_procedures_are_as_long_as_real_ones(self, linked: LinkedBook) -> None:
        work = [one for name, one in linked.book.procedures.items() if one.remedies]
        assert all(6 <= len(procedure.steps) <= 14 for procedure in work)
        assert all(procedure.before and procedure.tools and procedure.parts for procedure in work)
        steps = [step for procedure in work for step in procedure.steps]
        for present in ("caution", "action", "confirm", "note", "applies_to"):
            assert any(getattr(step, present) for step in steps), present
        assert any("{" in step.do for step in steps)

    def test_symptoms_have_four_to_ten_causes(self, linked: LinkedBook) -> None:
        counts = [len({cause.cause for cause in one.causes}) for one in linked.book.symptoms.values()]
        assert min(counts) >= 4
        assert max(counts) <= 10

    def test_tests_have_two_to_four_results_that_tell_causes_apart(self, linked: LinkedBook) -> None:
        for test in linked.book.tests.values():
            assert 2 <= len(test.results) <= 4
            assert any(result.given for result in test.results)

    def test_both_plates_have_values_and_part_numbers(self, linked: LinkedBook) -> None:
        assert all(machine.values and machine.fitted for machine in linked.book.machines.values())
        assert all(engine.values for engine in linked.book.engines.values())
        assert {part.plate.value for part in linked.book.parts.values() if part.numbers} == {
            "machine",
            "engine",
        }

    def test_is_the_same_again_to_the_byte(self, written: book.SyntheticBook, tmp_path: Path) -> None:
        book.write_book(tmp_path / "kb", RECORDS)
        assert bytes_below(tmp_path / "kb") == bytes_below(written.kb)

    def test_is_another_with_another_seed(self, written: book.SyntheticBook, tmp_path: Path) -> None:
        book.write_book(tmp_path / "kb", RECORDS, seed=2)
        assert bytes_below(tmp_path / "kb") != bytes_below(written.kb)

    def test_holds_what_the_queries_ask_for(self, linked: LinkedBook, written: book.SyntheticBook) -> None:
        said, value, number = written.queries
        assert any(said in symptom.said for symptom in linked.book.symptoms.values())
        assert any(machine.title in value for machine in linked.book.machines.values())
        numbers = [entry.number for part in linked.book.parts.values() for entry in part.numbers.values()]
        assert number in [entry.replace("-", "").lower() for entry in numbers]

    def test_too_few_records_are_refused(self, tmp_path: Path) -> None:
        with pytest.raises(ValueError, match=str(plan.SMALLEST)):
            book.write_book(tmp_path, plan.SMALLEST - 1)

    @pytest.mark.parametrize("records", [plan.SMALLEST, 300, 3_000, 10_000, 40_000])
    def test_the_plan_names_each_record_once(self, records: int) -> None:
        planned = plan.make_plan(records)
        assert sum(planned.counts.values()) == records
        for kind in ("symptom", "cause", "test", "part"):
            ids = [one for assembly in planned.assemblies for one in assembly.ids(kind)]
            assert len(set(ids)) == len(ids) == planned.counts[kind], kind
        assert sum(len(assembly.values) for assembly in planned.assemblies) == planned.counts["value"]

    def test_ten_thousand_records_are_of_sixty_machines(self) -> None:
        assert plan.kind_counts(10_000)["machine"] == 60


class TestChangedBook:
    @pytest.fixture
    def changing(self, tmp_path: Path) -> book.SyntheticBook:
        return book.write_book(tmp_path / "kb", plan.SMALLEST)

    def test_an_edit_changes_one_record_and_leaves_the_book_clean(self, changing: book.SyntheticBook) -> None:
        before = bytes_below(changing.kb)
        book.edit_record(changing, "change 1 of this record")
        after = bytes_below(changing.kb)
        assert [path for path in after if after[path] != before[path]] == [
            f"procedures/{changing.edited.name}"
        ]
        edited = load_linked(changing.kb)
        assert {finding.code for finding in inspect_book(edited)} <= {DRAWN_BY_LOT}
        assert edited.book.procedures[changing.edited.stem].outcome == "It shows change 1 of this record."

    def test_spoiling_puts_findings_into_so_many_files_and_no_others(
        self, changing: book.SyntheticBook
    ) -> None:
        before = bytes_below(changing.kb)
        count = book.spoil(changing.kb, every=30)
        after = bytes_below(changing.kb)
        spoilt = {path for path in after if after[path] != before[path]}
        every = inspect_book(load_linked(changing.kb))
        findings = [finding for finding in every if finding.code != DRAWN_BY_LOT]
        found = {finding.path.removeprefix(f"{changing.kb.as_posix()}/") for finding in findings}
        assert found == spoilt
        assert len(spoilt) == count == plan.SMALLEST // 30

    def test_every_edit_that_is_timed_is_of_one_file_and_can_be_made_again(
        self, changing: book.SyntheticBook
    ) -> None:
        for edit in (*edits.EDITS, *edits.EDITS):
            before = bytes_below(changing.kb)
            path = edits.make_edit(changing.kb, edit)
            after = bytes_below(changing.kb)
            assert [name for name in after if after[name] != before.get(name)] == [
                path.relative_to(changing.kb).as_posix()
            ], edit.name
            found = inspect_book(load_linked(changing.kb))
            assert {each.severity for each in found} <= {Severity.WARNING}, (edit.name, found)
            if edit.new_id:
                path.unlink()

    def test_an_edit_for_which_there_is_no_record_is_refused(self, tmp_path: Path) -> None:
        with pytest.raises(ValueError, match="title of a part"):
            edits.make_edit(tmp_path, next(edit for edit in edits.EDITS if edit.name == "part"))


class TestBudgets:
    CHECK_COLD = next(measure for measure in GROUPS["check"] if measure.name == "check-cold")

    @pytest.mark.parametrize(
        ("records", "seconds"), [(300, 0.6), (10_000, 4.0), (5_150, 2.3), (150, 0.6), (19_700, 7.4)]
    )
    def test_lie_on_a_line_through_both_sizes(self, records: int, seconds: float) -> None:
        assert self.CHECK_COLD.budget(records) == pytest.approx(seconds)

    def test_are_none_where_the_design_has_none(self) -> None:
        assert Measure("x", "x", "s").budget(300) is None

    def test_measures_have_names_of_their_own(self) -> None:
        names = [measure.name for group in GROUPS.values() for measure in group]
        assert len(set(names)) == len(names)


class TestReport:
    @pytest.fixture
    def compared(self, written: book.SyntheticBook) -> SizeReport:
        found = SizeReport(written, 2)
        for value in (2.0, 9.0, 4.0):
            found.add(0, {"check-cold": Reading(value, cpu=value / 2)})
            found.add(1, {"check-cold": Reading(value / 2)})
        found.excuse(0, "check", "no reason")
        return found

    def test_sets_medians_and_their_ratio_side_by_side(self, compared: SizeReport) -> None:
        line = next(line for line in report.table(compared, ["check"], 3) if "caches dropped" in line)
        assert line.split() == ["check,", "caches", "dropped", "s", "4.00", "2.00", "2.00", "2.00", "0.60", "OVER"]  # fmt: skip

    def test_says_ok_within_the_budget(self, written: book.SyntheticBook) -> None:
        found = SizeReport(written, 1)
        found.add(0, {"check-cold": Reading(0.5)})
        line = next(line for line in report.table(found, ["check"], 1) if "caches dropped" in line)
        assert line.split()[-3:] == ["0.50", "0.60", "ok"]

    def test_says_why_something_is_missing(self, compared: SizeReport) -> None:
        line = next(line for line in report.table(compared, ["check"], 3) if "nothing changed" in line)
        assert line.endswith("–  no reason")


class TestOrderOfRounds:
    def test_two_checkouts_take_turns(
        self, written: book.SyntheticBook, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        turns: list[str] = []

        def check(project: Project) -> Readings:
            turns.append(project.root.name)
            return {"check-cold": Reading(1.0)}

        self.measure(written, monkeypatch, (check,))
        assert turns == ["A", "B", "A", "B"]

    def test_what_cannot_be_measured_is_tried_once_and_spares_the_rest(
        self, written: book.SyntheticBook, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        tried: list[str] = []

        def absent(project: Project) -> Readings:
            tried.append(project.root.name)
            raise NotHere("no browser")

        def present(project: Project) -> Readings:
            return {"check-cold": Reading(1.0)}

        found = self.measure(written, monkeypatch, (absent, present))
        assert tried == ["A", "B"]
        cold = found.samples("check-cold", 1)
        assert cold is not None
        assert cold.values == [1.0, 1.0]
        assert found.reason("check-again", 1) == "no browser"

    def test_a_command_that_fails_costs_its_group_and_the_exit_code_alone(
        self,
        project: Project,
        monkeypatch: pytest.MonkeyPatch,
        tmp_path: Path,
        capsys: pytest.CaptureFixture[str],
    ) -> None:
        def failing(project: Project) -> Readings:
            raise MeasuringFault("`check` ended with 1")

        rounds = {"check": (failing,), "find": (lambda project: {"find": Reading(0.25)},)}
        monkeypatch.setattr(command, "ROUNDS", rounds)
        monkeypatch.setattr(command, "make_project", lambda *_: project)
        options = command._options(
            [
                "--sizes",
                str(plan.SMALLEST),
                "--runs",
                "1",
                "--only",
                "check,find",
                "--keep",
                str(tmp_path / "kept"),
            ]
        )
        reports, failed = command._measure_all(options, command.Progress(sys.stderr))
        assert failed
        found = reports[0].samples("find")
        assert found is not None
        assert found.values == [0.25]
        assert reports[0].reason("check-cold") == "a command failed"
        printed = capsys.readouterr()
        assert "0.25" in printed.out
        assert "`check` ended with 1" in printed.err

    @staticmethod
    def measure(written: book.SyntheticBook, monkeypatch: pytest.MonkeyPatch, rounds: Any) -> SizeReport:
        monkeypatch.setattr(command, "ROUNDS", {"check": rounds})
        projects = [Project(Path(name), Path(name), written) for name in ("A", "B")]
        found = SizeReport(written, 2)
        command._measure_group("check", projects, found, 2, command.Progress(sys.stderr))
        return found


class TestProject:
    def test_has_a_page_for_each_hand_written_one(self, project: Project) -> None:
        def names(root: Path) -> list[str]:
            return sorted(path.name for path in (root / "kb" / "pages").rglob("*.md"))

        assert names(project.root) == names(ROOT) != []

    def test_runs_the_code_of_its_checkout(self, project: Project, tmp_path: Path) -> None:
        package = tmp_path / "tools" / "shearpin"
        package.mkdir(parents=True)
        (package / "__init__.py").write_text("print('the other one')\n", encoding="utf-8")
        other = Project(tmp_path, project.root, project.book)
        assert other.run(("-c", "import shearpin")).output == "the other one\n"

    def test_another_exit_code_is_a_fault_that_shows_what_was_printed(self, project: Project) -> None:
        with pytest.raises(MeasuringFault, match=r"ended with 2 instead of 0(?s:.)*unrecognized arguments"):
            project.run((*CHECK, "--nonsense"))

    def test_its_site_builds_without_warnings_and_is_weighed(self, project: Project) -> None:
        project.run(BUILD)
        found = rounds.weigh_site(project)
        sizes = {path: len(content) for path, content in bytes_below(project.site).items()}
        pages = {path: size for path, size in sizes.items() if path.endswith(".html")}
        assert found["site-size"].value == pytest.approx(sum(sizes.values()) / 1_000_000)
        assert found["site-files"].value == len(sizes) > plan.SMALLEST
        assert found["page-greatest"].value == pytest.approx(pages[rounds.largest_page(project)] / 1000)
        above = sum(size / 1000 > found["page-p95"].value for size in pages.values())
        assert above == pytest.approx(len(pages) / 20, abs=1)

    @pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps no account of children")
    def test_memory_is_that_of_the_command_alone(self, project: Project) -> None:
        held = b"x" * 150_000_000  # what the measurement itself holds
        small = project.run(("-c", "pass")).peak
        large = project.run(("-c", "held = b'x' * 90_000_000")).peak
        assert small is not None
        assert large is not None
        assert small < 60_000_000 < 90_000_000 < large < len(held)


class TestBrowserVisit:
    def test_first_hit_and_bytes_are_those_of_the_page(self, tmp_path: Path) -> None:
        """The index is a classic script that the search adds when asked, as on the real site."""
        (tmp_path / "index").mkdir()
        shard = "hit(location.search);" + " " * 5_000
        (tmp_path / "index" / "a.js").write_text(shard, encoding="utf-8")
        (tmp_path / "index" / "unread.js").write_text(" " * 9_000, encoding="utf-8")
        (tmp_path / "shared.js").write_text(
            "function hit(words) { document.querySelector('[data-search-results]').innerHTML = '<a href=\"x\">' + words + '</a>'; }"
            "const shard = document.createElement('script'); shard.src = 'index/a.js';"
            "setTimeout(() => document.head.append(shard), 300);",
            encoding="utf-8",
        )
        for name in ("index.html", "page.html"):
            (tmp_path / name).write_text("<title>x</title><p>page</p>", encoding="utf-8")
        (tmp_path / "search.html").write_text(
            '<title>x</title><div data-search-results></div><script src="shared.js"></script>',
            encoding="utf-8",
        )
        # In a process of its own: Playwright runs once in a process, and the browser tests may hold it.
        done = subprocess.run(
            [sys.executable, "-c", BROWSER_VISIT, str(tmp_path)],
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        if "not here:" in done.stderr:
            missing(done.stderr)
        assert done.returncode == 0, done.stderr
        found = json.loads(done.stdout)
        assert found["hit-bytes"] == pytest.approx(len(shard) / 1000)
        assert found["hit"] >= 0.3  # not before the script that brings it
        assert 0 < found["load-search"] < found["hit"]
        assert {"hit-slow", "hit-heap", "hit-blocked", "load-page", "load-page-slow"} <= found.keys()


class TestServedSearch:
    def test_a_plain_no_is_no_hit_and_what_was_read_is_weighed(self, tmp_path: Path) -> None:
        (tmp_path / "search").mkdir()
        (tmp_path / "search" / "search_index.json").write_text("{}" + " " * 998, encoding="utf-8")
        page = (
            "<title>x</title><p></p><ol class=hits></ol><script>fetch('search/search_index.json').then(() => {"
            "if (location.search.includes('belt')) document.querySelector('.hits').innerHTML = '<a href=x>belt</a>';"
            "else document.querySelector('p').textContent = 'No matching documents'; })</script>"
        )
        (tmp_path / "index.html").write_text(page, encoding="utf-8")
        done = subprocess.run(
            [sys.executable, "-c", SERVED_VISIT, str(tmp_path)],
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        if "not here:" in done.stderr:
            missing(done.stderr)
        assert done.returncode == 0, done.stderr
        (hit, read), (no_hit, _) = json.loads(done.stdout)
        assert hit > 0
        assert read == 1_000
        assert no_hit is None


class TestPlainPages:
    """The same records as plain Markdown, beside which ours are measured."""

    RECORDS: tuple[tuple[str, str, Mapping[str, Any]], ...] = (
        ("systems", "drive", {"title": "Drive", "energies": ["motion"], "hazards": []}),
        (
            "cautions",
            "belts",
            {
                "title": "Belts", "signal_word": "DANGER", "hazard": "Belts turn.", "consequence": "They cut.",
                "avoidance": ["Wait."], "covers": {"actions": [], "energies": ["motion"]},
            },
        ),
        ("machines", "k1", {"title": "Osmere K1", "values": {"belt.gap": {"is": "3 mm"}}}),
        ("values", "belt.gap", {"title": "Belt gap"}),
        (
            "procedures",
            "set-belt",
            {
                "title": "Set the belt", "systems": ["drive"],
                "steps": [{"do": "Compare with {belt.gap}.", "note": "See {system:drive}."}],
            },
        ),
    )  # fmt: skip

    def test_hold_steps_links_cautions_figures_and_what_refers_to_them(self, tmp_path: Path) -> None:
        plainpages.write_plain(tmp_path, self.RECORDS)
        page = (tmp_path / "docs" / "procedures" / "set-belt.md").read_text(encoding="utf-8")
        assert (
            "1. Compare with [Belt gap](../values/belt.gap.md). Note: See [Drive](../systems/drive.md)."
            in page
        )
        assert "- **DANGER** Belts turn. They cut. Wait." in page
        assert "- [Belt gap](../values/belt.gap.md): Osmere K1 3 mm" in page
        value = (tmp_path / "docs" / "values" / "belt.gap.md").read_text(encoding="utf-8")
        assert "## Referred to by\n\n- [Osmere K1](../machines/k1.md)\n- [Set the belt]" in value

    def test_only_lists_stand_in_the_navigation(self, tmp_path: Path) -> None:
        plainpages.write_plain(tmp_path, self.RECORDS)
        nav = (tmp_path / "mkdocs.yml").read_text(encoding="utf-8").partition("nav:\n")[2]
        assert nav.split() == [
            word
            for name in ("index", *(folder for folder, _, _ in self.RECORDS))
            for word in ("-", f"{name}.md")
        ]

    def test_are_as_many_as_there_are_records(self, written: book.SyntheticBook, tmp_path: Path) -> None:
        scribe = book.Scribe(plan.make_plan(RECORDS), book.random.Random(written.draw))
        plainpages.write_plain(tmp_path, list(book.records_of(scribe)))
        pages = {
            path.relative_to(tmp_path / "docs").with_suffix("") for path in (tmp_path / "docs").glob("*/*.md")
        }
        assert pages == {path.relative_to(written.kb).with_suffix("") for path in written.kb.glob("*/*.yaml")}

    def test_build_without_warnings(self, project: Project) -> None:
        found = baseline.build_both(project)
        pages = list((project.root / "plain" / "site").glob("*/*.html"))
        assert len(pages) == plan.SMALLEST
        assert (project.root / "plain" / "site" / "search" / "search_index.json").is_file()
        assert found["plain-words"].value > 100

    def test_large_ones_are_measured_only_when_asked_for(
        self, monkeypatch: pytest.MonkeyPatch, project: Project, tmp_path: Path
    ) -> None:
        asked: list[Project] = []

        def round_of(one: Project) -> Readings:
            asked.append(one)
            return {"ours-build": Reading(1.0)}

        monkeypatch.setattr(command, "ROUNDS", {"baseline": (round_of,)})
        monkeypatch.setattr(command, "make_project", lambda *_: project)
        for only, times in ((), 0), (("--only", "baseline"), 1):
            options = command._options(["--runs", "1", *only])
            options = dataclasses.replace(options, groups=("baseline",))
            command._measure_size(options, 3_001, tmp_path, command.Progress(sys.stderr))
            assert len(asked) == times

    def test_words_are_those_that_are_read(self, tmp_path: Path) -> None:
        page = tmp_path / "page.html"
        page.write_text(
            "<p>no</p><article><h1>Two words</h1><script>var no;</script><p>and three <b>more</b></p></article>",
            encoding="utf-8",
        )
        assert baseline.words_of(page) == 5


class TestGrowth:
    @pytest.fixture
    def grown(self) -> list[SizeReport]:
        found = []
        for records, seconds, megabytes in ((300, 1.0, 10.0), (3_000, 20.0, 1_000.0)):
            size = SizeReport(book.SyntheticBook(Path(), records, 1, {}, (), Path(), ""), 1)
            size.add(0, {"check-cold": Reading(seconds), "check-memory": Reading(megabytes)})
            size.add(0, {"ours-build": Reading(seconds), "plain-build": Reading(4 * seconds)})
            found.append(size)
        return found

    def test_is_an_exponent_and_marked_for_times_alone(self, grown: list[SizeReport]) -> None:
        lines = [line.split() for line in report.growth_table(grown, ["check"])]
        assert lines[1] == ["300–3,000"]
        assert [
            "check,",
            "caches",
            "dropped",
            "s",
            "1.30",
            "FAST",
        ] in lines  # 20 times in ten times the records
        assert ["check,", "peak", "memory", "MB", "2.00"] in lines
        assert ["check,", "nothing", "changed", "s", "–"] in lines

    def test_of_one_size_is_nothing(self, grown: list[SizeReport]) -> None:
        assert list(report.growth_table(grown[:1], ["check"])) == []

    def test_stands_in_the_json_with_documented_keys(self, grown: list[SizeReport]) -> None:
        found = report.as_json(grown, ["check", "baseline"], 1, 1, ["here"])
        cold = next(one for one in found["growth"] if one["name"] == "check-cold")
        (step,) = cold["steps"]
        assert step == {"from": 300, "to": 3_000, "exponent": pytest.approx(1.30103), "over": True}
        pair = found["sizes"][0]["plain"][0]
        assert pair == {"name": "build", "unit": "s", "ours": 1.0, "markdown": 4.0, "ratio": 0.25}
        assert {
            key for key in {*cold, *step, *pair, "plain"} if f"`{key}`" not in str(report.__doc__)
        } == set()

    def test_the_summary_sets_sizes_side_by_side(self, grown: list[SizeReport]) -> None:
        text = markdown.summary(grown, ["check", "baseline"], 1)
        assert "| check, caches dropped | s | 1.00 of 0.60 **OVER** | 20.00 of 1.55 **OVER** |" in text
        assert "| build from nothing | s | 1.00 / 4.00 = 0.25 | 20.00 / 80.00 = 0.25 |" in text
        assert "| check, caches dropped | **1.30** |" in text
        assert "| check, peak memory | 2.00 |" in text

    def test_the_table_shows_the_ratio(self, grown: list[SizeReport]) -> None:
        lines = [line.split() for line in report.table(grown[0], ["baseline"], 1)]
        assert ["build", "from", "nothing", "s", "1.00", "4.00", "0.25"] in lines
        assert len([line for line in lines if line and line[-1] == "–"]) >= len(PAIRS) - 1


class TestCommand:
    def test_is_quiet_in_a_pipe_but_for_the_table(self, measured: tuple[Any, Any]) -> None:
        run, _ = measured
        assert (run.returncode, run.stderr) == (0, "")
        for measure in GROUPS["check"]:
            assert measure.label in run.stdout
        assert run.stdout.startswith(f"{plan.SMALLEST} records, ")
        assert "\r" not in run.stdout

    def test_writes_the_documented_json(self, measured: tuple[Any, Any]) -> None:
        _, found = measured
        (size,) = found["sizes"]
        assert found["seed"] == 1
        assert found["checkout"] == found["against"] == str(ROOT)
        assert size["records"] == plan.SMALLEST
        assert [one["name"] for one in size["measures"]] == [one.name for one in GROUPS["check"]]
        cold = size["measures"][0]
        assert cold["budget"] == 0.6
        assert cold["median"] == cold["samples"][0] > 0
        assert cold["within"] is (cold["median"] <= 0.6)
        assert cold["against"]["ratio"] == pytest.approx(cold["median"] / cold["against"]["median"])

    def test_every_key_of_the_json_is_documented(self, measured: tuple[Any, Any]) -> None:
        _, found = measured
        size = found["sizes"][0]
        cold = size["measures"][0]
        keys = {*found, *size, *cold, *cold["against"]}
        assert {key for key in keys if f"`{key}`" not in str(report.__doc__)} == set()

    def test_stops_at_a_folder_that_is_no_checkout(self, tmp_path: Path) -> None:
        run = run_bench("--sizes", plan.SMALLEST, "--only", "check", "--runs", 1, "--against", tmp_path)
        assert run.returncode == 1
        assert f"{tmp_path} is not a checkout of Shearpin" in run.stderr

    @pytest.mark.parametrize(
        ("arguments", "words"),
        [
            (("--only", "chek"), "there is no `chek`"),
            (("--sizes", "3e3"), "no list of numbers"),
            (("--sizes", "10"), f"at least {plan.SMALLEST}"),
            (("--runs", "0"), "at least 1"),
            (("--keep", str(ROOT)), "is there already"),
        ],
    )
    def test_refuses_wrong_usage(self, arguments: tuple[str, ...], words: str) -> None:
        run = run_bench(*arguments)
        assert run.returncode == 2
        assert words in run.stderr

    def test_an_old_python_can_read_it(self) -> None:
        ast.parse(BENCH.read_text(encoding="utf-8"), feature_version=(3, 6))


def test_a_site_is_put_aside_whole_so_that_no_build_pays_for_its_removal(project: Project) -> None:
    spare = project.root / ".site.spare"
    for folder in (project.site, spare):
        folder.mkdir(exist_ok=True)
        (folder / "left.txt").write_text("here", encoding="utf-8")
    project.drop_site()
    project.drop_site()  # there is none any more
    assert not project.site.exists()
    assert not spare.exists(), "nothing that a build before has left makes it quicker"
    for name in ("site", ".site.spare"):
        (left,) = project.root.glob(f"aside-*/{name}/left.txt")
        assert left.read_text(encoding="utf-8") == "here"
