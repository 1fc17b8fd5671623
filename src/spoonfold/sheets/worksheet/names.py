"""What the numbers of a question are called: dishes, foods, units, times of day."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from spoonfold.language.amounts import amount_of, amount_text
from spoonfold.language.calendar import time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE, UNITS
from spoonfold.sheets.shared.amounts import ingredient_name
from spoonfold.sheets.worksheet.numbers import Food

_UNIT = {unit.name: unit for unit in UNITS}


@dataclass(frozen=True, slots=True)
class Names:
    """The words of one session in one language."""

    texts: Texts
    titles: Mapping[str, str]
    """Of the dishes, by the recipe's key."""
    ingredients: Mapping[tuple[str, str], Ingredient]
    """By the recipe's key and their own."""
    pantry: Pantry = field(repr=False)

    def amount(self, number: Fraction, unit: str) -> str:
        """`1½ cups`; the number alone where the food itself is counted."""
        return amount_text(Amount(number, _UNIT[unit]), self.texts)

    def cups(self, number: Fraction) -> str:
        """`1½ cups`."""
        return self.amount(number, "cup")

    def equal(self, large: str, rate: int, small: str) -> str:
        """`1 cup = 16 tbsp`."""
        return f"{self.amount(Fraction(1), large)} = {self.amount(Fraction(rate), small)}"

    def food(self, food: Food, number: Fraction | None = None) -> str:
        """`1½ cups red lentils`, `2 carrots`."""
        value = food.amount if number is None else number
        amount = Amount(value, _UNIT[food.unit])
        return amount_of((amount,), self.name(food, value), self.texts)

    def need(self, food: Food) -> str:
        """For how many people it is, in a sentence."""
        return self.texts.say(
            "For {people} people you need {what}.", people=food.people, what=self.food(food)
        )

    def name(self, food: Food, number: Fraction) -> str:
        """The food's name, singular or plural as so many of it ask."""
        ingredient = self.ingredients[food.dish, food.key]
        item = self.pantry.find(ingredient.name)
        return ingredient_name(ingredient, (Amount(number, _UNIT[food.unit]),), item, self.texts)

    def measure(self, food: Food) -> str:
        """What stands behind a blank: `cups`, `carrots`."""
        return self.unit(food.unit) if food.unit else self.name(food, Fraction(2))

    def unit(self, name: str) -> str:
        """`cups`; empty for a piece."""
        unit = _UNIT[name]
        return self.texts.count(unit.name, unit.plural, 2) if unit != PIECE else ""

    def clock(self, minutes: int) -> str:
        """A time of day, given in minutes after midnight."""
        hour, minute = divmod(minutes % (24 * 60), 60)
        return time_text(datetime.time(hour, minute), self.texts.language)


def names_of(folder: ClassFolder, session: Session, texts: Texts) -> Names:
    """The words of a session's dishes; the folder is in the language of the texts."""
    recipes = [folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes]
    return Names(
        texts=texts,
        titles={recipe.key: recipe.title for recipe in recipes},
        ingredients={
            (recipe.key, ingredient.key): ingredient
            for recipe in recipes
            for ingredient in recipe.ingredients
        },
        pantry=folder.pantry,
    )
