"""Every rule of the project, once, in the order in which they run."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from shearpin.book.conflict_rules import CONFLICT_RULES
from shearpin.book.coverage_rules import COVERAGE_RULES
from shearpin.book.double_rules import DOUBLE_RULES
from shearpin.book.drawing_rules import DRAWING_RULES
from shearpin.book.former import FORMER_RULES
from shearpin.book.isolation_rules import ISOLATION_RULES
from shearpin.book.reference_rules import REFERENCE_RULES
from shearpin.book.step_rules import STEP_RULES
from shearpin.book.translation_rules import TRANSLATION_RULES
from shearpin.book.value_rules import VALUE_RULES
from shearpin.checks.one_file import ON_ONE_FILE
from shearpin.checks.rule import AnyRule
from shearpin.checks.suppression import unfounded_suppression
from shearpin.diagnosis.model_rules import MODEL_RULES
from shearpin.diagnosis.rules import DIAGNOSIS_RULES
from shearpin.mechanics.rules import MECHANICS_RULES

TOGETHER: Final[tuple[tuple[AnyRule, ...], ...]] = (
    (*DOUBLE_RULES, *CONFLICT_RULES),  # the prose
    MODEL_RULES,
    (*REFERENCE_RULES, *VALUE_RULES),  # the links
    MECHANICS_RULES,
    (*COVERAGE_RULES, *ISOLATION_RULES, *STEP_RULES),
    (*FORMER_RULES, *DRAWING_RULES, *DIAGNOSIS_RULES, *TRANSLATION_RULES),
)
"""Rules on the book, those together that need the same views of it: so one process works them out. Longest work first."""

ON_THE_BOOK: Final[tuple[AnyRule, ...]] = tuple(rule for rules in TOGETHER for rule in rules)


def _by_code(rules: tuple[AnyRule, ...]) -> Mapping[str, AnyRule]:
    catalogue: dict[str, AnyRule] = {}
    for rule in rules:
        if rule.code in catalogue:
            raise ValueError(f"two rules have the code {rule.code}")
        catalogue[rule.code] = rule
    return MappingProxyType(dict(sorted(catalogue.items())))


RULES: Final[Mapping[str, AnyRule]] = _by_code((*ON_ONE_FILE, *ON_THE_BOOK, unfounded_suppression))
"""Rules by code."""
