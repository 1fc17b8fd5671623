"""A recipe as schema.org/Recipe, for machines that read the page.

Property names are schema.org's: Recipe's own and those that it inherits from HowTo,
CreativeWork and Thing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from spoonfold.language.amounts import amount_of
from spoonfold.language.texts import Texts
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Recipe
from spoonfold.quantity.show import show_number

Json = Mapping[str, object]


def recipe_data(
    recipe: Recipe, texts: Texts, description: str, countries: tuple[str, ...], minutes: Fraction
) -> Json:
    """The recipe at its household yield."""
    data: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": recipe.title,
        "description": description,
        "inLanguage": recipe.language or texts.language,
        "recipeYield": show_number(recipe.serves),
        "recipeIngredient": [
            _line(
                each.said if each.amount is None else amount_of((each.amount,), each.said, texts),
                each.said_preparation,
            )
            for each in recipe.ingredients
        ],
        "recipeInstructions": [
            {"@type": "HowToStep", "position": step.number, "text": plain(step.said)}
            for step in recipe.steps
        ],
    }
    if countries:
        data["recipeCuisine"] = ", ".join(countries)
    if minutes:
        data["totalTime"] = f"PT{math.ceil(minutes)}M"
    return data


def _line(food: str, preparation: str) -> str:
    return f"{food}, {preparation}" if preparation else food
