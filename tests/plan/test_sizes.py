"""The sizes that a page shows, against the dish multiplied by each of them."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction as F

import pytest

from demo_class import demo_examined
from spoonfold.check import Examined
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING
from spoonfold.plan.amounts.metric import metric_line
from spoonfold.plan.amounts.scale import scaled, scaled_for_class
from spoonfold.plan.amounts.tools import kitchen_of
from spoonfold.sheets.shared.amounts import line_view, use_view
from spoonfold.sheets.shared.lines import class_columns, dish_amounts
from spoonfold.sheets.shared.recipe import recipe_sheet

HOME = kitchen_of(HOME_MEASURING)
PEOPLE = (1, 2, 5, 12)


@pytest.fixture(scope="module")
def demo() -> Examined:
    return demo_examined()


def test_home_sizes_are_those_of_the_whole_dish(demo: Examined) -> None:
    """Every line and every use of every dish of the demo, in cups and in grams."""
    folder, texts, checked = demo.read.folder, Texts("en"), 0
    for key, recipe in folder.recipes.items():
        uses = demo.facts.uses[key]
        amounts = dish_amounts(recipe, uses, folder.pantry, PEOPLE, None)
        sheet = recipe_sheet(recipe, amounts, folder.pantry, {}, PEOPLE, None, texts)
        for index, people in enumerate(PEOPLE):
            whole = scaled(recipe, uses, folder.pantry, HOME, F(people))
            grams = {}
            for line in whole.lines:
                shown = next(each for each in sheet.lines if each.key == line.ingredient.key)
                metric = metric_line(line, folder.pantry.find(line.ingredient.name))
                wanted = line_view(line, texts, metric.amount if metric else None)
                assert shown.sizes[index] == wanted
                if metric is not None:
                    grams.update(zip(map(id, line.uses), metric.uses, strict=True))
                checked += 1
            for step in sheet.steps:
                for view, use in zip(step.uses, whole.by_step[step.number], strict=True):
                    assert view.sizes[index] == use_view(use, texts, grams.get(id(use)))
    assert checked > 400


def test_class_columns_are_their_tables(demo: Examined) -> None:
    """Tables of 4, 4, 3 and 4: the first column is a table's of four, the second the third
    table's, the last one the sum of all four."""
    folder, texts = demo.read.folder, Texts("en")
    assert folder.classroom is not None
    setting = replace(folder.classroom.setting, tables=(4, 4, 3, 4), helpers=0, needs=())
    for key, recipe in folder.recipes.items():
        uses = demo.facts.uses[key]
        amounts = dish_amounts(recipe, uses, folder.pantry, PEOPLE, setting)
        sheet = recipe_sheet(recipe, amounts, folder.pantry, {}, PEOPLE, setting, texts)
        whole = scaled_for_class(recipe, uses, folder.pantry, setting)
        tables = [next(each for each in whole.tables if each.portions == n) for n in (4, 3)]
        for line, ingredient in zip(sheet.lines, recipe.ingredients, strict=True):
            wanted = (*(each.line(ingredient) for each in tables), whole.total(ingredient))
            assert line.for_class == tuple(line_view(each, texts) for each in wanted)
        assert len(whole.tables) == 4


def test_each_column_is_of_the_tables_that_it_names(demo: Examined) -> None:
    """Of tables of 4, 4, 3 and 4 the second column is the third table's."""
    recipe = demo.read.folder.recipes["tomato-rice"]
    classroom = demo.read.folder.classroom
    assert classroom is not None
    setting = replace(classroom.setting, tables=(4, 4, 3, 4), helpers=0, portion=F(1, 2))
    columns = class_columns(recipe, setting, Texts("en"))
    assert [each.label for each in columns] == ["A table of 4", "A table of 3", "The class, 15"]
    assert recipe.serves == 4
    assert [each.factor for each in columns] == ["× ½", "× ⅜", "× 1⅞"]
