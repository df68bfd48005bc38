"""What holds for any book holds for the demonstration book of this project."""

from __future__ import annotations

from pathlib import Path

import pytest

from shearpin.book.linked import LinkedBook, load_linked
from shearpin.book.values import ResolvedValue
from shearpin.model.fields import Plate
from shearpin.model.inline import Link, parse_inline
from shearpin.model.knowledge import SignalWord, Symptom
from shearpin.model.steps import Test, Work

KB = Path(__file__).resolve().parents[2] / "kb"


@pytest.fixture(scope="module")
def linked() -> LinkedBook:
    return load_linked(KB, "kb")


def _steps(work: Work) -> tuple[object, ...]:
    return (*getattr(work, "steps", ()), *getattr(work, "finish", ()))


def _reached(linked: LinkedBook, start: tuple[str, str]) -> set[tuple[str, str]]:
    """Return a record and all it calls, found by going round until nothing is added."""
    reached = {start}
    while True:
        more: set[tuple[str, str]] = set()
        for key in reached:
            record = linked.book.get(*key)
            if isinstance(record, (Work, Symptom)):
                more |= {("procedure", before) for before in record.before}
            if isinstance(record, Work):
                pieces = [piece for step in _steps(record) for piece in parse_inline(step.do)]  # type: ignore[attr-defined]
                more |= {
                    (p.kind, p.id) for p in pieces if isinstance(p, Link) and p.kind in ("procedure", "test")
                }
            if isinstance(record, Symptom):
                suspected = {suspect.cause for suspect in record.causes}
                more |= {
                    ("test", test_id)
                    for test_id, test in linked.book.tests.items()
                    if suspected & {cause for result in test.results for cause in result.given}
                }
        if more <= reached:
            return reached
        reached |= more


def _required(linked: LinkedBook, start: tuple[str, str]) -> set[str]:
    """Work out the required cautions anew, as a set, from the words of the design."""
    found: set[str] = set()
    for key in _reached(linked, start):
        record = linked.book.get(*key)
        assert isinstance(record, (Work, Symptom))
        found |= set(record.cautions)
        systems = [linked.book.systems[system] for system in record.systems]
        found |= {caution for system in systems for caution in system.hazards}
        energies = {energy for system in systems for energy in system.energies}
        actions: set[str] = set()
        if isinstance(record, Work):
            found |= {caution for tool in record.tools for caution in linked.book.tools[tool].cautions}
            for step in _steps(record):
                found |= set(step.caution)  # type: ignore[attr-defined]
                actions |= set(step.action)  # type: ignore[attr-defined]
        for caution_id, caution in linked.book.cautions.items():
            if actions & set(caution.covers.actions) or energies & set(caution.covers.energies):
                found.add(caution_id)
    here = linked.applicability.machines_for(getattr(linked.book.get(*start), "applies_to", None))
    return {
        c
        for c in found
        if not here or here & linked.applicability.machines_for(linked.book.cautions[c].applies_to)
    }


def test_every_page_requires_exactly_what_follows_from_its_work(linked: LinkedBook) -> None:
    pages = [key for key, _ in linked.book.work()] + [
        ("symptom", symptom) for symptom in linked.book.symptoms
    ]
    assert len(pages) > 20
    for page in pages:
        assert {caution.id for caution in linked.safety.required(*page)} == _required(linked, page), page


def test_the_gravest_cautions_come_first_on_every_page(linked: LinkedBook) -> None:
    for key, _ in linked.book.work():
        ranks = [list(SignalWord).index(caution.signal_word) for caution in linked.safety.required(*key)]
        assert ranks == sorted(ranks), key


def test_the_cautions_of_every_step_stand_on_its_page_too(linked: LinkedBook) -> None:
    for key, work in linked.book.work():
        required = {caution.id for caution in linked.safety.required(*key)}
        here = linked.applicability.machines_for(work.applies_to)
        for step in _steps(work):
            for caution in linked.safety.of_step(step):  # type: ignore[arg-type]
                concerns = linked.applicability.machines_for(linked.book.cautions[caution].applies_to)
                assert caution in required or not here & concerns, (key, caution)


def test_every_figure_comes_from_the_machine_or_from_its_own_engine(linked: LinkedBook) -> None:
    resolved = 0
    for name, kind in linked.book.values.items():
        for machine_id, machine in linked.book.machines.items():
            value = linked.values.resolve(name, machine_id)
            if isinstance(value, ResolvedValue):
                own = ("machine", machine_id) if kind.plate is Plate.MACHINE else ("engine", machine.engine)
                assert value.holder == own
                resolved += 1
    assert resolved > 100


def test_rows_of_likelihoods_speak_of_causes_that_exist(linked: LinkedBook) -> None:
    for test_id, test in linked.book.tests.items():
        assert isinstance(test, Test)
        named = {cause for result in test.results for cause in result.given}
        assert named <= set(linked.book.causes), test_id


def test_what_is_done_to_a_spark_plug_is_asked_of_machines_with_an_engine_alone(linked: LinkedBook) -> None:
    speaking = [
        caution
        for caution in linked.book.cautions.values()
        if "spark plug" in " ".join(caution.avoidance).lower()
    ]
    assert speaking
    for caution in speaking:
        assert caution.applies_to is not None, caution.title
        assert "engine" in caution.applies_to.fitted, caution.title
