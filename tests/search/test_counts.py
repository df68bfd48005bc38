from __future__ import annotations

from array import array

from shearpin.search.concepts import build_concepts
from shearpin.search.counts import FieldCounts, Row, posting_codes
from shearpin.search.document import Synonym
from shearpin.search.impacts import FIELDS, K1, LEVELS, POINTS, STRONG_CODE, WEAK_CODES
from shearpin.search.keptrows import Totals
from shearpin.search.words import Analyser
from tests.search.book_of_documents import DOCUMENTS

ANALYSER = Analyser()
CONCEPTS = build_concepts([Synonym("turn", ("spin",)), Synonym("shear bolt", ("shear pin",))], ANALYSER)


def counted(**fields: str) -> tuple[Row, dict[str, list[int]]]:
    """Counts of one record, and for each of its terms how often it occurs in each field."""
    counts = FieldCounts(ANALYSER, CONCEPTS)
    row = counts.row(fields)
    _, sizes, terms, often, _ = row
    names, numbers = list(counts.terms), array("I", terms)
    table: dict[str, list[int]] = {name: [0] * len(FIELDS) for name in names}
    start = 0
    for group, size in enumerate(sizes):
        for place in range(start, start + size):
            table[names[numbers[place]]][group % len(FIELDS)] += often[place]
        start += size
    return row, table


def times(table: dict[str, list[int]], term: str) -> dict[str, int]:
    found = table.get(term, [0] * len(FIELDS))
    return {field.name: number for field, number in zip(FIELDS, found, strict=True) if number}


def test_terms_are_counted_by_field() -> None:
    (lengths_of_fields, *_), table = counted(
        title="Auger belt", said="belt slips\nbelts squeal", body="the belt, the belt and the auger"
    )
    assert times(table, "belt") == {"title": 1, "said": 2, "body": 2}
    assert times(table, "auger") == {"title": 1, "body": 1}
    lengths = dict(zip((field.name for field in FIELDS), lengths_of_fields, strict=True))
    assert (lengths["title"], lengths["said"], lengths["body"]) == (2, 4, 3)


def test_neighbours_are_paired_within_a_line_of_names_and_phrases_alone() -> None:
    _, table = counted(title="Auger belt", also="drive belt\nidler pulley", body="control belt")
    assert times(table, "+augerbelt") == {"title": 1}
    assert times(table, "+drivebelt") == {"also": 1}
    assert times(table, "+" + ANALYSER.stem("beltidler")) == {}
    assert times(table, "+controlbelt") == {}


def test_concepts_are_counted_beside_their_words() -> None:
    _, table = counted(title="Shear pin", body="It spins and turns; the shear bolt spins.")
    assert times(table, "turn!") == {"body": 3}
    assert times(table, "spin") == {"body": 2}
    assert times(table, "shearbolt!") == {"title": 1, "body": 1}


def test_part_numbers_and_plates_have_terms_of_their_own() -> None:
    _, table = counted(title="Gap", numbers="986-3413\nOSM-4471", plates="Ellvane E212\nOsmere")
    assert times(table, "9863413") == {"numbers": 1}
    assert times(table, "osm4471") == {"numbers": 1}
    assert times(table, "e212@") == {"plates": 1}
    assert times(table, "ellvan@") == {}
    assert times(table, "osmer@") == {"plates": 1}


def test_what_one_record_has_in_common_with_another_is_counted_in_both() -> None:
    counts = FieldCounts(ANALYSER, CONCEPTS)
    whole = {
        "title": "Shear bolt, torque",
        "also": "shear pin torque",
        "plates": "Ellvane E212",
        "body": "Tighten.",
    }
    other = {**whole, "plates": "Ellvane E224", "summary": "7 N·m of torque"}
    once = [counts.row(fields) for fields in (whole, other)]
    assert [counts.row(fields) for fields in (whole, other)] == once
    alone = FieldCounts(ANALYSER, CONCEPTS)
    assert alone.row(whole) == once[0]


def test_more_than_a_byte_holds_is_no_fault() -> None:
    _, table = counted(body="belt " * 300)
    assert times(table, "belt") == {"body": 255}


def test_codes_are_bm25f_of_the_counts() -> None:
    """Robertson & Zaragoza 2009, from memory, written out from the counts: weighted, summed, saturated once."""
    records = [counted(**document.fields) for document in DOCUMENTS]
    means = Totals().with_others([row for row, _ in records], (), words=10_000).means()
    for row, table in records:
        names = list(table)
        said = [name for name in names if any(table[name])]
        terms, codes, others = posting_codes(row, means)
        found = dict(zip(terms, codes, strict=True)) | others
        assert sorted(names[number] for number in found) == sorted(said)
        for number, code in found.items():
            frequency = 0.0
            for field, length, mean, often in zip(FIELDS, row[0], means, table[names[number]], strict=True):
                if often:
                    frequency += field.weight * often / ((1 - field.b) + field.b * length / mean)
            level = int(LEVELS * frequency / (K1 + frequency) + 1e-9)
            strong = any(
                often
                for field, often in zip(FIELDS, table[names[number]], strict=True)
                if field.name not in ("summary", "body")
            )
            assert code == (STRONG_CODE + level if strong else WEAK_CODES[level]), names[number]
            assert POINTS[code] > 0
