"""Text that was meant to break the reader."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from quantity_strategies import LINES, PIECES, TEXTS

from in_full import sampled
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.duration import read_minutes
from spoonfold.quantity.grammar import (
    LONGEST,
    Line,
    Refusal,
    read_amount,
    read_line,
    read_number,
    read_share,
)
from spoonfold.quantity.temperature import read_temperature

READERS = [read_line, read_amount, read_number, read_share, read_temperature, read_minutes]

SEEDS = [
    *PIECES.split(),
    *("\t", "\u200b", "1 ", "1/", "1-", "1.", "( ", "()", "(1", "1 (", "and ", " or ", "plus "),
    *("boneless, ", "plus more ", "1 cup ", "1 can (", "(optional) ", "for ", "extra ", "1 h "),
]


@given(TEXTS)
@settings(max_examples=sampled(200, 1000), deadline=None)
def test_never_raises(text: str) -> None:
    """Any text at all gives a value or a refusal whose offset lies in the text."""
    for reader in READERS:
        result = reader(text)
        if isinstance(result, Refusal):
            assert 0 <= result.offset <= len(text)
            assert result.why.strip() and result.code == result.code.lower()


@given(TEXTS)
@settings(max_examples=sampled(200, 1000), deadline=None)
def test_what_is_read_is_sound(text: str) -> None:
    """A line that is read has a name from the text, and amounts that rise above zero."""
    line = read_line(text)
    if isinstance(line, Line):
        assert text[line.name_at :].startswith(line.name.split()[0])
        assert (line.amount is None) == (line.as_needed is not None)
        for amount in (line.amount, line.second):
            assert amount is None or 0 < amount.low < (amount.high or amount.low + 1)


@given(LINES)
@settings(max_examples=sampled(200, 1000), deadline=None)
def test_hints_come_to_an_end(text: str) -> None:
    """Pasting the hint, and the hint of the hint, soon ends: never in a circle."""
    waiting = [(text, 0)]
    while waiting:
        line, pasted = waiting.pop()
        assert pasted < 14
        result = read_line(line)
        hint = result.instead if isinstance(result, Refusal) else None
        if hint is not None:
            assert hint != line
            readings = hint.split("\n") if "\n" in hint else hint.split(" or ")
            waiting += [(reading, pasted + 1) for reading in readings]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("before", ["", "1 cup "])
def test_work_is_bounded(seed: str, before: str) -> None:
    """The longest line and a megabyte of anything are answered: what took a time like the square
    of their length would not come to its end here. Of a line that is too long nothing is read."""
    text = before + seed * (1_000_000 // len(seed))
    for reader in READERS:
        reader(text[:LONGEST])
        reader(text)
    for reader in (read_line, read_amount):
        refusal = reader(text)
        assert isinstance(refusal, Refusal)
        assert (refusal.code, refusal.offset) == ("line-too-long", LONGEST)


def test_huge_number_is_no_amount() -> None:
    """Four hundred digits are refused, not computed."""
    refusal = read_amount("1" * 400 + " cups")
    assert isinstance(refusal, Refusal)
    assert refusal.code == "number-too-long"
    assert not isinstance(read_amount("1e400 cups"), Amount)
