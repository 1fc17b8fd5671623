"""Which foods a step takes that calls them together: the vegetables, all ingredients, “season”.

Only what no step names or links is meant so, and by the first words that may mean it: whoever
lists what goes in one by one has said it. A word that only its own name has is as good. Raw meat
and fish, and what nobody knows, want such a word: where they go in decides what is safe; from the
first step on, “all” says that too.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence

from spoonfold.kitchen.lexicon import english
from spoonfold.knowledge.collective import collectives
from spoonfold.knowledge.line_words import COLOURS, DESCRIBING
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Ingredient, Recipe, Step, words_in
from spoonfold.plan.amounts.mentions import place_in, plain_runs
from spoonfold.problem import Place

_GO_TOGETHER = frozenset({None, "egg", "flour", "sprouts"})
"""Raw hazards of what goes into a mix with others, unsaid."""
_WORD = re.compile(r"[^\W\d_]+")
_FOR = re.compile(r"^(?:for|to) (?:the )?", re.IGNORECASE)


def taken_together(
    recipe: Recipe, pantry: Pantry, unused: Collection[int]
) -> Iterator[tuple[int, Step, Place]]:
    """Each of the foods at these positions of the list that some step calls by a word for many,
    with the first such step and the place of that word."""
    left = set(unused)
    for step in recipe.steps if left else ():
        for run in plain_runs(step.text):
            is_first = step is recipe.steps[0]
            for index, place in _meant(run, recipe.ingredients, pantry, left, is_first=is_first):
                left.discard(index)
                yield index, step, place


def _meant(
    run: tuple[Text, ...],
    ingredients: tuple[Ingredient, ...],
    pantry: Pantry,
    left: set[int],
    *,
    is_first: bool,
) -> Iterator[tuple[int, Place]]:
    text = "".join(each.text for each in run)
    words = _own_words(ingredients, left)
    for index in sorted(left):
        ingredient = ingredients[index]
        item = pantry.find(ingredient.name)
        own = words[index] | _kind_words(index, ingredients, pantry)
        said = next(
            (each for each in _WORD.finditer(text) if _is_one_of(each[0].casefold(), own)), None
        )
        if said is not None:
            yield index, place_in(run, said.start())
            continue
        if not is_first and (item is None or item.raw not in _GO_TOGETHER):
            continue
        by_kind = item is not None and item.raw in _GO_TOGETHER
        found = [
            match.start()
            for each in collectives()
            if each.is_all or (by_kind and item and each.means(item.name, item.section, item.tags))
            for match in (each.said.search(text),)
            if match
        ]
        if ingredient.part:
            found += [match.start() for match in (_of_part(ingredient.part).search(text),) if match]
        if found:
            yield index, place_in(run, min(found))


def _own_words(
    ingredients: Sequence[Ingredient], left: Collection[int]
) -> Mapping[int, frozenset[str]]:
    """The words of each name that no other listed name has: the masa of masa harina."""
    said = {index: words_in(each.name.casefold()) for index, each in enumerate(ingredients)}
    counted = Counter(word for words in said.values() for word in words)
    forms = english().forms
    return {
        index: frozenset(
            word
            for word in said[index] - DESCRIBING - COLOURS
            if counted[word] == 1 and len(word) > 2 and word not in forms
        )
        for index in left
    }


def _is_one_of(word: str, own: frozenset[str]) -> bool:
    """Crumbs are breadcrumbs, and starch is cornstarch."""
    return word in own or (
        len(word) >= _TELLING and any(each.endswith(word) for each in own if len(each) > len(word))
    )


_TELLING = 5
"""Letters from which on the end of a name is a name."""


def _kind_words(index: int, ingredients: Sequence[Ingredient], pantry: Pantry) -> frozenset[str]:
    """“The fish”, “the can”, where only one is listed."""
    kinds = [_kinds(each, pantry) for each in ingredients]
    counted = Counter(word for words in kinds for word in words)
    return frozenset(word for word in kinds[index] if counted[word] == 1)


def _kinds(ingredient: Ingredient, pantry: Pantry) -> frozenset[str]:
    item, amount = pantry.find(ingredient.name), ingredient.amount
    words: set[str] = set()
    if item is not None:
        words |= {"fish"} & {item.raw}
        words |= {"cheese"} & {word for name in (item.name, *item.also) for word in name.split()}
    if amount is not None:
        words |= {"can", "jar"} & {amount.unit.name}
    return frozenset(words)


def _of_part(part: str) -> re.Pattern[str]:
    """“The sauce ingredients”, “the ingredients for the sauce”, of a list with such a heading."""
    name = re.escape(_FOR.sub("", part).strip())
    return re.compile(
        rf"\b(?:{name} ingredients|ingredients (?:for|of) (?:the )?{name})\b", re.IGNORECASE
    )
