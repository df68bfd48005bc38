"""A plan as a chart for paper: numbered tests, and for each result what to do or where to go on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from shearpin.diagnosis.model import CURED, NOT_CURED, DiagnosisModel
from shearpin.diagnosis.plan import Branch, Plan, PlanNode
from shearpin.diagnosis.priors import SOMETHING_ELSE
from shearpin.site.html import table, text
from shearpin.site.view import View

RESULT_WORDS: Final = {CURED: "the fault is gone", NOT_CURED: "the fault is still there"}


def result_words(result: str) -> str:
    """Return what a result is called in a chart: its id, read as words."""
    return RESULT_WORDS.get(result, result.replace("-", " "))


def work_kind(view: View, identifier: str) -> str:
    """Return of which kind the record is that a test of a model is done by; a trial is a procedure."""
    return "test" if identifier in view.book.tests else "procedure"


@dataclass(slots=True)
class _Box:
    """One numbered test of the chart; several branches may lead to it. `weights` are those of the first one."""

    number: int
    node: PlanNode
    weights: Mapping[str, float]


class _Chart:
    """Boxes in the order of their numbers, found again by all that follows from them."""

    def __init__(self, model: DiagnosisModel, root: PlanNode, least_reach: float) -> None:
        self._least_reach = least_reach
        self._tests = {test.id: test for test in model.tests}
        self._shapes: dict[int, int] = {}  # of nodes by their identity: the plan holds them all the while
        self._numbers: dict[tuple[object, ...], int] = {}
        self.boxes: dict[int, _Box] = {}
        self._enter(root, model.priors)

    def _enter(self, node: PlanNode, weights: Mapping[str, float]) -> None:
        """Number a test and those after it, the likeliest result first; equal ones share a number."""
        shape = self._shape(node)
        if shape in self.boxes:
            return
        self.boxes[shape] = _Box(len(self.boxes) + 1, node, weights)
        for branch in node.branches:
            if branch.then is not None and branch.then.reach_probability >= self._least_reach:
                self._enter(branch.then, self.after(node, branch, weights))

    def after(self, node: PlanNode, branch: Branch, weights: Mapping[str, float]) -> dict[str, float]:
        """Return the weights of causes after the results of a branch."""
        test = self._tests[node.test]
        places = [test.results.index(result) for result in branch.results]
        return {
            cause: weight * sum(test.likelihood[cause][place] for place in places)
            for cause, weight in weights.items()
        }

    def number(self, node: PlanNode) -> int | None:
        """Return the number of a test, or None when it is left out."""
        box = self.boxes.get(self._shape(node))
        return box.number if box is not None else None

    def _shape(self, node: PlanNode) -> int:
        """Return a number for what two places of a plan have in common that go on alike, as far as the chart shows them."""
        known = self._shapes.get(id(node))
        if known is None:
            ways = sorted((b.results, b.cause or "", self._next_shape(b)) for b in node.branches)
            shape = (node.test, round(node.minutes, 6), node.opens, tuple(ways))
            known = self._shapes[id(node)] = self._numbers.setdefault(shape, len(self._numbers))
        return known

    def _next_shape(self, branch: Branch) -> int:
        then = branch.then
        if then is None:
            return -1
        return self._shape(then) if then.reach_probability >= self._least_reach else -2


def chart(view: View, model: DiagnosisModel, plan: Plan, mark: str, least_reach: float) -> str:
    """Return the chart of a plan as a table, of the tests that at least this share of cases come to.

    `mark` keeps the addresses of its rows apart from those of other charts.
    """
    if plan.tree is None:
        return '<p data-missing="tests">No test in this book tells the causes apart. Work by the maker’s manual.</p>'
    found = _Chart(model, plan.tree, least_reach)
    rows = [_row(view, model, found, box, mark) for box in found.boxes.values()]
    total = (
        f'<p class="expected">About <b>{plan.expected_minutes:.0f} minutes</b> of testing to be expected; '
        f"a cause is proven in {plan.proven_probability * 100:.0f} of 100 cases.</p>"
    )
    return total + table(
        ("No.", "Test", "Takes", "You find, and go on"), rows, "plan entries", "Decision chart"
    )


def _row(view: View, model: DiagnosisModel, found: _Chart, box: _Box, mark: str) -> str:
    node = box.node
    kind = work_kind(view, node.test)
    opens = _opens(view, node.opens)
    ways = "".join(
        f"<li><b>{text(' / '.join(map(result_words, results)))}</b> → {way}</li>"
        for way, results in _ways(view, model, found, box, mark)
    )
    first = f' <span class="access">after {opens}</span>' if opens else ""
    return (
        f'<tr id="{mark}{box.number}" data-test="{node.test}"><td class="number">{box.number}</td>'
        f'<th scope="row">{view.ref(kind, node.test)}{first}</th>'
        f'<td class="minutes">{node.minutes:.0f} min</td><td class="ways"><ul>{ways}</ul></td></tr>'
    )


def _opens(view: View, names: Sequence[str]) -> str:
    """Return what is opened first: procedures by title, states such as `spark-plug-out` in words."""
    return ", ".join(
        text(view.title("procedure", name) if name in view.book.procedures else name.replace("-", " "))
        for name in names
    )


def _ways(
    view: View, model: DiagnosisModel, found: _Chart, box: _Box, mark: str
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield where results lead, those that lead to the same place together."""
    ways: dict[str, list[str]] = {}
    for branch in box.node.branches:
        ways.setdefault(_way(view, model, found, box, branch, mark), []).extend(branch.results)
    for way, results in ways.items():
        yield way, tuple(results)


def _way(view: View, model: DiagnosisModel, found: _Chart, box: _Box, branch: Branch, mark: str) -> str:
    """Return a proof with its cure, the number of the next test, or what is likeliest; titles alone, for paper."""
    if branch.cause is not None:
        remedies = model.remedies.get(branch.cause, ())
        cure = f": {text(view.title('procedure', remedies[0].procedure))}" if remedies else ""
        return f"<i>{text(view.title('cause', branch.cause))}</i>{cure}"
    number = found.number(branch.then) if branch.then is not None else None
    if number is not None:
        return f'<a href="#{mark}{number}">{number}</a>'
    weights = found.after(box.node, branch, box.weights)
    suspect = max(weights, key=lambda cause: weights[cause])
    name = (
        "something not in this book"
        if suspect == SOMETHING_ELSE
        else text(view.title("cause", suspect)[:1].lower() + view.title("cause", suspect)[1:])
    )
    if branch.then is None:
        return f"not settled; {name}?"
    then = branch.then.test
    return f"{name}? Then: {text(view.title(work_kind(view, then), then))}"
