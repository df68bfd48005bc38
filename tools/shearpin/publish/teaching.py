"""Pages for a course: the quiz that a learning system plays, and copies on paper for learner and instructor."""

from __future__ import annotations

from collections.abc import Iterable
from importlib import resources

from shearpin.book.values import ResolvedValue
from shearpin.model.editions import Quiz
from shearpin.model.quantity import dual_text
from shearpin.publish.faults import PublishError
from shearpin.publish.issue import Issue
from shearpin.publish.paper import css_string
from shearpin.publish.quiz import Question, questions_of
from shearpin.site.html import text
from shearpin.site.interface import INTERFACES, SCRIPT_TABLE, localized, phrase
from shearpin.site.safety import DEFERENCE
from shearpin.site.view import View

PASS_PERCENT = 80
"""What counts as passed; ours, no source."""

_LETTERS = "ABCD"


def quiz_page(issue: Issue, manual: str) -> str:
    """Return the page that asks the questions; `manual` leads from it to the root of the pages.

    Raises `PublishError` where nothing can be asked: a learning system would wait for a result that nobody can reach.
    """
    questions = _questions(issue)
    if not questions:
        raise PublishError(
            f"no question can be made from the records of `{issue.id}`: they need reviewed figures, steps, parts or symptoms. "
            "Choose more records in `contents`, have them reviewed, or leave out the format scorm."
        )
    items = "".join(_asked(number, question, manual) for number, question in enumerate(questions, 1))
    body = (
        f"<h1>Quiz: {text(issue.edition.title)}</h1>{_draft(issue)}<p>{text(DEFERENCE)}</p>"
        "<p>One answer of each question is right. Look it up in the manual where you are not sure.</p>"
        "<noscript><p><b>Scripts are switched off, so the answers cannot be checked here.</b> Use the paper copy.</p></noscript>"
        f'<form data-quiz data-pass="{PASS_PERCENT}"><ol class="questions">{items}</ol>'
        '<p><button type="submit">Check the answers</button></p><p data-result role="status" hidden></p></form>'
    )
    head = (
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'self'; style-src 'self'\">"
        f'<link rel="stylesheet" href="quiz.css">{_words(issue, manual)}<script src="quiz.js" defer></script>'
    )
    return _document(issue, f"Quiz: {issue.edition.title}", head, body)


def _words(issue: Issue, manual: str) -> str:
    """Return the scripts with the words of an edition in another language; they lie beside its manual."""
    if issue.packed.book.language not in INTERFACES:
        return ""
    sources = (SCRIPT_TABLE, "look/interface.js")
    return "".join(f'<script src="{manual}{source}" defer></script>' for source in sources)


def paper_copy(issue: Issue, answers: bool) -> str:
    """Return questions and figures on paper: with answers for the instructor, with blanks for the learner."""
    who = (
        "Instructor’s copy, with answers" if answers else "Learner’s copy: look each figure up in the manual"
    )
    questions = _questions(issue)
    items = "".join(_on_paper(question, answers) for question in questions) or "<li>None.</li>"
    body = (
        f"<h1>{text(issue.edition.title)}</h1><p><b>{who}</b>. Edition {text(issue.edition.number)}, {issue.edition.date}.</p>"
        f"{_draft(issue)}<p>{text(DEFERENCE)}</p>"
        f"{'' if answers else '<p class=fill>Name <span></span> Date <span></span></p>'}"
        f'<h2>Figures</h2>{_figures(issue, answers)}<h2>Questions</h2><ol class="questions">{items}</ol>'
    )
    style = resources.files("shearpin.publish").joinpath("quiz.css").read_text(encoding="utf-8")
    return _document(issue, f"{issue.edition.title}: {who}", f"<style>{style}{_foot(issue)}</style>", body)


def _foot(issue: Issue) -> str:
    """Return what says on each sheet which edition it belongs to, where the browser prints it."""
    edition = issue.edition
    name = phrase(issue.packed.book, "{0}, edition {1}, {2}", edition.title, edition.number, edition.date)
    return f'@page {{ @bottom-left {{ content: {css_string(name)}; font: 8pt "Liberation Sans", Arial, sans-serif }} }}'


def _questions(issue: Issue) -> tuple[Question, ...]:
    return questions_of(issue.packed, issue.edition.quiz or Quiz.model_validate({}), issue.chosen)


def _draft(issue: Issue) -> str:
    if not issue.draft:
        return ""
    return '<p data-edition-state="draft"><b>Draft edition.</b> Not all of it has been reviewed.</p>'


def _document(issue: Issue, title: str, head: str, body: str) -> str:
    page = (
        f'<!doctype html>\n<html lang="{issue.edition.language}"><head><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width,initial-scale=1"><title>{text(title)}</title>{head}</head>'
        f"<body><main>{body}</main></body></html>\n"
    )
    return localized(page, issue.packed.book)


def _asked(number: int, question: Question, manual: str) -> str:
    options = "".join(
        f'<label><input type="radio" name="{question.id}" value="{letter}"> {text(option)}</label>'
        for letter, option in zip(_LETTERS, question.options, strict=False)
    )
    return (
        f'<li data-question="{question.id}" data-answer="{_LETTERS[question.answer]}"><fieldset>'
        f"<legend>{text(question.prompt)}</legend>{options}</fieldset>"
        f'<p data-verdict hidden></p><p data-page hidden>See: <a href="{manual}{question.url}" target="_blank" rel="noopener">{text(question.page)}</a></p></li>'
    )


def _on_paper(question: Question, answers: bool) -> str:
    rows = "".join(
        f"<li{' class=right' if answers and index == question.answer else ''}>{text(option)}</li>"
        for index, option in enumerate(question.options)
    )
    right = (
        f'<p class="answer">Answer: {_LETTERS[question.answer]}. See “{text(question.page)}”.</p>'
        if answers
        else ""
    )
    return f'<li><p>{text(question.prompt)}</p><ol type="A">{rows}</ol>{right}</li>'


def _figures(issue: Issue, answers: bool) -> str:
    """Return the figures of the course's own systems; those that only came along for its work are not to be learnt."""
    values = issue.packed.book.values
    own = {name: value for name, value in values.items() if ("value", name) in issue.chosen} or values
    view = View(issue.packed, "")
    machines = view.machine_order
    heads = "".join(f'<th scope="col">{text(view.title("machine", machine))}</th>' for machine in machines)
    rows = "".join(
        f'<tr><th scope="row">{text(value.title)}</th>{"".join(_cells(issue, name, machines, answers))}</tr>'
        for name, value in own.items()
    )
    return f"<table><thead><tr><th scope=col>Figure</th>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _cells(issue: Issue, name: str, machines: Iterable[str], answers: bool) -> Iterable[str]:
    for machine in machines:
        found = issue.packed.values.resolve(name, machine)
        if isinstance(found, ResolvedValue):
            yield f"<td>{text(dual_text(found.quantity))}</td>" if answers else '<td class="blank"></td>'
        else:
            yield f"<td>{'not recorded' if found.applies else '–'}</td>"
