"""Where the words of a step plainly name an ingredient.

An ingredient is called by its listed name, by another name from the pantry, or by the last
word of its listed name; each in the singular and the plural. The longest name wins.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import groupby
from typing import Literal

from spoonfold.knowledge.line_words import COLOURS, DESCRIBING, NUMBER_WORDS
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Emphasis, Inline, Text
from spoonfold.model.recipe import Ingredient
from spoonfold.problem import Place
from spoonfold.quantity.unit import Dimension, unit_named

_TOKEN = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
_MIXED = re.compile(r" (?:and|plus|with) ")
_NEXT = re.compile(r"[ -]([^\W_]+)")
_BETWEEN = frozenset(("", " ", "-", "\n", "  "))
"""What may stand between two words of one name."""

_DESCRIPTIONS = DESCRIBING | COLOURS
_LOOK_BACK = 40
"""Characters in front of a mention that may say how much of it."""
_DESCRIBED = rf"(?:(?:{'|'.join(sorted(DESCRIBING))}),?\s+){{0,3}}"
"""`melted`, `cold`: words between an amount and the food that it is of."""
_SHARE = re.compile(
    r"\b(?:(?:the\s+)?other\s+half|half|(?:one|two|a) thirds?|(?:a|one|three) quarters?|most|some"
    r"|part|a little|a bit|(?:the )?rest|(?:the )?remainder|remaining|left-?over)"
    rf"\s+(?:of\s+)?(?:the\s+|an?\s+)?{_DESCRIBED}$",
    re.IGNORECASE,
)
_SHARES = {
    "half": Fraction(1, 2),
    "one third": Fraction(1, 3),
    "a third": Fraction(1, 3),
    "two thirds": Fraction(2, 3),
    "a quarter": Fraction(1, 4),
    "one quarter": Fraction(1, 4),
    "three quarters": Fraction(3, 4),
}
_REST = re.compile(r"(?:the )?(?:other half|rest|remainder|remaining|left-?over)\b", re.IGNORECASE)
_NUMBERS = "|".join(re.escape(word) for word in NUMBER_WORDS)
_AMOUNT = re.compile(
    r"(?<![\w½⅓⅔¼¾⅛])(?:(?P<number>[0-9½⅓⅔¼¾⅛][0-9./½⅓⅔¼¾⅛ -]*)"
    rf"|(?P<word>{_NUMBERS}|an?)\s+)(?P<unit>(?!(?:of|the)\b)[A-Za-z]*)\s+"
    rf"(?:of\s+)?(?:the\s+)?{_DESCRIBED}$",
    re.IGNORECASE,
)
_FIGURES = {**NUMBER_WORDS, "a": "1", "an": "1"}
_ASIDE = re.compile(
    r"\b(?:salted|soapy|running|ice[ -]cold|iced?|tap)\s+$"
    r"|\b(?:rinse\w*|wash\w*)\b[^.;]*\b(?:under|with|in)\s+(?:the\s+)?(?:cold\s+|warm\s+|cool\s+"
    r"|hot\s+|clean\s+)?$"
    r"|\b(?:pot|pan|bowl|basin|sink|plenty|lots)\s+of\s+(?:\w+\s+){0,2}$",
    re.IGNORECASE,
)
"""In front of what comes from the tap: it is water to boil or to rinse in, not the dish's own
(common practice)."""


@dataclass(frozen=True, slots=True)
class Mention:
    """Words that may mean one of the ingredients."""

    step: int
    words: str
    meant: frozenset[int]
    """Positions in the list of ingredients."""
    place: Place
    before: str
    """The words in front of it."""
    after: str
    """The word right behind it; empty: none."""


class Names:
    """Every way in which the steps may plainly name an ingredient."""

    __slots__ = ("_animals", "_listed", "_other", "lengths")

    def __init__(self, ingredients: Sequence[Ingredient], pantry: Pantry) -> None:
        # Listed names are the strongest; other names count where only one ingredient has them.
        self._listed: dict[str, set[int]] = defaultdict(set)
        self._other: dict[str, set[int]] = defaultdict(set)
        # “The chicken” of chicken thighs, where nothing else is called so.
        self._animals: dict[str, set[int]] = defaultdict(set)
        self.lengths: dict[str, int] = {}
        """By its first word: how many words the longest name has that begins with it."""
        for index, ingredient in enumerate(ingredients):
            name = _key(ingredient.name)
            self._call(self._listed, name, index)
            item = pantry.find(ingredient.name)
            others = (item.name, item.plural, *item.also) if item else ()
            # Of granola with almonds, the granola.
            others = (*others, *(each for each in _MIXED.split(name)[:-1] if pantry.find(each)))
            for other in dict.fromkeys((*map(_key, others), name.rsplit(" ", 1)[-1])):
                self._call(self._other, other, index)
            if item is not None and item.raw is not None and "animal" in item.tags:
                words = [each for each in name.split(" ") if each not in _DESCRIPTIONS]
                if len(words) > 1:
                    self._call(self._animals, words[0], index)

    @classmethod
    def of_pantry(cls, pantry: Pantry, kinds: Sequence[str]) -> Names:
        """Every food that the pantry knows, whether a recipe lists it or not, by its position in
        `pantry.names`; and kinds of food (`cheese`), which come after them."""
        return cls._of_foods(pantry.names, tuple(pantry.called.items()), tuple(kinds))

    @classmethod
    @lru_cache(maxsize=1)
    def _of_foods(
        cls, foods: tuple[str, ...], called: tuple[tuple[str, str], ...], kinds: tuple[str, ...]
    ) -> Names:
        # Thousands of names, mostly the same from one check to the next.
        names = _AllFoods((), Pantry({}, lambda name: None))
        position = {name: index for index, name in enumerate((*foods, *kinds))}
        for word, name in (*called, *zip(kinds, kinds, strict=True)):
            names.call(_key(word), position[name])
        return names

    def _call(self, names: dict[str, set[int]], name: str, index: int) -> None:
        forms, firsts = _forms(name)
        for form in forms:
            names[form].add(index)
        for first, count in firsts:
            if count > self.lengths.get(first, 0):
                self.lengths[first] = count

    def meant(self, words: str) -> set[int]:
        """Which ingredients a run of words may mean; empty: none."""
        strong = self._listed.get(words)
        if strong is not None and len(strong) == 1:
            return strong
        weak = (strong or set()) | self._other.get(words, set())
        return weak or self._animals.get(words, set())


class _AllFoods(Names):
    """Every food that the pantry knows: only singulars are kept of so many names, and each run of
    words is looked for by its own."""

    __slots__ = ()

    def call(self, name: str, index: int) -> None:
        """Adds a name of the food at a position."""
        for single in singulars(name):
            self._listed[single].add(index)
        first, space, rest = name.partition(" ")
        count = 2 + rest.count(" ") if space else 1
        for word in (first,) if space else _forms(name)[0]:
            if count > self.lengths.get(word, 0):
                self.lengths[word] = count

    def meant(self, words: str) -> set[int]:
        """Which foods a run of words may mean; empty: none."""
        found = (self._listed.get(single) for single in singulars(words))
        return next((each for each in found if each), set())


def share_said(mention: Mention) -> str | None:
    """`half the`, `some`: words in front of a mention that say that not all of it is meant."""
    found = _SHARE.search(mention.before)
    return None if found is None else found.group().strip()


def amount_said(mention: Mention) -> str | None:
    """`2 cups of`, `3`: an amount in front of a mention."""
    found = _AMOUNT.search(mention.before)
    if found is None:
        return None
    unit = unit_named(found["unit"]) if found["unit"] else None
    if found["unit"] and unit is None:
        return None
    if found["word"] is not None:
        # “a carrot” and “one carrot” say no more than that there is one.
        if unit is None or unit.dimension not in _MEASURED:
            return None
        return f"{_FIGURES[found['word'].lower()]} {found['unit']}"
    return " ".join(f"{found['number'].strip()} {found['unit']}".split())


_MEASURED = (Dimension.VOLUME, Dimension.MASS)


def is_measured(amount: str) -> bool:
    """Whether an amount that is said is one that is measured: `2 tbsp`, but not `2`."""
    unit = unit_named(amount.rsplit(" ", 1)[-1])
    return unit is not None and unit.dimension in _MEASURED


def part_said(mention: Mention) -> Fraction | Literal["rest"] | None:
    """The share that words in front of a mention say for certain, of what is listed."""
    words = share_said(mention)
    if words is None:
        return None
    if _REST.match(words):
        return "rest"
    folded = words.lower()
    return next((share for said, share in _SHARES.items() if re.match(rf"{said}\b", folded)), None)


def is_aside(mention: Mention) -> bool:
    """Whether water is meant in which something boils or is rinsed, and which is poured away."""
    return _ASIDE.search(mention.before) is not None


def mentions_in(
    run: Sequence[Text], step: int, names: Names, known: Set[int] = frozenset()
) -> Iterator[Mention]:
    """Mentions in the texts of neighbouring lines, the longest name first at every word; but for
    those that mean nothing but one that is `known`."""
    text = "".join([each.text for each in run])
    tokens = _tokens(text)
    index = 0
    # Most words begin no name.
    for at in [at for at, token in enumerate(tokens) if token[0] in names.lengths]:
        if at < index:
            continue
        length, meant = _longest(text, tokens, at, names)
        if length:
            index = at + length
            if len(meant) == 1 and not known.isdisjoint(meant):
                continue
            start, end = tokens[at][1], tokens[index - 1][2]
            yield Mention(
                step,
                text[start:end],
                frozenset(meant),
                place_in(run, start),
                text[max(0, start - _LOOK_BACK) : start],
                _next_word(text, end),
            )


def _next_word(text: str, at: int) -> str:
    found = _NEXT.match(text, at)
    return "" if found is None else found[1]


def _tokens(text: str) -> list[tuple[str, int, int]]:
    """The words of a text, folded, each with its start and end."""
    folded = text.casefold().replace("’", "'")
    if len(folded) == len(text):
        # Folding makes no letter shorter: every place is the same.
        return [(match[0], *match.span()) for match in _TOKEN.finditer(folded)]
    return [(fold(match[0]), *match.span()) for match in _TOKEN.finditer(text)]


def place_in(run: Sequence[Text], at: int) -> Place:
    """Where the character at this offset of all the texts together was written."""
    for text in run:
        if at < len(text.text):
            place = text.place
            return Place(place.path, place.line, place.column + at if place.column else 0)
        at -= len(text.text)
    return run[-1].place


def _longest(
    text: str, tokens: Sequence[tuple[str, int, int]], index: int, names: Names
) -> tuple[int, set[int]]:
    """How many words from `index` on make the longest name, and what it may mean."""
    found: tuple[int, set[int]] = (0, set())
    run = ""
    most = min(len(tokens), index + names.lengths[tokens[index][0]])
    for at in range(index, most):
        if at > index and text[tokens[at - 1][2] : tokens[at][1]] not in _BETWEEN:
            break
        run = f"{run} {tokens[at][0]}" if run else tokens[at][0]
        meant = names.meant(run)
        if meant:
            found = (at - index + 1, meant)
    return found


@lru_cache(maxsize=8192)
def _key(name: str) -> str:
    return " ".join(_TOKEN.findall(fold(name)))


@lru_cache(maxsize=8192)
def _forms(name: str) -> tuple[tuple[str, ...], tuple[tuple[str, int], ...]]:
    """Singulars and plurals of a name; and the words that they begin with, each with how many
    words such a form has."""
    forms = []
    for single in singulars(name):
        forms += [single, single + "s", single + "es"]
        if single.endswith("y"):
            forms.append(single[:-1] + "ies")
        if single.endswith("f"):
            forms.append(single[:-1] + "ves")
    firsts = {form.split(" ", 1)[0]: form.count(" ") + 1 for form in forms}
    return tuple(dict.fromkeys(forms)), tuple(firsts.items())


def plain_runs(children: Sequence[Inline]) -> Iterator[tuple[Text, ...]]:
    """Plain text outside links, neighbouring lines together."""
    for kind, run in groupby(children, key=type):
        if kind is Text:
            yield tuple(child for child in run if isinstance(child, Text))
        elif kind is Emphasis:
            for child in run:
                yield from plain_runs(child.children if isinstance(child, Emphasis) else ())


def says_amount(words: str) -> bool:
    """Whether words hold a number or a unit: `5 cups of the water`, `the last cup`."""
    return any(letter.isnumeric() for letter in words) or any(
        unit_named(word.strip(".,;:()").casefold()) is not None for word in words.split()
    )
