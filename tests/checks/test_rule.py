"""The mechanism of rules: a rule that is not documented in full cannot exist."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from shearpin.checks.rule import Example, Fault, rule
from shearpin.model.finding import Severity

WHOLE = """Something is wrong.

    ## Why
    Because it hurts.

    ## Bad
    ```yaml
    # kb/tools/a.yaml
    title: A
    # kb/tools/b.yaml
    title: B
    ```

    ```yaml
    # kb/tools/c.yaml
    title: C
    ```

    ## Good
    ```yaml
    # kb/tools/a.yaml
    title: A
    ```
    """


def _documented(text: str) -> Any:
    def some_thing_is_wrong(subject: str) -> Iterator[Fault]:
        yield Fault(subject, (), "wrong")

    some_thing_is_wrong.__doc__ = text
    return some_thing_is_wrong


def test_a_rule_is_read_from_its_function() -> None:
    made = rule("XYZ001", Severity.WARNING)(_documented(WHOLE))
    assert (made.code, made.name, made.severity) == ("XYZ001", "some-thing-is-wrong", Severity.WARNING)
    assert (made.summary, made.why) == ("Something is wrong.", "Because it hurts.")
    assert made.bad == (
        Example((("tools/a.yaml", "title: A\n"), ("tools/b.yaml", "title: B\n"))),
        Example((("tools/c.yaml", "title: C\n"),)),
    )
    assert made.good == (Example((("tools/a.yaml", "title: A\n"),)),)
    assert list(made.find("f")) == [Fault("f", (), "wrong")]


def test_a_rule_is_an_error_unless_said_otherwise() -> None:
    assert rule("XYZ001")(_documented(WHOLE)).severity is Severity.ERROR


@pytest.mark.parametrize("code", ["XY001", "xyz001", "XYZ01", "XYZ0001", "XYZ-001", ""])
def test_a_code_is_three_letters_and_three_digits(code: str) -> None:
    with pytest.raises(ValueError, match="three letters and three digits"):
        rule(code)


@pytest.mark.parametrize(
    ("old", "new", "lacks"),
    [
        ("Something is wrong.", "", "a first line"),
        ("Because it hurts.", "", "Why"),
        ("## Why\n    Because it hurts.", "", "Why"),
        ("## Good", "## Fine", "Good"),
        ("## Bad", "Bad", "Bad"),
    ],
)
def test_a_rule_that_lacks_a_part_of_its_documentation_is_refused(old: str, new: str, lacks: str) -> None:
    with pytest.raises(ValueError, match=lacks):
        rule("XYZ001")(_documented(WHOLE.replace(old, new)))


def test_a_rule_without_a_docstring_is_refused() -> None:
    with pytest.raises(ValueError, match="Why, Bad, Good"):
        rule("XYZ001")(_documented(""))


def test_an_example_that_names_no_file_is_refused() -> None:
    with pytest.raises(ValueError, match="must begin with"):
        rule("XYZ001")(_documented(WHOLE.replace("# kb/tools/c.yaml\n    ", "")))


def test_a_section_without_an_example_is_refused() -> None:
    with pytest.raises(ValueError, match="no fenced yaml block"):
        rule("XYZ001")(_documented(WHOLE.replace("```yaml", "```")))
