"""Lists and rows as they are kept: what an edit leaves of them is what would be kept of all afresh."""

import random
from array import array

import pytest

from shearpin.book.joined import Unpacking
from shearpin.search.counts import FieldCounts, Row
from shearpin.search.document import NOBODY
from shearpin.search.kept import digest_of
from shearpin.search.keptlists import KeptLists, in_use, packed_lists
from shearpin.search.keptrows import KeptRows, Rows, Totals, changed_rows
from shearpin.search.words import Analyser
from tests.search.book_of_documents import DOCUMENTS
from tests.search.test_counts import CONCEPTS


def unpacking(parts: object) -> Unpacking:
    return Unpacking(b"".join(parts))  # type: ignore[arg-type]


@pytest.mark.parametrize("seed", range(6))
def test_lists_of_which_some_were_changed_are_those_that_would_be_made_afresh(seed: int) -> None:
    chance = random.Random(seed)
    lists = [array("I", sorted(chance.sample(range(900), chance.randrange(6)))) for _ in range(60)]
    kept = KeptLists.read_from(unpacking(packed_lists(lists)))
    assert list(kept) == lists
    for _ in range(3):
        new = chance.randrange(4)
        lists += [array("I") for _ in range(new)]
        kept.lengthen(len(lists))
        for term in chance.sample(range(len(lists)), 12):
            assert kept[term] == lists[term]
            if chance.random() < 0.4:
                lists[term] = array("I", [chance.randrange(900)])
                kept[term] = array("I", lists[term])
            else:
                lists[term].append(901)
                kept[term].append(901)
        assert list(kept) == lists
        assert len(kept) == len(lists)
        assert in_use(kept) == in_use(lists) == sum(map(bool, lists))
        least = chance.randrange(902)
        assert sorted(kept.reaching(least)) == [
            n for n, each in enumerate(lists) if each and each[-1] >= least
        ]
        assert b"".join(packed_lists(kept)) == b"".join(packed_lists(lists))
        if chance.random() < 0.5:
            kept = KeptLists.read_from(unpacking(packed_lists(kept)))
    with pytest.raises(IndexError):
        kept[len(lists)]


def test_a_file_that_ends_too_soon_has_no_lists() -> None:
    whole = b"".join(packed_lists([array("I", [1, 2, 3])]))
    with pytest.raises(ValueError, match="not there"):
        KeptLists.read_from(Unpacking(whole[:-1]))


def rows_of_documents() -> dict[bytes, Row]:
    counts = FieldCounts(Analyser(), CONCEPTS)
    return {digest_of(document): counts.row(document.fields) for document in DOCUMENTS}


@pytest.mark.parametrize("seed", range(6))
def test_rows_and_totals_after_any_change_are_those_of_all_records_that_are_there(seed: int) -> None:
    chance = random.Random(seed)
    known = rows_of_documents()
    nobody = digest_of(NOBODY)
    before: list[bytes] = []
    kept, totals = KeptRows(), Totals()
    for _ in range(4):
        now = chance.choices(
            [*known, nobody], k=chance.randrange(1, 70)
        )  # some twice, as records that say the same
        stale = set(chance.sample(sorted(known), 3)) & {*before}
        added, taken = changed_rows(before, now, stale)
        new = {digest: known[digest] for digest in now if digest not in kept and digest}
        rows = Rows(now, new, kept)
        totals = totals.with_others(map(rows.of, added), (kept[d] for d in taken if d), 5_000)
        assert [rows[number] for number in range(len(now))] == [rows.of(digest) for digest in now]
        afresh = Totals().with_others([known[digest] for digest in now if digest], (), 5_000)
        assert totals == afresh
        assert totals.words() == sorted(
            {word for digest in now if digest for word in array("I", known[digest][4])}
        )
        kept = KeptRows.read_from(unpacking(rows.packed()), now)
        assert {digest: kept[digest] for digest in now if digest} == {d: known[d] for d in now if d}
        before = now
