"""Words, their cards and the map as the pages get them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from demo_class import demo_examined
from spoonfold.check import Examined
from spoonfold.language.texts import load_texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Recipe
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.shared.lines import dish_amounts
from spoonfold.sheets.shared.recipe import RecipeSheet, recipe_sheet
from spoonfold.sheets.shared.season_map import dish_map, season_map
from spoonfold.sheets.shared.words import FROM_MEMORY, word_views
from spoonfold.sheets.site import site_of
from spoonfold.sheets.word_cards import PER_PAGE, word_cards

TEXTS = load_texts("en", shipped_layouts())


@pytest.fixture(scope="module")
def demo() -> Examined:
    return demo_examined()


@pytest.fixture(scope="module")
def classroom(demo: Examined) -> Classroom:
    found = demo.read.folder.classroom
    assert found is not None
    return found


@pytest.fixture(scope="module")
def sheets(demo: Examined) -> dict[str, RecipeSheet]:
    folder = demo.read.folder
    return {
        key: recipe_sheet(
            recipe,
            dish_amounts(recipe, demo.facts.uses[key], folder.pantry, (4,), None),
            folder.pantry,
            folder.words,
            (4,),
            None,
            TEXTS,
        )
        for key, recipe in folder.recipes.items()
    }


def _explained(sheet: RecipeSheet) -> list[str]:
    """What is explained somewhere on a page, in reading order."""
    found = [*sheet.explained_in_prose(sheet.lede), *sheet.explained_in_prose(sheet.headnote)]
    for step in sheet.steps:
        found += sheet.explained_in(step.text)
    for prose in sheet.sections.values():
        found += sheet.explained_in_prose(prose)
    return [word.anchor for word in found]


def test_every_word_on_a_page_is_explained_once(sheets: dict[str, RecipeSheet]) -> None:
    """Each where it stands, none twice, and what a dish teaches is on its page in any case."""
    for sheet in sheets.values():
        anchors = _explained(sheet)
        assert len(anchors) == len(set(anchors)), sheet.key
        assert set(anchors) == {word.anchor for word in sheet.explained}
        assert {word.anchor for word in sheet.words} == {word.anchor for word in sheet.unsaid} | (
            set(anchors) & {word.anchor for word in sheet.words}
        )


def test_a_step_explains_the_word_that_it_says(sheets: dict[str, RecipeSheet]) -> None:
    """The explanation stands with the step that has the word, taught by this dish or not."""
    seen = 0
    for sheet in sheets.values():
        for step in sheet.steps:
            said = plain(step.text).casefold()
            for word in sheet.explained_in(step.text):
                assert any(form.casefold() in said for form in (word.term, *word.forms))
                seen += word not in sheet.words
    assert seen
    tacos = sheets["black-bean-tacos"]
    shred = next(step for step in tacos.steps if plain(step.text).startswith("Shred"))
    assert [word.term for word in tacos.explained_in(shred.text)] == ["shred"]


def test_the_sign_stands_only_where_a_page_explains_it(sheets: dict[str, RecipeSheet]) -> None:
    """A page says that something is from memory exactly when something is."""
    assert sheets["red-lentil-soup"].is_told_from_memory("culture")
    assert not sheets["cabbage-pancakes"].is_told_from_memory("culture")
    assert sheets["cabbage-pancakes"].sources
    assert not sheets["red-lentil-soup"].is_told_from_memory("science")


def test_cards_hold_every_new_word_and_full_pages(demo: Examined, classroom: Classroom) -> None:
    """Six cards a page; what the words don't fill is for the children's own."""
    terms = []
    for session in classroom.sessions:
        cards = word_cards(demo.read.folder, classroom, session, TEXTS)
        assert cards is not None
        assert all(len(page) == PER_PAGE for page in cards.pages)
        words = [card.word for page in cards.pages for card in page if card.word]
        assert cards.is_from_memory == any(FROM_MEMORY in word.origin for word in words)
        terms += [word.term for word in words]
    assert sorted(terms) == sorted(
        {term.text for recipe in demo.read.folder.recipes.values() for term in recipe.words}
    )


def test_a_session_without_new_words_has_no_cards(demo: Examined, classroom: Classroom) -> None:
    """The same dish again teaches nothing new."""
    first = classroom.sessions[0]
    again = replace(first, number=2)
    twice = replace(classroom, sessions=(first, again))
    assert word_cards(demo.read.folder, twice, first, TEXTS) is not None
    assert word_cards(demo.read.folder, twice, again, TEXTS) is None


def test_the_site_says_what_is_new_and_what_comes_back(
    demo: Examined, classroom: Classroom
) -> None:
    """On the first day nothing comes back; afterwards something does each time."""
    site = site_of(demo.read.folder, classroom, demo.facts.uses, TEXTS)
    first, *later = site.season.sessions
    assert [word.term for word in first.words] == ["shred", "soak", "translucent", "whisk"]
    assert first.again == () and all(row.again for row in later)
    assert {word.anchor for word in site.words.words} == {
        view.anchor for view in word_views(demo.read.folder.words)
    }


def test_the_map_numbers_the_dishes_as_they_are_cooked(
    demo: Examined, classroom: Classroom
) -> None:
    """Each dish once, with its place in words beside it; one of no known place has no number."""
    folder = demo.read.folder
    found = season_map(folder, classroom, TEXTS)
    assert found is not None
    assert [row.number for row in found.rows] == [str(n) for n in range(1, 10)]
    assert found.rows[-1].sessions == "Session 8" and found.number_of("fruit-salad") == "9"
    assert all(f"{row.number} {row.place}" in found.words for row in found.rows)
    lost = replace(
        folder,
        recipes={
            **folder.recipes,
            "tomato-rice": replace(folder.recipes["tomato-rice"], at=None, countries=("ZZ",)),
        },
    )
    without = season_map(lost, classroom, TEXTS)
    assert without is not None and without.number_of("tomato-rice") == ""
    assert without.number_of("fruit-salad") == "8" and len(without.pins) == 8
    assert season_map(folder, replace(classroom, sessions=()), TEXTS) is None


def test_a_dish_from_nowhere_is_not_on_the_map(demo: Examined, classroom: Classroom) -> None:
    """Where nobody says where a dish is from, it has no row; with its country alone, that is its
    place; where nobody says it of any, there is no map."""
    folder = demo.read.folder

    def told(**changed: Any) -> dict[str, Recipe]:
        rice = replace(folder.recipes["tomato-rice"], origin="", at=None, **changed)
        return {**folder.recipes, "tomato-rice": rice}

    without = season_map(replace(folder, recipes=told(countries=())), classroom, TEXTS)
    assert without is not None and "tomato-rice" not in {row.key for row in without.rows}
    assert dish_map(told(countries=())["tomato-rice"], TEXTS) is None
    alone = season_map(replace(folder, recipes=told(countries=("PE",))), classroom, TEXTS)
    assert alone is not None
    assert [row.from_where for row in alone.rows if row.key == "tomato-rice"] == ["Peru"]
    unsaid = {
        key: replace(each, origin="", at=None, countries=()) for key, each in folder.recipes.items()
    }
    assert season_map(replace(folder, recipes=unsaid), classroom, TEXTS) is None
