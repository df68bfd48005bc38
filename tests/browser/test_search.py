"""The search in the browser, from a folder: the same hits as on the command line, box, hits, keys and notes."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from whoosh.lang.porter2 import stem

from _evaluation.queries import HALVES, QUERIES, misspelt, read_queries
from shearpin.search.cache import index_of
from shearpin.search.exporting import put_files
from shearpin.search.index import StoredIndex, build_index, search
from shearpin.search.model import build_model
from shearpin.search.shards import Shards
from shearpin.site.theme import join_search_scripts
from tests.browser.harness import Firefox, PageLog
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS
from tests.search.test_conversion import CONVERSIONS
from tests.search.test_ranking import MEANT
from tests.search.vocabulary import vocabulary

OLD_BROWSER_TOO = True

ROOT = Path(__file__).resolve().parents[2]
LOOK = ROOT / "site_overrides" / "look"

# One title tries to be markup: text of records is text.
HOSTILE = "<img src=x onerror=alert(1)> & <b>bold</b> bracket"
BOOK = (
    *DOCUMENTS,
    replace(DOCUMENTS[-1], id="hostile", title=HOSTILE, excerpt=HOSTILE, fields={"title": HOSTILE}),
)

PAGE = """<!doctype html>
<html lang="en" data-root="{root}"><head><meta charset="utf-8"><title>{title}</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; form-action 'self' file:">
</head><body>
<select data-machine-choice><option value="">All</option></select>
<main><h1>{title}</h1><form data-search action="{root}search.html"><input type="search" name="q"><button>Find</button></form>
{results}</main>
<script src="{root}machines-data.js"></script><script src="{root}look/machine.js"></script>
<script src="{root}look/search.js"></script></body></html>
"""
MACHINES = 'window.shearpinMachines=[["osmere-d24","Osmere D24"],["tarnbrook-s20","Tarnbrook S20"]];'
RESULTS = "<div data-search-results></div><p data-search-fallback hidden>All symptoms</p>"

ASK = """questions => Promise.all(questions.map(([query, machine, limit, literal]) =>
    window.shearpinSearch(query, {machine, limit, literal}).then(({query, corrected, answer, hits, total, nearest}) =>
        ({query, corrected, answer, hits, total, nearest}))))"""

ASK_FOR_ORDER = """questions => Promise.all(questions.map(([query, machine]) =>
    window.shearpinSearch(query, {machine}).then(({corrected, answer, total, hits}) =>
        [corrected, answer, total, hits.map(({kind, id, score}) => [kind, id, score])])))"""


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of two pages with the index of the tests' own book, below a path that breaks what is not escaped."""
    folder = tmp_path_factory.mktemp("search") / "Ålesund shop #2 – 100 % & more"
    (folder / "procedures").mkdir(parents=True)
    shutil.copytree(LOOK, folder / "look")
    join_search_scripts(folder / "look")
    put_files(Shards(build_model(BOOK, SYNONYMS)).texts(), (), folder, None)
    (folder / "machines-data.js").write_text(MACHINES, encoding="utf-8")
    search_page = PAGE.format(root="", title="Search", results=RESULTS)
    (folder / "search.html").write_text(search_page, encoding="utf-8")
    record_page = PAGE.format(root="../", title="Replace the spark plug", results="")
    (folder / "procedures" / "replace-spark-plug.html").write_text(record_page, encoding="utf-8")
    return folder


@pytest.fixture(scope="session")
def index(tmp_path_factory: pytest.TempPathFactory) -> Iterator[StoredIndex]:
    with build_index(BOOK, SYNONYMS, tmp_path_factory.mktemp("index") / "index") as found:
        yield found


def at(site: Path, hash_: str = "", path: str = "search.html") -> str:
    return (site / path).as_uri() + hash_


@pytest.fixture
def opened(page: Page, site: Path) -> Page:
    page.goto(at(site))
    page.wait_for_selector("[data-search-results] [role=status]", state="attached")
    return page


def hits(page: Page) -> Any:
    return page.locator(".search-hit > a")


def slip(word: str, chance: random.Random) -> str:
    """`word` with one letter missing, changed, too many or swapped."""
    place, letter = chance.randrange(len(word)), chance.choice("abcdefghijklmnopqrstuvwxyz")
    return chance.choice(
        (
            word[:place] + word[place + 1 :],
            word[:place] + letter + word[place + 1 :],
            word[:place] + letter + word[place:],
            word[:place] + word[place + 1 : place + 2] + word[place : place + 1] + word[place + 2 :],
        )
    )


def questions() -> list[tuple[str, str | None, int, bool]]:
    """Some hundred queries: judged ones, slips, words at random, beginnings, joined words, odd signs."""
    chance = random.Random(7)
    words = [word for document in BOOK for text in document.fields.values() for word in text.split()]
    queries = [
        *MEANT,
        "",
        " ",
        "the of",
        "!!!",
        "½ inch",
        "0,7 mm",
        "N·m 24",
        "ﬁlter",
        "ÉNGINE",
        "İstanbul ß ς",
        "9",
        "98",
    ]
    queries += [
        "986",
        "986-3",
        "986-34",
        "TB 2210",
        "el pl6r",
        "won t turn",
        "12 v 3/8",
        "constructor",
        "__proto__",
        "aug",
    ]
    queries += [
        "x" * 300,
        "auger " * 20,
        "yesterday, after work, my neighbor told me the machine just does not go well at all: auger turns but fan won't; 9863413!",
        "<b>",
        "\u2028auger\x85belt\u00a0cable",
        "kill-switch",
        "shearpin",
        "gskt qqq",
        "18 ft lb",
        "0.030 in gap",
        "3/8 in bolt",
        "1/0 in",
        *CONVERSIONS,
    ]
    for _ in range(300):
        start, size = chance.randrange(len(words) - 6), chance.randint(1, 6)
        picked = chance.choice((words[start : start + size], chance.choices(words, k=size)))
        kind = chance.random()
        if kind < 0.35:
            picked = [slip(word, chance) if chance.random() < 0.5 else word for word in picked]
        elif kind < 0.5:
            picked = [word[: max(1, len(word) // 2)] for word in picked]
        elif kind < 0.6:
            picked = ["".join(picked[:2]), *picked[2:]]
        queries.append(" ".join(picked))
    machines = (None, None, "osmere-d24", "tarnbrook-s20", "osmere-r18", "no-such-machine", "zzz")
    return [
        (query, chance.choice(machines), chance.choice((1, 10, 10, 40)), chance.random() < 0.1)
        for query in queries
    ]


class TestSameAsTheCommandLine:
    def test_hits_scores_and_corrections_are_identical(self, opened: Page, index: StoredIndex) -> None:
        asked = questions()
        for question, there in zip(asked, opened.evaluate(ASK, asked), strict=True):
            query, machine, limit, literal = question
            here = search(index, query, machine, limit, literal=literal)
            expected = {
                "query": here.query,
                "corrected": here.corrected,
                "answer": here.answer,
                "hits": [
                    {
                        "id": hit.id,
                        "kind": hit.kind,
                        "title": hit.title,
                        "url": hit.url,
                        "score": hit.score,
                        "excerpt": hit.excerpt,
                        "fits": hit.fits,
                    }
                    for hit in here.hits
                ],
                "total": here.total,
                "nearest": list(here.nearest),
            }
            assert there == expected, question

    def test_stems_are_identical(self, opened: Page) -> None:
        opened.evaluate("window.shearpinSearch('auger')")
        words = vocabulary()
        there = opened.evaluate("words => words.map(window.shearpinSearchParts.porter2)", list(words))
        assert [pair for pair in zip(words, there, strict=True) if stem(pair[0]) != pair[1]] == []

    def test_firefox_finds_the_same(self, firefox: Firefox, site: Path, index: StoredIndex) -> None:
        (_, _, found) = firefox.play(
            {"goto": at(site, "#q=agur+not+turning")},
            {"waitFor": ".search-hit a"},
            {"evaluate": "Array.from(document.querySelectorAll('.search-hit'), hit => hit.dataset.id)"},
        )
        assert found == [hit.id for hit in search(index, "agur not turning").hits]


def questions_of_the_book(index: StoredIndex) -> list[tuple[str, str | None]]:
    """Every judged query of the tuning half, misspellings of some, and 2,000 made at random of the book's own words."""
    chance = random.Random(11)
    judged = [query for query in read_queries(ROOT / QUERIES) if query.half == HALVES[0]]
    queries = [query.text for query in judged] + [
        slip.text for query in judged[::4] for slip in misspelt(query)
    ]
    words = [word for length in range(3, 13) for word, _ in index.words(length)]
    sizes = (1, 2, 2, 3, 3, 4, 5)
    for _ in range(2000):
        picked = chance.choices(words, k=chance.choice(sizes))
        queries.append(" ".join(slip(word, chance) if chance.random() < 0.06 else word for word in picked))
    machines = (None, None, None, "osmere-d24", "tarnbrook-s20")
    return [(query, chance.choice(machines)) for query in queries]


@pytest.fixture(scope="module")
def answers_of_the_book() -> list[tuple[tuple[str, str | None], list[Any]]]:
    """What the command line answers to them, asked once for all browsers."""
    with index_of(ROOT / "kb") as index:
        found = [(asked, search(index, *asked)) for asked in questions_of_the_book(index)]
    return [
        (
            asked,
            [here.corrected, here.answer, here.total, [[hit.kind, hit.id, hit.score] for hit in here.hits]],
        )
        for asked, here in found
    ]


class TestTheBook:
    def test_the_same_pages_in_the_same_order_as_the_command_line(
        self,
        page: Page,
        built_site: Path,
        answers_of_the_book: list[tuple[tuple[str, str | None], list[Any]]],
    ) -> None:
        page.goto(at(built_site))
        there = page.evaluate(ASK_FOR_ORDER, [asked for asked, _ in answers_of_the_book])
        for (asked, here), found in zip(answers_of_the_book, there, strict=True):
            assert found == here, asked

    @pytest.mark.parametrize(
        "query",
        ["impellor not turning auger ok", "starter rope part", "auger belt slips", "snow thrower wont throw"],
    )
    def test_a_query_that_is_the_first_of_all_reads_all_that_it_takes(
        self, page: Page, built_site: Path, query: str
    ) -> None:
        page.goto(at(built_site))
        ((_, _, total, found),) = page.evaluate(ASK_FOR_ORDER, [[query, None]])
        with index_of(ROOT / "kb") as index:
            here = search(index, query)
        assert (total, found) == (here.total, [[hit.kind, hit.id, hit.score] for hit in here.hits])


class TestTyping:
    def test_hits_come_while_one_types(self, opened: Page) -> None:
        opened.fill("input", "left auger not spinning")
        expect(hits(opened).first).to_have_text("One side of the auger does not turn")
        first = opened.locator(".search-hit").first
        expect(first.locator(".search-kind")).to_have_text("Symptom")
        expect(first.locator(".search-excerpt")).to_contain_text("the other half turns")
        expect(opened.locator("[role=status]")).to_contain_text("pages found")
        assert opened.url.endswith("#q=left+auger+not+spinning")

    def test_words_that_were_looked_for_are_marked(self, opened: Page) -> None:
        opened.fill("input", "auger belt glazed")
        opened.wait_for_selector(".search-hit mark")
        marked = set(opened.locator("mark").all_inner_texts())
        assert {"belt", "glazed"} <= {text.lower() for text in marked}
        assert not any(text.endswith((".", ",")) for text in marked)

    def test_an_empty_box_shows_the_lists(self, opened: Page) -> None:
        lists = opened.locator("[data-search-fallback]")
        expect(lists).to_be_visible()
        opened.fill("input", "auger")
        opened.wait_for_selector(".search-hit")
        expect(lists).to_be_hidden()
        opened.fill("input", "")
        expect(opened.locator(".search-hit")).to_have_count(0)
        expect(opened.locator("[role=status]")).to_have_text("")
        expect(lists).to_be_visible()

    def test_what_was_found_is_said_when_the_typing_rests(self, page: Page, site: Path) -> None:
        page.clock.install(time=0)
        page.goto(at(site))
        page.wait_for_selector("[data-search-results] [role=status]", state="attached")
        page.clock.pause_at(3_600_000)
        page.evaluate(
            """() => {
                window.said = [];
                const status = document.querySelector('[role=status]');
                new MutationObserver(() => window.said.push(status.textContent)).observe(status, {childList: true});
            }"""
        )
        for typed in ("auger", "auger be", "auger belt"):  # each shows its hits before the next
            page.fill("input", typed)
            page.clock.run_for(200)
            expect(page.locator(".search-asked")).to_have_text(f"“{typed}”")
            page.wait_for_selector("[data-search-results]:not([aria-busy]) .search-hit")
        assert page.evaluate("window.said") == []
        page.clock.run_for(1000)
        seen = page.locator("[data-search-results] > .search-note").inner_text()
        assert page.evaluate("window.said") == [seen]

    def test_who_comes_back_from_a_page_finds_the_place(self, opened: Page) -> None:
        opened.fill("input", "auger")
        expect(hits(opened)).to_have_count(10)
        opened.click("text=Show more")
        expect(hits(opened)).not_to_have_count(10)
        title = hits(opened).nth(12).inner_text()
        hits(opened).nth(12).evaluate(
            "link => link.setAttribute('href', 'procedures/replace-spark-plug.html')"
        )
        hits(opened).nth(12).click()
        opened.wait_for_url("**/replace-spark-plug.html*")
        opened.go_back()
        expect(opened.locator(":focus")).to_have_text(title)
        assert hits(opened).count() > 12

    def test_more_hits_are_shown_on_demand(self, opened: Page) -> None:
        opened.fill("input", "auger")
        expect(hits(opened)).to_have_count(10)
        opened.click("text=Show more")
        expect(hits(opened)).not_to_have_count(10)
        assert (
            opened.evaluate(
                "Array.from(document.querySelectorAll('.search-hit > a')).indexOf(document.activeElement)"
            )
            == 10
        )

    def test_text_of_records_is_never_markup(self, opened: Page) -> None:
        opened.fill("input", "bold bracket")
        expect(hits(opened).first).to_have_text(HOSTILE)
        assert opened.locator(".search-hit img, .search-hit b").count() == 0

    def test_what_was_typed_before_the_scripts_came_is_searched(self, page: Page, site: Path) -> None:
        page.add_init_script(
            """new MutationObserver((_, watching) => {
                const box = document.querySelector('input');
                if (!box) return;
                box.value = 'plug gap';
                watching.disconnect();
            }).observe(document, {childList: true, subtree: true})"""
        )
        page.goto(at(site))
        expect(hits(page).first).to_have_text("Spark plug gap")


class TestNotes:
    def test_a_correction_is_said_and_can_be_refused(self, opened: Page) -> None:
        opened.fill("input", "frction ring worn")
        note = opened.locator("p.search-note:not([role])", has_text="Showing results for")
        expect(note).to_contain_text("friction ring worn")
        note.locator("a").click()
        expect(note).to_have_count(0)
        assert opened.url.endswith("#q=frction+ring+worn&exact=1")
        opened.fill("input", "frction ring worn again")
        expect(note).to_have_count(1)

    def test_small_words_alone_ask_for_more_and_are_no_search_in_vain(self, opened: Page) -> None:
        opened.fill("input", "the of it")
        expect(opened.locator("[role=status]")).to_have_text("Type a word that names the part or the fault.")
        expect(opened.locator("[data-search-fallback]")).to_be_hidden()

    def test_nothing_found_says_so_and_offers_what_is_near(self, opened: Page) -> None:
        fallback = opened.locator("[data-search-fallback]")
        opened.goto(opened.url.split("#")[0] + "#q=gskt&exact=1")
        expect(opened.locator("[role=status]")).to_have_text("Nothing found for “gskt”.")
        expect(fallback).to_be_visible()
        opened.click("text=gasket")
        expect(hits(opened).first).to_be_visible()
        expect(fallback).to_be_hidden()

    def test_searches_in_vain_are_kept_for_the_writer(self, opened: Page) -> None:
        opened.fill("input", "zzyzx qqwx")
        with opened.expect_download() as download:
            opened.click("text=Save the search that found nothing")
        saved = Path(download.value.path()).read_text(encoding="utf-8")
        assert download.value.suggested_filename == "searched-in-vain.txt"
        assert "1\tzzyzx qqwx" in saved

    def test_a_copy_that_is_not_whole_says_so(
        self, page: Page, page_log: PageLog, site: Path, tmp_path: Path
    ) -> None:
        copy = Path(shutil.copytree(site, tmp_path / "copy"))
        for path in (copy / "index").glob("t*.js"):
            path.unlink()
        page.goto(at(copy, "#q=auger"))
        expect(page.locator("[role=status]")).to_contain_text("this copy of the manual is not whole")
        assert page_log.take_errors()


class TestFilters:
    def test_a_kind_of_page_is_chosen_and_stays_in_the_address(self, opened: Page) -> None:
        opened.fill("input", "auger belt")
        opened.wait_for_selector(".search-hit")
        opened.get_by_label("Kind of page").select_option("procedure")
        expect(opened.locator(".search-hit:not([data-kind=procedure])")).to_have_count(0)
        expect(hits(opened).first).to_be_visible()
        assert "kind=procedure" in opened.url
        opened.reload()
        expect(hits(opened).first).to_be_visible()
        expect(opened.get_by_label("Kind of page")).to_have_value("procedure")
        expect(opened.locator(".search-hit:not([data-kind=procedure])")).to_have_count(0)

    def test_pages_that_do_not_fit_the_machine_can_be_left_out(self, opened: Page) -> None:
        opened.fill("input", "replace auger belt")
        opened.wait_for_selector(".search-hit")
        expect(opened.get_by_label("Only what fits")).to_be_hidden()
        opened.select_option("[data-machine-choice]", "tarnbrook-s20")
        expect(opened.locator(".not-yours").first).to_be_visible()
        opened.get_by_label("Only what fits the Tarnbrook S20").check()
        expect(opened.locator(".not-yours")).to_have_count(0)
        expect(hits(opened).first).to_have_text("Replace the auger belt (single-stage)")
        assert "fitting=1" in opened.url

    def test_nothing_among_the_chosen_pages_is_no_miss_and_leads_on(self, opened: Page, site: Path) -> None:
        opened.goto(at(site, "#q=fuel+leak&kind=tool"))
        expect(opened.locator("[role=status]")).to_contain_text("among the pages you chose")
        opened.click("text=Search in all pages")
        expect(hits(opened).first).to_have_text("Fuel leak")

    def test_filters_change_what_the_command_line_finds_alike(self, opened: Page, index: StoredIndex) -> None:
        ask = "([query, machine, kinds, fitting]) => window.shearpinSearch(query, {machine, kinds, fitting})"
        for machine, kinds, fitting in [(None, ["procedure", "value"], False), ("osmere-d24", [], True)]:
            there = opened.evaluate(ask, ["auger belt", machine, kinds, fitting])
            here = search(index, "auger belt", machine, kinds=kinds, fitting=fitting)
            assert [hit["id"] for hit in there["hits"]] == [hit.id for hit in here.hits]
            assert there["total"] == here.total


class TestAnswers:
    def test_a_conversion_is_answered_and_said(self, opened: Page) -> None:
        opened.fill("input", "24 Nm in ft lb")
        expect(opened.locator(".search-answer")).to_have_text("24 N·m = 17.7 lbf·ft")
        expect(opened.locator("[role=status]")).to_contain_text("24 N·m = 17.7 lbf·ft")

    def test_a_value_is_answered_with_its_provenance(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "#machine=osmere-d24&q=spark+plug+gap"))
        expect(page.locator(".search-answer")).to_contain_text(
            "0.70–0.80 mm (0.028–0.031 in); invented figure"
        )

    def test_each_figure_of_an_answer_has_a_line(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "#q=shear+bolt+torque"))
        lines = page.locator(".search-answer > span")
        expect(lines.first).to_have_text("Auger shear bolt, tightening torque:")
        expect(lines.last).to_have_text("Osmere T28: 9.0 ± 1.0 N·m (70.9–88.5 lbf·in); invented figure")


class TestMisses:
    def test_searches_in_vain_are_listed_with_those_of_others(
        self, page: Page, built_site: Path, tmp_path: Path
    ) -> None:
        page.goto(at(built_site))
        page.evaluate(
            "localStorage.setItem('shearpin.misses', JSON.stringify([['blade brake', 2], ['zerk', 1]]))"
        )
        lists = tmp_path / "searched-in-vain.txt"
        lists.write_text("3\tzerk\n1\tpto <b>clutch</b>\nno number\n", encoding="utf-8")
        page.goto(at(built_site, path="coverage.html"))
        page.set_input_files("[data-misses] input", lists)
        expect(page.locator("[data-misses] [role=status]")).to_have_text("3 searches found nothing.")
        rows = page.locator("[data-misses] li").all_inner_texts()
        assert rows == ["zerk (4 times)", "blade brake (2 times)", "pto <b>clutch</b>"]

    def test_what_looks_like_a_customers_number_is_not_kept(self, opened: Page) -> None:
        opened.evaluate("shearpinMisses.keepMiss('zzq 555-123-4567 joe@example.org')")
        assert opened.evaluate("shearpinMisses.readMisses()") == [["zzq", 1]]


class TestForEveryone:
    @pytest.mark.parametrize(
        "hash_", ["#q=left+auger+not+spinnin", "#q=zzyzx+qqwx", "#q=24+Nm+in+ft+lb&machine=osmere-d24"]
    )
    def test_hits_and_filters_are_accessible(
        self, page: Page, built_site: Path, violations: Callable[[Page], dict[str, list[str]]], hash_: str
    ) -> None:
        page.goto(at(built_site, hash_))
        expect(page.locator("[data-search-results] [role=status]")).not_to_have_text("")
        assert violations(page) == {}

    def test_on_paper_the_question_stands_in_place_of_the_box(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site, "#q=auger+belt&machine=osmere-d24&fitting=1"))
        expect(hits(page).first).to_be_visible()
        expect(page.locator(".search-asked")).to_be_hidden()
        page.emulate_media(media="print")
        expect(page.locator(".search-asked")).to_have_text("“auger belt”Only what fits the Osmere D24")
        expect(page.locator(".search-asked")).to_be_visible()
        expect(page.locator(".search-filters")).to_be_hidden()

    def test_the_whole_search_is_done_with_the_keyboard(self, page: Page, built_site: Path) -> None:
        page.goto(at(built_site))
        page.wait_for_selector("[data-search-results] [role=status]", state="attached")
        page.evaluate("document.activeElement.blur()")
        page.keyboard.press("/")
        page.keyboard.type("engine surges")
        expect(hits(page).first).to_have_text("Engine surges")
        page.keyboard.press("ArrowDown")
        assert page.evaluate("document.activeElement.textContent") == "Engine surges"
        page.keyboard.press("Escape")
        assert page.evaluate("document.activeElement.name") == "q"
        for _ in range(2):  # past the button to the kinds
            page.keyboard.press("Tab")
        page.keyboard.type("Cause")
        expect(page.locator(".search-hit").first).to_have_attribute("data-kind", "cause")

    def test_what_is_touched_is_large_enough_for_a_glove(self, phone_page: Page, built_site: Path) -> None:
        phone_page.goto(at(built_site, "#q=auger&machine=osmere-d24"))
        expect(hits(phone_page).first).to_be_visible()
        names = (".search-hit > a", ".search-filters select", ".search-fitting", ".search-more")
        self.check_sizes(phone_page, names)
        phone_page.goto(at(built_site, "#q=zzyzx+qqwx"))
        expect(phone_page.locator(".search-near").first).to_be_visible()
        self.check_sizes(phone_page, (".search-near",))

    def check_sizes(self, phone_page: Page, names: tuple[str, ...]) -> None:
        for name in names:
            box = phone_page.locator(name).first.bounding_box()
            assert box is not None
            assert min(box["height"], box["width"]) >= 48, name


class TestMachine:
    def test_pages_that_do_not_fit_are_marked_and_follow_the_choice(self, opened: Page) -> None:
        opened.fill("input", "replace auger belt")
        opened.wait_for_selector(".search-hit")
        assert opened.locator(".not-yours").count() == 0
        opened.select_option("[data-machine-choice]", "tarnbrook-s20")
        expect(hits(opened).first).to_have_text("Replace the auger belt (single-stage)")
        other = opened.locator(".search-hit", has_text="(two-stage)")
        expect(other.locator(".not-yours")).to_have_text("not for the Tarnbrook S20")
        assert hits(opened).first.get_attribute("href").endswith("single-stage.html#machine=tarnbrook-s20")
        opened.select_option("[data-machine-choice]", "osmere-d24")
        expect(hits(opened).first).to_have_text("Replace the auger belt (two-stage)")

    def test_the_address_holds_query_and_machine_and_what_else_it_held(self, page: Page, site: Path) -> None:
        page.goto(at(site, "#machine=osmere-d24&lesson=7&q=tire+pressure"))
        expect(page.locator("[name=q]")).to_have_value("tire pressure")
        expect(hits(page).first).to_have_text("Tire pressure")
        page.fill("input", "plug gap")
        expect(hits(page).first).to_have_text("Spark plug gap")
        for part in ("machine=osmere-d24", "lesson=7", "q=plug+gap"):
            assert part in page.url

    def test_a_new_hash_is_a_new_search(self, opened: Page) -> None:
        opened.evaluate("location.hash = '#q=fuel+leak'")
        expect(hits(opened).first).to_have_text("Fuel leak")
        opened.evaluate("location.hash = '#q=chute+stuck'")
        expect(hits(opened).first).to_have_text("Chute will not rotate")


class TestKeys:
    def test_slash_goes_to_the_box(self, opened: Page) -> None:
        opened.fill("input", "auger")
        opened.evaluate("document.activeElement.blur()")
        opened.keyboard.press("/")
        assert opened.evaluate("document.activeElement.name") == "q"
        opened.keyboard.type("b/2")
        expect(opened.locator("[name=q]")).to_have_value("b/2")

    def test_arrows_go_through_the_hits_and_enter_opens_one(self, opened: Page) -> None:
        opened.fill("input", "replace spark plug")
        opened.wait_for_selector(".search-hit")
        opened.focus("input")
        focused = "Array.from(document.querySelectorAll('.search-hit > a')).indexOf(document.activeElement)"
        for key, place in (("ArrowDown", 0), ("ArrowDown", 1), ("ArrowUp", 0)):
            opened.keyboard.press(key)
            assert opened.evaluate(focused) == place
        opened.keyboard.press("ArrowUp")
        assert opened.evaluate("document.activeElement.name") == "q"
        opened.keyboard.press("ArrowDown")
        opened.keyboard.press("Enter")
        opened.wait_for_url("**/procedures/replace-spark-plug.html")


class TestOtherPages:
    def test_the_box_of_another_page_leads_to_the_search_page(self, page: Page, site: Path) -> None:
        page.goto(at(site, "#machine=osmere-d24", "procedures/replace-spark-plug.html"))
        page.fill("input", "fuel & oil?")
        page.keyboard.press("Enter")
        page.wait_for_url("**/search.html#*")
        assert page.input_value("input") == "fuel & oil?"
        assert "machine=osmere-d24" in page.url
        expect(hits(page).first).to_be_visible()

    def test_a_page_without_a_search_reads_no_index(self, open_page: Callable[..., Page], site: Path) -> None:
        page = open_page()
        read: list[str] = []
        page.on("request", lambda request: read.append(request.url))
        page.goto(at(site, "", "procedures/replace-spark-plug.html"))
        page.wait_for_load_state("networkidle")
        assert not any("/index/" in url or "search-" in url.rsplit("/", 1)[1] for url in read)
