"""What a dish is chosen by: allergens above all."""

from __future__ import annotations

from pathlib import Path

import pytest

from demo_class import demo_examined
from spoonfold.check import Examined, examine
from spoonfold.language.texts import Texts, load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.site import site_of
from spoonfold.sheets.site.filters import Filters, Traits
from tiny_class import RICE, write_class


def _chosen(examined: Examined, language: str = "en") -> tuple[Filters, dict[str, Traits]]:
    classroom = examined.read.folder.classroom
    assert classroom is not None
    texts: Texts = load_texts(language, shipped_layouts())
    folder = folder_in(examined.read.folder, language)
    site = site_of(folder, classroom, uses_in(examined.facts.uses, folder.recipes), texts)
    dishes = [dish for session in site.home.sessions for dish in session.dishes]
    return site.home.filters, {dish.key: dish.traits for dish in (*dishes, *site.home.others)}


@pytest.mark.parametrize("language", ["en", "es"])
def test_allergens_are_those_of_every_ingredient(language: str) -> None:
    """In each language by the same keys: a dish is without milk only where no ingredient, be it
    optional, is or contains milk by the pantry. One that every such food has a swap for is told
    apart."""
    folder = demo_examined().read.folder
    filters, traits = _chosen(demo_examined(), language)
    brought = set()
    for key, recipe in folder.recipes.items():
        items = [folder.pantry.find(each.name) for each in recipe.ingredients]
        wanted = {name for item in items if item for name in item.allergens}
        had = {each.value for each in traits[key].contains}
        swapped = {each.value for each in traits[key].swapped}
        assert had | swapped == wanted and not had & swapped
        for allergen in swapped:
            having = [
                each.name
                for each in recipe.ingredients
                if (item := folder.pantry.find(each.name)) and allergen in item.allergens
            ]
            assert set(having) <= {swap.instead_of.text for swap in recipe.swaps}
        assert traits[key].is_known
        brought |= wanted | {each.value for each in traits[key].by_label}
    assert {each.value for each in filters.without} == brought >= {"milk", "egg", "wheat"}


def test_labels_are_the_reader_s() -> None:
    """The names are translated, the keys behind them are not."""
    filters, _ = _chosen(demo_examined(), "es")
    assert {each.value: each.label for each in filters.without}["milk"] == "leche"


def test_an_unknown_ingredient_is_without_nothing(tmp_path: Path) -> None:
    """Nobody knows what is in it, so no choice may leave the dish there."""
    rice = RICE.replace("  - 2 cups water", "  - 2 cups zorblax water")
    _, traits = _chosen(examine(write_class(tmp_path, {"recipes/rice.md": rice})))
    assert traits["rice"].data["known"] is False


def test_every_count_is_said() -> None:
    """From no dish at all to all of them, each form once."""
    filters, traits = _chosen(demo_examined())
    fits = filters.texts["fits"]
    assert fits == {
        "forms": ["# dishes fit.", "# dish fits."],
        "which": [0, 1, *[0] * (len(traits) - 1)],
    }


def test_times_tell_dishes_apart() -> None:
    """Each time leaves some dish in and some dish out."""
    filters, traits = _chosen(demo_examined())
    assert filters.times
    for each in filters.times:
        fits = [0 < one.minutes <= int(each.value) for one in traits.values()]
        assert any(fits) and not all(fits)


def test_one_dish_is_no_choice(tmp_path: Path) -> None:
    """Then the page offers nothing to narrow."""
    filters, traits = _chosen(examine(write_class(tmp_path)))
    assert len(traits) == 1 and filters.is_empty
