"""Every case of `lines.txt`: a title, the line between bars, and what is read from it."""

from __future__ import annotations

from pathlib import Path

import pytest
from rendered_lines import rendered

from spoonfold.quantity.grammar import Line, Refusal, read_line

BLOCKS = [
    block.split("\n")
    for block in Path(__file__).with_name("lines.txt").read_text("utf-8").strip().split("\n\n")
]
CASES = [pytest.param(line[2:-2], expected, id=title) for title, line, *expected in BLOCKS]


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_line(text: str, expected: list[str]) -> None:
    """The line is read, or refused, as the file says."""
    assert rendered(text, read_line(text)) == expected


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_hint_is_ready_to_paste(text: str, expected: list[str]) -> None:
    """Each line of a hint is read without another refusal, unless it leaves the cook a choice."""
    result = read_line(text)
    hints = (result.instead or "") if isinstance(result, Refusal) else ""
    for hint in hints.splitlines():
        again = read_line(hint)
        if " or " in hint:
            assert isinstance(again, Refusal), "a choice pasted whole must not pass"
            for reading in hint.split(" or "):
                assert isinstance(read_line(reading), Line)
        else:
            assert isinstance(again, Line), again


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_name_is_where_it_says(text: str, expected: list[str]) -> None:
    """The offset of the name is where its first word stands in the line."""
    result = read_line(text)
    if isinstance(result, Line):
        assert text[result.name_at :].startswith(result.name.split()[0])
        assert f"name: {result.name}" in expected


def test_enough_cases() -> None:
    """The file holds at least eighty cases, no two with one title."""
    assert len({block[0] for block in BLOCKS}) == len(BLOCKS) >= 80
