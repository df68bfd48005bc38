"""One record file read: its text, its fields, and every fault of either."""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from shearpin.model.fields import ID_PATTERN, Record
from shearpin.model.filecontent import MAX_BYTES, digest_of
from shearpin.model.heading import Heading, heading_of, summary_of
from shearpin.model.kinds import Kind
from shearpin.model.plainyaml import plain_data
from shearpin.model.position import FieldPath
from shearpin.model.references import field_names, nested_fields
from shearpin.model.yamltext import TextFault, parse


@dataclass(frozen=True, slots=True)
class FieldFault:
    """A fault of one field; `path` leads to it, `offset` counts characters into its text."""

    code: str
    path: FieldPath
    message: str
    help: str
    on_key: bool = False
    offset: int = 0


_NO_WORDS: Final[frozenset[str]] = frozenset()


@dataclass(frozen=True, slots=True)
class RecordFile:
    """What was read from `path` (below `kb/`).

    `record` is None where too little could be read to make one; `loose_words` then holds every id-like word of the
    text, so that what the broken file refers to is not taken for unused. A record with faulty optional fields is kept
    without them: its other faults, and those of other records, are still found in the same run. `usual_characters`
    says that the text holds only letters and signs of which none is invisible or looks like another, `unpaired` that no text of it
    has anything in brackets or behind a slash, as a second figure has. `digest` is that of the file's bytes, empty where they
    could not be read.
    """

    path: str
    kind: Kind
    id: str
    record: Record | None
    text_faults: tuple[TextFault, ...] = ()
    field_faults: tuple[FieldFault, ...] = ()
    loose_words: frozenset[str] = _NO_WORDS
    usual_characters: bool = False
    unpaired: bool = False
    digest: bytes = b""

    def with_record(self, record: Record) -> RecordFile:
        """Return the same with this in place of its record; as `replace`, and quicker."""
        return RecordFile(
            self.path, self.kind, self.id, record, self.text_faults, self.field_faults,
            self.loose_words, self.usual_characters, self.unpaired, self.digest,
        )  # fmt: skip

    @property
    def title(self) -> str:
        """The title of the record, of a file that has one."""
        assert self.record is not None
        return self.record.title

    @property
    def heading(self) -> Heading | None:
        """What lists need of the record; None where none could be made."""
        return heading_of(self.record) if self.record is not None else None

    @property
    def summary(self) -> str:
        """The sentence that lists show of the record; empty where there is none."""
        return summary_of(self.record) if self.record is not None else ""

    @property
    def ignores(self) -> bool:
        """Whether there is a record that names rules that do not hold in it."""
        return self.record is not None and bool(self.record.ignore)

    @property
    def broken(self) -> bool:
        """Whether anything in the file could not be understood."""
        return bool(self.text_faults or self.field_faults)


_WORD: Final = re.compile(rb"[a-z0-9]+(?:[-.][a-z0-9]+)*")
# No backslash: in quotes it could spell any other character. No `<`: it begins the marks of what is unwritten.
_USUAL: Final = re.compile(r"[\n\r\x20-\x3b\x3d-\x5b\x5d-\x7e–—’‘“”…±×·°≤≥−→′″²³½¼¾äöüéèàçñßΩμµΔπ]*")
_LOOSE_SLASH: Final = re.compile(r"\s/|/\s")
_SALVAGE_ROUNDS: Final = 6


def read_record(path: str, kind: Kind, record_id: str, raw: bytes) -> RecordFile:
    """Read one record from the bytes of its file; faults are collected, never raised."""
    return read_record_and_data(path, kind, record_id, raw)[0]


def read_record_and_data(
    path: str, kind: Kind, record_id: str, raw: bytes
) -> tuple[RecordFile, dict[str, Any]]:
    """Read one record, and return the data of which the same can be made where nothing was wrong."""
    digest = digest_of(raw)
    usual = _USUAL.fullmatch(text := raw.decode("utf-8", "replace")) is not None
    plain = plain_data(text) if usual else None
    data, text_faults = (plain, ()) if plain is not None else parse(raw)
    if not data and text_faults:
        return RecordFile(path, kind, record_id, None, text_faults, (), _loose(raw), digest=digest), data
    unpaired = usual and _is_unpaired(text)
    try:
        record = kind.record.model_validate(data)
        loose = _loose(raw) if text_faults else _NO_WORDS
        return RecordFile(
            path, kind, record_id, record, text_faults, (), loose, usual, unpaired, digest
        ), data
    except ValidationError as error:
        details = error.errors(include_url=False, include_input=False)
    faults = tuple(_field_fault(kind.record, detail) for detail in _told_once(details))
    salvaged = _salvage(kind.record, data, details)
    file = RecordFile(
        path, kind, record_id, salvaged, text_faults, faults, _loose(raw), usual, unpaired, digest
    )
    return file, data


def _is_unpaired(text: str) -> bool:
    """Whether the text of a file has no bracket but those of lists, and no slash before or after a blank."""
    if "(" in text or text.count("[") != text.count(": ["):
        return False
    return "/" not in text or _LOOSE_SLASH.search(text) is None


def _told_once(details: Sequence[ErrorDetails]) -> Iterator[ErrorDetails]:
    """Leave out lists that are too short only because an item of theirs has a fault of its own."""
    with_faults = {detail["loc"][:end] for detail in details for end in range(1, len(detail["loc"]))}
    return (d for d in details if d["type"] != "too_short" or d["loc"] not in with_faults)


def _loose(raw: bytes) -> frozenset[str]:
    return frozenset(word.decode() for word in _WORD.findall(raw[:MAX_BYTES]))


def _salvage(owner: type[Record], data: dict[str, Any], details: Sequence[ErrorDetails]) -> Record | None:
    """Return the record without its faulty parts, or None where something required is among them."""
    data = copy.deepcopy(data)
    for _ in range(_SALVAGE_ROUNDS):
        # From the back, so that removing a list item does not move the next one.
        for path in sorted({_removable(detail) for detail in details}, key=_order, reverse=True):
            if not path or not _remove(data, path):
                return None
        try:
            return owner.model_validate(data)
        except ValidationError as error:
            details = error.errors(include_url=False, include_input=False)
    return None


def _order(path: FieldPath) -> tuple[tuple[int, str, int], ...]:
    return tuple((0, "", part) if isinstance(part, int) else (1, part, 0) for part in path)


def _removable(detail: ErrorDetails) -> FieldPath:
    """Return what to leave out: the field itself, or the mapping in which a required one is missing."""
    path = _clean(detail["loc"])
    return path[:-1] if detail["type"] == "missing" else path


def _remove(data: Any, path: FieldPath) -> bool:
    """Remove the field at `path`; return whether it is gone."""
    holder = data
    for part in path[:-1]:
        try:
            holder = holder[part]
        except (KeyError, IndexError, TypeError):
            return True  # an enclosing part is already gone
    if isinstance(path[-1], int) and not isinstance(holder, list):
        return _remove(data, path[:-1])  # a single item that stands where a list is allowed
    try:
        del holder[path[-1]]
    except (KeyError, IndexError):
        return True
    except TypeError:
        return False
    return True


def _clean(location: tuple[int | str, ...]) -> FieldPath:
    return tuple(part for part in location if part != "[key]")


def _field_fault(owner: type[Record], detail: ErrorDetails) -> FieldFault:
    path = _clean(detail["loc"])
    name = _name(path)
    kind, context = detail["type"], detail.get("ctx", {})
    if kind == "extra_forbidden":
        return _unknown_field(owner, path)
    if kind == "missing":
        return FieldFault("FLD002", path[:-1], f"{name} is missing", _describe(owner, path), on_key=True)
    if "[key]" in detail["loc"]:
        return FieldFault("FLD004", path, f"`{path[-1]}` is not an id", _ID_HELP, on_key=True)
    if kind in ("quantity", "wrong_kind"):
        offset = int(context.get("offset", 0))
        code = "QTY001" if kind == "quantity" else "QTY002"
        return FieldFault(
            code,
            path,
            str(context.get("message", detail["msg"])),
            str(context.get("hint", "")),
            offset=offset,
        )
    if kind == "string_too_short":
        return FieldFault("FLD003", path, f"{name} is empty", _describe(owner, path))
    if kind == "string_pattern_mismatch":
        return _pattern_fault(owner, path, name, context)
    if kind == "enum":
        return FieldFault(
            "FLD004", path, f"{name} is not one of {context['expected']}", _describe(owner, path)
        )
    if kind in _SHAPES:
        return FieldFault("FLD003", path, f"{name} must be {_SHAPES[kind]}", _describe(owner, path))
    return FieldFault("FLD004", path, f"{name}: {_lower_first(detail['msg'])}", _describe(owner, path))


_SHAPES: Final = {
    "string_type": "text, not a list or fields of its own",
    "tuple_type": "a list: one item a line, each after `- `",
    "dict_type": "fields of its own, one `name: value` a line",
    "model_type": "fields of its own, one `name: value` a line",
    "too_short": "a longer list: an item is missing",
}
_ID_HELP: Final = "an id is lower-case words joined by hyphens, such as `auger-belt`"


def _unknown_field(owner: type[Record], path: FieldPath) -> FieldFault:
    fields = nested_fields(owner, path[:-1])
    known = field_names(fields) if fields is not None else ()
    near = get_close_matches(str(path[-1]), known, n=1, cutoff=0.6)
    advice = f"did you mean `{near[0]}`?" if near else "known here: " + ", ".join(known)
    if not near and " " in str(path[-1]):
        advice = "no field has a space in its name: a text with a comma inside `{…}` stands in quotes"
    if path == ("id",):
        advice = "the file's name is the id; leave this field out, or rename the file"
    return FieldFault("FLD001", path, f"unknown field {_name(path)}", advice, on_key=True)


def _pattern_fault(owner: type[Record], path: FieldPath, name: str, context: dict[str, Any]) -> FieldFault:
    pattern = str(context.get("pattern", ""))
    if pattern == ID_PATTERN:
        return FieldFault("FLD004", path, f"{name} is not an id", _ID_HELP)
    choices = re.fullmatch(r"\^\(([a-z|-]+)\)\$", pattern)
    if choices:
        listed = ", ".join(f"`{choice}`" for choice in choices.group(1).split("|"))
        return FieldFault("FLD004", path, f"{name} is not one of {listed}", _describe(owner, path))
    return FieldFault("FLD004", path, f"{name} is not written as it should be", _describe(owner, path))


def _describe(owner: type[Record], path: FieldPath) -> str:
    """Return what the field at `path` is for, in the words of its definition; an item stands for its list."""
    while path and isinstance(path[-1], int):
        path = path[:-1]
    fields = nested_fields(owner, path[:-1]) if path else None
    for attribute, field in fields.model_fields.items() if fields is not None else ():
        if (field.alias or attribute) == path[-1] and field.description:
            return field.description
    return "write it so, or leave the field out"


def _name(path: FieldPath) -> str:
    """Return the last named field of a path, as a reader would say it."""
    if path and isinstance(path[-1], int):
        named = [part for part in path if isinstance(part, str)]
        return f"item {path[-1] + 1} of `{named[-1]}`" if named else f"item {path[-1] + 1}"
    return f"`{path[-1]}`" if path else "the record"


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]
