"""What a line of a text looks like: an ingredient with its amount, a food alone, a sentence."""

from __future__ import annotations

import re

from spoonfold.author.bring.abroad import in_our_measures
from spoonfold.kitchen.lexicon import english
from spoonfold.knowledge.brought import any_of
from spoonfold.knowledge.families import families
from spoonfold.knowledge.line_words import SEASONINGS
from spoonfold.knowledge.names import fold, singulars
from spoonfold.quantity.number import scan_range, starts_number
from spoonfold.quantity.phrase import scan_amount
from spoonfold.quantity.plain import read_lines
from spoonfold.quantity.refusal import Refusal
from spoonfold.quantity.unit import PIECE
from spoonfold.read.pantry import shipped_names

NUMBERED = re.compile(r"(?:step\s*)?[0-9]{1,2}\s*[.):](?![0-9])\s*", re.IGNORECASE)
BULLET = re.compile(r"[-*•·–—▢□☐◦‣+](?:\s+|(?=[^\W_]))|[•▢□☐]")
LONGEST_INGREDIENT = 120
_MOST_WORDS = 5
"""Of a food without an amount; a longer line is a sentence."""
_LONGEST_NAME = 5
"""Words of a food's name in the pantry."""
_NO_FOOD_BEHIND = re.compile(rf"\s*-?{any_of('not amounts')}(?![^\W_])")
_ENDS_SENTENCE = re.compile(r"[^\W\d_]{2,}[.!?]['”\")]?$")
_WORD = re.compile(r"[^\W_](?:[\w'’-]*[^\W_])?")
_PURPOSE = re.compile(r",|\s+(?:for|to|as)\s+")
_JOINT = re.compile(r"\s+(?:and|or|&)\s+")


def without(lead: re.Pattern[str], line: str) -> str:
    """A line without what stands at its very beginning."""
    found = lead.match(line)
    return line if found is None else line[found.end() :]


def foods_in(words: str) -> tuple[str, ...]:
    """The foods of the pantry that ships which some words name, the longest name first taken, each
    as it is written there."""
    said = [(found.start(), found.end()) for found in _WORD.finditer(words)]
    foods: list[str] = []
    at = 0
    while at < len(said):
        for end in range(min(len(said), at + _LONGEST_NAME), at, -1):
            name = words[said[at][0] : said[end - 1][1]]
            if is_food(name):
                foods.append(name)
                at = end
                break
        else:
            at += 1
    return tuple(dict.fromkeys(foods))


def is_food(name: str) -> bool:
    """Whether a name is one that the pantry which ships knows."""
    forms = tuple(singulars(fold(name)))
    return any(
        form in known for known in (shipped_names(), families(), SEASONINGS) for form in forms
    )


def is_step(line: str) -> bool:
    """Whether a line looks like something to do: a sentence, or an order."""
    words = without(BULLET, line)
    if len(words) > LONGEST_INGREDIENT or NUMBERED.match(words):
        return True
    said = _WORD.findall(words)
    if len(said) < 3:
        return False
    ordered = fold(said[0]) in english().commands and not is_food(" ".join(said[:2]))
    return bool(ordered or (_ENDS_SENTENCE.search(words) and len(said) > 3))


def is_measured(line: str) -> bool:
    """Whether a line begins with how much there is of something."""
    words = without(BULLET, line)
    if not words or NUMBERED.match(words) or len(words) > LONGEST_INGREDIENT:
        return False
    if starts_number(words, 0):
        number = scan_range(words, 0)
        if not isinstance(number, Refusal) and _NO_FOOD_BEHIND.match(words, number.end):
            return False
        return not (_ENDS_SENTENCE.search(words) and _has_order(words))
    read = read_lines(in_our_measures(words)[0])
    if isinstance(read, Refusal):
        # “A few basil leaves”: how many, only she can say.
        return read.code == "vague-amount" and not is_step(line)
    amount = read[0].amount
    if amount is None:
        return False
    return amount.unit != PIECE or bool(foods_in(read[0].name))


def _has_order(words: str) -> bool:
    """Whether a line that begins with a number is one more sentence: 2 cups of it go in later."""
    return any(fold(each) in english().commands for each in _WORD.findall(words)[:1])


def is_bare_food(line: str) -> bool:
    """Whether a line is a food without an amount, or several: `salt and pepper`."""
    words = without(BULLET, line)
    said = _WORD.findall(words)
    if not said or len(said) > _MOST_WORDS or words.endswith((":", ".", "!", "?")):
        return False
    foods = _JOINT.split(_PURPOSE.split(words)[0])
    return all(map(is_food, foods)) or (bool(foods_in(words)) and not is_step(line))


def amount_at(text: str, at: int) -> int:
    """Where the amount ends that begins here; the same offset where none does, or one of time or
    heat."""
    if not starts_number(text, at) or (at and (text[at - 1].isalnum() or text[at - 1] in "./,")):
        return at
    number = scan_range(text, at)
    if not isinstance(number, Refusal) and _NO_FOOD_BEHIND.match(text, number.end):
        return at
    phrase = scan_amount(text, at)
    return at if isinstance(phrase, Refusal) else phrase.end
