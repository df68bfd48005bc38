"""Rules on one record that need no other: safety messages, instructions, chances, drawings."""

# Longer than 300 lines: each rule carries its reason and its examples, which are most of the text.

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

from shearpin.checks.asked_again import AskedAgain
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.model.fields import Record
from shearpin.model.finding import Severity
from shearpin.model.knowledge import Caution, Figure, Harm, Likelihood, SignalWord, Symptom
from shearpin.model.position import FieldPath
from shearpin.model.reading import RecordFile
from shearpin.model.steps import Procedure, Step, Test


def signal_word_for(severity: Harm, likelihood: Likelihood) -> SignalWord:
    """Return the signal word of ANSI Z535.4 for the worst credible harm and whether it will or could follow.

    Source: ANSI Z535.4 Annex E in substance, from memory.
    """
    if severity is Harm.NONE:
        return SignalWord.NOTICE
    if severity is Harm.MINOR:
        return SignalWord.CAUTION
    return SignalWord.DANGER if likelihood is Likelihood.WILL else SignalWord.WARNING


@rule("SAF002", of=(Caution,))
def signal_word_contradicts_harm(file: RecordFile) -> Iterator[Fault]:
    """The signal word does not agree with the harm and its likelihood.

    ## Why
    DANGER, WARNING, CAUTION and NOTICE have fixed meanings (ANSI Z535): a reader decides by the word alone how near to
    go. A WARNING dressed as a NOTICE hurts; a NOTICE dressed as DANGER teaches to ignore DANGER.

    ## Hint
    by ANSI Z535 the word is `DANGER`; correct the word, or `severity` and `likelihood`

    ## Bad
    ```yaml
    # kb/cautions/rotating-auger.yaml
    title: Rotating auger
    signal_word: NOTICE
    hazard: The auger turns under power.
    consequence: It cuts off fingers.
    avoidance: [Stop the engine.]
    severity: serious
    likelihood: will
    covers: {energies: [rotating-auger], actions: [run-engine]}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/cautions/rotating-auger.yaml
    title: Rotating auger
    signal_word: DANGER
    hazard: The auger turns under power.
    consequence: It cuts off fingers.
    avoidance: [Stop the engine.]
    severity: serious
    likelihood: will
    covers: {energies: [rotating-auger], actions: [run-engine]}
    sources: [bench-notes]
    ```
    """
    caution = file.record
    if not isinstance(caution, Caution):
        return
    meant = signal_word_for(caution.severity, caution.likelihood)
    if caution.signal_word is not meant:
        yield Fault(
            file.path,
            ("signal_word",),
            f"`{caution.signal_word.value}` contradicts harm `{caution.severity.value}` that `{caution.likelihood.value}` follow",
            f"by ANSI Z535 the word is `{meant.value}`; correct the word, or `severity` and `likelihood`",
        )


LATE_CAUTION: Final = re.compile(
    r"(?<=[.;!])\s+((?:warning|caution|danger|beware|be careful|take care|watch out|keep (?:your |all )?(?:hands?|fingers?|feet|face|people|clear)"
    r"|never|do not (?:touch|reach|put|stand|breathe|let))\b[^.]*)",
    re.IGNORECASE,
)
_OF_LATE_CAUTIONS: Final = (
    "warning", "caution", "danger", "beware", "be careful", "take care", "watch out", "keep ", "never", "do not ",
)  # fmt: skip
_CAUTION_NOTE: Final = re.compile(
    r"\b(warning|danger|beware|be careful|watch out|can (?:kill|cut|crush|burn|injure|amputate)|burns the skin"
    r"|keep (?:your |all )?(?:hands?|fingers?|face|feet)|wear (?:[a-z]+[ -])*(?:gloves|protection|goggles)|no flame)\b",
    re.IGNORECASE,
)


_OF_CAUTION_NOTES: Final = (
    "warning", "danger", "beware", "be careful", "watch out", "can ", "burns the skin", "keep ", "wear ", "no flame",
)  # fmt: skip
"""What the patterns need: to look for these is many times quicker than the pattern itself."""


def _find_steps(record: Record | None) -> tuple[tuple[FieldPath, Step], ...]:
    if not isinstance(record, (Procedure, Test)):
        return ()
    steps = [(("steps", index), step) for index, step in enumerate(record.steps)]
    return (*steps, *((("finish", index), step) for index, step in enumerate(record.finish)))


steps_of: Final[AskedAgain[Record | None, tuple[tuple[FieldPath, Step], ...]]] = AskedAgain(_find_steps)
"""Every step of a procedure or test with its place, the finishing steps last."""


def small_letters(texts: Iterable[str]) -> tuple[str, bool]:
    """Return texts in small letters, one after another, and whether they are plain ASCII.

    A letter that is no ASCII may count as one that is, whatever its case, so that nothing is sure of a text that has one.
    """
    whole = "\0".join(texts)  # a sign that no text has
    return whole.lower(), whole.isascii()


_small_steps: Final[AskedAgain[Record | None, tuple[str, bool]]] = AskedAgain(
    lambda record: small_letters(step.do for _, step in steps_of(record))
)
_small_notes: Final[AskedAgain[Record | None, tuple[str, bool]]] = AskedAgain(
    lambda record: small_letters(
        text for _, step in steps_of(record) for text in (step.note, step.confirm) if text
    )
)


def may_hold(small: tuple[str, bool], parts: Iterable[str]) -> bool:
    """Whether such texts may hold what has one of these parts."""
    whole, ascii_only = small
    return not ascii_only or _has(whole, parts)


def _has(text: str, parts: Iterable[str]) -> bool:
    for part in parts:  # noqa: SIM110 `any` takes three times as long
        if part in text:
            return True
    return False


@rule("SAF003", of=(Procedure, Test))
def instruction_before_its_caution(file: RecordFile) -> Iterator[Fault]:
    """A step tells what to do first and how not to be hurt afterwards.

    ## Why
    Hands follow the eyes: who reads “Turn the auger. Keep your fingers clear” has turned it before the warning
    (S1000D, IEC/IEEE 82079-1: a warning stands before the action, and is no part of the instruction).

    ## Hint
    put it into `caution:`, which is shown before the instruction

    ## Bad
    ```yaml
    # kb/procedures/replace-auger-shear-bolt.yaml
    title: Replace an auger shear bolt
    purpose: The bolt has sheared as designed.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    remedies: [auger-shear-bolt-sheared]
    before: [make-machine-safe]
    time: 15 min
    tools: [pin-punch, torque-wrench]
    parts: [{part: auger-shear-bolt}]
    steps:
      - do: Turn the auger by hand. Keep your fingers away from the gap.
      - do: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/procedures/replace-auger-shear-bolt.yaml
    title: Replace an auger shear bolt
    purpose: The bolt has sheared as designed.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    remedies: [auger-shear-bolt-sheared]
    before: [make-machine-safe]
    time: 15 min
    tools: [pin-punch, torque-wrench]
    parts: [{part: auger-shear-bolt}]
    steps:
      - do: Turn the auger by hand.
        caution: rotating-auger
      - do: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
    sources: [bench-notes]
    ```
    """
    advice = "put it into `caution:`, which is shown before the instruction"
    may_be_late = may_hold(_small_steps(file.record), _OF_LATE_CAUTIONS)
    may_be_noted = may_hold(_small_notes(file.record), _OF_CAUTION_NOTES)
    for path, step in steps_of(file.record) if may_be_late or may_be_noted else ():
        late = LATE_CAUTION.search(step.do) if may_be_late else None
        if late:
            message = f"the caution “{late.group(1).strip()}” comes after the instruction"
            yield Fault(file.path, (*path, "do"), message, advice, offset=late.start(1))
        for name in ("note", "confirm") if may_be_noted else ():
            text = getattr(step, name)
            found = _CAUTION_NOTE.search(text) if text else None
            if found:
                message = f"`{name}` comes after the instruction and holds a caution (“{found.group()}”)"
                yield Fault(file.path, (*path, name), message, advice, offset=found.start())


_ACTS: Final = (
    ("run-engine", ("engine",),
     r"(?:start|run|restart|warm up) (?:up )?(?:the |an? )?engine|let the engine (?:run|idle|warm)"),
    ("tip-machine", ("tip ", "tilt ", "stand "),
     r"(?:tip|tilt|stand) (?:the |a )?(?:machine|thrower|tiller|housing)\b"),
    ("drain-fuel", ("drain ", "siphon ", "empty "),
     r"(?:drain|siphon|empty) (?:out )?(?:all )?(?:the |all |any )?(?:old |stale )?(?:fuel|gasoline|tank|carburetor bowl)"),
    ("refuel", ("fresh fuel", "gasoline", "fuel tank"),
     r"(?:pour|fill|refuel|top up|add)\b[^.]{0,40}\b(?:fresh fuel|gasoline|fuel tank)"),
    ("pull-recoil", ("pull ",),
     r"pull (?:on )?(?:the )?(?:recoil |starter |starting )+(?:rope|cord|handle)"),
    ("use-compressed-air", ("compressed air",),
     r"(?:blow|clear|clean)\b[^.]{0,40}\bcompressed air|use compressed air"),
)  # fmt: skip
"""Hazardous acts: the action, words of which every such act has one, the act itself."""

_ACT_PATTERNS: Final = tuple(
    (action, words, re.compile(rf"(?:^|(?<=[.,;:] )|(?<=\bthen )|(?<=\band )){pattern}", re.IGNORECASE))
    for action, words, pattern in _ACTS
)


@rule("SAF004", of=(Procedure, Test))
def hazardous_act_not_declared(file: RecordFile) -> Iterator[Fault]:
    """A step starts the engine, tips the machine, handles fuel or the like, and does not say so in `action`.

    ## Why
    The cautions at the head of a page are computed from the actions of its steps; an act that is not declared brings
    none, and the page would look harmless.

    ## Hint
    add `action: run-engine`, so that its cautions come to the page

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: Run the engine until the tank is empty.
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
      - do: Run the engine until the tank is empty.
        action: run-engine
    sources: [bench-notes]
    ```
    """
    small = _small_steps(file.record)
    acts = [act for act in _ACT_PATTERNS if may_hold(small, act[1])]
    own_letters = small[0].split("\0") if acts else ()
    for (path, step), own in zip(steps_of(file.record), own_letters, strict=False):
        for action, words, pattern in acts:
            found = pattern.search(step.do) if _has(own, words) or not small[1] else None
            if found and action not in step.action:
                message = f"“{found.group()}” is the action `{action}`, which the step does not declare"
                advice = f"add `action: {action}`, so that its cautions come to the page"
                yield Fault(file.path, (*path, "do"), message, advice, offset=found.start())


MAX_WORDS: Final = 20
"""ASD-STE100 rule 5.1: a procedural sentence has at most 20 words (read second-hand)."""

_SENTENCE: Final = re.compile(r"[^.!?]+(?:[.!?](?=\w)[^.!?]+)*[.!?]?")


_BRACED: Final = re.compile(r"\{[^{}]*\}")
_COUNTED: Final = re.compile(r"[^\W_][\w'’\-–/.×%°]*")


def count_words(sentence: str) -> int:
    """Count words; a braced value and a hyphenated group count as one (ASD-STE100 section 8, from memory)."""
    text = _BRACED.sub("value", sentence) if "{" in sentence else sentence
    return len(_COUNTED.findall(text))


_IN_WORDS: Final = {code: None for code in range(128) if chr(code).isalnum() or chr(code) in "_'-/.%"}


def may_have_words(text: str, count: int) -> bool:
    """Whether a text may have so many words, of which another sign parts each from the next; quicker than counting."""
    if len(text) < 2 * count - 1:
        return False
    return not text.isascii() or len(text.translate(_IN_WORDS)) >= count - 1


@rule("LNG001", Severity.WARNING, of=(Procedure, Test))
def long_instruction(file: RecordFile) -> Iterator[Fault]:
    """A sentence of a step has more than 20 words.

    ## Why
    Instructions are read in glances between movements; beyond about 20 words (ASD-STE100 rule 5.1) the first half is
    forgotten before the second is done.

    ## Hint
    make two steps of it

    ## Bad
    ```yaml
    # kb/procedures/make-machine-safe.yaml
    title: Make the machine safe
    purpose: Nothing can start while hands are in the machine.
    isolates: [rotating-auger]
    systems: [auger-drive]
    time: 3 min
    steps:
      - do: >-
          Take the key out of the switch and put it into your own pocket where nobody else in the workshop
          can find it before you are done.
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
      - do: Put the key into your own pocket.
    sources: [bench-notes]
    ```
    """
    for path, step in steps_of(file.record):
        if not may_have_words(step.do, MAX_WORDS + 1):
            continue
        for sentence in _SENTENCE.finditer(step.do):
            may = may_have_words(sentence.group(), MAX_WORDS + 1)
            words = count_words(sentence.group()) if may else 0
            if words > MAX_WORDS:
                message = f"{words} words in one instruction, where {MAX_WORDS} can be kept in mind"
                yield Fault(
                    file.path, (*path, "do"), message, "make two steps of it",
                    offset=sentence.start() + len(sentence.group()) - len(sentence.group().lstrip()),
                )  # fmt: skip


_SHARE_TOLERANCE: Final = 0.011
_WORD_RANGE: Final = (0.5, 1.6)


@rule("DIA004", of=(Test,))
def chances_do_not_sum_to_one(file: RecordFile) -> Iterator[Fault]:
    """The chances of a test's results under one cause do not sum to one.

    ## Why
    When a cause is the fault, one of the results must show: shares that sum to 0.7 or 1.3 bend every diagnosis in
    which the test is used. Words are rough and are scaled, but must not be far off.

    ## Hint
    when that cause is the fault, one of the results must show: let them sum to 1

    ## Bad
    ```yaml
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: "0.9"}, otherwise: never}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: "0.6"}, otherwise: always}
    sources: [bench-notes]
    ```

    ## Good
    ```yaml
    # kb/tests/shear-bolt-inspection.yaml
    title: Shear bolt inspection
    purpose: Shows whether a shear bolt is broken.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    before: [make-machine-safe]
    time: 2 min
    steps:
      - do: Look through the bolt holes on both auger halves.
    results:
      - {id: broken, seen: A bolt is broken., given: {auger-shear-bolt-sheared: "0.9"}, otherwise: never}
      - {id: whole, seen: Both bolts are whole., given: {auger-shear-bolt-sheared: "0.1"}, otherwise: always}
    sources: [bench-notes]
    ```
    """
    test = file.record
    if not isinstance(test, Test):
        return
    causes = sorted({cause for result in test.results for cause in result.given})
    for cause in [*causes, None]:
        chances = [
            (result.given.get(cause) if cause is not None else None) or result.otherwise
            for result in test.results
        ]
        stated = [chance for chance in chances if chance is not None]
        total = sum(chance.number for chance in stated)
        only_shares = all(chance.share is not None for chance in stated)
        low, high = (1 - _SHARE_TOLERANCE, 1 + _SHARE_TOLERANCE) if only_shares else _WORD_RANGE
        if len(stated) < len(chances):
            low = 0.0  # what is left out takes the remainder
        if not low <= total <= high:
            name = f"`{cause}`" if cause is not None else "every other cause"
            yield Fault(
                file.path, ("results",), f"under {name} the chances of the results sum to {total:.2f}",
                "when that cause is the fault, one of the results must show: let them sum to 1", on_key=True,
            )  # fmt: skip


@rule("DIA003", of=(Symptom,))
def symptom_without_causes(file: RecordFile) -> Iterator[Fault]:
    """A symptom that names no cause.

    ## Why
    Its page would send the technician away with nothing to test.

    ## Hint
    list `causes`, each with its `chance`

    ## Bad
    ```yaml
    # kb/symptoms/auger-rattles.yaml
    title: The auger rattles
    summary: A rattle from the housing while the auger turns.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    ```

    ## Good
    ```yaml
    # kb/symptoms/auger-rattles.yaml
    title: The auger rattles
    summary: A rattle from the housing while the auger turns.
    applies_to: {class: two-stage}
    systems: [auger-drive]
    causes:
      - {cause: auger-shear-bolt-sheared, chance: often}
    ```
    """
    if isinstance(file.record, Symptom) and not file.record.causes:
        yield Fault(
            file.path, (), "the symptom names no cause", "list `causes`, each with its `chance`", place=(1, 1)
        )


@rule("FIG001", of=(Figure,))
def figure_without_alternative_text(file: RecordFile) -> Iterator[Fault]:
    """A drawing has no alternative text.

    ## Why
    Who cannot see it, hears it read out, or has a page on which it did not load, gets nothing of what it shows.

    ## Hint
    say in `alt` what it shows

    ## Bad
    ```yaml
    # kb/figures/shear-bolt.yaml
    title: A shear bolt
    ```

    ## Good
    ```yaml
    # kb/figures/shear-bolt.yaml
    title: A shear bolt
    alt: A bolt through the auger tube and the shaft, with a groove where it breaks.
    ```
    """
    if isinstance(file.record, Figure) and not file.record.alt:
        yield Fault(
            file.path,
            ("title",),
            "the drawing has no alternative text",
            "say in `alt` what it shows",
            on_key=True,
        )


RECORD_RULES: Final[tuple[AnyRule, ...]] = (
    signal_word_contradicts_harm,
    instruction_before_its_caution,
    hazardous_act_not_declared,
    long_instruction,
    chances_do_not_sum_to_one,
    symptom_without_causes,
    figure_without_alternative_text,
)
