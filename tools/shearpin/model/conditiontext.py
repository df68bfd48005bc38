"""Conditions as text, in which they are kept and told apart."""

from __future__ import annotations

from functools import lru_cache

from shearpin.model.fields import AppliesTo


@lru_cache(maxsize=4096)  # pages ask for the same few, part after part
def text_of(condition: AppliesTo | None) -> str:
    """Return a condition as text, of which `condition_of` makes the same one; empty for none."""
    return condition.model_dump_json(by_alias=True, exclude_defaults=True) if condition is not None else ""


@lru_cache(maxsize=4_096)  # many records have one alike, which stands in memory once
def condition_of(text: str) -> AppliesTo | None:
    """Return the condition of which `text_of` made this text."""
    return AppliesTo.model_validate_json(text) if text else None
