"""Boundary cases of every rule, with the exact places of what is found."""

from __future__ import annotations

from typing import Final

from tests.rule_cases.case import Case
from tests.rule_cases.conflicts import CONFLICTS
from tests.rule_cases.fields import NAMES, SHAPES
from tests.rule_cases.language import LANGUAGE
from tests.rule_cases.mechanics import MECHANICS
from tests.rule_cases.near import NEAR
from tests.rule_cases.text import DRAWINGS, FORMAT
from tests.rule_cases.translation import TRANSLATION
from tests.rule_cases.values import APPLICABILITY, EDITIONS, VALUES
from tests.rule_cases.work import DIAGNOSIS, SAFETY
from tests.rule_cases.writing import WRITING

ALL_CASES: Final[tuple[Case, ...]] = (
    *FORMAT,
    *SHAPES,
    *NAMES,
    *SAFETY,
    *DIAGNOSIS,
    *DRAWINGS,
    *VALUES,
    *APPLICABILITY,
    *EDITIONS,
    *MECHANICS,
    *CONFLICTS,
    *LANGUAGE,
    *NEAR,
    *WRITING,
    *TRANSLATION,
)
