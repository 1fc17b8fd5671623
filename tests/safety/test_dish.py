"""The dish as a table cooks it: everything follows the food that is really used."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from spoonfold.check import Examined, examine
from spoonfold.model.prose import plain
from spoonfold.plan.safety.dish import Dish, dishes_at
from spoonfold.problem import Level
from tiny_class import CLASS, write_class

RECIPE = """---
title: Peanut butter oats
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - part: Base
  - 2 cups rolled oats
  - 1/2 cup peanut butter
  - 4 large eggs, separated
  - 1/2 cup butter
  - part: On top
  - 1/4 cup butter
swaps:
  - instead of: peanut butter
    use: 1/2 cup sunflower seed butter
    because: peanut
  - instead of: butter
    use: 3/4 cup sunflower oil
    because: milk
  - instead of: eggs
    use: 1 can (15 oz) chickpeas, drained and mashed
    because: egg
---

Oats.

## Steps

1. Mix the rolled oats, [half the butter](#base-butter "1/2") and the peanut butter.
    - time: 5 min
    - needs: mixing bowl
2. Stir in the [yolks](#eggs "yolk") and [more butter](#base-butter "rest").
   Then fold in the [whites](#eggs "white").
    - time: 5 min
    - needs: mixing bowl
3. Bake until the middle reaches 160 °F. Spread with [butter](#on-top-butter).
    - time: 5 min
    - wait: 20 min
    - heat: 160 °F
    - needs: oven shelf, baking pan, thermometer
"""


@pytest.fixture(scope="module")
def examined(tmp_path_factory: pytest.TempPathFactory) -> Examined:
    needs = "\nneeds:\n  - {table: 1, avoid: [peanut, milk, egg]}\n"
    folder = write_class(
        tmp_path_factory.mktemp("class"),
        {"class.yaml": CLASS.rstrip() + needs, "recipes/rice.md": RECIPE},
    )
    made = examine(folder)
    assert not any(each.level is Level.ERROR for each in made.problems), made.problems
    return made


@pytest.fixture(scope="module")
def dish(examined: Examined) -> Dish:
    folder = examined.read.folder
    assert folder.classroom is not None
    recipe = folder.recipes["rice"]
    uses = examined.facts.uses["rice"]
    return dishes_at(recipe, uses, folder.pantry, folder.classroom.setting, "en")[0]


def test_two_swaps_never_change_each_others_words(dish: Dish) -> None:
    """Neither the seed butter nor the oil is read as the butter that another swap replaces."""
    words = plain(dish.recipe.steps[0].text)
    assert words == "Mix the rolled oats, half the sunflower oil and the sunflower seed butter."
    assert dish.recipe.title == "Sunflower seed butter oats"


def test_every_line_is_used_up_as_what_it_replaces_was(dish: Dish) -> None:
    """What the steps take of each replacement adds up to all of it, and pieces that it hasn't
    share it."""
    for line in dish.recipe.ingredients:
        shares = [use.share for use in dish.uses.of(line)]
        assert sum(share for share in shares if share is not None) == 1, line.name
    peas = next(each for each in dish.recipe.ingredients if each.name == "chickpeas")
    assert [(use.share, use.piece) for use in dish.uses.of(peas)] == [(F(1, 2), None)] * 2


def test_one_replacement_for_two_lines_is_parted_as_they_are(dish: Dish) -> None:
    """Half a cup and a quarter of a cup of butter: two thirds and one third of the oil."""
    oil = [each for each in dish.recipe.ingredients if each.name == "sunflower oil"]
    assert [(each.part, each.amount and each.amount.low) for each in oil] == [
        ("Base", F(1, 2)),
        ("On top", F(1, 4)),
    ]


def test_notes_follow_the_food(dish: Dish, examined: Examined) -> None:
    """Without eggs nothing is raw: no washing, no temperature, no thermometer; out of a can: its
    opener, once, and the caution of its lid."""
    listed = examined.facts.folder.recipes["rice"].steps
    assert listed[2].heat is not None
    assert {"hands", "table"} <= {term.text for term in listed[1].wash}
    first, second, third = dish.recipe.steps
    assert third.heat is None and "thermometer" not in third.tools
    assert not second.wash
    assert "can opener" in second.tools and "can opener" not in first.tools | third.tools
    assert "can lid edge" in {term.text for term in second.watch}


def test_only_the_table_that_swaps_is_told_of_it(dish: Dish, examined: Examined) -> None:
    """The recipe itself goes to families and the world: it shows nobody's need."""
    listed = examined.facts.folder.recipes["rice"].steps
    assert not any(term.text == "allergen swap" for step in listed for term in step.watch)
    for step in dish.recipe.steps:
        assert [term.text for term in step.watch].count("allergen swap") == 1


def test_a_table_without_a_need_cooks_what_is_listed(examined: Examined) -> None:
    """The very same recipe: nothing is made anew."""
    folder = examined.read.folder
    assert folder.classroom is not None
    recipe, uses = folder.recipes["rice"], examined.facts.uses["rice"]
    dishes = dishes_at(recipe, uses, folder.pantry, folder.classroom.setting, "en")
    assert all(each.recipe is recipe and not each.instead_of for each in dishes[1:])
