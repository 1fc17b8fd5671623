"""The JSON-LD against schema.org's own property names (npm schema-dts 2.1.0, Apache-2.0)."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from demo_class import demo_folder
from spoonfold.language.texts import Texts
from spoonfold.read.pantry import read_pantry
from spoonfold.sheets.site.pages import recipe_data

PROPERTIES = json.loads(
    (Path(__file__).parent / "schema-org-properties.json").read_text(encoding="utf-8")
)["properties"]
# What each type inherits from, by schema.org.
INHERITED = {
    "Recipe": ("Recipe", "HowTo", "CreativeWork", "Thing"),
    "HowToDirection": ("CreativeWork", "ListItem", "Thing"),
    "HowToTip": ("CreativeWork", "ListItem", "Thing"),
    "Place": ("Thing",),
    "HowToStep": ("HowToStep", "CreativeWork", "ItemList", "ListItem", "Thing"),
}
RECIPES = demo_folder().recipes

PANTRY = read_pantry(None, [])


def _unknown(value: object) -> list[str]:
    """Properties that schema.org doesn't give to the type that uses them."""
    if isinstance(value, list):
        return [name for each in value for name in _unknown(each)]
    if not isinstance(value, dict):
        return []
    known = {name for base in INHERITED[value["@type"]] for name in PROPERTIES[base]}
    own = [name for name in value if not name.startswith("@") and name not in known]
    return own + [name for each in value.values() for name in _unknown(each)]


@pytest.mark.parametrize("key", sorted(RECIPES))
def test_every_property_is_one_of_schema_org(key: str) -> None:
    """No misspelt property, in the recipe or in its steps."""
    data = recipe_data(RECIPES[key], PANTRY, Texts("en"), "A dish.", ("Peru",))
    assert _unknown(data) == []


def test_a_misspelt_property_would_be_noticed() -> None:
    """The check above can fail."""
    assert _unknown({"@type": "Recipe", "recipeIngredients": []}) == ["recipeIngredients"]


@pytest.mark.parametrize("key", sorted(RECIPES))
def test_the_recipe_is_whole(key: str) -> None:
    """Every ingredient and every step is there, and the time is an ISO 8601 duration."""
    recipe = RECIPES[key]
    data = recipe_data(recipe, PANTRY, Texts("en"), "A dish.", ("Peru",))
    ingredients, steps = data["recipeIngredient"], data["recipeInstructions"]
    assert isinstance(ingredients, list) and len(ingredients) == len(recipe.ingredients)
    assert isinstance(steps, list) and [each["position"] for each in steps] == [
        step.number for step in recipe.steps
    ]
    assert re.fullmatch(r"PT[1-9][0-9]*M", str(data["totalTime"]))
