"""The ingredient line: amount, unit, ingredient, and after the first comma its preparation."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.quantity.amount import Amount
from spoonfold.quantity.number import read_number, read_share, skip_spaces, starts_number
from spoonfold.quantity.opening import refuse_characters, refuse_start
from spoonfold.quantity.phrase import scan_amount
from spoonfold.quantity.refusal import Refusal, fold
from spoonfold.quantity.slips import (
    AS_NEEDED,
    refuse_amount_and_as_needed,
    refuse_comma,
    refuse_more,
    refuse_name,
    refuse_second_amount,
    refuse_two_foods,
    refuse_without_amount,
)

__all__ = ["Line", "Refusal", "read_amount", "read_line", "read_number", "read_share"]

_OPTIONAL = re.compile(r"\(\s*optional\s*\)", re.IGNORECASE)
_OF = re.compile(r"of\s+(?:the\s+)?", re.IGNORECASE)
_COMMA = re.compile(r",(?![^(]*\))")


@dataclass(frozen=True, slots=True)
class Line:
    """One ingredient line, understood."""

    amount: Amount | None
    """None where it is used as needed: never multiplied, never summed."""
    second: Amount | None
    """The bracketed check of the same thing: the 2 cups of `250 g (2 cups) flour`."""
    name: str
    """The food as listed, without amount, size and preparation."""
    preparation: str | None
    optional: bool
    as_needed: str | None
    """`to taste`, `for dusting`, `as needed`; only where there is no amount."""
    name_at: int
    """Where the name starts in the text, in characters from 0."""


# "1 tsp salt" stands in half of all recipes.
@lru_cache(maxsize=1 << 13)
def read_line(text: str) -> Line | Refusal:
    """Reads one ingredient line, or says what is wrong with it and how it should be."""
    refusal = refuse_characters(text) or refuse_start(text)
    if refusal is not None:
        return refusal
    start = skip_spaces(text, 0)
    phrase = scan_amount(text, start) if starts_number(text, start) else None
    if isinstance(phrase, Refusal):
        return phrase
    # Blanked, not cut: every offset behind it still points into the author's text.
    blanked = _OPTIONAL.sub(lambda found: " " * len(found.group()), text)
    rest_at = start if phrase is None else _food_start(blanked, phrase.end)
    refusal = refuse_more(text, phrase, rest_at)
    if refusal is None and phrase is not None:
        refusal = refuse_second_amount(text, start, phrase, rest_at) or refuse_comma(
            text, blanked, phrase, rest_at
        )
    if refusal is not None:
        return refusal
    name, parts = _split(blanked, rest_at)
    optional = blanked != text or "optional" in (part.lower() for part in parts)
    parts = [part for part in parts if part.lower() != "optional"]
    if phrase is None:
        return _without_amount(text, name, parts, optional, rest_at)
    refusal = (
        refuse_name(text, name, phrase, rest_at)
        or refuse_amount_and_as_needed(text, parts)
        or refuse_two_foods(text, phrase, name, parts, rest_at)
    )
    if refusal is not None:
        return refusal
    preparation = ", ".join(parts) or None
    return Line(phrase.amount, phrase.second, name, preparation, optional, None, rest_at)


def read_amount(text: str) -> Amount | Refusal:
    """An amount alone: `1 1/2 cups`, `2-3`, `1 large`, `2 cans (15 oz each)`."""
    refusal = refuse_characters(text) or refuse_start(text)
    if refusal is not None:
        return refusal
    start = skip_spaces(text, 0)
    if not starts_number(text, start):
        return Refusal("unreadable-amount", "Write an amount, such as 2 tbsp or 1/2.", start)
    phrase = scan_amount(text, start)
    if isinstance(phrase, Refusal):
        return phrase
    if phrase.second is not None or skip_spaces(text, phrase.end) < len(text):
        only = fold(text[start : phrase.unit_end])
        return Refusal("more-than-amount", "Only an amount is wanted here.", phrase.unit_end, only)
    return phrase.amount


def _food_start(text: str, at: int) -> int:
    """Where the food's name starts: behind spaces, and behind the "of" of `2 cups of rice`."""
    start = skip_spaces(text, at)
    of = _OF.match(text, start)
    return start if of is None else of.end()


def _split(text: str, at: int) -> tuple[str, list[str]]:
    """The name and the parts behind each comma that is not inside brackets, folded."""
    name, *parts = (fold(part) for part in _COMMA.split(text[at:]))
    return name, [part for part in parts if part]


def _without_amount(
    text: str, name: str, parts: list[str], optional: bool, at: int
) -> Line | Refusal:
    phrases = [part for part in parts if AS_NEEDED.fullmatch(part) is not None]
    if not phrases:
        return refuse_without_amount(text, name, at)
    refusal = refuse_name(text, name, None, at) or refuse_two_foods(text, None, name, parts, at)
    if refusal is not None:
        return refusal
    preparation = ", ".join(part for part in parts if part != phrases[0]) or None
    return Line(None, None, name, preparation, optional, phrases[0], at)
