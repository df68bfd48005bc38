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

from shearpin.search.index import StoredIndex, build_index, search
from shearpin.search.model import build_model
from shearpin.search.shards import export_shards
from tests.browser.harness import Firefox, PageLog
from tests.search.book_of_documents import DOCUMENTS, SYNONYMS
from tests.search.test_conversion import CONVERSIONS
from tests.search.test_ranking import MEANT
from tests.search.vocabulary import vocabulary

OLD_BROWSER_TOO = True

LOOK = Path(__file__).resolve().parents[2] / "site_overrides" / "look"

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
<select data-machine-choice><option value="">All</option><option value="osmere-d24">Osmere D24</option>
<option value="tarnbrook-s20">Tarnbrook S20</option></select>
<main><h1>{title}</h1><form data-search action="{root}search.html"><input type="search" name="q"><button>Find</button></form>
{results}</main>
<script src="{root}look/machine.js"></script><script src="{root}look/search.js"></script></body></html>
"""
RESULTS = "<div data-search-results></div><p data-search-fallback hidden>All symptoms</p>"

ASK = """questions => Promise.all(questions.map(([query, machine, limit, literal]) =>
    window.shearpinSearch(query, {machine, limit, literal}).then(({query, corrected, answer, hits, total, nearest}) =>
        ({query, corrected, answer, hits, total, nearest}))))"""


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of two pages with the index of the tests' own book, below a path that breaks what is not escaped."""
    folder = tmp_path_factory.mktemp("search") / "Ålesund shop #2 – 100 % & more"
    (folder / "procedures").mkdir(parents=True)
    shutil.copytree(LOOK, folder / "look")
    export_shards(build_model(BOOK, SYNONYMS), folder)
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

    def test_an_empty_box_shows_nothing(self, opened: Page) -> None:
        opened.fill("input", "auger")
        opened.wait_for_selector(".search-hit")
        opened.fill("input", "")
        expect(opened.locator(".search-hit")).to_have_count(0)
        expect(opened.locator("[role=status]")).to_have_text("")

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
            "document.addEventListener('DOMContentLoaded', () => { document.querySelector('input').value = 'plug gap'; })"
        )
        page.goto(at(site))
        expect(hits(page).first).to_have_text("Spark plug gap")


class TestNotes:
    def test_a_correction_is_said_and_can_be_refused(self, opened: Page) -> None:
        opened.fill("input", "frction ring worn")
        note = opened.locator(".search-note", has_text="Showing results for")
        expect(note).to_contain_text("friction ring worn")
        note.locator("a").click()
        expect(note).to_have_count(0)
        assert opened.url.endswith("#q=frction+ring+worn&exact=1")
        opened.fill("input", "frction ring worn again")
        expect(note).to_have_count(1)

    def test_nothing_found_says_so_and_offers_what_is_near(self, opened: Page) -> None:
        fallback = opened.locator("[data-search-fallback]")
        expect(fallback).to_be_hidden()
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
        expect(page.locator("input")).to_have_value("tire pressure")
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
        expect(opened.locator("input")).to_have_value("b/2")

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
