"""The built manual, read as HTML: warnings before work, no dead link, nothing asked of the network."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from bs4 import BeautifulSoup, Tag

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.catalogue import RULES
from shearpin.model.kinds import KINDS
from shearpin.site.rule_pages import FAMILIES
from shearpin.site.view import address

KB = Path(__file__).resolve().parents[2] / "kb"
MOST_BYTES = 60 * 1024
SIGNAL_WORDS = ["DANGER", "WARNING", "CAUTION", "NOTICE"]


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


@cache
def soup(path: Path) -> BeautifulSoup:
    return BeautifulSoup(path.read_text(encoding="utf-8"), "lxml")


def all_pages(site: Path) -> Iterator[Path]:
    return (path for path in sorted(site.rglob("*.html")) if path.name != "404.html")


def test_every_record_has_its_page_with_kind_id_and_title(built_site: Path, linked: LinkedBook) -> None:
    for (kind, record_id), record in linked.book.records():
        page = soup(built_site / address(kind, record_id))
        article = page.select_one(f'article[data-kind="{kind}"][data-id="{record_id}"]')
        assert article is not None, (kind, record_id)
        assert article.h1.get_text(" ", strip=True) == record.title
        assert record.title in page.title.get_text()


def test_pages_do_not_grow_with_the_number_of_machines(built_site: Path, linked: LinkedBook) -> None:
    script = (built_site / "machines-data.js").read_text(encoding="utf-8")
    listed = json.loads(script.removeprefix("window.shearpinMachines=").rstrip(";\n"))
    machines = {machine_id: record.title for machine_id, record in linked.book.machines.items()}
    assert dict(listed) == machines
    assert [title for _, title in listed] == sorted(machines.values())
    for path in all_pages(built_site):
        page = soup(path)
        assert [option.get_text() for option in page.select("select[data-machine-choice] option")] == [
            "All machines"
        ], path
        reasons = [sentence.get_text() for sentence in page.select("[data-misfit]")]
        assert len(set(reasons)) == len(reasons), path  # one for each reason, not for each machine


@pytest.mark.parametrize("kind", ["procedure", "test", "symptom"])
def test_required_cautions_stand_before_everything_else(
    built_site: Path, linked: LinkedBook, kind: str
) -> None:
    for record_id in linked.book.of_kind(kind):
        article = soup(built_site / address(kind, record_id)).select_one("article")
        box = article.select_one("section.safety")
        assert box is not None, record_id
        shown = [panel["data-caution"] for panel in box.select("[data-signal-word][data-caution]")]
        required = linked.safety.required(kind, record_id)
        assert shown == [item.id for item in required], record_id
        words = [panel["data-signal-word"] for panel in box.select("[data-signal-word]")]
        assert words == sorted(words, key=SIGNAL_WORDS.index), record_id
        before = [tag for tag in box.find_all_previous(["ol", "table", "section"]) if article in tag.parents]
        assert before == [], f"{record_id}: something stands before the safety message"


def test_every_safety_message_says_hazard_consequence_and_avoidance(built_site: Path) -> None:
    for path in all_pages(built_site):
        for panel in soup(path).select(".safety-message"):
            word = panel.select_one(".signal-word").get_text(strip=True)
            assert word == panel["data-signal-word"]
            assert panel.select_one(".hazard").get_text(strip=True)
            assert panel.select_one(".consequence").get_text(strip=True)
            assert panel.select(".avoidance li")
            # ANSI Z535: a NOTICE is not about injury and bears no alert symbol.
            assert bool(panel.select(".signal-word svg")) == (word != "NOTICE")
            hidden = [tag.name for tag in panel.parents if tag.name in ("details", "template", "noscript")]
            assert hidden == [], path


def test_a_step_shows_its_caution_before_its_instruction(built_site: Path, linked: LinkedBook) -> None:
    seen = 0
    for (kind, record_id), work in linked.book.work():
        article = soup(built_site / address(kind, record_id)).select_one("article")
        items = article.select("ol[data-steps] > li[data-step]")
        steps = (*work.steps, *work.finish)  # type: ignore[attr-defined]
        assert len(items) == len(steps), record_id
        for item, step in zip(items, steps, strict=True):
            instruction = item.select_one(".do")
            cautions = [
                tag["data-caution"]
                for tag in instruction.find_all_previous(class_="step-caution")
                if item in tag.parents
            ]
            assert set(cautions) >= set(step.caution), (record_id, step.do)
            assert set(cautions) >= {c for a in step.action for c in linked.safety.by_action[a]}
            assert not instruction.find_all_next(class_="step-caution") or all(
                item not in tag.parents for tag in instruction.find_all_next(class_="step-caution")
            )
            seen += len(cautions)
    assert seen > 100


def test_nothing_is_asked_of_the_network(built_site: Path) -> None:
    for path in all_pages(built_site):
        for tag in soup(path).find_all(True):
            for name in ("src", "srcset", "poster", "data", "action", "formaction", "background"):
                value = tag.get(name)
                if isinstance(value, str) and name != "data":
                    assert not re.match(r"\s*(?:[a-z]+:)?//", value, re.IGNORECASE), (path, tag.name, value)
            if tag.name == "link":
                assert not re.match(r"\s*(?:[a-z]+:)?//", tag.get("href", ""), re.IGNORECASE), (path, tag)
            assert not any(name.startswith("on") for name in tag.attrs), (path, tag.name)
            assert "style" not in tag.attrs or tag.name == "svg", (path, tag.name)
    for sheet in built_site.rglob("*.css"):
        for target in re.findall(r"url\(([^)]*)\)", sheet.read_text(encoding="utf-8")):
            assert not re.match(r"""['"]?\s*(?:https?:)?//""", target), (sheet, target)


def test_every_page_forbids_the_network(built_site: Path) -> None:
    for path in all_pages(built_site):
        policy = soup(path).select_one('meta[http-equiv="Content-Security-Policy"]')
        assert policy is not None, path
        assert "default-src 'none'" in policy["content"], path
        assert "connect-src 'none'" in policy["content"], path


def test_no_link_or_anchor_is_dead(built_site: Path) -> None:
    links = 0
    for path in all_pages(built_site):
        for tag in soup(path).select("a[href], link[href], script[src], img[src], form[action]"):
            target = tag.get("href") or tag.get("src") or tag.get("action")
            parts = urlsplit(target)
            if parts.scheme in ("https", "data"):
                assert tag.name == "a" or parts.scheme == "data", (path, target)
                continue
            assert not parts.scheme, (path, target)
            assert not target.startswith("/"), (path, target)
            goal = (path.parent / unquote(parts.path)).resolve() if parts.path else path
            assert goal.is_file(), (path.relative_to(built_site), target)
            if parts.fragment and goal.suffix == ".html":
                assert soup(goal).find(id=unquote(parts.fragment)) is not None, (path, target)
            links += 1
    assert links > 10_000


def test_links_to_records_say_which_record(built_site: Path, linked: LinkedBook) -> None:
    for path in all_pages(built_site):
        for tag in soup(path).select("a[data-ref]"):
            kind, _, record_id = tag["data-ref"].partition(":")
            assert linked.book.get(kind, record_id) is not None
            assert tag["href"].endswith(f"{KINDS[kind].folder}/{record_id}.html")


def test_ids_are_unique_on_every_page(built_site: Path) -> None:
    for path in all_pages(built_site):
        ids = [tag["id"] for tag in soup(path).find_all(id=True)]
        assert len(ids) == len(set(ids)), (path, [i for i in ids if ids.count(i) > 1][:3])


def test_addresses_are_short_and_unique_on_every_system(built_site: Path) -> None:
    paths = [path.relative_to(built_site).as_posix() for path in built_site.rglob("*")]
    assert max(map(len, paths)) < 200
    assert len({path.casefold() for path in paths}) == len(paths)
    assert not any(re.search(r'[<>:"|?*\\]', path) for path in paths)


def test_each_value_of_a_page_is_that_of_its_machine(built_site: Path, linked: LinkedBook) -> None:
    """Every figure on every page equals what the machine's or its engine's record says."""
    count = 0
    for path in all_pages(built_site):
        for tag in soup(path).select("[data-value][data-machine]"):
            machine = linked.book.machines[tag["data-machine"]]
            name = tag["data-value"]
            owner = (
                machine
                if linked.book.values[name].plate.value == "machine"
                else linked.book.engines[machine.engine or ""]
            )
            entry = owner.values.get(name)
            shown = tag.get_text(" ", strip=True)
            if entry is None:
                assert tag.select("[data-missing]"), (path, name)
            else:
                resolved = linked.values.resolve(name, tag["data-machine"])
                assert shown.startswith(str(resolved.quantity)), (path, name, shown)  # type: ignore[union-attr]
                count += 1
    assert count > 1000


def test_parts_are_grouped_by_the_plate_that_orders_them(built_site: Path, linked: LinkedBook) -> None:
    for record_id in linked.book.procedures:
        article = soup(built_site / address("procedure", record_id)).select_one("article")
        for group in article.select(".by-plate"):
            for tag in group.select(":scope > ul > li > a[data-ref^='part:']"):
                part = linked.book.parts[tag["data-ref"].partition(":")[2]]
                assert part.plate.value == group["data-plate"], (record_id, tag["data-ref"])


def test_search_of_the_theme_is_off(built_site: Path) -> None:
    assert not (built_site / "search" / "search_index.json").exists()
    assert not list(built_site.rglob("*unpkg*"))
    for path in all_pages(built_site):
        assert "unpkg" not in path.read_text(encoding="utf-8")


def first(page: BeautifulSoup, selector: str) -> Tag:
    tag = page.select_one(selector)
    assert tag is not None, selector
    return tag


def test_a_symptom_lists_causes_by_chance_and_tests_with_minutes(built_site: Path) -> None:
    page = soup(built_site / "symptoms" / "one-side-of-auger-does-not-turn.html")
    assert first(page, "tr[data-cause]")["data-cause"] == "auger-shear-bolt-sheared"
    assert first(page, "tr[data-test]")["data-test"] == "shear-bolt-inspection"
    assert re.search(r"\d+ minutes", first(page, ".expected").get_text())
    last = page.select("tr[data-cause]")[-1]
    assert last["data-cause"] == "something-else"


def test_a_cause_shows_a_chosen_machine_only_the_work_that_fits_it(built_site: Path) -> None:
    page = soup(built_site / "causes" / "auger-belt-worn-or-glazed.html")
    fits = {first(item, "a")["data-ref"]: item.get("data-for") for item in page.select("#cures li")}
    assert fits["procedure:replace-auger-belt-single-stage"] == "tarnbrook-s20 tarnbrook-s22e"
    assert fits["procedure:replace-auger-belt-two-stage"] == "osmere-d24 osmere-d28 osmere-t28"


def test_what_uses_a_tool_shows_a_chosen_machine_only_the_work_that_fits_it(built_site: Path) -> None:
    page = soup(built_site / "tools" / "socket-set.html")
    fits = {first(item, "a")["data-ref"]: item.get("data-for") for item in page.select("#used-by li")}
    assert fits["procedure:replace-auger-belt-single-stage"] == "tarnbrook-s20 tarnbrook-s22e"
    assert fits["procedure:change-engine-oil"] is None


def test_no_page_weighs_more_than_60_kilobytes_without_shared_assets(built_site: Path) -> None:
    """Pages alone: scripts and styles are shared. An old shop PC reads them from a slow disk."""
    weights = {p.relative_to(built_site).as_posix(): p.stat().st_size for p in all_pages(built_site)}
    assert {path: weight for path, weight in weights.items() if weight > MOST_BYTES} == {}


def test_a_list_that_would_be_too_heavy_is_whole_on_several_pages(
    built_site: Path, linked: LinkedBook
) -> None:
    for kind in KINDS:
        folder = built_site / KINDS[kind].folder
        pages = [folder / "index.html", *sorted(folder.glob("index.[0-9]*.html"))]
        listed = [tag["data-ref"] for page in pages for tag in soup(page).select(f'a[data-ref^="{kind}:"]')]
        assert {f"{kind}:{record_id}" for record_id in linked.book.of_kind(kind)} <= set(listed), kind
        for page in pages:  # each leads to all others
            ways = {tag["href"].removeprefix("../") for tag in soup(page).select("nav.jumps a")}
            if len(pages) > 1:
                assert {p.relative_to(built_site).as_posix() for p in pages} <= ways


def test_everything_that_rests_on_a_source_is_reached_from_its_page(
    built_site: Path, linked: LinkedBook
) -> None:
    for source_id in linked.book.sources:
        folder = built_site / "sources"
        pages = [folder / f"{source_id}.html", *folder.glob(f"{source_id}.on-it-*.html")]
        shown = {tag["data-ref"] for page in pages for tag in soup(page).select("a[data-ref]")}
        resting = {":".join(key) for key in linked.links.origins(("source", source_id))}
        assert resting <= shown, source_id


def test_coverage_has_a_page_for_each_system_within_the_weight_of_a_page(built_site: Path) -> None:
    systems = {path.stem for path in (KB / "systems").glob("*.yaml")}
    pages = {path.stem: path for path in (built_site / "coverage").glob("*.html")}
    assert set(pages) == systems
    assert max(path.stat().st_size for path in (*pages.values(), built_site / "coverage.html")) < 60_000


def test_every_rule_has_a_page_that_the_writers_page_leads_to(built_site: Path) -> None:
    assert 'href="rules/index.html"' in (built_site / "writing-records.html").read_text(encoding="utf-8")
    listed = (built_site / "rules" / "index.html").read_text(encoding="utf-8")
    for code, rule in RULES.items():
        assert f'href="{code.lower()}.html"' in listed
        page = BeautifulSoup(
            (built_site / "rules" / f"{code.lower()}.html").read_text(encoding="utf-8"), "lxml"
        )
        said = page.article.get_text()
        assert rule.summary.rstrip(".").replace("`", "") in said
        assert all(content.strip() in said for example in rule.bad for _, content in example.files)


def test_the_family_of_every_rule_has_a_heading(built_site: Path) -> None:
    assert {code[:3] for code in RULES} <= set(FAMILIES)


def test_the_search_boxes_show_what_one_may_ask_of_this_book(built_site: Path, linked: LinkedBook) -> None:
    book = linked.book
    likely = max(book.symptoms.values(), key=lambda symptom: len(symptom.causes))
    assert _example(built_site / "index.html") in likely.said
    owners = [*book.machines.values(), *book.engines.values()]
    often = max(sum(name in owner.values for owner in owners) for name in book.values)
    asked = [
        book.values[name].title.replace(",", "")
        for name in book.values
        if sum(name in owner.values for owner in owners) == often
    ]
    assert _example(built_site / "search.html") in asked


def _example(page: Path) -> object:
    box = soup(page).select_one("article input[name=q]")
    assert box is not None
    return box["placeholder"]
