"""The measures of other languages as those that are read here; the food keeps its own name."""

from __future__ import annotations

import re

from spoonfold.knowledge.brought import any_of, measures_abroad
from spoonfold.quantity.number import scan_range, skip_spaces, starts_number
from spoonfold.quantity.refusal import Refusal, fold
from spoonfold.quantity.unit import unit_named

_OF = re.compile(any_of("of"))
_TO_TASTE = re.compile(rf",?\s+{any_of('as needed')}\.?$")
_LITTLE = re.compile(rf"(?:(?i:an?)\s+)?{any_of('a little')}\s*(?=\S)")
_AND = re.compile(rf"\s+{any_of('and')}\s+")
_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9]{1,2}(?![0-9]))")


def in_our_measures(line: str) -> tuple[str, str]:
    """The line with its measure in English, and what was made of what; the second is empty where
    nothing was changed."""
    words = fold(line)
    if not starts_number(words, 0):
        return _without_amount(words)
    # In languages with these measures the comma is that of decimals.
    pointed = _COMMA.sub(".", words, count=1) if _COMMA.match(words, words.find(",")) else words
    number = scan_range(pointed, 0)
    if isinstance(number, Refusal):
        return words, ""
    at = skip_spaces(pointed, number.end)
    known = unit_named(pointed[at:].split(" ", 1)[0]) is not None
    for unit, spelt in () if known else measures_abroad():
        found = spelt.match(pointed, at)
        if found is not None:
            food = _food(pointed[found.end() :])
            if food:
                said = f"{pointed[: number.end]} {unit} {food}"
                return said, f"“{found[0]}” is read as {unit}."
    end = at + len(pointed[at:].split(" ", 1)[0]) if known else at
    of = _OF.match(pointed, skip_spaces(pointed, end)) if known else None
    if of is not None and pointed[of.end() :].strip():
        return f"{pointed[:end]} {pointed[of.end() :]}", ""
    return words, ""


def _food(behind: str) -> str:
    words = behind.strip()
    of = _OF.match(words)
    return words if of is None else words[of.end() :].strip()


def _without_amount(words: str) -> tuple[str, str]:
    """`Salz und Pfeffer`, `poivre au goût`, `etwas Butter`."""
    little = _LITTLE.match(words)
    if little is not None:
        return f"{words[little.end() :]}, as needed", "Nobody can measure how much that is."
    taste = _TO_TASTE.search(words)
    if taste is not None and taste.start():
        return f"{words[: taste.start()]}, to taste", ""
    foods = _AND.split(words)
    if len(foods) == 2 and all(len(each.split()) == 1 for each in foods):
        return "\n".join(f"{each}, to taste" for each in foods), "It gives no amounts."
    return words, ""
