"""A swap replaces something that is there, by something else, and serves its reason."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.known import NO_NEEDS, did_you_mean, is_avoidable, label_word
from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.knowledge.names import fold
from spoonfold.model.recipe import Recipe, Swap
from spoonfold.plan.safety.avoid import Match, finding_of
from spoonfold.plan.safety.needs import replaced
from spoonfold.plan.shop.corner import PRICE, SHOP
from spoonfold.problem import Problem
from spoonfold.read.pantry import ALLERGENS, TAGS


def _swaps(facts: Facts) -> Iterator[tuple[Recipe, Swap]]:
    for recipe in facts.folder.recipes.values():
        for swap in recipe.swaps:
            yield recipe, swap


def swap_of_nothing(facts: Facts) -> Iterator[Problem]:
    """`instead of` names what isn't listed."""
    for recipe, swap in _swaps(facts):
        if not replaced(recipe, swap):
            listed = [each.name for each in recipe.ingredients]
            yield error(
                "swap-of-nothing",
                swap.instead_of.place,
                f"“{swap.instead_of.text}” isn't in the list of ingredients, so there is nothing "
                "to swap.",
                did_you_mean(
                    swap.instead_of.text,
                    listed,
                    "Name the ingredient as it is listed: " + ", ".join(listed) + ".",
                ),
            )


def swap_of_no_step(facts: Facts) -> Iterator[Problem]:
    """Words under a swap for a step that isn't there."""
    for recipe, swap in _swaps(facts):
        numbers = {step.number for step in recipe.steps}
        for each in swap.steps:
            if each.number not in numbers:
                yield error(
                    "swap-of-no-step",
                    each.place,
                    f"There is no step {each.number}: the recipe has {len(numbers)}, so nobody "
                    "would read these words.",
                    "Write them beside the number of the step that they are for.",
                )


def swap_for_itself(facts: Facts) -> Iterator[Problem]:
    """The replacement is the same food."""
    pantry = facts.folder.pantry
    for recipe, swap in _swaps(facts):
        item = pantry.find(swap.use.name)
        for each in replaced(recipe, swap):
            same = fold(each.name) == fold(swap.use.name)
            if same or (item is not None and item == pantry.find(each.name)):
                known = "" if same else f" Both are {item.name if item else ''} in the pantry."
                yield error(
                    "swap-for-itself",
                    swap.use.place,
                    f"{swap.use.name.capitalize()} replaces {each.name} here, which is the same "
                    f"food.{known}",
                    "Name another food, or remove the swap.",
                )
                break


def swap_reason(facts: Facts) -> Iterator[Problem]:
    """`because` is no reason that anything else knows."""
    for _, swap in _swaps(facts):
        reason = swap.because.text
        meant = label_word(reason)
        if reason in NO_NEEDS or (meant is None and is_avoidable(facts, reason)):
            continue
        if swap.because.place.path in facts.troubled:
            continue
        yield warning(
            "swap-reason",
            swap.because.place,
            f"“{reason}” isn't an allergen, a kind of food, the price or the shop, so no table "
            "would ever get this swap.",
            f"because: {meant}"
            if meant
            else did_you_mean(
                reason,
                (*NO_NEEDS, *ALLERGENS, *TAGS),
                f"Write an allergen, a kind of food such as meat, {PRICE}, or {SHOP} for when the "
                "shop has none.",
            ),
        )


def swap_not_free(facts: Facts) -> Iterator[Problem]:
    """The replacement is or contains the very thing that it is meant to avoid."""
    pantry = facts.folder.pantry
    for _, swap in _swaps(facts):
        item = pantry.find(swap.use.name)
        reason = swap.because.text
        if item is not None and finding_of(item, reason, pantry) is Match.CERTAIN:
            yield error(
                "swap-not-free",
                swap.use.place,
                f"This swap is for those who avoid {reason}, and {item.name} is or contains "
                f"{reason}.",
                f"Name a food without {reason}.",
            )


RULES = (
    Rule("swap-of-nothing", swap_of_nothing, of_one=True),
    Rule("swap-of-no-step", swap_of_no_step, of_one=True),
    Rule("swap-for-itself", swap_for_itself, of_one=True),
    Rule("swap-reason", swap_reason, of_one=True),
    Rule("swap-not-free", swap_not_free, of_one=True),
)
