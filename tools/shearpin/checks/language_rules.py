"""Rules of plain language on one record, after ASD-STE100 Simplified Technical English (its rules read second-hand).

They know words and not grammar: see `plain_words` for the lists and their limits.
"""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.checks.asked_again import AskedAgain
from shearpin.checks.plain_words import (
    OF_CONDITIONS,
    OF_CONTRACTIONS,
    OF_MODALS,
    OF_PASSIVES,
    OF_VAGUE,
    bare_noun,
    contracted,
    late_condition,
    not_a_command,
    passive,
    too_many_commands,
    vague,
)
from shearpin.checks.record_rules import (
    LATE_CAUTION,
    count_words,
    may_have_words,
    may_hold,
    small_letters,
    steps_of,
)
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.checks.wording import prose_of, sentences, without_braces
from shearpin.model.fields import Record
from shearpin.model.finding import Severity
from shearpin.model.knowledge import Caution
from shearpin.model.position import FieldPath
from shearpin.model.reading import RecordFile
from shearpin.model.steps import Procedure, Test

_INSTRUCTING: Final = (Procedure, Test, Caution)


def _find_instructions(record: Record | None) -> tuple[tuple[FieldPath, int, str], ...]:
    """Return each sentence that tells what to do, with its field and where it begins there."""
    told: list[tuple[FieldPath, str]] = [((*path, "do"), step.do) for path, step in steps_of(record)]
    if isinstance(record, Caution):
        told = [(("avoidance", index), text) for index, text in enumerate(record.avoidance)]
    return tuple(
        (path, start, sentence) for path, text in told for start, sentence in sentences(without_braces(text))
    )


_instructions: Final = AskedAgain(_find_instructions)


_small: Final[AskedAgain[Record | None, tuple[str, bool]]] = AskedAgain(
    lambda record: small_letters(sentence for _, _, sentence in _instructions(record))
)


def _instructions_with(file: RecordFile, parts: tuple[str, ...]) -> tuple[tuple[FieldPath, int, str], ...]:
    """Return the instructions of a record, none where none of them has one of the parts that a pattern needs."""
    return _instructions(file.record) if may_hold(_small(file.record), parts) else ()


@rule("LNG002", Severity.WARNING, of=(Procedure, Test))
def several_instructions_in_a_step(file: RecordFile) -> Iterator[Fault]:
    """A step gives three commands, or a second one that is to follow the first.

    ## Why
    Hands do one thing at a time and eyes come back to the page after it (ASD-STE100 rule 5.2: one instruction a sentence,
    unless two actions are done together). What stands in the middle of a long step is what gets left out.

    ## Hint
    make a step of its own of it

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out, pull the boot off, and hang a tag on the handle.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out.
      - do: Pull the boot off, and hang a tag on the handle.
    sources: [bench-notes]
    ```
    """
    for path, step in steps_of(file.record):
        found = too_many_commands(without_braces(step.do))
        if found is not None and not LATE_CAUTION.match(step.do, step.do.rfind(" ", 0, found[0])):
            message = f"“{found[1]}” begins one instruction too many for a step"
            yield Fault(file.path, (*path, "do"), message, "make a step of its own of it", offset=found[0])


@rule("LNG003", Severity.WARNING, of=_INSTRUCTING)
def step_that_is_no_command(file: RecordFile) -> Iterator[Fault]:
    """A step or an avoidance tells how things are or must be, and not what to do.

    ## Why
    Only a command says who acts: the reader (ASD-STE100 rule 5.3). “The key must be out” leaves open who takes it out, and
    when.

    ## Hint
    begin with the verb: `Take …`, `Turn …`

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: The key must be out of the switch.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
    sources: [bench-notes]
    ```
    """
    may_say_must = may_hold(_small(file.record), OF_MODALS)
    for path, start, sentence in _instructions(file.record):
        found = not_a_command(sentence, may_say_must)
        if found is not None:
            message = f"“{found[1]}” makes a statement where a command belongs"
            yield Fault(
                file.path, path, message, "begin with the verb: `Take …`, `Turn …`", offset=start + found[0]
            )


@rule("LNG004", Severity.WARNING, of=_INSTRUCTING)
def passive_instruction(file: RecordFile) -> Iterator[Fault]:
    """An instruction in the passive voice.

    ## Why
    “The nut can be tightened” names nobody who does it (ASD-STE100 rule 3.6: active voice in procedures); a reader in a
    second language may take it for a description.

    ## Hint
    write what the reader does: `Tighten the nut.`

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: When the key is out, the boot can be pulled off.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: When the key is out, pull the boot off the plug.
    sources: [bench-notes]
    ```
    """
    for path, start, sentence in _instructions_with(file, OF_PASSIVES):
        found = passive(sentence)
        if found is not None:
            message = f"“{found[1]}” is passive"
            yield Fault(
                file.path,
                path,
                message,
                "write what the reader does: `Tighten the nut.`",
                offset=start + found[0],
            )


@rule("LNG005", Severity.WARNING, of=_INSTRUCTING)
def condition_after_its_command(file: RecordFile) -> Iterator[Fault]:
    """A condition stands behind the command that depends on it.

    ## Why
    Who reads “Pull the boot off, if the key is stuck” has pulled it off before the condition comes (ASD-STE100 rule 5.4:
    the condition first).

    ## Hint
    begin with it: `If …, …`

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Pull the boot off the spark plug, if the key is stuck.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: If the key is stuck, pull the boot off the spark plug.
    sources: [bench-notes]
    ```
    """
    for path, start, sentence in _instructions_with(file, OF_CONDITIONS):
        found = late_condition(sentence)
        if found is not None:
            message = f"the condition “{found[1]}” comes after its command"
            yield Fault(file.path, path, message, "begin with it: `If …, …`", offset=start + found[0])


@rule("LNG007", Severity.WARNING, of=_INSTRUCTING)
def thing_without_its_article(file: RecordFile) -> Iterator[Fault]:
    """A command is followed by a thing without `the` or `a`.

    ## Why
    “Take key out” can be read as telegram style or as a name (ASD-STE100 rule 2.3); translators and readers of other
    languages need the article.

    ## Hint
    write `the` or `a` before it

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take key out of the switch.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Take the key out of the switch.
    sources: [bench-notes]
    ```
    """
    for path, start, sentence in _instructions(file.record):
        found = bare_noun(sentence)
        if found is not None:
            message = f"“{found[1]}” has no article"
            yield Fault(file.path, path, message, "write `the` or `a` before it", offset=start + found[0])


@rule("LNG008", Severity.WARNING, of=_INSTRUCTING)
def words_that_leave_it_open(file: RecordFile) -> Iterator[Fault]:
    """An instruction leaves to the reader what it should say, with `properly`, `as required` or the like.

    ## Why
    A trainee does not know yet what is proper. Either there is a figure or a sign to look for, or the word says nothing.

    ## Hint
    say how far, how much or until when

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Pull the boot off properly.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Pull the boot off until it is a hand away from the plug.
    sources: [bench-notes]
    ```
    """
    for path, start, sentence in _instructions_with(file, OF_VAGUE):
        found = vague(sentence)
        if found is not None:
            message = f"“{found[1]}” leaves open what is meant"
            yield Fault(
                file.path, path, message, "say how far, how much or until when", offset=start + found[0]
            )


@rule("LNG009", Severity.WARNING, of=_INSTRUCTING)
def contracted_words(file: RecordFile) -> Iterator[Fault]:
    """An instruction with a contracted word, such as `don't`.

    ## Why
    The `not` in `don't` is easily overlooked (ASD-STE100 allows no contractions), and an instruction that lost its `not`
    hurts.

    ## Hint
    write it in full: `do not`, `it is`

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Don't put the key back.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Do not put the key back.
    sources: [bench-notes]
    ```
    """
    for path, start, sentence in _instructions_with(file, OF_CONTRACTIONS):
        found = contracted(sentence)
        if found is not None:
            message = f"“{found[1]}” is contracted"
            yield Fault(
                file.path, path, message, "write it in full: `do not`, `it is`", offset=start + found[0]
            )


MAX_DESCRIPTIVE_WORDS: Final = 25
"""ASD-STE100 rule 6.2: a descriptive sentence has at most 25 words (read second-hand)."""


@rule("LNG010", Severity.WARNING)
def long_sentence(file: RecordFile) -> Iterator[Fault]:
    """A sentence that describes or explains has more than 25 words.

    ## Why
    Beyond 25 words (ASD-STE100 rule 6.2) a reader must hold one half in mind to understand the other; at a bench, and in
    a second language, that half is lost.

    ## Hint
    make two sentences of it

    ## Bad
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: >
      Drives out the two ends of a shear bolt that has broken in its hole after the auger was stopped by a stone or by a
      lump of ice in the snow.
    ```

    ## Good
    ```yaml
    # kb/tools/pin-punch.yaml
    title: Pin punch
    summary: >
      Drives out the two ends of a broken shear bolt. The bolt breaks when a stone or a lump of ice stops the auger.
    ```
    """
    if file.record is None or file.kind.name == "source":
        return
    for path, text in prose_of(file.record):
        if path[-1] == "do" or text.count(" ") <= MAX_DESCRIPTIVE_WORDS - 1:
            continue  # a step has a limit of its own
        # Not quite the sentences, but none of them lies in two of these parts: quicker.
        if not any(may_have_words(part, MAX_DESCRIPTIVE_WORDS + 1) for part in text.split(". ")):
            continue
        for start, sentence in sentences(text):
            words = count_words(sentence) if may_have_words(sentence, MAX_DESCRIPTIVE_WORDS + 1) else 0
            if words > MAX_DESCRIPTIVE_WORDS:
                message = f"{words} words in one sentence, where {MAX_DESCRIPTIVE_WORDS} can be followed"
                yield Fault(file.path, path, message, "make two sentences of it", offset=start)


LANGUAGE_RULES: Final[tuple[AnyRule, ...]] = (
    several_instructions_in_a_step,
    step_that_is_no_command,
    passive_instruction,
    condition_after_its_command,
    thing_without_its_article,
    words_that_leave_it_open,
    contracted_words,
    long_sentence,
)
