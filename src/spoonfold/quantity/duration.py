"""Times that a step takes, in exact minutes."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from spoonfold.quantity.number import scan_range, skip_spaces, starts_number
from spoonfold.quantity.refusal import Refusal, fold, rewritten
from spoonfold.quantity.show import show_number

_HOUR = Fraction(60)
_MINUTES: dict[str, Fraction] = {
    word: minutes
    for words, minutes in (
        ("s sec secs second seconds", Fraction(1, 60)),
        ("min mins minute minutes", Fraction(1)),
        ("h hr hrs hour hours", _HOUR),
        ("day days", 24 * _HOUR),
    )
    for word in words.split()
}
_WORD = re.compile(r"[A-Za-z]+\.?")
_CLOCK = re.compile(r"\s*([0-9]{1,2}):([0-5][0-9])\s*")
_UNITS = "Write how long it takes with its units."
_AND = re.compile(r"\s*(?:and\s+|,\s*)?")


@lru_cache(maxsize=1 << 10)
def read_minutes(text: str) -> Fraction | Refusal:
    """Minutes, exactly: `30 min`, `1 h 10 min`, `1 1/2 hours`. A bare number is refused."""
    clock = _CLOCK.fullmatch(text[:100])
    if clock is not None:
        hours, minutes = int(clock.group(1)), int(clock.group(2))
        parts = [f"{hours} h" if hours else "", f"{minutes} min" if minutes else ""]
        shown = fold(" ".join(parts)) or None
        return Refusal("clock-for-time", _UNITS, 0, shown, certain=True)
    at = skip_spaces(text, 0)
    total, smallest = Fraction(0), None
    while at < len(text):
        if not starts_number(text, at):
            return _unreadable(at)
        number = scan_range(text, at)
        if isinstance(number, Refusal):
            return number
        word = _WORD.match(text, skip_spaces(text, number.end))
        if word is None:
            last = number.end == len(text.rstrip()) and smallest in (None, _HOUR)
            instead = f"{fold(text)} min" if last else None
            return Refusal("no-time-unit", "Say whether this is min or h.", number.end, instead)
        size = _MINUTES.get(word.group().removesuffix(".").lower())
        if size is None:
            return _unreadable(word.start())
        if number.high is not None:
            return Refusal(
                "range-for-time",
                "Give one time: the longer one, so that the plan holds.",
                at,
                rewritten(text, at, number.end, show_number(number.high)),
            )
        if smallest is not None and size >= smallest:
            return Refusal("unreadable-time", "The larger unit comes first, each once.", at)
        total, smallest = total + number.low * size, size
        joint = _AND.match(text, word.end())
        at = word.end() if joint is None else joint.end()
    if smallest is None:
        return _unreadable(0)
    return total


def _unreadable(at: int) -> Refusal:
    return Refusal("unreadable-time", "Write a time like 30 min or 1 h 10 min.", at)
