"""All rules that look at one file, in the order in which they run, and what they find in it."""

from __future__ import annotations

from functools import cache
from typing import Final

from shearpin.checks.file_rules import FILE_RULES, OF_FAULTS
from shearpin.checks.language_rules import LANGUAGE_RULES
from shearpin.checks.print_rules import PRINT_RULES
from shearpin.checks.record_rules import RECORD_RULES
from shearpin.checks.rule import AnyRule, Found
from shearpin.checks.unwritten import UNWRITTEN_RULES
from shearpin.model.fields import Record
from shearpin.model.reading import RecordFile

ON_ONE_FILE: Final[tuple[AnyRule, ...]] = (
    *FILE_RULES,
    *RECORD_RULES,
    *LANGUAGE_RULES,
    *UNWRITTEN_RULES,
    *PRINT_RULES,
)


def judged(file: RecordFile) -> Found:
    """Return what every rule on one file finds in this one."""
    rules = ON_ONE_FILE if file.record is None or file.broken else _of_sound(type(file.record))
    return tuple([(rule.code, fault) for rule in rules for fault in rule.find(file)])


@cache
def _of_sound(record: type[Record]) -> tuple[AnyRule, ...]:
    """Return the rules that may find something in a file of which all could be read."""
    asked = (rule for rule in ON_ONE_FILE if rule not in OF_FAULTS)
    return tuple(rule for rule in asked if not rule.of or issubclass(record, rule.of))
