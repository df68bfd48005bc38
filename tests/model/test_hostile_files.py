"""Any bytes end in findings: no exception, no hang, whatever a record file holds."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from shearpin.book.book import Book
from shearpin.book.linked import LinkedBook
from shearpin.book.load import load_book
from shearpin.inspection import inspect_book
from shearpin.model.finding import Finding
from shearpin.model.kinds import KIND_OF_FOLDER
from shearpin.model.reading import read_record
from tests.sound_book import SOUND_BOOK, check_over

SOUND = load_book(SOUND_BOOK, "kb")
NAMES = [file.path for file in SOUND.files]
RAW = {name: (SOUND_BOOK / name).read_bytes() for name in NAMES}
MOST_SECONDS = 1.0

quick = settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def _inspect(name: str, raw: bytes) -> tuple[Finding, ...]:
    """Check the sound book with one file's bytes replaced in memory; places are those of the file on disk."""
    folder, file_name = name.split("/")
    file = read_record(name, KIND_OF_FOLDER[folder], file_name.removesuffix(".yaml"), raw)
    others = tuple(other for other in SOUND.files if other.path != name)
    return inspect_book(LinkedBook(Book(SOUND.kb, "kb", (*others, file))))


def _takes_no_longer(name: str, raw: bytes) -> tuple[Finding, ...]:
    begun = time.process_time()
    findings = _inspect(name, raw)
    assert time.process_time() - begun < MOST_SECONDS
    assert list(findings) == sorted(findings, key=lambda f: (f.path, f.line, f.column, f.code, f.message))
    assert all(finding.line >= 1 and finding.column >= 1 and finding.message for finding in findings)
    return findings


@quick
@given(raw=st.binary(max_size=400), name=st.sampled_from(NAMES))
def test_random_bytes_yield_findings(raw: bytes, name: str) -> None:
    assert _takes_no_longer(name, raw)


YAML_PIECES = st.sampled_from(
    ["a", ": ", "- ", "? ", "\n", "\n  ", "[", "]", "{", "}", ", ", "'", '"', "|", ">", "&a ", "*a", "!t ", "<<", "#", "%", "---\n",
     "\t", "title", "steps", "do", "values", "is", "µ", "\u200b", "\u2028", "\r\n", "{x.y}", "{tool:a}", "1 mm", "@", "`", "\\u0000", "\x00"]
)  # fmt: skip


@quick
@given(pieces=st.lists(YAML_PIECES, max_size=60), name=st.sampled_from(NAMES))
@example(pieces=["a: ", *["['}', {"] * 50], name="tools/pin-punch.yaml")
def test_signs_of_yaml_in_any_order_yield_findings(pieces: list[str], name: str) -> None:
    assert _takes_no_longer(name, "".join(pieces).encode())


@quick
@given(data=st.data())
def test_a_sound_record_with_a_passage_changed_never_fails(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(NAMES))
    raw = RAW[name]
    start = data.draw(st.integers(0, len(raw)))
    end = data.draw(st.integers(start, min(len(raw), start + 60)))
    put = data.draw(
        st.one_of(
            st.binary(max_size=12), st.lists(YAML_PIECES, max_size=6).map(lambda p: "".join(p).encode())
        )
    )
    _takes_no_longer(name, raw[:start] + put + raw[end:])


@quick
@given(data=st.data())
def test_a_sound_record_with_its_lines_shuffled_never_fails(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(NAMES))
    lines = RAW[name].splitlines(keepends=True)
    chosen = data.draw(st.lists(st.integers(0, len(lines) - 1), max_size=2 * len(lines)))
    indents = data.draw(
        st.lists(st.sampled_from([b"", b" ", b"  ", b"- "]), min_size=len(chosen), max_size=len(chosen))
    )
    _takes_no_longer(
        name, b"".join(indent + lines[index] for indent, index in zip(indents, chosen, strict=True))
    )


LARGE = {
    "unknown fields": b"title: a\nsummary: b\n" + b"".join(b"field-%d: x\n" % n for n in range(4_000)),
    "a field given again and again": b"title: a\nsummary: b\n" + b"also: x\n" * 9_000,
    "items that are no text": b"title: a\nsummary: b\nalso:\n" + b"- [x]\n" * 9_000,
    "lone braces": b"title: a\nsummary: >\n" + b"  { } { } and so on\n" * 15_000,
    "one long word": b"title: a\nsummary: " + b"x" * 990_000,
    "blanks": b"title: a\nsummary: 'x." + b" " * 990_000 + b"y'",
    "a long name": b"title: a\nsummary: b\n" + b"x" * 1_000 + b": c\n",
    "hidden characters": b"title: a\nsummary: b\nalso:\n" + "- x\u200b\n".encode() * 9_000,
    "links that lead nowhere": b"title: a\nsummary: >\n" + b"  {tool:a} {b.c}\n" * 7_000,
}


@pytest.mark.parametrize("what", LARGE)
def test_a_large_hostile_file_is_checked_in_seconds_and_its_findings_are_counted(
    what: str, tmp_path: Path
) -> None:
    begun = time.process_time()
    findings = check_over(tmp_path, {"tools/pin-punch.yaml": LARGE[what]})
    assert time.process_time() - begun < 6 * MOST_SECONDS
    assert len(findings) <= 303
    assert sum(len(str(finding)) + len(finding.help) for finding in findings) < 200_000


def test_findings_beyond_a_hundred_of_a_kind_are_summed_up(tmp_path: Path) -> None:
    text = "title: a\nsummary: b\n" + "".join(f"x{n}: y\n" for n in range(120))
    findings = check_over(tmp_path, {"tools/pin-punch.yaml": text})
    assert len(findings) == 101
    assert findings[0].message == "20 more of this kind in this file"
    assert [(finding.line, finding.column) for finding in findings[1:]] == [(n + 3, 1) for n in range(100)]


@pytest.mark.parametrize("name", NAMES)
def test_every_sound_record_may_be_missing_or_empty(name: str, tmp_path: Path) -> None:
    check_over(tmp_path / "missing", {name: None})
    assert check_over(tmp_path / "empty", {name: ""})
