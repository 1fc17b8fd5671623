"""The ingredient line: amount, unit, ingredient, and after the first comma its preparation.

Slips that are seen before an ingredient line is taken apart: its characters, its first words.

Every function returns a refusal, or None where its slip was not made. Each runs in time
proportional to the line, which is at most `LONGEST` characters."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.knowledge.line_words import (
    ABOUT,
    FIXED_NAMES,
    NUMBER_WORDS,
    VAGUE_LITTLE,
    VAGUE_MANY,
)
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.number import (
    FRACTION_SIGNS,
    read_number,
    read_share,
    skip_spaces,
    starts_number,
)
from spoonfold.quantity.phrase import scan_amount, word_at
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

LONGEST = 1000
"""Characters; a longer line is a paste that went wrong."""

_INVISIBLE = frozenset("\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2060\ufeff")
_ARTICLE = re.compile(r"(an?)\s+", re.IGNORECASE)
_LEADING_OPTIONAL = re.compile(r"(?:\(?\s*optional\b[\s:)]*)+", re.IGNORECASE)


def refuse_characters(text: str) -> Refusal | None:
    """What no ingredient line holds: too much, nothing, odd characters, open brackets."""
    if len(text) > LONGEST:
        why = f"A line has at most {LONGEST} characters."
        return Refusal("line-too-long", why, LONGEST)
    if not text.strip():
        return Refusal("empty-line", "There is nothing here.", 0)
    depth, opened = 0, 0
    for at, character in enumerate(text):
        refusal = None if character.isascii() else _refuse_foreign(text, at)
        if refusal is not None:
            return refusal
        if unicodedata.category(character) == "Cc" and not character.isspace():
            return Refusal("odd-character", "There is an invisible character here.", at)
        if character == "(":
            depth, opened = depth + 1, at
        elif character == ")":
            depth -= 1
        if depth not in (0, 1):
            nested = depth == 2
            why = "Brackets cannot stand inside brackets." if nested else "Nothing opens this."
            return Refusal("nested-bracket" if nested else "unclosed-bracket", why, at)
    if depth:
        return Refusal("unclosed-bracket", "This bracket is never closed.", opened)
    return None


def _refuse_foreign(text: str, at: int) -> Refusal | None:
    character = text[at]
    if character in _INVISIBLE:
        instead = "".join(one for one in text if one not in _INVISIBLE)
        why = "There is an invisible character here."
        return Refusal("odd-character", why, at, fold(instead) or None)
    if character == "⁄":
        return Refusal("foreign-digit", "Write the slash as /.", at, fold(text.replace("⁄", "/")))
    if character in FRACTION_SIGNS or unicodedata.category(character) not in ("Nd", "Nl", "No"):
        return None
    digits = [str(unicodedata.digit(one, one)) for one in text]
    plain = all(digit.isascii() or digit == one for digit, one in zip(digits, text, strict=True))
    solved = plain and digits[at] != character and unicodedata.category(character) == "Nd"
    return Refusal(
        "foreign-digit",
        "Write figures as 0 to 9, and fractions as 1/2 or ½.",
        at,
        fold("".join(digits)) if solved else None,
    )


def refuse_start(text: str) -> Refusal | None:
    """Minus signs, words for numbers, "a", "about", and "(optional)" before the amount."""
    start = skip_spaces(text, 0)
    if text[start] in "-−–" and starts_number(text, skip_spaces(text, start + 1)):
        rest = fold(text[start + 1 :])
        return Refusal("negative-amount", "An amount is above zero.", start, rest)
    optional = _LEADING_OPTIONAL.match(text, start)
    if optional is not None:
        rest = fold(text[optional.end() :])
        instead = f"{rest} (optional)" if rest else None
        return Refusal("optional-first", "“(optional)” stands at the end.", start, instead)
    word, end = word_at(text, start)
    behind = skip_spaces(text, end)
    if text[start] == "~" or (word.lower() in ABOUT and starts_number(text, behind)):
        rest = fold(text[start + 1 :] if text[start] == "~" else text[behind:])
        return Refusal("vague-amount", "Give the amount itself, without “about”.", start, rest)
    opening = " ".join(text[start : start + 40].lower().split()) + " "
    if opening.startswith(FIXED_NAMES):
        return None
    return _refuse_words(text, start, opening)


def _refuse_words(text: str, start: int, opening: str) -> Refusal | None:
    for words, figures in NUMBER_WORDS.items():
        if opening.startswith(words + " "):
            rest = _behind_words(text, start, len(words.split()))
            instead = fold(f"{figures} {rest}") if rest else None
            return Refusal("word-for-number", "Write numbers in figures.", start, instead)
    for words in VAGUE_LITTLE + VAGUE_MANY:
        if opening.startswith(words + " "):
            rest = _behind_words(text, start, len(words.split()))
            little = words in VAGUE_LITTLE and rest and "," not in rest
            return Refusal(
                "vague-amount",
                "Nobody can measure this: give an amount, or say “as needed”.",
                start,
                f"{rest}, as needed" if little else None,
            )
    article = _ARTICLE.match(text, start)
    if article is None:
        return None
    instead = fold(f"1 {text[article.end() :]}")
    return Refusal("a-for-one", f"Write 1, not “{article.group(1)}”.", start, instead)


def _behind_words(text: str, start: int, count: int) -> str:
    return " ".join(text[start:].split()[count:])


__all__ = ["Line", "Refusal", "read_amount", "read_line", "read_number", "read_share"]

_OPTIONAL = re.compile(r"\(\s*optional\s*\)|\(\s*opcional\s*\)", re.IGNORECASE)
_OF = re.compile(r"(?:of|de|del)\s+(?:the\s+|la\s+|los\s+|las\s+)?", re.IGNORECASE)
_OPTIONALLY = frozenset({"optional", "opcional"})
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
    optional = blanked != text or any(part.lower() in _OPTIONALLY for part in parts)
    parts = [part for part in parts if part.lower() not in _OPTIONALLY]
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
