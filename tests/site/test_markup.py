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
            assert [step["position"] for step in about["step"]] == list(range(1, len(about["step"]) + 1))
            assert len(about["step"]) == len(record.steps) + len(record.finish)
            assert [set(step) for step in about["step"]] == [STEP] * len(about["step"])
            text = page.read_text(encoding="utf-8")
            assert all(f'id="{step["url"][1:]}"' in text for step in about["step"])

    def test_a_step_begins_with_its_hazards(self, built_site: Path, linked: LinkedBook) -> None:
        seen = 0
        for record_id, record in linked.book.procedures.items():
            steps = data_of(built_site / "procedures" / f"{record_id}.html")["step"]
            for step, written in zip((*record.steps, *record.finish), steps, strict=True):
                for caution in linked.safety.of_step(step):
                    seen += 1
                    assert f"{linked.book.cautions[caution].signal_word.value}: " in written["text"]
        assert seen > 100

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
