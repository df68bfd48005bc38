"""Reading a record: every fault of its fields in one run, and what is sound in it kept."""

from __future__ import annotations

import pytest

from shearpin.model.kinds import KINDS
from shearpin.model.reading import FieldFault, RecordFile, read_record
from shearpin.model.steps import Procedure

PROCEDURE = """title: Replace a bolt
purpose: It is broken.
systems: [auger-drive]
time: 15 min
steps:
  - do: Drive it out.
"""


def _read(kind: str, text: str) -> RecordFile:
    return read_record(f"{KINDS[kind].folder}/a.yaml", KINDS[kind], "a", text.encode())


def _procedure(text: str) -> RecordFile:
    return _read("procedure", PROCEDURE + text)


def _fault(file: RecordFile) -> FieldFault:
    (fault,) = file.field_faults
    return fault


def test_a_sound_record_has_no_faults_and_no_loose_words() -> None:
    file = _procedure("")
    assert isinstance(file.record, Procedure)
    assert not file.broken
    assert file.loose_words == frozenset()


def test_every_faulty_field_is_told_in_one_run() -> None:
    file = _procedure(
        "skil: mechanic\nskill: master\ntools: [Pin Punch]\nparts: [{part: a, quantity: x}, {quantity: 2}]\n"
        "review: {state: reviewed, on: 2026-02-30x}\noutcome: [a]\nfinish: [{do: ''}]\n"
    )
    told = {(fault.code, fault.path) for fault in file.field_faults}
    assert told == {
        ("FLD001", ("skil",)),
        ("FLD004", ("skill",)),
        ("FLD004", ("tools", 0)),
        ("FLD004", ("parts", 0, "quantity")),
        ("FLD002", ("parts", 1)),
        ("FLD004", ("review", "on")),
        ("FLD003", ("outcome",)),
        ("FLD003", ("finish", 0, "do")),
    }


@pytest.mark.parametrize(
    ("text", "advice"),
    [
        ("purpos: a\n", "did you mean `purpose`?"),
        ("Tools: a\n", "did you mean `tools`?"),
        ("applies: a\n", "did you mean `applies_to`?"),
        ("finish: [{doo: a, do: b}]\n", "did you mean `do`?"),
        ("finish: [{do: b, cautoin: a}]\n", "did you mean `caution`?"),
        ("applies_to: {clas: a}\n", "did you mean `class`?"),
        ("review: {state: draft, bye: a}\n", "did you mean `by`?"),
        ("review: {state: draft, colour: a}\n", "known here: state, by, on, digest"),
        (
            "review: {state: draft, as he said: }\n",
            "no field has a space in its name: a text with a comma inside `{…}` stands in quotes",
        ),
        ("applies to: a\n", "did you mean `applies_to`?"),
    ],
)
def test_an_unknown_field_is_answered_with_the_nearest_or_with_all(text: str, advice: str) -> None:
    fault = _fault(_procedure(text))
    assert fault.code == "FLD001"
    assert fault.help == advice
    assert fault.on_key


def test_the_advice_knows_the_fields_below_a_mapping_of_ids() -> None:
    machine = (
        "title: A\nsummary: B.\nclass: c\nplate: {where: d}\nvalues:\n  plug.gap: {is: 1 mm, bases: demo}\n"
    )
    assert _fault(_read("machine", machine)).help == "did you mean `basis`?"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("skill: master\n", "`skill` is not one of `trainee`, `mechanic`, `specialist`"),
        ("tools: Pin_Punch\n", "item 1 of `tools` is not an id"),
        ("tools: [a, b-]\n", "item 2 of `tools` is not an id"),
        ("review: done\n", "`review` must be fields of its own, one `name: value` a line"),
        ("outcome:\n", "`outcome` is empty"),
        ("outcome: {a: b}\n", "`outcome` must be text, not a list or fields of its own"),
        ("finish: a\n", "`finish` must be a list: one item a line, each after `- `"),
        ("finish: [{note: a}]\n", "`do` is missing"),
    ],
)
def test_messages_speak_of_what_the_writer_sees(text: str, message: str) -> None:
    assert _fault(_procedure(text)).message == message


def test_a_list_that_is_too_short_for_a_faulty_item_is_told_once() -> None:
    text = "title: A\npurpose: B.\nsystems: [c]\ntime: 1 min\nsteps: [{do: d}]\nresults:\n  - {id: e}\n  - {id: f, seen: g}\n"
    assert [(fault.code, fault.path) for fault in _read("test", text).field_faults] == [
        ("FLD002", ("results", 0))
    ]


def test_a_list_that_is_too_short_by_itself_is_told() -> None:
    text = "title: A\npurpose: B.\nsystems: [c]\ntime: 1 min\nsteps: [{do: d}]\nresults: [{id: e, seen: f}]\n"
    fault = _fault(_read("test", text))
    assert (fault.code, fault.path) == ("FLD003", ("results",))


@pytest.mark.parametrize(
    "text",
    [
        "colour: red\n",
        "skill: master\n",
        "tools: [Pin Punch]\n",
        "tools: Pin Punch\n",
        "tools: {a: b}\n",
        "outcome: [a]\n",
        "review: {on: today}\n",
        "parts: [{part: a}, {part: B}, {quantity: 2}]\n",
        "finish: [{do: a, figure: B C}]\n",
        "ignore: [{code: x, reason: y}]\n",
        "applies_to: {class: A B, fitted: [c, D]}\n",
    ],
)
def test_a_record_with_a_faulty_optional_field_is_kept_without_it(text: str) -> None:
    file = _procedure(text)
    assert file.field_faults
    assert isinstance(file.record, Procedure)
    assert file.record.title == "Replace a bolt"
    assert file.record.steps[0].do == "Drive it out."


def test_what_is_kept_is_what_was_sound() -> None:
    file = _procedure("parts: [{part: a}, {part: B}, {part: c, quantity: 2}]\ntools: [d, E, f]\n")
    assert isinstance(file.record, Procedure)
    assert [(use.part, use.quantity) for use in file.record.parts] == [("a", 1), ("c", 2)]
    assert file.record.tools == ("d", "f")


@pytest.mark.parametrize("field", ["title", "purpose", "systems", "time", "steps"])
def test_a_record_without_a_required_field_is_none_and_its_words_are_loose(field: str) -> None:
    lines = [
        line
        for line in PROCEDURE.splitlines()
        if not line.startswith((field, "  " if field == "steps" else field))
    ]
    file = _read("procedure", "\n".join([*lines, "before: [make-machine-safe]"]))
    assert file.record is None
    assert _fault(file).code == "FLD002"
    assert "make-machine-safe" in file.loose_words


def test_text_and_field_faults_of_one_file_are_told_together() -> None:
    file = _procedure("skil: a\ntitle: Again\n")
    assert [fault.code for fault in file.text_faults] == ["FMT004"]
    assert _fault(file).code == "FLD001"
    assert file.record is not None


def test_words_of_a_field_that_was_given_twice_are_loose() -> None:
    file = _procedure("tools: [pin-punch]\ntools: [torque-wrench]\n")
    assert isinstance(file.record, Procedure)
    assert file.record.tools == ("pin-punch",)
    assert "torque-wrench" in file.loose_words


def test_alias_and_attribute_names_are_not_confused() -> None:
    fault = _fault(_read("machine", "title: A\nsummary: B.\nclass_: c\nplate: {where: d}\nclass: e\n"))
    assert fault.message == "unknown field `class_`"
    assert fault.help == "did you mean `class`?"


@pytest.mark.parametrize(
    ("purpose", "usual"),
    [
        ("It is broken: 3 of [4] (or ½ in.).", True),
        ("Set 24 ± 2 N·m, “not” 0.70–0.80 mm.", True),
        ("It is bro\u200bken.", False),
        ("It is brоken.", False),  # Cyrillic o
        ('"It is \\u200bbroken."', False),
        ("<write why>", False),
    ],
)
def test_usual_characters_hide_nothing(purpose: str, usual: bool) -> None:
    file = _read(
        "procedure", PROCEDURE.replace("It is broken.", f"'{purpose}'" if purpose[0] != '"' else purpose)
    )
    assert file.record is not None
    assert file.usual_characters is usual


@pytest.mark.parametrize(
    ("purpose", "unpaired"),
    [
        ("It is broken by 24/7 use.", True),
        ("Set 24 N·m (18 lb·ft).", False),
        ("Set 24 N·m / 18 lb·ft.", False),
        ("Set 24 N·m /\n  18 lb·ft.", False),
        ("Set 24 N·m [18 lb·ft].", False),
        ("Set 24 N·m\n  [18 lb·ft].", False),
        ('"Set 24 N·m \\u002818 lb·ft)."', False),
    ],
)
def test_unpaired_text_holds_no_second_figure(purpose: str, unpaired: bool) -> None:
    file = _read("procedure", PROCEDURE.replace("It is broken.", purpose))
    assert file.record is not None
    assert file.unpaired is unpaired
