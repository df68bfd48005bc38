"""The ledger of reads: answers that are kept whole are taken over when nothing that they read has changed."""

from __future__ import annotations

from typing import Any

import pytest

from shearpin.book.ledger import Ledger
from shearpin.book.marking import mark_of
from shearpin.book.past import Past
from shearpin.model.handing import Handing


class World:
    """Inputs by name, a sum of two of them that is kept whole, and how often it was worked out."""

    def __init__(self, past: Past | None = None, **inputs: int) -> None:
        self.ledger = Ledger(past)
        self.worked = 0
        self.inputs = inputs
        self.ledger.marks["input"] = lambda name: mark_of(self.inputs.get(name))
        self.ledger.answers["half"] = self._half
        self.ledger.answers["sum"] = self._sum
        self.ledger.kept.add("sum")

    def _read(self, name: str) -> int:
        self.ledger.note("input", name)
        return self.inputs[name]

    def _half(self, name: str) -> int:
        return self._read(name) // 2

    def _sum(self) -> dict[str, Any]:
        self.worked += 1
        return {"sum": self.ledger.ask("half", "a") + self.ledger.ask("half", "b")}


@pytest.fixture
def past() -> Past:
    world = World(a=2, b=4)
    assert world.ledger.ask("sum") == {"sum": 3}
    return world.ledger.present()


def test_an_answer_is_taken_over_when_nothing_has_changed(past: Past) -> None:
    world = World(past, a=2, b=4)
    assert world.ledger.ask("sum") == {"sum": 3}
    assert world.worked == 0
    assert world.ledger.changed() == frozenset()


def test_an_answer_is_worked_out_when_an_answer_that_it_read_is_another(past: Past) -> None:
    world = World(past, a=2, b=8)
    assert world.ledger.ask("sum") == {"sum": 5}
    assert past.group(())["sum"] in world.ledger.changed()
    assert World(world.ledger.present(), a=2, b=8).ledger.ask("sum") == {"sum": 5}


def test_an_answer_is_taken_over_when_what_it_read_comes_out_the_same(past: Past) -> None:
    world = World(past, a=3, b=4)
    assert world.ledger.ask("sum") == {"sum": 3}
    assert world.worked == 0
    assert past.group(())["sum"] not in world.ledger.changed()


def test_an_answer_that_is_as_before_is_kept_for_the_build_after(past: Past) -> None:
    second = World(past, a=3, b=4)
    second.ledger.changed()  # nobody asks for the sum
    third = World(second.ledger.present(), a=3, b=4)
    assert third.ledger.ask("sum") == {"sum": 3}
    assert third.worked == 0


def test_an_answer_about_what_is_gone_is_another(past: Past) -> None:
    world = World(past, a=2)
    assert past.group(())["sum"] in world.ledger.changed()
    with pytest.raises(KeyError):
        world.ledger.ask("sum")


def test_what_another_process_worked_out_is_kept_too() -> None:
    child, here = World(a=2, b=4), World(a=2, b=4)
    child.ledger.ask("sum")
    handing = Handing()
    child.ledger.hand_over(World().ledger.noted(), 0, 1, handing)
    handing.done()
    here.ledger.take_over(handing.take())
    handing.close()
    later = World(here.ledger.present(), a=2, b=4)
    assert later.ledger.ask("sum") == {"sum": 3}
    assert later.worked == 0


def test_what_was_noted_before_the_processes_parted_is_not_handed_over() -> None:
    child, here = World(a=2, b=4, c=6), World(a=2, b=4, c=6)
    for world in (child, here):  # as after a fork
        world.ledger.ask("sum")
    parting = child.ledger.noted()
    child.ledger.ask("half", "c")
    handing = Handing()
    child.ledger.hand_over(parting, 0, 1, handing)
    handing.done()
    of_answers = [found for kind, found in [*handing.take()][1:] if kind in (0, 1, 2)]
    assert [len(found) for found in of_answers] == [1, 1]  # what one answer was made from, and its mark
    here.ledger.take_over(handing.take())
    handing.close()
    later = World(here.ledger.present(), a=2, b=4, c=6)
    assert later.ledger.changed() == frozenset()
    assert later.ledger.ask("sum") == {"sum": 3}
    assert later.worked == 0


@pytest.mark.parametrize(("kept", "worked"), [(True, 1), (False, 2)])
def test_answers_that_were_forgotten_are_worked_out_again_if_not_kept_and_what_is_noted_stays(
    kept: bool, worked: int
) -> None:
    world = World(a=2, b=4)
    if not kept:
        world.ledger.kept.clear()
    with world.ledger.reading() as read:
        assert world.ledger.ask("sum") == {"sum": 3}
    before = world.ledger.present()
    world.ledger.forget_answers()
    assert world.ledger.present() == before
    with world.ledger.reading() as again:
        assert world.ledger.ask("sum") == {"sum": 3}
    assert (again, world.worked) == (read, worked)
    assert world.ledger.present() == before
