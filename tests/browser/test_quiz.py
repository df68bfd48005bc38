"""The quiz of a course pack as a learning system plays it: `scorm-again` stands in for the system."""

from __future__ import annotations

import mimetypes
import re
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Frame, Page, Route

from shearpin.cli.main import main
from tests.browser.conftest import NODE_MODULES
from tests.browser.harness import missing

ROOT = Path(__file__).resolve().parents[2]
EDITION = """\
title: Shear bolts
number: "1"
issuer: Brook Institute
date: 2026-11-01
licence: CC BY 4.0
state: draft
contents: {procedures: replace-auger-shear-bolt, class: two-stage}
quiz: {questions: 12}
"""

LMS = """<!doctype html><title>system</title><script src="scorm12.min.js"></script><script>
window.API = new Scorm12API({autocommit: false, logLevel: 5});
window.told = {};
API.on("LMSSetValue.*", function (element, value) { told[element] = value; });
API.on("LMSFinish", function () { told.finished = true; });
</script><iframe src="quiz/index.html" width="1200" height="700"></iframe>"""

CLICK = """(wanted) => document.querySelectorAll('[data-question]').forEach((question, number) => {
    const inputs = [...question.querySelectorAll('input')];
    const right = inputs.find(input => input.value === question.dataset.answer);
    (number < wanted ? inputs.find(input => input !== right) : right).click();
})"""


@pytest.fixture(scope="module")
def package(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    folder = tmp_path_factory.mktemp("quiz")
    for name in ("kb", "site_overrides"):
        shutil.copytree(ROOT / name, folder / name)
    shutil.copyfile(ROOT / "mkdocs.yml", folder / "mkdocs.yml")
    (folder / "kb/editions/quiz-pack.yaml").write_text(EDITION, encoding="utf-8")
    words = ["publish", "quiz-pack", "--kb", str(folder / "kb"), "--out", str(folder)]
    assert main([*words, "--format", "scorm"]) == 0
    return zipfile.ZipFile(folder / "quiz-pack-1-scorm.zip")


@pytest.fixture
def system(chromium: Browser, package: zipfile.ZipFile) -> Iterator[Page]:
    """A learning system's page that plays the quiz; nothing leaves this process."""
    script = NODE_MODULES / "scorm-again" / "dist" / "scorm12.min.js"
    if not script.is_file():
        missing("scorm-again is not installed: run tools/test.py, which installs it")

    def answer(route: Route) -> None:
        name = route.request.url.removeprefix("http://system.invalid/").partition("?")[0]
        if name in ("", "scorm12.min.js"):
            body = LMS.encode() if not name else script.read_bytes()
        elif name in package.namelist():
            body = package.read(name)
        else:
            route.fulfill(status=404)
            return
        route.fulfill(body=body, content_type=mimetypes.guess_type(name or "x.html")[0] or "text/plain")

    context = chromium.new_context()
    context.route("**/*", answer)
    page = context.new_page()
    page.goto("http://system.invalid/")
    page.frames[1].wait_for_load_state()
    yield page
    context.close()


def test_the_result_is_reported(system: Page) -> None:
    quiz = system.frames[1]
    assert system.evaluate("API.LMSGetValue('cmi.core.lesson_status')") == "incomplete"
    count = quiz.locator("[data-question]").count()
    quiz.evaluate(CLICK, 1)
    quiz.click("button")
    told = quiz.text_content("[data-result]") or ""
    percent = round(100 * (count - 1) / count)
    assert f"{count - 1} of {count} right, {percent} %" in told
    assert "has been reported" in told
    seen = system.evaluate("told")
    assert seen["cmi.core.score.raw"] == str(percent)
    assert seen["cmi.core.lesson_status"] == ("passed" if percent >= 80 else "failed")
    assert seen["cmi.interactions.0.result"] == "wrong"
    assert system.evaluate("API.LMSGetValue('cmi.interactions._count')") == str(count) == "12"
    quiz.goto("about:blank")
    assert system.evaluate("told.finished") is True


def _again(system: Page, quiz: str = "quiz/index.html") -> Frame:
    """Leave the quiz, and open it again with what the system has kept."""
    system.frames[1].goto("about:blank")
    system.evaluate(
        """() => { const kept = API.cmi.toJSON(); const next = JSON.parse(JSON.stringify(kept));
        window.left = next; API.reset(); API.loadFromJSON(next, ''); }"""
    )
    system.frames[1].goto(f"http://system.invalid/{quiz}")
    return system.frames[1]


def test_who_leaves_half_way_finds_the_answers_again(system: Page) -> None:
    quiz = system.frames[1]
    for number in range(5):
        quiz.click(f"[data-question] >> nth={number} >> label >> nth=1")
    quiz = _again(system)
    assert system.evaluate("told['cmi.core.exit']") == "suspend"
    assert re.fullmatch(r"00:00:\d\d", system.evaluate("told['cmi.core.session_time']"))
    values = quiz.evaluate("[...document.querySelectorAll('input:checked')].map(input => input.value)")
    assert values == ["B"] * 5
    assert system.evaluate("API.LMSGetValue('cmi.core.lesson_status')") == "incomplete"
    count = quiz.locator("[data-question]").count()
    quiz.evaluate(CLICK, count // 2)
    quiz.click("button")
    assert "50 %: not passed." in (quiz.text_content("[data-result]") or "")
    assert system.evaluate("API.LMSGetValue('cmi.core.lesson_status')") == "failed"


def test_who_has_passed_stays_passed(system: Page) -> None:
    quiz = system.frames[1]
    quiz.evaluate(CLICK, 0)
    quiz.click("button")
    quiz = _again(system)
    quiz.evaluate(CLICK, 12)
    quiz.click("button")
    assert "You have passed before" in (quiz.text_content("[data-result]") or "")
    assert system.evaluate("API.LMSGetValue('cmi.core.lesson_status')") == "passed"
    assert system.evaluate("API.LMSGetValue('cmi.core.score.raw')") == "100"


def test_an_answer_leads_to_its_page(system: Page) -> None:
    quiz = system.frames[1]
    quiz.evaluate(CLICK, 0)
    assert not quiz.is_visible("[data-page] a >> nth=0")
    quiz.click("button")
    assert "passed" in (quiz.text_content("[data-result]") or "")
    with system.context.expect_page() as opened:
        quiz.click("[data-page] a >> nth=0")
    opened.value.wait_for_load_state()
    assert opened.value.locator("article[data-kind]").count() == 1


def test_without_a_system_the_quiz_still_checks_answers(
    page: Page, package: zipfile.ZipFile, tmp_path: Path
) -> None:
    package.extractall(tmp_path)
    page.goto((tmp_path / "quiz" / "index.html").as_uri())
    page.evaluate(CLICK, 0)
    page.click("button")
    told = page.text_content("[data-result]") or ""
    assert "100 %: passed." in told
    assert "reported" not in told
