"""A class folder in another language: other words, and nothing else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from demo_class import demo_examined
from spoonfold.check import Examined, examine
from spoonfold.language.texts import load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Inline, Link, leaves, plain, plain_prose
from spoonfold.model.recipe import Recipe
from spoonfold.model.translation import Foreign
from spoonfold.press.layouts import shipped_layouts
from spoonfold.sheets.shared.labels import labels_of
from spoonfold.sheets.shared.recipe import home_sheet

TONGUES = Path(__file__).with_name("class")


@pytest.fixture(scope="module")
def demo() -> Examined:
    return demo_examined()


@pytest.fixture(scope="module")
def tongues() -> Examined:
    return examine(TONGUES)


def _links(text: tuple[Inline, ...]) -> Iterator[tuple[str, str]]:
    for leaf in leaves(text):
        if isinstance(leaf, Link) and leaf.address.startswith("#"):
            yield leaf.address, str(leaf.place)


def _bare(recipe: Recipe) -> Recipe:
    """A recipe without all that a reader sees as words."""
    return replace(
        recipe,
        title="",
        origin="",
        portion=None,
        headnote=(),
        sections={},
        language="",
        is_draft=False,
        ingredients=tuple(replace(each, wording=None, part=None) for each in recipe.ingredients),
        swaps=tuple(
            replace(
                each,
                shown="",
                use=replace(each.use, wording=None),
                steps=tuple(replace(step, wording=None) for step in each.steps),
            )
            for each in recipe.swaps
        ),
        steps=tuple(
            replace(
                each,
                wording=None,
                group=None,
                watch=(),
                adult=(),
                easier=None,
                home=None,
                done=None,
                card=None,
            )
            for each in recipe.steps
        ),
    )


@pytest.mark.parametrize("language", ["es", "ar", "vi"])
def test_only_words_change(demo: Examined, tongues: Examined, language: str) -> None:
    """Amounts, keys, preparations that weights go by, times, heat and names that the pantry and
    the rules go by are the original's, in every recipe."""
    for examined in (demo, tongues):
        folder = examined.read.folder
        other = folder_in(folder, language)
        assert list(other.recipes) == list(folder.recipes)
        for key, recipe in folder.recipes.items():
            assert _bare(other.recipes[key]) == _bare(recipe)
            for own, step in zip(recipe.steps, other.recipes[key].steps, strict=True):
                assert len(step.watch) == len(own.watch) and len(step.adult) == len(own.adult)


def test_uses_are_the_same(demo: Examined) -> None:
    """Every step takes the same share of the same food, under its other name."""
    folder = folder_in(demo.read.folder, "es")
    uses = uses_in(demo.facts.uses, folder.recipes)
    for key, found in demo.facts.uses.items():
        for number, row in found.by_step.items():
            other = uses[key].by_step[number]
            assert [(use.ingredient.key, use.share, use.piece) for use in other] == [
                (use.ingredient.key, use.share, use.piece) for use in row
            ]
            assert all(use.ingredient.wording for use in other)


def test_the_first_language_is_itself(demo: Examined) -> None:
    """In the language that the recipes are written in nothing is made anew."""
    assert folder_in(demo.read.folder, "en") is demo.read.folder


def test_links_keep_their_amounts(demo: Examined) -> None:
    """A link of a translation stands for the amount of the original's link."""
    folder = demo.read.folder
    for key, recipe in folder_in(folder, "es").recipes.items():
        for own, step in zip(folder.recipes[key].steps, recipe.steps, strict=True):
            assert set(_links(step.said)) <= set(_links(own.text))


def test_amounts_in_words_follow_the_size(demo: Examined) -> None:
    """“5 cups of the water” is said anew at each size in the other language too."""
    texts = load_texts("es", shipped_layouts())
    folder = folder_in(demo.read.folder, "es")
    uses = uses_in(demo.facts.uses, folder.recipes)["red-lentil-soup"]
    said = [
        plain(
            home_sheet(
                folder.recipes["red-lentil-soup"], uses, folder.pantry, folder.words, people, texts
            )
            .steps[0]
            .text
        )
        for people in (2, 4)
    ]
    assert "2½ tazas de agua" in said[0] and "5 tazas de agua" in said[1]


def test_allergens_are_the_original_s(demo: Examined) -> None:
    """Whatever a food is called, its allergens are the same; on a draft each stands beside its
    own English word."""
    texts = load_texts("es", shipped_layouts())
    english = load_texts("en", shipped_layouts())
    folder = demo.read.folder
    for key, recipe in folder_in(folder, "es").recipes.items():
        own = labels_of(folder.recipes[key], folder.pantry, english)
        other = labels_of(recipe, folder.pantry, texts)
        read = labels_of(replace(recipe, is_draft=False), folder.pantry, texts)
        assert len(other.contains) == len(own.contains)
        assert len(other.check) == len(own.check) and other.unknown == own.unknown
        if recipe.is_draft:
            for label, english_label in zip(other.contains, own.contains, strict=True):
                assert label.allergen.endswith(f"({english_label.allergen})") or (
                    label.allergen == english_label.allergen
                )
        assert all("(milk)" not in label.allergen for label in read.contains)


def test_a_recipe_without_translation_is_marked(tongues: Examined) -> None:
    """Its prose is in its own language and says so; the pantry's names are in the reader's."""
    recipe = folder_in(tongues.read.folder, "es").recipes["carrot-rice"]
    assert (recipe.language, recipe.title) == ("en", "Rice with carrot and yogurt")
    names = {each.name: each.said for each in recipe.ingredients}
    assert (names["olive oil"], names["water"]) == ("aceite de oliva", "agua")
    # “Rice” alone may be another rice than the pantry's chief name for it.
    assert names["rice"] == "rice" and isinstance(names["rice"], Foreign)
    assert isinstance(recipe.ingredients[0].said_preparation, Foreign)
    assert isinstance(recipe.steps[2].easier, Foreign)


def test_who_read_it_decides_the_draft(tongues: Examined) -> None:
    """A translation is a draft until somebody is named who has read it."""
    folder = tongues.read.folder
    assert folder_in(folder, "ar").recipes["carrot-rice"].is_draft
    assert not folder_in(folder, "vi").recipes["carrot-rice"].is_draft


def test_parts_and_swaps_are_translated(tongues: Examined) -> None:
    """Headings in the list, swaps and what they replace go by their place in the list."""
    recipe = folder_in(tongues.read.folder, "ar").recipes["carrot-rice"]
    assert [each.part for each in recipe.ingredients][-2:] == ["للتقديم", "للتقديم"]
    (swap,) = recipe.swaps
    assert (swap.use.said, swap.said_instead_of) == ("زبادي جوز الهند", "لبن زبادي")
    assert (swap.use.name, swap.instead_of.text) == ("coconut yogurt", "plain yogurt")


def test_words_and_skills_are_translated(demo: Examined) -> None:
    """Every word and skill of the demo class is there in Spanish, under its own key."""
    folder: ClassFolder = folder_in(demo.read.folder, "es")
    for key, word in folder.words.items():
        assert word.term != key and not isinstance(word.term, Foreign)
        assert not isinstance(word.meaning, Foreign)
    assert list(folder.words) == list(demo.read.folder.words)
    assert not any(isinstance(each.how, Foreign) for each in folder.skills.values())


def test_the_demo_is_whole_in_spanish(demo: Examined) -> None:
    """No part of any Spanish recipe has stayed in English."""
    for recipe in folder_in(demo.read.folder, "es").recipes.values():
        assert recipe.language == "es"
        said = [
            each
            for ingredient in recipe.ingredients
            for each in (ingredient.said, ingredient.said_preparation, ingredient.part)
        ]
        said += [term.text for step in recipe.steps for term in (*step.watch, *step.adult)]
        said += [each for step in recipe.steps for each in (step.easier, step.home, step.done)]
        assert not any(isinstance(each, Foreign) for each in said), recipe.key
        assert plain_prose(recipe.headnote)
