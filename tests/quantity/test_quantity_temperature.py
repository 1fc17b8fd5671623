"""Temperatures in both scales."""

from __future__ import annotations

from fractions import Fraction

import pytest

from spoonfold.quantity.refusal import Refusal
from spoonfold.quantity.temperature import Temperature, read_temperature, show_temperature


@pytest.mark.parametrize(
    ("text", "fahrenheit", "shown"),
    [
        ("165 °F", "165", "165 °F (74 °C)"),
        ("165 F", "165", "165 °F (74 °C)"),
        ("165F", "165", "165 °F (74 °C)"),
        ("74 °C", "165.2", "165 °F (74 °C)"),
        ("145 degrees F", "145", "145 °F (63 °C)"),
        ("160 Fahrenheit", "160", "160 °F (71 °C)"),
        ("350℉", "350", "350 °F (177 °C)"),
        ("100 º C", "212", "212 °F (100 °C)"),
        ("0 °F", "0", "0 °F (−18 °C)"),
        ("-18 °C", "-0.4", "0 °F (−18 °C)"),
        ("−40 °C", "-40", "−40 °F (−40 °C)"),
        ("0 °C", "32", "32 °F (0 °C)"),
        ("37.5 °C", "99.5", "100 °F (38 °C)"),
    ],
)
def test_read(text: str, fahrenheit: str, shown: str) -> None:
    """A temperature is kept exactly and shown in both scales to the degree."""
    temperature = read_temperature(text)
    assert temperature == Temperature(Fraction(fahrenheit))
    assert show_temperature(temperature) == shown


def test_exact_celsius() -> None:
    """What was written in Celsius is exactly that in Celsius."""
    temperature = read_temperature("63.5 °C")
    assert isinstance(temperature, Temperature)
    assert temperature.celsius == Fraction(127, 2)


@pytest.mark.parametrize(
    ("text", "code", "instead"),
    [
        ("165", "no-scale", "165 °F or 165 °C"),
        ("165 °", "no-scale", "165 °F or 165 °C"),
        ("-5 degrees", "no-scale", "-5 °F or -5 °C"),
        ("hot", "unreadable-temperature", None),
        ("165 K", "unreadable-temperature", None),
        ("165 °F or so", "unreadable-temperature", None),
        ("", "unreadable-temperature", None),
        ("3500 °F", "temperature-out-of-range", None),
        ("-500 °F", "temperature-out-of-range", None),
        ("73,5 °C", "decimal-comma", "73.5 °C"),
        ("1/0 °C", "divided-by-zero", None),
    ],
)
def test_refused(text: str, code: str, instead: str | None) -> None:
    """A number without its scale, or anything else, is refused."""
    refusal = read_temperature(text)
    assert isinstance(refusal, Refusal)
    assert (refusal.code, refusal.instead) == (code, instead)
