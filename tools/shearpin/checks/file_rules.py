"""Rules on the text and the fields of one file: what could not be read as it was meant."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Final

from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.checks.wording import prose_of, texts_of
from shearpin.model.fields import ID_PATTERN
from shearpin.model.inline import InlineError, leads_somewhere, parse_inline
from shearpin.model.reading import RecordFile
from shearpin.model.references import InlineText, mentions


def _text_faults(file: RecordFile, code: str) -> Iterator[Fault]:
    for fault in file.text_faults:
        if fault.code == code:
            yield Fault(file.path, (), fault.message, fault.help, place=(fault.line, fault.column))


def field_faults(file: RecordFile, code: str) -> Iterator[Fault]:
    """Yield what reading the fields found under this code."""
    for fault in file.field_faults:
        if fault.code == code:
            yield Fault(file.path, fault.path, fault.message, fault.help, fault.on_key, fault.offset)


@rule("FMT001")
def unreadable_yaml(file: RecordFile) -> Iterator[Fault]:
    """The file is not YAML.

    ## Why
    Nothing of the record can be used until its text can be read, so its page would be missing from the manual.

    ## Hint
    look at this line and the one before it: a missing colon or quote, a tab, or a `: ` inside unquoted text

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out a pin: use the size below the hole.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: "Drives out a pin: use the size below the hole."
    ```
    """
    return _text_faults(file, "FMT001")


@rule("FMT002")
def not_a_record(file: RecordFile) -> Iterator[Fault]:
    """The file is YAML but not the fields of a record, or beyond any size a record has.

    ## Why
    A record is a mapping of named fields; a bare list or text has no title, and no page can be made of it.

    ## Hint
    begin with `title:`

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    - Pin punch
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    return _text_faults(file, "FMT002")


@rule("FMT003")
def unreadable_characters(file: RecordFile) -> Iterator[Fault]:
    """The file has bytes that are not UTF-8 text, or control characters.

    ## Why
    An editor that saves in another encoding turns `±` and `µ` into other signs: a tolerance could be lost on the page.

    ## Hint
    remove it or write it in words

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken \x07shear bolts.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    return _text_faults(file, "FMT003")


@rule("FMT004")
def field_given_twice(file: RecordFile) -> Iterator[Fault]:
    """A field stands twice in the same place.

    ## Why
    YAML readers silently keep one of the two; the writer may have meant the other, and a torque may be the old one.

    ## Hint
    keep one of them

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    summary: Drives out pins.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts and pins.
    ```
    """
    return _text_faults(file, "FMT004")


@rule("FMT005")
def hidden_yaml_machinery(file: RecordFile) -> Iterator[Fault]:
    """An anchor, alias, tag or merge key.

    ## Why
    They make a field mean something that stands elsewhere, which the next writer does not see when correcting it.

    ## Hint
    write the text out, or put it in quotes if the sign belongs to it

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: &name Pin punch
    summary: Drives out broken shear bolts.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    return _text_faults(file, "FMT005")


_SYMBOLS: Final = frozenset("ΩμΔπ")  # stand beside Latin letters in kΩ, μm, ΔT, and look like none of them
_SCRIPTS: Final = ("LATIN", "GREEK", "CYRILLIC", "ARMENIAN", "CHEROKEE", "FULLWIDTH")


@rule("FMT006")
def invisible_or_lookalike_characters(file: RecordFile) -> Iterator[Fault]:
    """Text with characters that cannot be seen, or that look like others.

    ## Why
    A zero-width space inside a part number, or a Cyrillic `а` in a word, cannot be found by a search and cannot be
    ordered at a counter, though it looks right.

    ## Hint
    type it anew, with letters of one alphabet and plain blanks

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken she\u200bar bolts.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    if file.record is None or file.usual_characters:
        return
    for path, text in texts_of(file.record):
        if text.isascii() and text.isprintable():
            continue
        fault = _odd_character(text)
        if fault is not None:
            offset, message = fault
            advice = "type it anew, with letters of one alphabet and plain blanks"
            yield Fault(file.path, path, message, advice, offset=offset)


def _odd_character(text: str) -> tuple[int, str] | None:
    for offset, character in enumerate(text):
        if character.isprintable() or character in "\n\t":
            continue
        category = unicodedata.category(character)
        if category in ("Cf", "Cc", "Co", "Cn", "Zl", "Zp") or character == "\u00a0":
            name = unicodedata.name(character, "unnamed").lower()
            return offset, f"an invisible character, U+{ord(character):04X} ({name})"
    for word in re.finditer(r"[^\W\d_]{2,}", text):
        letters = set(word.group()) - _SYMBOLS
        scripts = {unicodedata.name(letter, "").split(" ")[0] for letter in letters} & set(_SCRIPTS)
        if len(scripts) > 1:
            return (
                word.start(),
                f"`{word.group()}` mixes letters of {' and '.join(sorted(s.title() for s in scripts))}",
            )
    return None


@rule("FLD001")
def unknown_field(file: RecordFile) -> Iterator[Fault]:
    """A field that this kind of record does not have.

    ## Why
    A misspelt field is not read: a misspelt `caution` would leave its step without a warning.

    ## Hint
    did you mean `summary`?

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    sumary: Drives out broken shear bolts.
    summary: Drives out broken shear bolts.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    return field_faults(file, "FLD001")


@rule("FLD002")
def missing_field(file: RecordFile) -> Iterator[Fault]:
    """A field that this kind of record must have is not there.

    ## Why
    The page would have a hole where its reader needs an answer.

    ## Hint
    What it is for.

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    ```
    """
    return field_faults(file, "FLD002")


@rule("FLD003")
def wrong_shape(file: RecordFile) -> Iterator[Fault]:
    """A field holds a list where text belongs, text where fields belong, or nothing at all.

    ## Why
    What has the wrong shape cannot be shown, so the reader would miss it.

    ## Hint
    write it so, or leave the field out

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    also: {other: drift}
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    also: [drift]
    ```
    """
    return field_faults(file, "FLD003")


@rule("FLD004")
def impossible_entry(file: RecordFile) -> Iterator[Fault]:
    """A field holds something that is not among what it can hold.

    ## Why
    A skill nobody has, a date that does not exist or an id with spaces would be shown as if it were meant.

    ## Hint
    yes when a general workshop may not have it.

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    special: perhaps
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out broken shear bolts.
    special: "no"
    ```
    """
    return field_faults(file, "FLD004")


_ID: Final = re.compile(ID_PATTERN)
MAX_ID: Final = 80
LIST_PAGE: Final = "index"
"""The name under which the list of a kind's records stands beside their pages."""

DEVICES: Final = frozenset(
    ["con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))]
)
"""File names that Windows keeps for devices, whatever ending they have.

Source: Microsoft, Naming Files, Paths, and Namespaces; from memory.
"""


@rule("REF003")
def file_name_is_no_id(file: RecordFile) -> Iterator[Fault]:
    """The name of the file cannot be an id.

    ## Why
    The file name is the record's id and becomes the address of its page: capitals or spaces break on one system or
    another, and a very long name cannot be copied to a stick.

    ## Hint
    lower-case words joined by hyphens, 80 characters at most

    ## Bad
    ```yaml
    # kb/terms/Kick_Back.yaml
    title: Kickback
    definition: The rope is pulled back by an engine that fires too early.
    ```

    ## Good
    ```yaml
    # kb/terms/kickback.yaml
    title: Kickback
    definition: The rope is pulled back by an engine that fires too early.
    ```
    """
    name = file.path.rpartition("/")[2]
    if not _ID.fullmatch(file.id) or len(file.id) > MAX_ID:
        yield Fault(
            file.path, (), f"`{name}` cannot be an id",
            f"lower-case words joined by hyphens, {MAX_ID} characters at most",
            place=(1, 1),
        )  # fmt: skip
    elif file.id.split(".")[0] in DEVICES:
        yield Fault(
            file.path, (), f"`{name}` is a name Windows keeps for a device", "choose another id", place=(1, 1)
        )
    elif file.id == LIST_PAGE:
        yield Fault(
            file.path, (), f"the page of `{name}` would replace the list", "choose another id", place=(1, 1)
        )


@rule("REF005")
def unreadable_mention(file: RecordFile) -> Iterator[Fault]:
    """A brace in a text that names neither a value nor a record.

    ## Why
    `{name}` is replaced by the figure of the machine at hand; a lone or misspelt brace would reach the page as it is.

    ## Hint
    write `{value.name}`, `{kind:id}`, or `{{` for the brace itself

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out the bolt of {Auger Shear Bolt}.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: Drives out the {part:auger-shear-bolt}.
    ```
    """
    if file.record is None:
        return
    if all(leads_somewhere(text) for _, text in prose_of(file.record) if "{" in text or "}" in text):
        return  # nothing else has mentions
    for mention in mentions(file.record):
        if isinstance(mention, InlineText):
            for piece in parse_inline(mention.text):
                if isinstance(piece, InlineError):
                    advice = "write `{value.name}`, `{kind:id}`, or `{{` for the brace itself"
                    yield Fault(file.path, mention.path, piece.message, advice, offset=piece.offset)


OF_FAULTS: Final[tuple[AnyRule, ...]] = (
    unreadable_yaml,
    not_a_record,
    unreadable_characters,
    field_given_twice,
    hidden_yaml_machinery,
    unknown_field,
    missing_field,
    wrong_shape,
    impossible_entry,
)
"""Rules that tell which faults reading met."""

FILE_RULES: Final[tuple[AnyRule, ...]] = (
    unreadable_yaml,
    not_a_record,
    unreadable_characters,
    field_given_twice,
    hidden_yaml_machinery,
    invisible_or_lookalike_characters,
    unknown_field,
    missing_field,
    wrong_shape,
    impossible_entry,
    file_name_is_no_id,
    unreadable_mention,
)
