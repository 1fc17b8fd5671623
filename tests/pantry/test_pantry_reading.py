"""The author's own pantry over the one that ships."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.quantity.grammar import Refusal, read_line
from spoonfold.read.files import Source
from spoonfold.read.pantry import read_pantry

RECIPES = Path(__file__).resolve().parents[1] / "kitchen" / "corpus" / "development"


def test_a_plural_is_the_same_food() -> None:
    """An entry under a regular plural adds to the known food; it doesn't begin a new one
    that has neither weights nor allergens."""
    source = Source("content/pantry.yaml", "flour tortillas: {packages: [{size: 10, price: 3}]}\n")
    pantry = read_pantry(source, [])
    item = pantry.find("flour tortilla")
    assert item is not None and item.name == "flour tortilla"
    assert "wheat" in item.allergens and item.packages[0].price == 3


def test_an_unknown_food_is_added() -> None:
    source = Source("content/pantry.yaml", "moon cheese: {allergens: [milk]}\n")
    item = read_pantry(source, []).find("moon cheese")
    assert item is not None and item.allergens == ("milk",)


def test_the_authors_keys_stand_over_the_shipped_ones() -> None:
    """Key by key: what she doesn't give stays as it ships."""
    source = Source("content/pantry.yaml", "onion: {section: frozen}\n")
    item = read_pantry(source, []).find("onions")
    assert item is not None and item.section == "frozen" and item.weights


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("onoin", ("onion",)),
        ("carrits", ("carrot",)),
        ("choppd walnuts", ("walnut",)),
        ("chopped walnuts", ("walnut",)),
        ("**water**", ("water",)),
        ("bell peper", ("red bell pepper",)),
        ("beeff", ()),
        ("watar", ()),
        ("oat cheese", ()),
        ("cashew parmesan", ()),
        ("plant-based chedder", ()),
        ("moonfish of the deep", ()),
    ],
)
def test_a_near_name_is_a_slip_of_the_pen(written: str, meant: tuple[str, ...]) -> None:
    """And never a food of another kind that only looks like it: beef is no beet, water is no
    wafer, and what is made of cashews is no parmesan."""
    assert read_pantry(None, []).nearest(written) == meant


def test_words_for_many_foods_are_proposed_as_none() -> None:
    """Nothing is a slip for what is known already."""
    pantry = read_pantry(None, [])
    assert all(pantry.find(word) for word in ("beef", "pepper", "oil", "stock", "greens"))


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("raw prawns", "shrimp"),
        ("frozen tilapia fillets", "tilapia"),
        ("thawed ground beef", "ground beef"),
        ("frozen raw chicken thighs", "boneless skinless chicken thigh"),
        ("frozen sausage", "sausage"),
        ("organic boneless pork shoulder", "pork shoulder"),
        ("frozen papaya", None),
        ("frozen moon dust", None),
    ],
)
def test_words_that_change_nothing_are_left_out(written: str, meant: str | None) -> None:
    """Meat and fish from the freezer are the same food; a vegetable may have to be cooked then."""
    item = read_pantry(None, []).find(written)
    assert (item and item.name) == meant


def test_what_many_kitchens_write_is_known() -> None:
    """Of the lines of recipes in the manner of many kitchens, which were written for another end,
    at most one in twenty names a food that nobody here knows."""
    pantry = read_pantry(None, [])
    names = []
    for path in sorted(RECIPES.glob("*.txt")):
        plain = path.read_text("utf-8").partition("======== plain ========\n")[2]
        listed = plain.partition("ingredients:\n")[2].partition("\n---")[0]
        lines = [line.strip()[2:] for line in listed.splitlines() if line.startswith("  - ")]
        read = [read_line(line) for line in lines]
        names += [each.name for each in read if not isinstance(each, Refusal)]
    assert len(names) > 900
    unknown = [name for name in names if pantry.find(name) is None]
    assert len(unknown) <= len(names) / 20, unknown
