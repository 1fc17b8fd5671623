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
