"""Foods that a step calls together: common practice of written recipes."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.check.rule import facts_of
from spoonfold.read.folder import read_folder
from tiny_class import write_class

RECIPE = """\
---
title: Dish
serves: 4
ingredients:
{lines}
---

It is good.

## Steps

{steps}
"""


def taken(folder: Path, lines: str, *steps: str) -> dict[str, list[int]]:
    """The steps that use each food, by its key."""
    text = RECIPE.format(
        lines="\n".join(f"  - {each}" for each in lines.split("; ")),
        steps="\n".join(f"{n}. {each}" for n, each in enumerate(steps, 1)),
    )
    write_class(folder, {"recipes/rice.md": text})
    uses = facts_of(read_folder(folder).folder).uses["rice"]
    return {key: [use.step for use in each] for key, each in uses.by_key.items()}


@pytest.mark.parametrize(
    ("lines", "steps", "expected"),
    [
        pytest.param(
            "2 medium carrots; 1 medium onion; 1 medium apple; 1 tbsp olive oil",
            ["Chop the vegetables.", "Slice the apple.", "Stir in the oil."],
            {"carrots": [1], "onion": [1], "apple": [2], "olive-oil": [3]},
            id="vegetables are those of the shop, and an apple is none",
        ),
        pytest.param(
            "2 medium carrots; 1 medium onion",
            ["Chop the vegetables.", "Add the onion."],
            {"carrots": [1], "onion": [2]},
            id="what is named is where it is named",
        ),
        pytest.param(
            "2 cups all-purpose flour; 1 tsp baking powder; 1/2 tsp salt; 1 cup milk; "
            "2 tbsp vegetable oil; 1 large egg",
            ["Whisk the dry ingredients.", "Beat the egg with the wet ingredients."],
            {
                "all-purpose-flour": [1],
                "baking-powder": [1],
                "salt": [1],
                "milk": [2],
                "vegetable-oil": [2],
                "egg": [2],
            },
            id="dry and wet ingredients",
        ),
        pytest.param(
            "1 cup rice; 2 cups water; salt, to taste; black pepper, to taste",
            ["Boil the rice in the water.", "Season."],
            {"rice": [1], "water": [1], "salt": [2], "black-pepper": [2]},
            id="season is salt and pepper",
        ),
        pytest.param(
            "2 medium tomatoes; 1 tbsp olive oil; 1 tbsp cider vinegar",
            ["Blend all the ingredients until smooth."],
            {"tomatoes": [1], "olive-oil": [1], "cider-vinegar": [1]},
            id="all ingredients",
        ),
        pytest.param(
            "1 cup rice; part: For the dressing; 1 tbsp olive oil; 1 tbsp cider vinegar",
            ["Cook the rice.", "Whisk the dressing ingredients."],
            {"rice": [1], "olive-oil": [2], "cider-vinegar": [2]},
            id="a part of the list by its heading",
        ),
    ],
)
def test_several_at_once(
    lines: str, steps: list[str], expected: dict[str, list[int]], tmp_path: Path
) -> None:
    """By the first words that may mean each."""
    assert taken(tmp_path, lines, *steps) == expected


@pytest.mark.parametrize("food", ["1/2 lb beef sirloin", "1 lb chicken thighs", "1 cup blorf"])
def test_meat_and_the_unknown_want_their_names(food: str, tmp_path: Path) -> None:
    """Where raw meat goes in decides what is safe, and what nobody knows may be anything."""
    assert list(taken(tmp_path, f"1 cup rice; {food}", "Cook the rice.", "Mix everything.")) == [
        "rice"
    ]
    found = examine(tmp_path).problems
    assert any(each.code == "never-used" and each.place.line == 6 for each in found)


def test_the_heat_is_asked_for_where_the_meat_is_cooked(tmp_path: Path) -> None:
    """Not where something else is fried after it."""
    taken(
        tmp_path,
        "1/2 lb beef sirloin; 4 large eggs; 1 tbsp vegetable oil",
        "Sear the beef in the oil until browned, 5 minutes.",
        "Fry the eggs until the yolks are firm.",
        "Put everything on the plates.",
    )
    (found,) = (each for each in examine(tmp_path).problems if each.code == "heat-missing")
    assert found.place.line == 14
