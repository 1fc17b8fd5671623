"""Times in exact minutes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from spoonfold.quantity.duration import read_minutes
from spoonfold.quantity.refusal import Refusal


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("30 min", "30"),
        ("45 minutes", "45"),
        ("1 h 10 min", "70"),
        ("1h10min", "70"),
        ("1 hour and 5 minutes", "65"),
        ("1 1/2 hours", "90"),
        ("1½ h", "90"),
        ("1.5 hrs", "90"),
        ("90 seconds", "3/2"),
        ("2 days", "2880"),
        ("  8   h ", "480"),
    ],
)
def test_read(text: str, minutes: str) -> None:
    """A time is read with its units, exactly."""
    assert read_minutes(text) == Fraction(minutes)


@pytest.mark.parametrize(
    ("text", "code", "instead"),
    [
        ("30", "no-time-unit", "30 min"),
        ("1 1/2", "no-time-unit", "1 1/2 min"),
        ("1 h 10", "no-time-unit", "1 h 10 min"),
        ("1:30", "clock-for-time", "1 h 30 min"),
        ("0:45", "clock-for-time", "45 min"),
        ("5-7 min", "range-for-time", "7 min"),
        ("0 min", "zero-amount", None),
        ("1,5 h", "decimal-comma", "1.5 h"),
        ("10 min 1 h", "unreadable-time", None),
        ("10 min 10 min", "unreadable-time", None),
        ("a while", "unreadable-time", None),
        ("10 parsecs", "unreadable-time", None),
        ("", "unreadable-time", None),
    ],
)
def test_refused(text: str, code: str, instead: str | None) -> None:
    """A bare number, a clock time, a range and anything else are refused with the time meant."""
    refusal = read_minutes(text)
    assert isinstance(refusal, Refusal)
    assert (refusal.code, refusal.instead) == (code, instead)
