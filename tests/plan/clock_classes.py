"""Made-up sessions for tests of the class clock."""

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction as F
from typing import Any

from demo_class import demo_folder
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.plan.clock.clock import ClassClock, clock_of
from spoonfold.plan.clock.steps import tasks_of
from spoonfold.plan.clock.tasks import Task
from spoonfold.plan.clock.times import ClassWork, Dish
from spoonfold.problem import Problem
from spoonfold.read.files import Source
from spoonfold.read.recipe import read_recipe

DEMO = demo_folder()
assert DEMO.classroom is not None
CLASSROOM = DEMO.classroom


def recipe_of(*steps: str, header: str = "", key: str = "dish", uses: str = "rice") -> Recipe:
    """A dish for four; each step is its notes, one a line. All its food goes in the first."""
    written = "".join(
        f"{number}. {'Take ' + uses if number == 1 else 'Go on'}.\n"
        + "".join(f"    - {note.strip()}\n" for note in notes.strip().splitlines())
        for number, notes in enumerate(steps, 1)
    )
    listed = "".join(
        f"  - {each}\n" for each in (["1 cup rice"] if uses == "rice" else ["4 cups water"])
    )
    text = (
        f"---\ntitle: Dish\nplace: Town, Peru\ncountry: PE\nserves: 4\n{header}"
        f"ingredients:\n{listed}---\n\nA dish.\n\n## Steps\n\n{written}"
    )
    found: list[Problem] = []
    recipe = read_recipe(Source(f"content/recipes/{key}.md", text), key, found)
    assert recipe is not None and not found, found
    return recipe


def setting_of(**changes: Any) -> Setting:
    """Two tables of four with a helper each who don't eat, sixty minutes to cook, one of all."""
    setting = replace(
        CLASSROOM.setting,
        tables=(4, 4),
        helpers=2,
        helpers_eat=False,
        pace=F(2),
        minutes=100,
        fixed={"arrive": 10, "talk": 10, "eat": 10, "clean up": 10},
        portion=F(1),
        watts={},
        needs=(),
        starts=datetime.time(10),
        equipment={
            "burner": 1,
            "oven shelf": 2,
            "pan": 4,
            "pot": 4,
            "knife": 8,
            "sink": 1,
            "griddle": 1,
            "thermometer": 1,
        },
    )
    return replace(setting, **changes)


def work_of(*recipes: Recipe, **changes: Any) -> ClassWork:
    dishes = [Dish(recipe, uses_of(recipe, DEMO.pantry)) for recipe in recipes]
    return ClassWork(dishes, setting_of(**changes), DEMO.skills, DEMO.pantry)


def timed(work: ClassWork) -> ClassClock:
    clock = clock_of(work)
    assert isinstance(clock, ClassClock)
    return clock


def first(work: ClassWork, step: int = 1) -> Task:
    return next(task for task in tasks_of(work).tasks if task.step.number == step)


def dish_of(ingredients: str, *steps: tuple[str, str]) -> Recipe:
    """A dish for four out of its ingredient lines, and each step's words and notes."""
    listed = "".join(f"  - {each.strip()}\n" for each in ingredients.strip().splitlines())
    written = "".join(
        f"{number}. {words}\n"
        + "".join(f"    - {note.strip()}\n" for note in notes.strip().splitlines())
        for number, (words, notes) in enumerate(steps, 1)
    )
    text = (
        "---\ntitle: Dish\nplace: Town, Peru\ncountry: PE\nserves: 4\n"
        f"ingredients:\n{listed}---\n\nA dish.\n\n## Steps\n\n{written}"
    )
    found: list[Problem] = []
    recipe = read_recipe(Source("content/recipes/dish.md", text), "dish", found)
    assert recipe is not None and not found, found
    return recipe
