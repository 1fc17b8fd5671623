"""Lines that are worked out once for all dishes that list them alike, against each dish multiplied
by itself."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F
from pathlib import Path

import pytest

from spoonfold.check import Examined, examine
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import HOME_MEASURING, Setting
from spoonfold.plan.amounts.measure import class_kitchen, kitchen_of
from spoonfold.plan.amounts.scale import ScaledLine, scaled, scaled_for_class
from spoonfold.plan.amounts.sizes import at_sizes, in_class, listed_lines, metric_line
from spoonfold.sheets.recipe_sizes import class_columns, table_portions

HOME = kitchen_of(HOME_MEASURING)
PEOPLE = tuple(map(F, range(1, 13)))


@pytest.fixture(scope="module")
def demo() -> Examined:
    return examine(Path(__file__).resolve().parents[2])


def _seen(line: ScaledLine | None) -> object:
    """Everything of a line but what it is called."""
    if line is None:
        return None
    return (
        line.amounts,
        line.exact,
        line.off,
        line.taste_first,
        [(each.measured, each.use.share, each.use.piece) for each in line.uses],
    )


def test_home_sizes_are_those_of_the_whole_dish(demo: Examined) -> None:
    """Every line of every dish of the demo for one to twelve people, in cups and in grams."""
    pantry, checked = demo.read.folder.pantry, 0
    for key, recipe in demo.read.folder.recipes.items():
        uses = demo.facts.uses[key]
        lines = {
            name: at_sizes(line, PEOPLE, HOME)
            for name, line in listed_lines(recipe, uses, pantry).items()
        }
        for index, people in enumerate(PEOPLE):
            whole = scaled(recipe, uses, pantry, HOME, people)
            assert {name for name, sizes in lines.items() if sizes} == {
                line.ingredient.key for line in whole.lines
            }
            for line in whole.lines:
                size = lines[line.ingredient.key][index]
                assert _seen(size.line) == _seen(line)
                assert size.metric == metric_line(line, pantry.find(line.ingredient.name))
                checked += 1
    assert checked > 1000


def _settings(demo: Examined) -> Iterator[Setting]:
    classroom = demo.read.folder.classroom
    assert classroom is not None
    yield from {id(each.setting): each.setting for each in classroom.sessions}.values()
    yield replace(classroom.setting, tables=(4, 4, 3), helpers=0)
    yield replace(classroom.setting, tables=(1,), helpers=0, equipment={"scale": 1})


def test_class_sizes_are_those_of_the_whole_dish(demo: Examined) -> None:
    """Every table and the sum, for every setting of the demo and for tables that differ."""
    pantry, checked = demo.read.folder.pantry, 0
    for setting in _settings(demo):
        tables, kitchen = table_portions(setting), class_kitchen(setting)
        for key, recipe in demo.read.folder.recipes.items():
            whole = scaled_for_class(recipe, demo.facts.uses[key], pantry, setting)
            by_table = [
                {line.ingredient.key: line for line in table.lines} for table in whole.tables
            ]
            totals = {line.ingredient.key: line for line in whole.totals}
            for name, line in listed_lines(recipe, demo.facts.uses[key], pantry).items():
                at_tables, total = in_class(line, tables, kitchen)
                assert [_seen(each) for each in at_tables] == [
                    _seen(lines.get(name)) for lines in by_table
                ]
                assert _seen(total) == _seen(totals.get(name))
                checked += 1
    assert checked > 300


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
