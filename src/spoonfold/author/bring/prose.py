"""Ingredients in sentences: the amounts that a text names, and the foods behind them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from spoonfold.author.bring.looks import amount_at, foods_in, is_food
from spoonfold.kitchen.lexicon import english
from spoonfold.knowledge.line_words import NUMBER_WORDS, SEASONINGS
from spoonfold.knowledge.names import fold, singulars
from spoonfold.quantity.number import FRACTION_SIGNS
from spoonfold.quantity.phrase import scan_amount
from spoonfold.quantity.refusal import Refusal
from spoonfold.quantity.unit import PIECE, Dimension

_NUMBER = re.compile(rf"(?<![\w.,/])[0-9.{''.join(FRACTION_SIGNS)}]")
_ENDS = re.compile(
    r"[.,;:()!?\n]|\s(?:with|and|or|in|into|on|onto|to|for|from|until|till|then|over|at|by|per|each"
    r"|together|when|once|as|but|before|after|while|so|which|that|is|are|if)(?![^\W_])",
    re.IGNORECASE,
)
_IN_WORDS = re.compile(rf"\b(?:{'|'.join(NUMBER_WORDS)})\b", re.IGNORECASE)
_ARTICLE = re.compile(r"\ban?\s+(?=[^\W\d_])", re.IGNORECASE)
_OF = re.compile(r"\s*(?:of\s+)?(?:the\s+)?")
_LONGEST = 60
"""Characters of a food's name."""
_MOST = 20_000
"""Characters of the sentences of a recipe."""


def ingredients_in(text: str) -> Iterator[str]:
    """An ingredient line for each amount of a food, and for each further food a line without."""
    text = _IN_WORDS.sub(lambda found: NUMBER_WORDS[found[0].lower()], text[:_MOST])
    text = _ARTICLE.sub("1 ", text)
    left: list[str] = []
    named: set[str] = set()
    at = 0
    while (found := _NUMBER.search(text, at)) is not None:
        end = amount_at(text, found.start())
        food, behind = _food_at(text, end) if end > found.start() else ("", found.end())
        left.append(text[at : found.start()])
        if food and _is_meant(text, found.start(), food):
            yield f"{text[found.start() : end]} {food}"
            named.update(map(fold, (food, *foods_in(food))))
        at = max(behind, found.end())
    left.append(text[at:])
    for each in foods_in(" . ".join(left)):
        forms = set(singulars(fold(each)))
        is_said = any(
            forms & set(singulars(word)) for name in named for word in (name, *name.split())
        ) or any(f" {form} " in f" {name} " for name in named for form in forms)
        # What is cooked is often called as what is done: butter the bread.
        is_done = fold(each) in english().commands and fold(each) not in SEASONINGS
        if not is_said and not is_done and fold(each) != "water":
            named.add(fold(each))
            yield each


def _food_at(text: str, at: int) -> tuple[str, int]:
    joint = _OF.match(text, at)
    start = joint.end() if joint else at
    end = _ENDS.search(text, start, start + _LONGEST)
    stop = end.start() if end else min(len(text), start + _LONGEST)
    words = text[start:stop].split()
    for number, word in enumerate(words[1:], 1):
        # Spoken words have no full stops: two tablespoons of oil put in the onion.
        if fold(word) in english().commands and not is_food(" ".join(words[: number + 1])):
            words = words[:number]
            break
    return " ".join(words), stop


def _is_meant(text: str, at: int, food: str) -> bool:
    """Whether an amount in a sentence is one of a food: “8 pieces” and “20 balls” are of none."""
    phrase = scan_amount(text, at)
    if isinstance(phrase, Refusal) or phrase.amount.unit.dimension is Dimension.LENGTH:
        return False
    if phrase.amount.unit == PIECE:
        return is_food(food) or (bool(foods_in(food)) and len(food.split()) <= 4)
    return len(food.split()) <= 6 and any(map(str.isalpha, food))
