"""Which ingredient the words of a step name, where one name is a part of another."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from spoonfold.plan.amounts.uses import Uses, uses_of
from spoonfold.problem import Problem
from spoonfold.read.files import Source
from spoonfold.read.pantry import read_pantry
from spoonfold.read.recipe import read_recipe

PANTRY = read_pantry(None, [])


def _uses(ingredients: tuple[str, ...], steps: tuple[str, ...]) -> Uses:
    listed = "".join(f"  - {each}\n" for each in ingredients)
    text = "".join(f"{n}. {each}\n    - time: 5 min\n" for n, each in enumerate(steps, 1))
    found: list[Problem] = []
    recipe = read_recipe(
        Source(
            "content/recipes/dish.md",
            "---\ntitle: Dish\nplace: Town, Peru\ncountry: PE\nserves: 4\n"
            f"ingredients:\n{listed}---\n\nA dish.\n\n## Steps\n\n{text}",
        ),
        "dish",
        found,
    )
    assert recipe is not None and not found, found
    return uses_of(recipe, PANTRY)


def _named(uses: Uses) -> list[tuple[int, str]]:
    return [(use.step, use.ingredient.name) for each in uses.by_step.values() for use in each]


BOTH = ("1 cup rice", "1 cup brown rice")


@pytest.mark.parametrize(
    ("steps", "named"),
    [
        (("Boil the brown rice.", "Boil the rice."), [(1, "brown rice"), (2, "rice")]),
        (("Boil the rice.", "Boil the brown rice."), [(1, "rice"), (2, "brown rice")]),
        (("Boil the rice and the brown rice.",), [(1, "rice"), (1, "brown rice")]),
        (("Rinse the brown rice, then the rice.",), [(1, "brown rice"), (1, "rice")]),
        (("Rinse the Brown\n   Rice and rice.",), [(1, "brown rice"), (1, "rice")]),
    ],
)
def test_the_longest_name_wins(steps: tuple[str, ...], named: list[tuple[int, str]]) -> None:
    """Brown rice is never taken for rice, nor rice for brown rice, in whatever order."""
    uses = _uses(BOTH, steps)
    assert _named(uses) == named
    assert uses.problems == ()


def test_a_listed_name_is_no_mention_of_the_longer_one() -> None:
    """Where only the shorter one is named, the longer one is used by no step."""
    uses = _uses(BOTH, ("Boil the rice.",))
    assert _named(uses) == [(1, "rice")]
    assert [(each.code, "brown rice" in each.message) for each in uses.problems] == [
        ("never-used", True)
    ]


def test_a_shared_last_word_is_no_name() -> None:
    """Of brown and wild rice, "rice" could mean either, and the cook is asked."""
    uses = _uses(("1 cup brown rice", "1 cup wild rice"), ("Boil the rice.",))
    assert _named(uses) == []
    assert [each.code for each in uses.problems] == ["two-could-be-meant"]


def test_a_name_does_not_cross_a_comma() -> None:
    """“brown, rice” is no brown rice: only a space, a hyphen or a new line joins a name."""
    uses = _uses(BOTH, ("Let it brown, rice and all.", "Boil the brown-rice."))
    assert _named(uses) == [(1, "rice"), (2, "brown rice")]


def test_what_follows_a_doubtful_word_is_still_found() -> None:
    """A word that could mean two hides none of the names behind it."""
    uses = _uses(
        ("1 cup brown rice", "1 cup wild rice", "1 carrot"), ("Boil the rice with the carrot.",)
    )
    assert _named(uses) == [(1, "carrot")]
    assert [each.code for each in uses.problems] == ["two-could-be-meant"]


@pytest.mark.parametrize(
    ("title", "share"),
    [("1/4", F(1, 4)), ("1 cup", F(1, 2)), ("8 tbsp", F(1, 4)), ("3/2 cups", F(3, 4))],
)
def test_a_link_takes_its_share(title: str, share: F) -> None:
    """A share as it stands; an amount as its part of the 2 cups that are listed, in any unit."""
    first, rest = (f'[rice](#rice "{each}")' for each in (title, "rest"))
    uses = _uses(("2 cups rice",), (f"Boil {first}.", f"Add {rest}."))
    assert uses.problems == ()
    assert [use.share for use in uses.by_key["rice"]] == [share, 1 - share]


def _taken(uses: Uses, key: str) -> list[tuple[int, F | None]]:
    return [(use.step, use.share) for use in uses.by_key.get(key, ())]


@pytest.mark.parametrize(
    ("steps", "shares"),
    [
        (
            ("Boil the rice in half the milk.", "Add the other half of the milk."),
            [(1, F(1, 2)), (2, F(1, 2))],
        ),
        (
            ("Boil the rice in two thirds of the milk.", "Add the remaining milk."),
            [(1, F(2, 3)), (2, F(1, 3))],
        ),
        (
            ("Boil the rice in a quarter of the milk.", "Stir.", "Add the rest of the cold milk."),
            [(1, F(1, 4)), (3, F(3, 4))],
        ),
        # The rest of what was just named.
        (("Pour half the milk on the rice, stir, then add the rest.",), [(1, F(1))]),
        # Named again without a share, it is what is in the pot already.
        (
            ("Boil the rice in half the milk. Stir the milk.", "Add the rest of the milk."),
            [(1, F(1, 2)), (2, F(1, 2))],
        ),
        (("Put the milk in the pot, stir the milk, and boil the rice in the milk.",), [(1, F(1))]),
        (("Put [milk](#milk) in the pot and stir the [milk](#milk) into the rice.",), [(1, F(1))]),
    ],
)
def test_shares_in_words(steps: tuple[str, ...], shares: list[tuple[int, F]]) -> None:
    """Half the milk is half of it, where the words say where the rest goes."""
    uses = _uses(("1 cup rice", "2 cups milk"), steps)
    assert (_taken(uses, "milk"), uses.problems) == (shares, ())


@pytest.mark.parametrize(
    ("steps", "step"),
    [
        (("Rinse the rice under cold water.", "Boil it in the water."), 2),
        (("Boil the rice in salted water and drain it.", "Stir in the water."), 2),
        (("Cook the rice in a large pot of boiling water.", "Stir in the water."), 2),
        (("Rinse the rice in water.", "Boil it in water."), 2),
        # The only water that is named is the listed one.
        (("Boil the rice in salted water.",), 1),
    ],
)
def test_water_to_rinse_in_is_not_the_dishes_own(steps: tuple[str, ...], step: int) -> None:
    """What is poured away isn't what the list measures."""
    uses = _uses(("1 cup rice", "2 cups water"), steps)
    assert (_taken(uses, "water"), uses.problems) == ([(step, F(1))], ())


@pytest.mark.parametrize(
    ("step", "said"),
    [
        ("Boil the rice in 2 tbsp of the melted butter.", "2 tbsp"),
        ("Boil the rice in two tbsp of the cold butter.", "2 tbsp"),
        ("Boil the rice. Melt a cup of butter.", "1 cup"),
        ("Melt the butter. Boil the rice. Add half a cup of the butter.", "1/2 cup"),
        ("Boil the rice in 2 tbsp of the melted [butter](#butter).", "2 tbsp"),
        (
            'Boil the rice in 2 tbsp of the [butter](#butter "1/2"), '
            'then in [the rest](#butter "rest").',
            "2 tbsp",
        ),
    ],
)
def test_an_amount_that_nobody_multiplies_is_refused(step: str, said: str) -> None:
    """Also behind a word between, in words, where it is named again, and in front of a link."""
    uses = _uses(("1 cup rice", "1 cup butter"), (step,))
    assert [(each.code, each.level.value) for each in uses.problems] == [
        ("amount-in-words", "error")
    ]
    assert f'"{said}")' in uses.problems[0].hint


@pytest.mark.parametrize(
    "step",
    [
        'Boil the rice in [2 tbsp of the melted butter](#butter "2 tbsp"), '
        'then add [the rest](#butter "rest").',
        "Boil the rice with a little of the time in the butter.",
        "Boil the rice in the butter for 5 minutes, one at a time.",
        "Cut the butter into 2 inch pieces and boil the rice.",
    ],
)
def test_what_is_no_amount_of_it_is_left_alone(step: str) -> None:
    uses = _uses(("1 cup rice", "1 cup butter"), (step,))
    assert [each for each in uses.problems if each.code == "amount-in-words"] == []
