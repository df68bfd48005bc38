"""All rules that look at one file, in the order in which they run, and what they find in it."""

from __future__ import annotations

from typing import Final

from shearpin.checks.file_rules import FILE_RULES
from shearpin.checks.language_rules import LANGUAGE_RULES
from shearpin.checks.print_rules import PRINT_RULES
from shearpin.checks.record_rules import RECORD_RULES
from shearpin.checks.rule import AnyRule, Found
from shearpin.checks.unwritten import UNWRITTEN_RULES
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
    return tuple((rule.code, fault) for rule in ON_ONE_FILE for fault in rule.find(file))
