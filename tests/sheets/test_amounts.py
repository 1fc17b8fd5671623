"""What a sheet calls an ingredient, by how many there are."""

from __future__ import annotations

import pytest

from spoonfold.language.texts import load_texts
from spoonfold.model.recipe import Ingredient
from spoonfold.press.layouts import shipped_layouts
from spoonfold.problem import Place
from spoonfold.quantity.grammar import Line, read_line
from spoonfold.read.pantry import read_pantry
from spoonfold.sheets.shared.amounts import ingredient_name

TEXTS = load_texts("en", shipped_layouts())
PANTRY = read_pantry(None, [])


def _named(line: str) -> str:
    read = read_line(line)
    assert isinstance(read, Line) and read.amount is not None
    ingredient = Ingredient(read.name, read.amount, None, Place("x.md", 1))
    return ingredient_name(ingredient, (read.amount,), PANTRY.find(read.name), TEXTS)


@pytest.mark.parametrize(
    ("line", "named"),
    [
        ("1 carrots", "carrot"),
        ("1 carrot", "carrot"),
        ("2 carrot", "carrots"),
        ("1/2 onions", "onion"),
        ("1 1/2 onion", "onions"),
        ("1-2 carrot", "carrots"),
        ("1/2-1 carrots", "carrot"),
        ("1 large carrots", "carrot"),
        ("2 eating apple", "eating apples"),
        ("1 eating apples", "eating apple"),
        ("1 tomatoes", "tomato"),
        # Only what is counted is one or several.
        ("1 cup carrots", "carrots"),
        ("2 cups carrot", "carrot"),
    ],
)
def test_one_or_several(line: str, named: str) -> None:
    """Above one there are several, whatever the cook wrote; a range goes by its upper end."""
    assert _named(line) == named
