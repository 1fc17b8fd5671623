"""Ingredient lines as cooks write them, from memory: what each says, or what to write instead."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rendered_lines import rendered

from in_full import sampled
from spoonfold.quantity.plain import read_lines
from spoonfold.quantity.refusal import Refusal

BLOCKS = [
    block.split("\n")
    for block in Path(__file__)
    .with_name("plain-lines.txt")
    .read_text("utf-8")
    .strip()
    .split("\n\n")
]
CASES = [pytest.param(line[2:-2], expected, id=line[2:-2]) for line, *expected in BLOCKS]
SAID = (
    "1 1/2 2 a half 14-oz (14 oz) can cans cup T juice zest of and & or each , plus more for to"
    " taste salt pepper butter lime large small flour about pinch handful (optional) melted"
)
WORDS = st.sampled_from(SAID.split())


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_line(text: str, expected: list[str]) -> None:
    """The line is read, or refused, as the file says."""
    read = read_lines(text)
    if isinstance(read, Refusal):
        assert [*rendered(text, read), *(["certain: yes"] if read.certain else [])] == expected
    else:
        assert [row for line in read for row in rendered(text, line)] == expected


def _holds(text: str) -> None:
    read = read_lines(text)
    if not isinstance(read, Refusal):
        assert read
        return
    assert 0 <= read.offset <= len(text)
    assert not (read.certain and (read.readings or read.instead is None))
    if not read.readings and read.instead is not None:
        for line in read.instead.split("\n"):
            assert isinstance(read_lines(line), tuple), line


@pytest.mark.parametrize(("text", "expected"), CASES)
def test_advice_works_as_it_stands(text: str, expected: list[str]) -> None:
    """One paste mends a line, unless she has to choose."""
    _holds(text)


@given(st.lists(WORDS, min_size=1, max_size=8).map(" ".join))
@settings(max_examples=sampled(300, 3000), deadline=None)
def test_any_words(text: str) -> None:
    """So it is with any words of such lines."""
    _holds(text)
