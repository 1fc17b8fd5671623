"""Steps that a class can do without, or can do in an easier way, when it runs late.

What is left out must be missed by nothing: no heat, wait, wash, adult's job or caution but for
the blade that goes with it, no food but what is optional or a garnish, and nothing in it that
other food goes through. Where that isn't plain, the step stays.
"""

from __future__ import annotations

import re

from spoonfold.model.caution import CAUTIONS
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.mentions import Names, mentions_in
from spoonfold.plan.clock.step_order import Order
from spoonfold.plan.clock.tasks import equipment_of, is_cooker, is_vessel
from spoonfold.plan.clock.times import Dish
from spoonfold.plan.safety.words import on_heat, speaks_of_it, speaks_of_mix

TASTING = "taste"
"""The skill of a step that only tastes."""

_GARNISH = re.compile(
    r"\b(garnish|serv(e|ing)|sprinkl(e|ing)|topping|decorat(e|ing))\b", re.IGNORECASE
)
_ALL_OF_IT = re.compile(
    r"\b(all|both|everything|filling|rest|mix|mixture|batter|dough|sauce)\b", re.IGNORECASE
)
_SHOWING = re.compile(r"\b(show(s|ing)?|demonstrat(e|es|ing|ion))\b", re.IGNORECASE)


def steps_to_leave_out(dish: Dish, pantry: Pantry) -> tuple[int, ...]:
    """Numbers of the steps that nothing misses: of optional food, a demonstration, one tasting
    of several."""
    recipe, order = dish.recipe, Order(dish.recipe.steps)
    return tuple(
        step.number
        for step in recipe.steps[:-1]
        if _is_harmless(step)
        and (
            _is_of_spare_food(dish, step, order, pantry)
            or (
                not dish.uses.by_step.get(step.number)
                and (_is_shown(step) or _is_tasted_again(recipe, step))
            )
        )
    )


def steps_made_easier(recipe: Recipe) -> tuple[int, ...]:
    """Numbers of the steps with an `easier` way. At the heat, time is cooking: that stays."""
    return tuple(
        step.number
        for step in recipe.steps
        if step.easier
        and step.when is None
        and step.heat is None
        and not on_heat(step)
        and not _at_cooker(step)
    )


def _is_harmless(step: Step) -> bool:
    """Nothing about it keeps anyone safe, or makes the food safe."""
    known = [CAUTIONS.get(term.text.casefold()) for term in step.watch]
    return not (
        step.when is not None
        or step.heat is not None
        or step.wait
        or step.wash
        or on_heat(step)
        or _at_cooker(step)
        or any(each is None or each.icon != "knife" for each in known)
        or any(not _SHOWING.search(term.text) for term in step.adult)
    )


def _at_cooker(step: Step) -> bool:
    return any(is_cooker(name) for name in equipment_of(step))


def _is_of_spare_food(dish: Dish, step: Step, order: Order, pantry: Pantry) -> bool:
    recipe = dish.recipe
    uses = dish.uses.by_step.get(step.number, ())
    if not uses or not all(_is_spare(use.ingredient) for use in uses):
        return False
    names = Names(recipe.ingredients, pantry)
    named = {
        index
        for mention in mentions_in([Text(plain(step.text), step.place)], step.number, names)
        for index in mention.meant
    }
    if not all(_is_spare(recipe.ingredients[index]) for index in named):
        return False
    # Other food goes through it: in its vessel, or as "it" or "everything".
    steps = {each.number: each for each in recipe.steps}
    vessels = {name for name in equipment_of(step) if is_vessel(name)}
    if any(vessels & equipment_of(steps[n]).keys() for n in order.before[step.number]):
        return False
    return not order.direct[step.number] or not (
        speaks_of_it(step) or speaks_of_mix(step) or _ALL_OF_IT.search(plain(step.text))
    )


def _is_spare(ingredient: Ingredient) -> bool:
    return ingredient.optional or (
        ingredient.as_needed is not None and bool(_GARNISH.search(ingredient.as_needed))
    )


def _is_shown(step: Step) -> bool:
    """A demonstration: no child works, nothing is used, an adult at most shows."""
    return (
        not step.needs
        and not step.hands
        and (
            any(_SHOWING.search(term.text) for term in step.adult)
            or bool(_SHOWING.search(plain(step.text)))
        )
    )


def _is_tasted_again(recipe: Recipe, step: Step) -> bool:
    """It only tastes, and a later step tastes too."""
    return {term.text.casefold() for term in step.skills} == {TASTING} and any(
        term.text.casefold() == TASTING
        for other in recipe.steps
        if other.number > step.number
        for term in other.skills
    )
