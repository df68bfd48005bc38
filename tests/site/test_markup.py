"""Pages and scripts as standards have them: HTML of the living standard, ECMAScript 2017, schema.org as JSON-LD."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

import pytest
from pyld import jsonld

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.site.linked_data import block
from shearpin.site.view import View
from tests.browser.harness import missing
from tests.kinds_of_page import KINDS_OF_PAGE
from tests.sound_book import read_over, swap

ROOT = Path(__file__).resolve().parents[2]
NODE_MODULES = ROOT / "tests" / "node_modules"
SCRIPTS = ROOT / "site_overrides" / "look"
DATA = re.compile(r'<script type="application/ld\+json">(.*?)</script>', re.DOTALL)
# Boxes of the theme's drawer and search, outside every block that a template can change; nothing shows them.
THEMES_OWN = {"#__drawer", "#__search"}
ES2017 = """const {parse} = require('acorn'), fs = require('fs'), failed = {};
for (const path of process.argv.slice(1)) {
    try { parse(fs.readFileSync(path, 'utf8'), {ecmaVersion: 2017, sourceType: 'script'}); }
    catch (error) { failed[path] = error.message; }
}
console.log(JSON.stringify(failed));"""
# Properties of schema.org, version 29, for the two types and their parts (from memory).
HOW_TO = {"name", "description", "inLanguage", "totalTime", "tool", "supply", "step"}
STEP = {"@type", "position", "url", "text"}
SHORT_STEP = STEP - {"text", "position"}  # of a page that would outweigh its budget
LONG_PAGE = 45_000  # bytes, steps told by their addresses alone
VOCABULARY = "https://schema.org/"
# Classes and properties of schema.org 29 that these pages use, each property with the classes it is defined for, those
# they inherit from included (from memory).
WORK = {"HowTo", "TechArticle", "HowToStep", "HowToTool", "HowToSupply"}
DEFINED_FOR = {
    "name": WORK, "description": WORK, "url": WORK,  # Thing
    "inLanguage": {"HowTo", "TechArticle", "HowToStep"}, "text": {"HowTo", "TechArticle", "HowToStep"},  # CreativeWork
    "headline": {"TechArticle"}, "position": {"HowToStep", "HowToTool", "HowToSupply"},  # ListItem too
    "totalTime": {"HowTo"}, "tool": {"HowTo"}, "supply": {"HowTo"}, "step": {"HowTo"},
}  # fmt: skip


def run_node(*arguments: str) -> str:
    node = shutil.which("node")
    if node is None or not (NODE_MODULES / "acorn").is_dir() or not (NODE_MODULES / "html-validate").is_dir():
        missing("Node.js with acorn and html-validate is needed: run tools/test.py, which installs them")
    with tempfile.TemporaryFile("w+", encoding="utf-8") as answer:  # a long answer down a pipe is cut short
        subprocess.run([node, *arguments], cwd=ROOT / "tests", stdout=answer, check=False)
        answer.seek(0)
        return answer.read()


def too_new(*paths: Path) -> dict[str, str]:
    found: dict[str, str] = json.loads(run_node("-e", ES2017, *map(str, paths)))
    return found


class TestScripts:
    def test_every_script_is_ecmascript_2017(self) -> None:
        scripts = sorted(SCRIPTS.glob("*.js"))
        assert len(scripts) > 10
        assert too_new(*scripts) == {}

    @pytest.mark.parametrize(
        "line", ["const a = {...b};", "a = b?.c;", "a = b ?? c;", "try { a() } catch { b() }", "import 'a';"]
    )
    def test_what_is_newer_is_found(self, tmp_path: Path, line: str) -> None:
        script = tmp_path / "new.js"
        script.write_text(line, encoding="utf-8")
        assert list(too_new(script)) == [str(script)]


def test_pages_are_valid_html(built_site: Path, tmp_path: Path) -> None:
    config = tmp_path / "standard.json"
    config.write_text('{"root": true, "extends": ["html-validate:standard"]}', encoding="utf-8")
    validate = NODE_MODULES / "html-validate" / "bin" / "html-validate.mjs"
    pages = [str(built_site / path) for path in (*KINDS_OF_PAGE, "404.html")]
    report: list[dict[str, Any]] = json.loads(
        run_node(str(validate), "--config", str(config), "--formatter", "json", *pages)
    )
    found = [
        (page["filePath"], said["line"], said["ruleId"], said["message"])
        for page in report
        for said in page["messages"]
        if said.get("selector") not in THEMES_OWN
    ]
    assert found == []
    assert any(said["selector"] in THEMES_OWN for page in report for said in page["messages"])  # it does look


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(ROOT / "kb", "kb")


def nodes_of(about: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the nodes of a block as JSON-LD 1.1 expands and flattens them; its context, read from no network, is the vocabulary."""

    def context(address: str, _: dict[str, Any]) -> dict[str, Any]:
        assert address.rstrip("/") == "https://schema.org"
        document = {"@context": {"@vocab": VOCABULARY, "url": {"@type": "@id"}}}
        return {
            "contentType": "application/ld+json",
            "contextUrl": None,
            "documentUrl": address,
            "document": document,
        }

    options = {"documentLoader": context, "base": "file:///page.html"}
    found: list[dict[str, Any]] = jsonld.flatten(jsonld.expand(about, options))
    return [{key: value for key, value in node.items() if key != "@id"} for node in found if "@type" in node]


def data_of(path: Path) -> dict[str, Any]:
    (written,) = DATA.findall(path.read_text(encoding="utf-8"))
    about: dict[str, Any] = json.loads(written)
    assert about["@context"] == "https://schema.org"
    return about


class TestLinkedData:
    def test_every_procedure_is_a_howto_of_its_own_steps(self, built_site: Path, linked: LinkedBook) -> None:
        for record_id, record in linked.book.procedures.items():
            page = built_site / "procedures" / f"{record_id}.html"
            about = data_of(page)
            assert about["@type"] == "HowTo"
            assert set(about) - {"@context", "@type"} <= HOW_TO
            assert about["name"] == record.title
            assert re.fullmatch(r"PT\d+(\.\d+)?M", about["totalTime"])  # ISO 8601-1, 5.5.2
            assert [step["url"] for step in about["step"]] == [
                f"#step-{n + 1}" for n in range(len(about["step"]))
            ]
            assert all(step.get("position", n) == n for n, step in enumerate(about["step"], 1))
            assert len(about["step"]) == len(record.steps) + len(record.finish)
            kinds = {frozenset(step) for step in about["step"]}
            assert kinds in ({frozenset(STEP)}, {frozenset(SHORT_STEP)})
            assert kinds == {frozenset(STEP)} or page.stat().st_size > LONG_PAGE, record_id
            text = page.read_text(encoding="utf-8")
            assert all(f'id="{step["url"][1:]}"' in text for step in about["step"])

    def test_a_step_begins_with_its_hazards(self, built_site: Path, linked: LinkedBook) -> None:
        seen = 0
        for record_id, record in linked.book.procedures.items():
            page = built_site / "procedures" / f"{record_id}.html"
            steps = data_of(page)["step"]
            long = page.stat().st_size > LONG_PAGE and all("text" not in step for step in steps)
            for step, written in zip((*record.steps, *record.finish), steps, strict=True):
                for caution in linked.safety.of_step(step):
                    seen += 1
                    word = linked.book.cautions[caution].signal_word.value
                    assert f"{word}: " in written.get("text", f"{word}: " if long else "")
        assert seen > 100

    def test_a_reader_of_linked_data_finds_schema_orgs_terms_alone(self, built_site: Path) -> None:
        seen: set[str] = set()
        for path in (*KINDS_OF_PAGE, *sorted((built_site / "procedures").glob("*.html"))[::6]):
            text = (built_site / path).read_text(encoding="utf-8")
            for written in DATA.findall(text):
                for node in nodes_of(json.loads(written)):
                    (kind,) = (each.removeprefix(VOCABULARY) for each in node.pop("@type"))
                    for name in node:
                        assert kind in DEFINED_FOR[name.removeprefix(VOCABULARY)], (path, kind, name)
                    seen.add(kind)
        assert seen == WORK

    def test_what_is_no_term_of_schema_org_is_found(self) -> None:
        about = {"@context": "https://schema.org", "@type": "HowTo", "hazard": "none"}
        (node,) = nodes_of(about)
        assert f"{VOCABULARY}hazard" in node
        assert "hazard" not in DEFINED_FOR

    def test_other_records_are_articles(self, built_site: Path) -> None:
        for path in (
            "symptoms/auger-does-not-turn.html",
            "values/auger-shear-bolt.torque.html",
            "machines/osmere-d24.html",
        ):
            about = data_of(built_site / path)
            assert about["@type"] == "TechArticle"
            assert about["headline"]
            assert about["description"]

    def test_no_record_ends_the_block(self, tmp_path: Path) -> None:
        title = "title: Replace an auger shear bolt"
        files = swap("procedures/replace-auger-shear-bolt.yaml", title, 'title: "</script><b>bold"')
        written = block(View(read_over(tmp_path, files), "../"), "procedure", "replace-auger-shear-bolt")
        assert written.count("<") == 2  # the block's own tags
        assert json.loads(DATA.findall(written)[0])["name"] == "</script><b>bold"
