"""Rules on translation files: what cannot be read, what no longer says what the record says."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from shearpin.book.linked import LinkedBook
from shearpin.book.translations import open_in, what_is_lost
from shearpin.checks.rule import AnyRule, Fault, rule
from shearpin.model.finding import Severity
from shearpin.model.kinds import KINDS
from shearpin.model.translation import texts_to_translate


@rule("TRN001")
def unreadable_translation(linked: LinkedBook) -> Iterator[Fault]:
    """A translation that cannot be read, or that belongs to no record.

    ## Why
    Nobody would see what is in it, and its writer would think that it is published.

    ## Hint
    give it the name of its record, `tools/<id>.yaml`, or delete it

    ## Bad
    ```yaml
    # kb/translations/es/tools/pin-punsh.yaml
    texts:
      - from: Pin punch
        to: Botador
    ```

    ## Good
    ```yaml
    # kb/translations/es/tools/pin-punch.yaml
    texts:
      - from: Pin punch
        to: Botador
    ```
    """
    for file in linked.translations:
        yield from file.faults
        if file.key[0] in KINDS and file.key not in linked.book.file_of:
            kind, record_id = file.key
            advice = f"give it the name of its record, `{KINDS[kind].folder}/<id>.yaml`, or delete it"
            yield Fault(file.path, (), f"there is no {kind} `{record_id}`", advice, place=(1, 1))


@rule("TRN002")
def figure_lost_in_translation(linked: LinkedBook) -> Iterator[Fault]:
    """A value, a link or a figure of the original that its translation lacks, or one that it adds.

    ## Why
    The reader of the translation would work with another figure, or without the value that the step needs.

    ## Hint
    write the same `{…}` and the same figures in both, with a decimal point

    ## Bad
    ```yaml
    # kb/translations/es/procedures/replace-auger-shear-bolt.yaml
    texts:
      - from: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
        to: Ponga el perno nuevo y apriételo.
    ```

    ## Good
    ```yaml
    # kb/translations/es/procedures/replace-auger-shear-bolt.yaml
    texts:
      - from: Fit the new bolt, and tighten it to {auger-shear-bolt.torque}.
        to: Ponga el perno nuevo y apriételo a {auger-shear-bolt.torque}.
    ```
    """
    for file in linked.translations:
        for number, pair in enumerate(file.content.texts if file.content is not None else ()):
            lost = what_is_lost(pair) if pair.to else ""
            if lost:
                yield Fault(
                    file.path,
                    ("texts", number, "to"),
                    f"not what the original has: {lost}",
                    "write the same `{…}` and the same figures in both, with a decimal point",
                )


@rule("TRN003", Severity.WARNING)
def stale_translation(linked: LinkedBook) -> Iterator[Fault]:
    """A translation of words that the record no longer holds.

    ## Why
    It is not published; the reader sees the original. An edition with such a safety message is refused.

    ## Hint
    the record says now: “Pin punch”

    ## Bad
    ```yaml
    # kb/translations/es/tools/pin-punch.yaml
    texts:
      - from: A pin punch
        to: Botador
    ```

    ## Good
    ```yaml
    # kb/translations/es/tools/pin-punch.yaml
    texts:
      - from: Pin punch
        to: Botador
    ```
    """
    for file in linked.translations:
        record = linked.book.get(*file.key) if file.content is not None else None
        if record is None or file.content is None:
            continue
        texts = texts_to_translate(record)
        now = {item.formerly: item.text for item in open_in(record, file, file.key, file.path)}
        for number, pair in enumerate(file.content.texts):
            if pair.from_ not in texts:
                known = now.get(pair.from_)
                advice = (
                    f"the record says now: “{known}”" if known else "the record has no such text; take it out"
                )
                yield Fault(file.path, ("texts", number, "from"), "the record no longer says this", advice)


TRANSLATION_RULES: Final[tuple[AnyRule, ...]] = (
    unreadable_translation,
    figure_lost_in_translation,
    stale_translation,
)
