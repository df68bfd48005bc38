"""Translated editions: what is refused, what falls back to the original and says so, and what the pages say."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from shearpin.authoring.translating import begun
from shearpin.book.linked import load_linked
from shearpin.book.selection import pack, select
from shearpin.book.translated import translated
from shearpin.cli.main import main
from shearpin.model.knowledge import SignalWord
from shearpin.publish.issue import prepare_issue
from shearpin.publish.teaching import paper_copy, quiz_page
from shearpin.search.documents import documents_of
from shearpin.site.handwritten import pages_to_translate
from shearpin.site.interface import INTERFACES
from shearpin.site.job_page import DATA_FILE
from shearpin.site.safety import DEFERENCE
from tests.publish.conftest import ROOT, make_project

CAUTION = "translations/es/cautions/rotating-auger.yaml"
WORK = "translations/es/procedures/replace-auger-shear-bolt.yaml"
SAID = {
    "Rotating auger": "Sinfín en giro",
    "The auger turns under power.": "El sinfín gira con la fuerza del motor.",
    "It cuts off fingers.": "Corta los dedos.",
    "Stop the engine.": "Pare el motor.",
}
DONE = {
    "Replace an auger shear bolt": "Cambiar un perno fusible del sinfín",
    "Drive the broken bolt out with a pin punch.": "Saque el perno roto con un botador.",
    "Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.": "Ponga el perno nuevo y apriételo a {auger-shear-bolt.torque}.",
}


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project with an edition in Spanish, whose only caution and one procedure are translated."""
    folder = make_project(tmp_path)
    kb = folder / "kb"
    edition = kb / "editions/shear-bolts.yaml"
    text = edition.read_text(encoding="utf-8").replace("state: final", "state: draft\nlanguage: es-MX")
    edition.write_text(text, encoding="utf-8")
    linked = load_linked(kb, "kb")
    for path, record, words in (
        (CAUTION, linked.book.cautions["rotating-auger"], SAID),
        (WORK, linked.book.procedures["replace-auger-shear-bolt"], DONE),
    ):
        (kb / path).parent.mkdir(parents=True)
        (kb / path).write_text(begun(record, words), encoding="utf-8")
    return folder


def publish(project: Path) -> int:
    out = str(project / "dist")
    return main(["publish", "shear-bolts", "--kb", str(project / "kb"), "--out", out, "--format", "site"])


def change(project: Path, path: str, old: str, new: str) -> None:
    file = project / "kb" / path
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")


def read(project: Path, path: str) -> BeautifulSoup:
    page = project / "dist/shear-bolts-1/data" / path
    return BeautifulSoup(page.read_text(encoding="utf-8"), "html.parser")


def test_a_page_is_in_the_language_of_its_edition(project: Path) -> None:
    assert publish(project) == 0
    page = read(project, "procedures/replace-auger-shear-bolt.html")
    assert page.html is not None
    assert page.html["lang"] == "es"
    message = page.select_one("[data-caution=rotating-auger]")
    assert message is not None
    assert message["data-signal-word"] == "DANGER"
    assert message.select_one(".signal-word").get_text() == "PELIGRO"  # type: ignore[union-attr]
    assert "Pare el motor." in message.get_text()
    headings = [h2.get_text() for h2 in page.select("article h2")]
    assert {"Pasos", "Herramientas", "Repuestos", "Valores"} <= set(headings)
    assert page.select_one(".deference").get_text() == INTERFACES["es"].words[DEFERENCE]  # type: ignore[union-attr]
    value = page.select_one("[data-value='auger-shear-bolt.torque'] b")
    assert value is not None
    assert "N·m" in value.get_text()


def test_signal_words_are_translated_where_scripts_and_records_of_content_carry_them(project: Path) -> None:
    assert publish(project) == 0
    bag = project / "dist/shear-bolts-1"
    content = json.loads((bag / "edition.json").read_text(encoding="utf-8"))
    assert content["cautions"]["caution:rotating-auger"].startswith("PELIGRO: El sinfín")
    assert '"said":"PELIGRO"' in (bag / "data" / DATA_FILE).read_text(encoding="utf-8").replace('": "', '":"')


def test_what_nobody_translated_is_in_english_and_says_so(project: Path) -> None:
    change(project, "procedures/replace-auger-shear-bolt.yaml", "with a pin punch", "with the pin punch")
    assert publish(project) == 0
    page = read(project, "procedures/replace-auger-shear-bolt.html")
    stale, whole = page.select("ol[data-steps] > li .do")[:2]
    assert stale.get_text() == "original en inglés: Drive the broken bolt out with the pin punch."
    assert stale.select_one("[lang=en]") is not None
    assert whole.select_one("[lang=en]") is None
    tool = page.select_one("a[data-ref='tool:pin-punch'] [lang=en][data-untranslated]")
    assert tool is not None
    assert tool.get_text() == "Pin punch"


@pytest.mark.parametrize(
    "field", ["hazard: The auger turns", "consequence: It cuts off", "avoidance: [Stop the"]
)
def test_a_stale_safety_message_refuses_the_edition(
    project: Path, capsys: pytest.CaptureFixture[str], field: str
) -> None:
    change(project, "cautions/rotating-auger.yaml", field, field + " new")
    assert publish(project) == 1
    told = capsys.readouterr().err
    assert CAUTION in told
    assert "stale, it was" in told
    assert "shearpin translation" in told
    assert not (project / "dist/shear-bolts-1").exists()


def test_an_untranslated_safety_message_refuses_the_edition(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(project, CAUTION, "Corta los dedos.", "")
    assert publish(project) == 1
    told = capsys.readouterr().err
    assert f"{CAUTION}: “It cuts off fingers.” (not translated)" in told


def test_a_reason_to_take_a_machine_out_of_use_is_a_safety_message(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    symptom = project / "kb/symptoms/one-side-of-auger-does-not-turn.yaml"
    symptom.write_text(symptom.read_text(encoding="utf-8") + "take_out_of_use: The auger may come loose.\n")
    assert publish(project) == 1
    assert "The auger may come loose." in capsys.readouterr().err


def test_a_final_edition_needs_reviewed_translations(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(project, "editions/shear-bolts.yaml", "state: draft", "state: final")
    assert publish(project) == 1
    assert f"{CAUTION}: no mechanic has reviewed it" in capsys.readouterr().err
    for path in (CAUTION, WORK):
        change(project, path, "state: draft", "state: reviewed")
    assert publish(project) == 0


def test_a_language_without_signal_words_is_refused(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(project, "editions/shear-bolts.yaml", "language: es-MX", "language: tr")
    assert publish(project) == 1
    assert "no signal words in `tr`" in capsys.readouterr().err


def test_the_listing_names_what_is_open(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(project, "procedures/replace-auger-shear-bolt.yaml", "with a pin punch", "with the pin punch")
    command = ["translation", "shear-bolts", "--kb", str(project / "kb")]
    assert main([*command, "--json"]) == 1
    rows = json.loads(capsys.readouterr().out)["open"]
    stale = [row for row in rows if row["state"] == "stale"]
    assert [row["formerly"] for row in stale] == ["Drive the broken bolt out with a pin punch."]
    assert not any(row["safety"] for row in rows)
    assert main([*command, "--begin", "tool/pin-punch"]) == 0
    begun_file = project / "kb/translations/es/tools/pin-punch.yaml"
    assert begun_file.is_file()
    assert main([*command, "--begin", "tool/pin-punch"]) == 1  # what somebody wrote stays
    capsys.readouterr()
    # The stale pair is found, and nothing about the file that was begun.
    assert main(["check", "--kb", str(project / "kb")]) == 1
    assert "pin-punch.yaml" not in capsys.readouterr().out


def test_the_same_records_give_the_same_bytes(project: Path) -> None:
    assert publish(project) == 0
    first = (project / "dist/shear-bolts-1/tagmanifest-sha512.txt").read_bytes()
    assert publish(project) == 0
    assert (project / "dist/shear-bolts-1/tagmanifest-sha512.txt").read_bytes() == first


def test_the_search_reads_the_translated_words(project: Path) -> None:
    linked = load_linked(project / "kb", "kb")
    issue = prepare_issue(linked, "shear-bolts", project / "mkdocs.yml", None)
    titles = {document.title for document in documents_of(issue.packed)}
    assert "Cambiar un perno fusible del sinfín" in titles


def test_every_table_has_the_signal_words_and_what_comes_first() -> None:
    for language, table in INTERFACES.items():
        assert set(table.signal_words) == {word.value for word in SignalWord}, language
        assert len(set(table.signal_words.values())) == len(SignalWord), language
        assert {DEFERENCE, "Steps", "Tools", "Parts", "First:", "Draft edition.", "original:"} <= set(
            table.words
        )


def test_the_spanish_pack_of_the_book_has_every_safety_message() -> None:
    linked = load_linked(ROOT / "kb", "kb")
    result = translated(pack(linked, select(linked, "course-shear-bolt-es")), "es")
    assert result.unsafe == ()
    assert len(result.linked.book.cautions) > 10


def test_nothing_in_the_spanish_pack_of_the_book_waits_for_a_translation() -> None:
    linked = load_linked(ROOT / "kb", "kb")
    result = translated(pack(linked, select(linked, "course-shear-bolt-es")), "es")
    assert [item.text for item in result.open] == []
    assert pages_to_translate(linked.book.kb, "es", part=True) == []


def test_format_puts_a_translation_into_its_usual_form_and_loses_nothing(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = project / "kb" / WORK
    usual = path.read_text(encoding="utf-8")
    assert main(["format", str(path), "--kb", str(project / "kb")]) == 0
    assert path.read_text(encoding="utf-8") == usual
    head, *pairs = usual.split("  - from: ")
    rows = [pair.replace('"', "'") if "'" not in pair else pair for pair in reversed(pairs)]
    gone = "Words that the record has no more.\n    to: Palabras.\n"
    path.write_text("  - from: ".join([head, gone, *rows]), encoding="utf-8")
    assert main(["format", str(path), "--check", "--kb", str(project / "kb")]) == 1
    assert main(["format", str(path), "--kb", str(project / "kb")]) == 0
    kept = '  - from: "Words that the record has no more."\n    to: "Palabras."\n'
    assert path.read_text(encoding="utf-8") == usual + kept
    with_comment = usual.replace("texts:\n", "texts:\n  # ask Ana about this one\n")
    path.write_text(with_comment, encoding="utf-8")
    assert main(["format", str(path), "--kb", str(project / "kb")]) == 0
    assert path.read_text(encoding="utf-8") == with_comment
    assert main(["format", "--kb", str(project / "kb")]) == 0
    capsys.readouterr()


def test_a_translated_page_is_shown_until_its_original_changes(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    listing = ["translation", "shear-bolts", "--kb", str(project / "kb"), "--json"]
    main(listing)
    pages = {row["path"]: row for row in json.loads(capsys.readouterr().out)["pages"]}
    about = "translations/es/pages/about.md"
    assert pages[about]["state"] == "untranslated"
    own = project / "kb" / about
    own.parent.mkdir(parents=True)
    own.write_text(
        f"<!-- original: {pages[about]['mark']} -->\n# Acerca\n\n[segura](procedure:make-machine-safe)\n",
        encoding="utf-8",
    )
    assert publish(project) == 0
    article = read(project, "about.html").select_one("article")
    assert article is not None
    assert not article.get("lang")
    assert "segura" in article.get_text()
    capsys.readouterr()
    main(listing)
    assert about not in {row["path"] for row in json.loads(capsys.readouterr().out)["pages"]}
    page = project / "kb/pages/about.md"
    page.write_text(page.read_text(encoding="utf-8") + "\nMore.\n", encoding="utf-8")
    assert publish(project) == 0
    article = read(project, "about.html").select_one("article")
    assert article is not None
    assert article.get("lang") == "en"
    assert "Esta página está en inglés." in read(project, "about.html").get_text()
    capsys.readouterr()
    main(listing)
    rows = json.loads(capsys.readouterr().out)["pages"]
    assert "stale" in [row["state"] for row in rows if row["path"] == about]


def test_the_quiz_and_the_paper_copies_are_in_the_language_of_the_edition(project: Path) -> None:
    linked = load_linked(project / "kb", "kb")
    issue = prepare_issue(linked, "shear-bolts", project / "mkdocs.yml", None)
    quiz = BeautifulSoup(quiz_page(issue, "../manual/"), "html.parser")
    assert [script["src"] for script in quiz.select("script[src]")] == [
        "../manual/words.js",
        "../manual/look/interface.js",
        "quiz.js",
    ]
    said = quiz.get_text(" ")
    assert "Comprobar las respuestas" in said
    for english in ("Which ", "Before this step", "the figure", "Quiz:"):
        assert english not in said
    paper = BeautifulSoup(paper_copy(issue, answers=True), "html.parser").get_text(" ")
    assert "Copia del instructor, con respuestas" in paper
    assert "Respuesta: " in paper
    assert "Answer" not in paper


def test_sources_are_cited_as_published_and_the_files_beside_the_pages_are_translated(project: Path) -> None:
    change(
        project,
        "sources/bench-notes.yaml",
        "title: Bench notes",
        "title: On guarding of machines and engines",
    )
    assert publish(project) == 0
    head = read(project, "sources/bench-notes.html").h1
    assert head is not None
    assert (
        str(head)
        == '<h1><span data-untranslated="" lang="en">On guarding of machines and engines</span></h1>'
    )
    folder = project / "dist/shear-bolts-1"
    assert "BORRADOR: no todo ha sido revisado." in (folder / "LICENCE.txt").read_text(encoding="utf-8")
    how = (folder / "HOW-TO-VERIFY.txt").read_text(encoding="utf-8")
    assert "Cómo comprobar esta edición" in how
    commands = [line for line in how.splitlines() if line.startswith("    ")]
    english = files("shearpin.publish").joinpath("how-to-verify.txt").read_text(encoding="utf-8")
    assert len(commands) == sum(line.startswith("    ") for line in english.splitlines())
