"""What could stand in for a food, by what it does in the dish: a proposal, never a judgement."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from spoonfold.knowledge.functions import StandIn, stand_ins
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.safety.avoid import Match, findings_of, worst
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE, Unit, unit_named

_LEAVENING = frozenset({"baking powder", "baking soda", "active dry yeast", "instant yeast"})
_EGG = (
    ("a glaze", r"\b(?:brush|glaze)"),
    ("a dip for crumbs", r"\b(?:dip|crumbs|breadcrumbs|coat)"),
    ("a foam", r"\b(?:stiff|peaks|foam|meringue)"),
)
_BOUND = re.compile(r"\b(?:shape|form|patt(?:y|ies)|balls?|cakes?|ovals|loaf)\b")
_FLOUR = (
    ("thickening", r"\b(?:thicken|sauce|gravy|roux|stew|soup)"),
    ("batter", r"\b(?:batter|pancakes?|crepes?|fritters?)"),
    ("cake", r"\b(?:cake|muffins?|bake)"),
)


@dataclass(frozen=True, slots=True)
class Proposal:
    """A stand-in at the amount that the recipe takes of the food."""

    row: StandIn
    amount: Amount

    @property
    def told(self) -> str:
        """What it stands for here and does to the dish, and where that is from."""
        row = self.row
        food = f"{row.foods[0].capitalize()}{f' as {row.function}' if row.function else ''}"
        more = f"; not for {row.not_for}" if row.not_for else ""
        effect = f": {row.effect}" if row.effect else ""
        return f"{food} can be {row.name}{effect}{more} ({row.source or 'from memory'})."


def proposal_for(
    recipe: Recipe, uses: Uses, ingredient: Ingredient, avoided: Iterable[str], pantry: Pantry
) -> Proposal | None:
    """The first published stand-in, or else the first from memory, that has nothing of what is
    avoided; None where the food is the dish itself, or no row fits."""
    item = pantry.find(ingredient.name)
    if item is None or ingredient.amount is None:
        return None
    function = function_of(recipe, uses, ingredient, item.name)
    words = tuple(avoided)
    rows = [row for row in stand_ins() if item.name in row.foods and function == row.function]
    if function is None:
        return None
    found = []
    for row in rows:
        findings = findings_of(pantry.find(row.name), words, pantry)
        amount = _scaled(ingredient.amount, row)
        if amount is not None and worst(findings) not in (Match.CERTAIN, Match.UNKNOWN):
            found.append((not row.source, len(findings), Proposal(row, amount)))
    return min(found, key=lambda each: each[:2])[2] if found else None


def function_of(recipe: Recipe, uses: Uses, ingredient: Ingredient, name: str) -> str | None:
    """What a food does, by the words of the steps that take it and by what else goes in. Empty: it
    does one thing in every dish; None: it is the dish, or nobody can tell."""
    numbers = {use.step for use in uses.of(ingredient)}
    words = " ".join(step.words for step in recipe.steps if step.number in numbers)
    everything = " ".join(step.words for step in recipe.steps)
    listed = {each.name for each in recipe.ingredients}
    flour = any("flour" in each.split() for each in listed)
    if name == "egg":
        for function, pattern in _EGG:
            if re.search(pattern, words):
                return function
        if flour and not listed & _LEAVENING and not _BOUND.search(everything):
            return "leavening"
        return "a binder" if flour or _BOUND.search(everything) else None
    if name in ("butter", "salted butter"):
        return "fat in baking" if flour else None
    if name == "all-purpose flour":
        said = f"{recipe.title.casefold()} {everything}"
        return next((function for function, each in _FLOUR if re.search(each, said)), None)
    return ""


def _scaled(listed: Amount, row: StandIn) -> Amount | None:
    """So much of the stand-in; None where the two amounts don't compare."""
    (size, unit), (use, use_unit) = row.of, row.use
    wanted = _unit(unit)
    if listed.unit != wanted and (listed.unit.dimension is not wanted.dimension or wanted == PIECE):
        return None
    factor = (listed if listed.unit == wanted else listed.to(wanted)).low / size
    return Amount(use * factor, _unit(use_unit))


def _unit(name: str) -> Unit:
    if not name:
        return PIECE
    found = unit_named(name)
    assert found is not None, name
    return found
