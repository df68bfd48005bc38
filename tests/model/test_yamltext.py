"""Strict YAML: what is written is what is read, and whatever cannot be read is a fault with its place."""

from __future__ import annotations

import time

import pytest

from shearpin.model.filecontent import MAX_BYTES
from shearpin.model.yamltext import MAX_DEPTH, MAX_NODES, TextFault, parse


def _fault(raw: bytes) -> TextFault:
    data, faults = parse(raw)
    assert data == {}
    (fault,) = faults
    return fault


@pytest.mark.parametrize(
    "written",
    [
        "no",
        "yes",
        "on",
        "off",
        "Null",
        "~",
        "1:30",
        "010",
        "0x1F",
        "1e3",
        "1_000",
        ".inf",
        "2026-10-02",
        "+1",
        "1.10",
    ],
)
def test_plain_text_stays_what_was_written(written: str) -> None:
    assert parse(f"a: {written}\nb:\n  - {written}\n".encode()) == ({"a": written, "b": [written]}, ())


def test_keys_are_text_too() -> None:
    assert parse(b"no: a\n1: b\n1e3: c\n~: d\n") == ({"no": "a", "1": "b", "1e3": "c", "~": "d"}, ())


def test_a_missing_value_is_empty_text() -> None:
    assert parse(b"a:\nb: ''\n") == ({"a": "", "b": ""}, ())


def test_a_colon_inside_a_list_in_brackets_is_refused_and_never_another_value() -> None:
    """The C parser does not read `1:30` there; a fault is well, 90 would not be."""
    assert _fault(b"a: [1:30]\n").code == "FMT001"


@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system_read_alike(line_end: str) -> None:
    text = line_end.join(["a: b", "c: >-", "  d", "  e", "f: |-", "  g", "  h", ""])
    assert parse(text.encode()) == ({"a": "b", "c": "d e", "f": "g\nh"}, ())


def test_a_byte_order_mark_is_not_part_of_the_text() -> None:
    assert parse("\ufefftitle: ±\n".encode()) == ({"title": "±"}, ())


@pytest.mark.parametrize(
    ("raw", "message"),
    [
        (b"", "the file is empty"),
        (b"\n \n# a comment\n", "the file is empty"),
        (b"---\n", "a record is a mapping"),
        (b"- a\n", "a record is a mapping"),
        (b"a\n", "a record is a mapping"),
        (b"[]\n", "a record is a mapping"),
    ],
)
def test_what_is_no_mapping_is_no_record(raw: bytes, message: str) -> None:
    fault = _fault(raw)
    assert fault.code == "FMT002"
    assert fault.message.startswith(message)


def test_every_fault_of_a_readable_file_is_told_in_one_run() -> None:
    data, faults = parse(b"a: b\na: c\n<<: {d: e}\nf: !!str g\n? [h]\n: i\nj: {k: l, k: m}\n")
    assert data == {"a": "b", "f": "g", "j": {"k": "l"}}
    assert [(fault.code, fault.line, fault.column) for fault in faults] == [
        ("FMT004", 2, 1),
        ("FMT005", 3, 1),
        ("FMT005", 4, 4),
        ("FMT002", 5, 3),
        ("FMT004", 7, 11),
    ]


@pytest.mark.parametrize(
    "raw",
    [
        b"a: &x b\n",
        b"a: *x\n",
        b"a: &x b\nc: *x\n",
        b"a: &x [*x]\n",
        b"&x a: b\n",
        b"a: &x b\nc: &x d\n",
        b"a: *\n",
        b"a: & b\n",
    ],
)
def test_anchors_and_aliases_are_refused_by_name(raw: bytes) -> None:
    assert _fault(raw).code == "FMT005"


def test_an_alias_bomb_is_refused_at_once() -> None:
    levels = [b"a0: &a0 [x, x]"] + [b"a%d: &a%d [*a%d, *a%d]" % (n, n, n - 1, n - 1) for n in range(1, 30)]
    begun = time.perf_counter()
    assert _fault(b"\n".join(levels)).code == "FMT005"
    assert time.perf_counter() - begun < 1.0


@pytest.mark.parametrize(
    "raw",
    [
        b"a: " + b"[" * 100_000,
        b"a: " + b"{a: " * 100_000,
        b"a: " + b"[']'," * 100_000,
        b"a: " + b"[']'," * 100_000 + b" &x y",
        b"a: " + b'{"}": ' * 100_000,
        b"a:\n" + b"- " * 400_000 + b"b",
        b"? " * 400_000 + b"b",
        b"a: [" + b"? " * 400_000,
        b"".join(b" " * depth + b"a:\n" for depth in range(1_400)),
        b"a:\n" + b"".join(b" " * depth * 78 + b"- " * 39 + b"\n" for depth in range(100)),
        b"a:\r" + b"".join(b" " * depth + b"-\r" for depth in range(1, 1_300)),
    ],
    ids=["brackets", "braces", "quoted brackets", "and an anchor", "quoted braces", "dashes", "questions",
         "questions in brackets", "indentation", "indentation and dashes", "indentation, old line ends"],
)  # fmt: skip
def test_nesting_bombs_are_refused_at_once(raw: bytes) -> None:
    assert len(raw) <= MAX_BYTES
    begun = time.perf_counter()
    fault = _fault(raw)
    assert time.perf_counter() - begun < 1.0
    assert fault.code in ("FMT001", "FMT002")
    if fault.code == "FMT002":
        assert fault.message == f"nested deeper than {MAX_DEPTH} levels"


def test_the_deepest_nesting_that_is_allowed_is_read() -> None:
    inner = MAX_DEPTH - 1
    data, faults = parse(b"a: " + b"[" * (inner - 1) + b"b" + b"]" * (inner - 1))
    assert faults == ()
    assert str(data["a"]).count("[") == inner - 1
    assert _fault(b"a: " + b"[" * inner + b"b" + b"]" * inner).code == "FMT002"


def test_the_number_of_entries_is_limited() -> None:
    items = MAX_NODES - 3  # the mapping, its key and the list are entries too
    assert parse(b"a: [" + b"b," * items + b"]")[1] == ()
    assert _fault(b"a: [" + b"b," * (items + 1) + b"]").message == f"more than {MAX_NODES:,} entries"


def test_the_size_of_a_file_is_limited() -> None:
    assert parse(b"a: " + b"b" * (MAX_BYTES - 3))[1] == ()
    assert _fault(b"a: " + b"b" * (MAX_BYTES - 2)).code == "FMT002"


@pytest.mark.parametrize("break_", ["\u0085", "\u2028", "\u2029"])
def test_a_line_break_that_editors_do_not_show_hides_no_field(break_: str) -> None:
    fault = _fault(f"title: Pin punch{break_}summary: b\n".encode())
    assert (fault.code, fault.line, fault.column) == ("FMT003", 1, 17)


@pytest.mark.parametrize(
    "raw",
    [b"\xff\xfea\x00", "title: a\n".encode("utf-16"), "title: a\n".encode("utf-32"), b"title: \xe9\n", b"title: \x00\n",
     b"\x89PNG\r\n\x1a\n\x00\x00", b"title: \xed\xa0\x80", b"title: \xc0\xaf", b"title: \xf5\x80\x80\x80", b"title: \x1b[31m"],
    ids=["UTF-16 begun", "UTF-16", "UTF-32", "Latin-1", "NUL", "a picture", "surrogate", "overlong", "beyond Unicode", "escape"],
)  # fmt: skip
def test_bytes_that_are_no_text_are_refused_as_such(raw: bytes) -> None:
    assert _fault(raw).code == "FMT003"


def test_a_fault_of_the_text_is_placed_in_characters() -> None:
    assert (_fault("a: ±µ é: x\n".encode()).line, _fault("a: ±µ é: x\n".encode()).column) == (1, 8)
