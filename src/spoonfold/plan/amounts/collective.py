"""Which foods a step takes that calls them together: the vegetables, all ingredients, “season”.

Only what no step names or links is meant so, and by the first words that may mean it: whoever
lists what goes in one by one has said it. Raw meat and fish, and what nobody knows, want their own
names: where they go in decides what is safe.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from spoonfold.knowledge.collective import collectives
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.mentions import place_in, plain_runs
from spoonfold.problem import Place

_GO_TOGETHER = frozenset({None, "egg", "flour", "sprouts"})
"""Raw hazards of what goes into a mix with others, unsaid."""
_FOR = re.compile(r"^(?:for|to) (?:the )?", re.IGNORECASE)


def taken_together(
    recipe: Recipe, pantry: Pantry, unused: Collection[int]
) -> Iterator[tuple[int, Step, Place]]:
    """Each of the foods at these positions of the list that some step calls by a word for many,
    with the first such step and the place of that word."""
    left = set(unused)
    for step in recipe.steps if left else ():
        for run in plain_runs(step.text):
            for index, place in _meant(run, recipe.ingredients, pantry, left):
                left.discard(index)
                yield index, step, place


def _meant(
    run: tuple[Text, ...], ingredients: tuple[Ingredient, ...], pantry: Pantry, left: set[int]
) -> Iterator[tuple[int, Place]]:
    text = "".join(each.text for each in run)
    for index in sorted(left):
        ingredient = ingredients[index]
        item = pantry.find(ingredient.name)
        if item is None or item.raw not in _GO_TOGETHER:
            continue
        found = [
            match.start()
            for each in collectives()
            if each.means(item.name, item.section, item.tags)
            for match in (each.said.search(text),)
            if match
        ]
        if ingredient.part:
            found += [match.start() for match in (_of_part(ingredient.part).search(text),) if match]
        if found:
            yield index, place_in(run, min(found))


def _of_part(part: str) -> re.Pattern[str]:
    """“The sauce ingredients”, “the ingredients for the sauce”, of a list with such a heading."""
    name = re.escape(_FOR.sub("", part).strip())
    return re.compile(
        rf"\b(?:{name} ingredients|ingredients (?:for|of) (?:the )?{name})\b", re.IGNORECASE
    )
