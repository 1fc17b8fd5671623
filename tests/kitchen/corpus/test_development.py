"""How the rules do on the recipes of `development/`: never worse than they did."""

from __future__ import annotations

from functools import cache

import judge
import pytest
from judge import DEVELOPMENT, FORMS, SIGHT, Judged, recipes_in

from spoonfold.problem import Level, Place, Problem

MISSED = {"plain": 2, "noted": 2}
"""The most dangers that may pass unseen, of 143."""
REFUSED = {"plain": 2, "noted": 5}
"""The most right recipes that may be refused, of 143."""


@cache
def judged() -> tuple[Judged, ...]:
    return tuple(each for recipe in recipes_in(DEVELOPMENT) for each in judge.judge(recipe))


def _failed(form: str, right: bool) -> list[str]:
    return [
        each.recipe.name
        for each in judged()
        if each.form == form and (each.recipe.wrong is None) is right and each.failed
    ]


@pytest.mark.parametrize("form", FORMS)
def test_no_more_dangers_pass_than_did(form: str) -> None:
    """A number that has come down stays down: lower it here with the rule that brought it there."""
    assert len(_failed(form, right=False)) <= MISSED[form]


@pytest.mark.parametrize("form", FORMS)
def test_no_more_right_recipes_are_refused_than_were(form: str) -> None:
    """As above."""
    assert len(_failed(form, right=True)) <= REFUSED[form]


def test_both_sides_are_held() -> None:
    """Half are wrong and half are right, and the judge knows by what each danger would be seen."""
    recipes = list(recipes_in(DEVELOPMENT))
    wrong = [each for each in recipes if each.wrong is not None]
    assert len(recipes) >= 150
    assert 2 * len(wrong) == len(recipes)
    assert {each.kind for each in wrong} <= SIGHT.kinds.keys()


def test_an_unrelated_complaint_is_no_sight_of_a_danger() -> None:
    """A step without its minutes, or a tool that isn't known, says nothing of what could hurt."""
    named = {each.recipe.name: each for each in judged() if each.form == "plain"}
    unseen = named["turkey-on-the-worktop"]
    harmless = (Problem("no-time", Level.WARNING, Place("content/recipes/rice.md", 1), ""),)
    assert Judged(unseen.recipe, "plain", harmless).verdict == "passed"
