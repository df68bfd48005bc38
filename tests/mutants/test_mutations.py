"""Each fault changes one place, and leaves a module that Python can read."""

from __future__ import annotations

import ast

from tests.mutants.mutations import mutations_of

TEXT = '''\
def f(a: int, b: float) -> bool:
    """Words 1 and 2."""
    if not a < 3 and b == 0.5:
        raise ValueError(f"{a + 1} is too little")
    return a * b > 2 or True
'''


def test_every_kind_of_fault_is_found_and_words_are_left_alone() -> None:
    found = {(m.line, m.was, m.becomes) for m in mutations_of(TEXT)}
    assert found == {
        (3, "not a < 3 and b == 0.5", "(not a < 3 or b == 0.5)"),
        (3, "not a < 3", "(a < 3)"),
        (3, "a < 3", "(a <= 3)"),
        (3, "3", "(4)"),
        (3, "b == 0.5", "(b != 0.5)"),
        (3, "0.5", "(1.5)"),
        (5, "a * b > 2 or True", "(a * b > 2 and True)"),
        (5, "a * b > 2", "(a * b >= 2)"),
        (5, "a * b", "(a / b)"),
        (5, "2", "(3)"),
        (5, "True", "(False)"),
    }


def test_a_fault_changes_its_place_and_no_other() -> None:
    texts = [mutation.applied_to(TEXT) for mutation in mutations_of(TEXT)]
    assert len(set(texts)) == len(texts)
    for text in texts:
        ast.parse(text)
        changed = [new for old, new in zip(TEXT.splitlines(), text.splitlines(), strict=True) if old != new]
        assert len(changed) == 1
