"""A table that cooks with something else reads of that food in every step, in its language."""

from __future__ import annotations

from dataclasses import replace

import pytest

from demo_class import demo_examined
from spoonfold.check import Examined
from spoonfold.language.texts import load_texts
from spoonfold.language.translated import folder_in, uses_in
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Emphasis, Inline, Text, plain
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.people.jobs import jobs_of
from spoonfold.plan.safety.dish import Dish, dishes_at
from spoonfold.press.layouts import shipped_layouts
from spoonfold.problem import Place
from spoonfold.sheets.table_cards import TableCard, table_cards_of
from spoonfold.sheets.table_cards.steps import CardStep

HERE = Place("x.md", 1)


@pytest.fixture(scope="module")
def demo() -> Examined:
    return demo_examined()


def _cards(demo: Examined, dish: str, language: str) -> dict[str, TableCard]:
    """The cards of a dish in the first session that cooks it, by where they lie."""
    folder = folder_in(demo.read.folder, language)
    classroom = folder.classroom
    assert classroom is not None
    session = next(
        each for each in classroom.sessions if any(one.text == dish for one in each.dishes)
    )
    cards = table_cards_of(
        folder,
        classroom,
        uses_in(demo.facts.uses, folder.recipes),
        session,
        jobs_of(classroom, folder.recipes),
        load_texts(language, shipped_layouts()),
    )
    return {card.where.split()[-1]: card for card in cards.cards if card.dish == dish}


def _at_table_two(folder: ClassFolder, recipe: Recipe, uses: Uses) -> Dish:
    """What the second table cooks of it in the first session that cooks the dish."""
    assert folder.classroom is not None
    session = next(
        each
        for each in folder.classroom.sessions
        if any(one.text == recipe.key for one in each.dishes)
    )
    return dishes_at(recipe, uses, folder.pantry, session.setting, "en")[1]


def _words(card: TableCard) -> str:
    return " ".join(plain(each.view.text) for each in card.entries if isinstance(each, CardStep))


def _bold(children: tuple[Inline, ...]) -> list[str]:
    return [
        plain(child.children) for child in children if isinstance(child, Emphasis) and child.strong
    ]


@pytest.mark.parametrize(
    ("dish", "language", "table", "said", "gone"),
    [
        ("turkey-kofta", "en", "2", "coconut yogurt", "plain yogurt"),
        ("turkey-kofta", "es", "2", "yogur de coco", "yogur natural"),
        ("turkey-kofta", "en", "3", "white beans", "ground turkey"),
        ("turkey-kofta", "es", "3", "frijoles blancos", "pavo molido"),
    ],
)
def test_steps_name_what_the_table_takes(
    demo: Examined, dish: str, language: str, table: str, said: str, gone: str
) -> None:
    """The replacement in bold, the replaced food nowhere; at other tables the words are the
    recipe's own."""
    cards = _cards(demo, dish, language)
    bold = [
        name
        for entry in cards[table].entries
        if isinstance(entry, CardStep)
        for name in _bold(entry.view.text)
    ]
    assert any(said in name for name in bold), bold
    assert gone not in _words(cards[table])
    assert gone in _words(cards["1"]) and said not in _words(cards["1"])


def test_no_card_tells_whose_sake_it_is(demo: Examined) -> None:
    """Words name a food; never a child, never an allergen as a reason."""
    folder = demo.read.folder
    for table in ("2", "3"):
        card = _cards(demo, "turkey-kofta", "en")[table]
        assert not any(name in _words(card) for name in folder.children)
        assert "avoid" not in _words(card)


@pytest.mark.parametrize(
    ("language", "written", "said"),
    [
        ("es", "Mezcla el yogur natural con sal.", "Mezcla yogur de coco con sal."),
        ("es", "Toma la mitad del yogur.", "Toma la mitad de yogur de coco."),
        ("es", "Añade sal al yogur natural.", "Añade sal a yogur de coco."),
        ("es", "El yogur natural se sirve frío.", "Yogur de coco se sirve frío."),
        ("en", "Stir in the plain yogurt.", "Stir in the coconut yogurt."),
        (
            "en",
            "Yogurt comes last, then more yogurt.",
            "Coconut yogurt comes last, then more coconut yogurt.",
        ),
        ("en", "Grate the cucumber.", "Grate the cucumber."),
        ("en", "Wash the yogurty bowl.", "Wash the yogurty bowl."),
    ],
)
def test_articles_and_word_ends(demo: Examined, language: str, written: str, said: str) -> None:
    """What stands before a name fits what stands there now; parts of words stay."""
    folder = folder_in(demo.read.folder, language)
    recipe = folder.recipes["turkey-kofta"]
    uses = uses_in(demo.facts.uses, folder.recipes)[recipe.key]
    step = replace(recipe.steps[0], text=(Text(written, HERE),), wording=None)
    dish = _at_table_two(folder, replace(recipe, steps=(step, *recipe.steps[1:])), uses)
    assert plain(dish.recipe.steps[0].text) == said


def test_a_step_that_names_it_otherwise_says_so_at_its_end(demo: Examined) -> None:
    """Where no words can be replaced, the card says what to use all the same."""
    folder = demo.read.folder
    recipe = folder.recipes["turkey-kofta"]
    sauce = next(each for each in recipe.steps if "plain yogurt" in plain(each.text))
    steps = tuple(
        replace(each, text=(Text("Stir it in.", HERE),)) if each is sauce else each
        for each in recipe.steps
    )
    recipes = {**folder.recipes, recipe.key: replace(recipe, steps=steps)}
    assert folder.classroom is not None
    session = folder.classroom.sessions[5]
    cards = table_cards_of(
        replace(folder, recipes=recipes),
        folder.classroom,
        demo.facts.uses,
        session,
        jobs_of(folder.classroom, recipes),
        load_texts("en", shipped_layouts()),
    )
    card = next(each for each in cards.cards if each.where == "Table 2")
    step = next(
        each
        for each in card.entries
        if isinstance(each, CardStep) and each.view.number == sauce.number
    )
    assert plain(step.view.text) == "Stir it in. Use coconut yogurt."
    assert _bold(step.view.text) == ["Use coconut yogurt."]
