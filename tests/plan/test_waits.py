"""What a step waits for where nobody writes `after`: common practice where there are many hands."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from demo_class import ROOT, demo_facts
from spoonfold.check import examine
from spoonfold.check.rule import facts_of
from spoonfold.plan.clock.step_order import Order
from spoonfold.read.folder import read_folder
from tiny_class import CLASS, write_class

EQUIPMENT = (
    "{burner: 2, oven: 1, pot: 3, skillet: 2, baking dish: 2, mixing bowl: 6, knife: 6, board: 6, "
    "grater: 2, wooden spoon: 4, colander: 2, thermometer: 1, refrigerator: 1, sink: 1}"
)
RECIPE = """\
---
title: Dish
place: Lima, Peru
country: PE
serves: 4
ingredients:
{lines}
---

It is good.

## Steps

{steps}
"""
PIE = "2 lb potatoes; 1 lb ground lamb; 1 medium onion; 1/2 cup milk; 4 tbsp butter; 1 cup water"


def follows(folder: Path, lines: str, *steps: str) -> list[tuple[int, ...]]:
    """For each step what it waits for; the first one for the step 0, which there isn't."""
    text = RECIPE.format(
        lines="\n".join(f"  - {each}" for each in lines.split("; ")),
        steps="\n".join(f"{n}. {each}" for n, each in enumerate(steps, 1)),
    )
    made = CLASS.replace("{burner: 1, pot: 1, knife: 4, board: 4}", EQUIPMENT)
    assert made != CLASS
    write_class(folder, {"class.yaml": made, "recipes/rice.md": text})
    return [step.follows for step in examine(folder).facts.folder.recipes["rice"].steps]


@pytest.mark.parametrize(
    ("lines", "steps", "expected"),
    [
        pytest.param(
            "1 medium onion; 2 medium carrots; 1 medium cucumber",
            ["Dice the onion.", "Grate the carrots.", "Slice the cucumber.", "Mix everything."],
            [(0,), (), (), (1, 2, 3)],
            id="chopping isn't queued behind chopping",
        ),
        pytest.param(
            PIE,
            [
                "Boil the potatoes in the water until tender, about 15 minutes. Drain.",
                "Meanwhile, melt half the butter in a skillet. Cook the onion until soft.",
                "Add the lamb and brown it to 160 °F.",
                "Mash the potatoes with the milk and the rest of the butter.",
                "Spread the meat in a baking dish, top with the mash and bake for 20 minutes.",
            ],
            [(0,), (), (2,), (1,), (3, 4)],
            id="two pots come together at the end",
        ),
        pytest.param(
            "2 cups corn; 1 medium onion",
            ["Heat the oven to 400 °F.", "Dice the onion.", "Roast the corn in the oven."],
            [(0,), (), (1,)],
            id="the oven is lit for what goes in",
        ),
        pytest.param(
            "1 medium onion; 1 medium cucumber",
            ["Dice the onion.", "Then slice the cucumber."],
            [(0,), (1,)],
            id="who says then means it",
        ),
        pytest.param(
            "1 medium onion; 1 medium cucumber",
            ["Dice the onion.", "Frobble the cucumber."],
            [(0,), (1,)],
            id="what isn't understood stays where it is written",
        ),
        pytest.param(
            "1 medium onion; 1 medium cucumber",
            ["Rinse all the vegetables.", "Dice the onion.", "Slice the cucumber."],
            [(0,), (1,), (1,)],
            id="what readies all comes before all",
        ),
        pytest.param(
            "1 lb chicken breast; 1 medium cucumber; 1 tbsp olive oil",
            [
                "Cube the chicken breast on a board.",
                "Slice the cucumber on a board.",
                "Fry the chicken in the oil to 165 °F.",
            ],
            [(0,), (1,), (1,)],
            id="salad stays behind raw chicken, whose board is washed between",
        ),
        pytest.param(
            "1 medium onion; 1 medium carrot",
            ["Dice the onion.", "Put it in a bowl.", "Wash your hands.", "Grate the carrot."],
            [(0,), (1,), (2,), (3,)],
            id="it is what was in hand, and washing lies between",
        ),
    ],
)
def test_what_a_step_waits_for(
    lines: str, steps: list[str], expected: list[tuple[int, ...]], tmp_path: Path
) -> None:
    """By its food, its pot, its oven and its words."""
    assert follows(tmp_path, lines, *steps) == expected


def test_an_author_who_orders_one_step_orders_all(tmp_path: Path) -> None:
    """One `after` in a recipe, and every other step waits for the one before."""
    lines = "1 medium onion; 2 medium carrots; 1 medium cucumber"
    assert follows(
        tmp_path,
        lines,
        "Dice the onion.",
        "Grate the carrots.\n    - after: none",
        "Slice the cucumber.",
    ) == [(0,), (), (2,)]


def test_food_is_judged_in_the_order_that_is_written(tmp_path: Path) -> None:
    """Freeing hands frees no food from a rule."""
    lines = "1 medium onion; 2 medium carrots"
    follows(tmp_path, lines, "Dice the onion.", "Grate the carrots.")
    recipe = examine(tmp_path).facts.folder.recipes["rice"]
    assert Order(recipe.steps).before[2] == {1}
    assert Order(recipe.steps, at_work=True).before[2] == frozenset()


def test_the_demo_without_its_notes_is_hardly_ever_looser(tmp_path: Path) -> None:
    """Of all pairs that the author put in order, by transitivity, at most 1 in 50 comes loose, and
    hands are freed: in all there are fewer pairs than in one long line."""
    shutil.copytree(ROOT / "content", tmp_path / "content")
    for path in (tmp_path / "content" / "recipes").glob("*.md"):
        lines = path.read_text("utf-8").splitlines(keepends=True)
        path.write_text("".join(e for e in lines if "- after:" not in e), "utf-8")
    plain = facts_of(read_folder(tmp_path).folder).folder.recipes
    asked = loose = kept = line = 0
    for key, recipe in demo_facts().folder.recipes.items():
        author = Order(recipe.steps).before
        ours = Order(plain[key].steps, at_work=True).before
        asked += sum(map(len, author.values()))
        loose += sum(len(author[n] - ours[n]) for n in author)
        kept += sum(map(len, ours.values()))
        line += sum(n - 1 for n in author)
    assert loose <= asked / 50
    assert kept < 0.9 * line
