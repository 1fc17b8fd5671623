"""Amounts that a step's words say are those of the sheet's own size."""

from __future__ import annotations

import pytest

from demo_class import demo_folder
from spoonfold.language.texts import Texts
from spoonfold.model.prose import plain
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.sheets.shared.lines import dish_amounts
from spoonfold.sheets.shared.recipe import recipe_sheet

DEMO = demo_folder()


def words_of_step(households: tuple[int, ...]) -> str:
    """Step 1 of the soup, whose link says "5 cups of the water" for four."""
    recipe = DEMO.recipes["red-lentil-soup"]
    uses = uses_of(recipe, DEMO.pantry)
    amounts = dish_amounts(recipe, uses, DEMO.pantry, households, None)
    sheet = recipe_sheet(recipe, amounts, DEMO.pantry, DEMO.words, households, None, Texts("en"))
    return plain(sheet.steps[0].text)


@pytest.mark.parametrize(
    ("people", "amount"), [(2, "2½ cups water"), (4, "5 cups water"), (6, "7½ cups water")]
)
def test_a_sheet_of_one_size_says_its_own_amount(people: int, amount: str) -> None:
    assert f"Put {amount} in the big pot" in words_of_step((people,))


def test_a_page_of_many_sizes_says_none() -> None:
    """The amount of the chosen size stands beside the words, so they can't contradict it."""
    words = words_of_step((2, 4, 6))
    assert "Put water in the big pot" in words and "5 cups" not in words
