"""Temperatures, exact, in both scales."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from spoonfold.quantity.number import Number, scan_number, skip_spaces, starts_number
from spoonfold.quantity.refusal import Refusal, either, fold

_LOWEST = Fraction(-45967, 100)
"""Absolute zero, -459.67 °F exactly (SI: 0 K = -273.15 °C)."""
_HIGHEST = Fraction(1200)
"""Hotter than any oven or burner flame a kitchen measures, °F; trade custom, from memory."""

_SCALE = re.compile(
    r"(?:[°º˚]\s*|degrees?\s+|deg\.?\s+)?(f|c|fahrenheit|celsius|centigrade)\.?", re.IGNORECASE
)
_MINUS = ("-", "−", "–")


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature on a thermometer (not a difference of two)."""

    fahrenheit: Fraction

    @property
    def celsius(self) -> Fraction:
        """Exactly: (°F - 32) x 5/9."""
        return (self.fahrenheit - 32) * Fraction(5, 9)

    @property
    def whole_fahrenheit(self) -> int:
        """To the nearest degree, a half upward, as a thermometer shows it."""
        return floor(self.fahrenheit + Fraction(1, 2))

    @property
    def whole_celsius(self) -> int:
        """To the nearest degree, a half upward, as a thermometer shows it."""
        return floor(self.celsius + Fraction(1, 2))


def show_temperature(temperature: Temperature) -> str:
    """Both scales, to the degree: `165 °F (74 °C)`."""
    both = (temperature.whole_fahrenheit, "°F"), (temperature.whole_celsius, "°C")
    first, second = (f"{str(degrees).replace('-', '−')} {scale}" for degrees, scale in both)
    return f"{first} ({second})"


def read_temperature(text: str) -> Temperature | Refusal:
    """`165 °F`, `165 F`, `74 °C`, `-18 °C`; a number without its scale is refused."""
    start = skip_spaces(text, 0)
    below = text[start : start + 1] in _MINUS
    digits = skip_spaces(text, start + 1) if below else start
    if not starts_number(text, digits):
        return _unreadable(start)
    # Zero is no amount, but it is a temperature.
    zero = re.compile(r"0+(?:\.0+)?(?![0-9./,])").match(text, digits)
    number = (
        scan_number(text, digits)
        if zero is None or zero.end() - digits > 12
        else Number(Fraction(0), None, zero.end())
    )
    if isinstance(number, Refusal):
        return number
    tail = skip_spaces(text, number.end)
    rest = fold(text[tail : tail + 40]).replace("℉", "°F").replace("℃", "°C")
    if rest in ("", "°", "º", "˚", "degrees", "degree"):
        shown = fold(text[start : number.end])
        return Refusal(
            "no-scale",
            "Say whether this is Fahrenheit or Celsius.",
            number.end,
            either(f"{shown} °F", f"{shown} °C"),
        )
    scale = _SCALE.fullmatch(rest)
    if scale is None:
        return _unreadable(tail)
    degrees = -number.low if below else number.low
    if scale.group(1)[0] in "cC":
        degrees = degrees * Fraction(9, 5) + 32
    if not _LOWEST <= degrees <= _HIGHEST:
        return Refusal("temperature-out-of-range", "No kitchen is that hot or that cold.", start)
    return Temperature(degrees)


def _unreadable(at: int) -> Refusal:
    return Refusal("unreadable-temperature", "Write a temperature like 165 °F or 74 °C.", at)
