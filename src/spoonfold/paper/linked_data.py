"""A recipe as schema.org/Recipe, for machines that read the page.

Property names are schema.org's: Recipe's own and those that it inherits from HowTo,
CreativeWork and Thing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from spoonfold.model.prose import plain
from spoonfold.model.recipe import Recipe
from spoonfold.quantity.show import show_amount, show_number

Json = Mapping[str, object]


def recipe_data(recipe: Recipe, language: str, description: str, countries: tuple[str, ...],
                minutes: Fraction) -> Json:
    """The recipe at its household yield."""
    data: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": recipe.title,
        "description": description,
        "inLanguage": language,
        "recipeYield": show_number(recipe.serves),
        "recipeIngredient": [
            _line(each.name, show_amount(each.amount) if each.amount else "",
                  each.preparation or each.as_needed or "")
            for each in recipe.ingredients
        ],
        "recipeInstructions": [
            {"@type": "HowToStep", "position": step.number, "text": plain(step.text)}
            for step in recipe.steps
        ],
    }
    if countries:
        data["recipeCuisine"] = ", ".join(countries)
    if minutes:
        data["totalTime"] = f"PT{math.ceil(minutes)}M"
    return data


def _line(name: str, amount: str, preparation: str) -> str:
    words = f"{amount} {name}".strip()
    return f"{words}, {preparation}" if preparation else words
