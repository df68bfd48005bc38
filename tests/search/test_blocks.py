"""Numbers of documents: in order, answers after their records, and as they were but for few where a document is added."""

import random
from itertools import pairwise
from statistics import median

import pytest

from shearpin.search import blocks
from shearpin.search.blocks import in_order
from shearpin.search.document import ANSWER_MARK, NOBODY, Document, how_many, is_answer
from shearpin.search.model import build_model
from shearpin.search.words import Analyser

PARTS = ("belt", "pulley", "cable", "bolt", "jet", "gasket", "bearing", "lever", "spring", "chute")
WORK = ("renew", "adjust", "slips", "gap", "wear of", "guard")


def document(name: str, chance: random.Random) -> Document:
    title = f"{chance.choice(WORK)} {chance.choice(PARTS)} {chance.choice(PARTS)} {name}"
    fields = {"title": title, "body": f"row {chance.randrange(1000)} shelf {chance.randrange(30)}"}
    return Document(name, "procedure", title, f"procedures/{name}.html", title, fields)


def some(count: int) -> list[Document]:
    """Documents, each third with an answer for one plate."""
    chance = random.Random(8)
    found = []
    for number in range(count):
        own = document(f"r{number}", chance)
        found.append(own)
        if number % 3 == 0:
            answer = f"{own.id}{ANSWER_MARK}one"
            found.append(Document(answer, own.kind, own.title, own.url, own.excerpt, own.fields))
    return found


def numbers_of(documents: list[Document]) -> dict[str, int]:
    ordered = in_order(documents, Analyser())
    return {each.id: number for number, each in enumerate(ordered) if each is not NOBODY}


@pytest.mark.parametrize("count", [0, 1, 40, 2_000])
def test_every_document_has_a_number_and_its_answers_those_behind_it(count: int) -> None:
    documents = some(count)
    ordered = in_order(reversed(documents), Analyser())
    assert sorted(each.id for each in ordered if each is not NOBODY) == sorted(each.id for each in documents)
    assert how_many(ordered) == len(documents)
    for number, each in enumerate(ordered):
        if each is not NOBODY and is_answer(each):
            assert ordered[number - 1].id == each.id.partition(ANSWER_MARK)[0]
    assert not ordered or ordered[-1] is not NOBODY
    assert len(ordered) <= 1.25 * len(documents) + 32


def test_one_document_more_leaves_nearly_all_numbers_as_they_were() -> None:
    documents = some(4_000)
    before = numbers_of(documents)
    moved = []
    for number in range(12):
        now = numbers_of([*documents, document(f"new{number}", random.Random(number))])
        moved.append(sum(now[name] != old for name, old in before.items()))
    assert median(moved) < 0.1 * len(before)


def test_one_document_more_than_a_block_has_room_for_moves_few_blocks() -> None:
    def named(name: str) -> Document:
        return Document(name, "part", "Belt", f"parts/{name}.html", "", {"title": "Belt"})

    documents = [named(f"r{number:05}") for number in range(40_000)]
    ordered = in_order(documents, Analyser())
    before = {each.id: number for number, each in enumerate(ordered)}
    last_of_full = [
        one.id
        for one, other in pairwise(ordered)
        if NOBODY not in (one, other) and blocks._step_before(other)
    ]
    moved = []
    for name in last_of_full:
        now = numbers_of([*documents, named(f"{name}a")])
        moved.append(sum(now[each.id] != before[each.id] for each in documents))
    assert len(moved) > 5
    assert median(moved) < 0.1 * len(documents)


def test_one_document_more_leaves_most_lists_of_an_index_as_they_were() -> None:
    documents = some(3_000)
    before = build_model(documents, []).postings
    others = []
    for number in range(5):
        now = build_model([*documents, document(f"new{number}", random.Random(number))], []).postings
        others.append(sum(term not in now or now[term].packed != old.packed for term, old in before.items()))
    assert median(others) < 0.1 * len(before)
