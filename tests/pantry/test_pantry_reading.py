"""The author's own pantry over the one that ships."""

from __future__ import annotations

import pytest

from spoonfold.read.files import Source
from spoonfold.read.pantry import read_pantry


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
