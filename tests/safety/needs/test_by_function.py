"""A swap is proposed by what the food does in the dish, with its amount and what becomes of it.

Checked row by row against published substitution tables: Kids With Food Allergies (AAFA), May 2013
(egg); North Dakota State University Extension, 1 May 2020 (butter); Iowa State University,
2016 (milk); University of Rochester Medical Center (wheat-free); Duyff, American Dietetic
Association (batter); an allergy clinic in La Crosse, 2023 (tahini); Banner Health (nut butter);
extension tables that agree (honey). What no published table has says that it is from memory.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.check.by_function import function_of
from spoonfold.knowledge.functions import stand_ins
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.problem import Problem
from spoonfold.read.pantry import read_pantry
from tiny_class import CLASS, write_class

PANTRY = read_pantry(None, [])


def recipe(lines: list[str], words: str, title: str = "Dish") -> str:
    listed = "".join(f"  - {each}\n" for each in lines)
    return (
        f"---\ntitle: {title}\nplace: Lima, Peru\ncountry: PE\nserves: 4\ningredients:\n{listed}"
        f"swaps:\n---\n\nDish.\n\n## Steps\n\n1. {words}\n    - time: 5 min\n    - wait: 20 min\n"
    ).replace("swaps:\n---", "---")


def told(folder: Path, avoid: str, text: str) -> list[Problem]:
    needs = f"\nneeds:\n  - {{table: 1, avoid: [{avoid}]}}\n"
    made = examine(
        write_class(folder, {"class.yaml": CLASS.rstrip() + needs, "recipes/rice.md": text})
    )
    return [each for each in made.problems if each.code == "need-not-met"]


FLOUR = "1 cup all-purpose flour"
CASES = [
    # Food, what else, words, avoided, then as the table has it: amount and stand-in, source.
    (
        "2 eggs",
        [FLOUR, "1 tsp baking powder"],
        "Mix {} into a batter.",
        "egg",
        "2 tbsp flaxseed",
        "Kids",
    ),
    (
        "1 egg",
        ["1 lb ground beef"],
        "Mix {} and shape it into balls.",
        "egg",
        "1 tbsp flaxseed",
        "Kids",
    ),
    ("2 eggs", [FLOUR], "Mix {} into a dough and bake it.", "egg", "2 tsp baking powder", "Kids"),
    ("1 egg", ["1 lb ground beef"], "Dip {} in the crumbs.", "egg", "1 tbsp cornstarch", "memory"),
    ("1 egg", [FLOUR], "Brush {} on top.", "egg", "2 tbsp soy milk", "memory"),
    ("1 egg", [FLOUR], "Beat {} to stiff peaks.", "egg", "3 tbsp chickpea", "memory"),
    ("1 cup butter", [FLOUR], "Mix {} and bake.", "milk", "⅞ cup canola oil", "North Dakota"),
    ("2 cups milk", [], "Warm {}.", "milk", "2 cups oat milk", "Iowa"),
    ("1 cup plain yogurt", [], "Marinate the rice in {}.", "milk", "1 cup", "memory"),
    (
        "2 tbsp all-purpose flour",
        [],
        "Thicken the sauce with {}.",
        "wheat",
        "3 tsp cornstarch",
        "Rochester",
    ),
    (FLOUR, [], "Mix {} into a batter.", "wheat", "1 cup rice flour", "Dietetic"),
    (
        "2 cups all-purpose flour",
        [],
        "Bake the cake of {}.",
        "wheat",
        "1½ cups rice flour",
        "Rochester",
    ),
    ("2 tbsp tahini", [], "Stir in {}.", "sesame", "2 tbsp sunflower seed butter", "La Crosse"),
    ("1/2 cup peanut butter", [], "Stir in {}.", "peanut", "½ cup sunflower seed butter", "Banner"),
    ("1 cup honey", [], "Stir in {}.", "honey", "1¼ cups sugar", "extension"),
    ("1 1/2 cups couscous", [], "Steam {}.", "wheat", "1½ cups quinoa", "memory"),
    ("2 tbsp soy sauce", [], "Stir in {}.", "wheat", "2 tbsp", "memory"),
    ("1 lb ground turkey", [], "Cook {} to 165 °F.", "meat", "1 cup", "memory"),
]


@pytest.mark.parametrize(("food", "more", "words", "avoid", "use", "source"), CASES)
def test_row_by_row(
    food: str, more: list[str], words: str, avoid: str, use: str, source: str, tmp_path: Path
) -> None:
    """The amount is the table's, scaled; what it does is said; and written down it serves."""
    name = food.split(" ", 1)[1].removeprefix("1/2 ").removeprefix("cup ").removeprefix("cups ")
    name = name.removeprefix("tbsp ").removeprefix("lb ").removeprefix("cups ")
    named = ", ".join(["rice", *(each.split(" ", 2)[-1] for each in more)])
    text = recipe([food, "1 cup rice", *more], f"Take the {named}. {words.format('the ' + name)}")
    problems = [each for each in told(tmp_path / "a", avoid, text) if name in each.message]
    assert problems
    hint = problems[0].hint
    assert use in hint and source in hint
    line = hint.rpartition("\n")[2]
    written = text.replace("---\n\nDish", f"swaps:\n  {line}\n---\n\nDish")
    left = [each for each in told(tmp_path / "b", avoid, written) if name in each.message]
    assert not left, left


def test_an_egg_that_is_the_dish_has_no_stand_in() -> None:
    """Scrambled, it is nothing's binder: another dish is better than a swap."""
    from spoonfold.read.files import Source
    from spoonfold.read.recipe import read_recipe

    text = recipe(["2 eggs", "1 cup rice"], "Scramble the eggs with the rice.")
    read = read_recipe(Source("content/recipes/dish.md", text), "dish", [])
    assert read is not None
    assert function_of(read, uses_of(read, PANTRY), read.ingredients[0], "egg") is None


def test_every_row_is_of_the_pantry() -> None:
    """Each name of a row is a food's own name, and no row brings the very food it stands in for."""
    assert len(stand_ins()) > 20
    for row in stand_ins():
        for name in (*row.foods, row.name):
            item = PANTRY.find(name)
            assert item is not None and item.name == name
        assert row.name not in row.foods
