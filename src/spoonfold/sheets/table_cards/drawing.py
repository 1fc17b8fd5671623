"""What the work of a step looks like: a board, a bowl or a pan with the pieces that come of it.

Worked out from the step: where its food lies follows from the tools that it needs, the pieces
from how each food is cut. What isn't seen in a dish (water, oil, salt) isn't drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.equipment import Kind
from spoonfold.knowledge.names import fold
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.amounts.weights import weights_of
from spoonfold.plan.safety.dish import Dish
from spoonfold.plan.safety.tools import Board
from spoonfold.sheets.booklet.plate import Food, colour_of, cut_of, is_seen

_MOST = 5
"""Foods in one drawing: more are told apart by nobody."""
_LEAST = 0.12
"""The share of the drawing that the least of them has."""


@dataclass(frozen=True, slots=True)
class JobView:
    """One drawing."""

    vessel: str
    """`board`, `raw board`, `bowl`, `pan`, `pot`, `tray` or `plate`."""
    foods: tuple[Food, ...]
    words: str
    """The same for who doesn't see it."""


def job_view(step: Step, dish: Dish, board: Board | None, pantry: Pantry, texts: Texts) -> (
    JobView | None
):  # fmt: skip
    """The drawing of a step; None where nothing that is seen has a part in it."""
    grams = _grams(dish.recipe, dish.uses, pantry)
    found = [each for each in _foods_at(step, dish) if each.key in grams]
    found.sort(key=lambda each: -grams[each.key])
    found = found[:_MOST]
    if not found:
        return None
    whole = sum(grams[each.key] for each in found) or Fraction(1)
    shares = [max(_LEAST, float(grams[each.key] / whole)) for each in found]
    foods: dict[tuple[str, str], float] = {}
    for each, share in zip(found, shares, strict=True):
        item = pantry.find(each.name)
        assert item is not None
        kind = (colour_of(item), cut_of(each, item))
        foods[kind] = foods.get(kind, 0.0) + share / sum(shares)
    vessel = _vessel(step, board)
    return JobView(
        vessel,
        tuple(Food(colour, cut, share) for (colour, cut), share in foods.items()),
        _words(vessel, ", ".join(each.said for each in found), texts),
    )


def _grams(recipe: Recipe, uses: Uses, pantry: Pantry) -> Mapping[str, Fraction]:
    """Of every food that is seen; one without a known weight as little as can be."""
    return {
        each.ingredient.key: each.grams or Fraction(1)
        for each in weights_of(recipe, uses, pantry)
        if each.item is not None and is_seen(each.item)
    }


def _foods_at(step: Step, dish: Dish) -> Iterator[Ingredient]:
    """What goes in at the step, and what its words name of what is there already."""
    taken = {use.ingredient.key for use in dish.uses.by_step.get(step.number, ())}
    words = frozenset(map(_singular, step.word_set))
    for each in dish.recipe.ingredients:
        if each.key in taken or _singular(fold(each.name).split()[-1]) in words:
            yield each


def _singular(word: str) -> str:
    for ending, instead in (("ies", "y"), ("oes", "o"), ("ves", "f"), ("s", "")):
        if word.endswith(ending) and len(word) > len(ending) + 2:
            return word[: -len(ending)] + instead
    return word


def _vessel(step: Step, board: Board | None) -> str:
    on_board = "raw board" if board is Board.RAW else "board"
    tools = step.named(*Kind)
    if step.has(Kind.BLADE, Kind.MOVING_BLADE):
        return on_board
    if "baking pan" in tools or step.has(Kind.OVEN):
        return "tray"
    if step.has(Kind.PAN, Kind.GRIDDLE):
        return "pan"
    if step.has(Kind.POT, Kind.BIG_POT, Kind.HEATED_POT):
        return "pot"
    if step.has(Kind.BOWL):
        return "bowl"
    return on_board if step.has(Kind.BOARD) else "plate"


def _words(vessel: str, foods: str, texts: Texts) -> str:
    match vessel:
        case "raw board":
            return texts.say("On the board for raw food: {foods}", foods=foods)
        case "board":
            return texts.say("On the board: {foods}", foods=foods)
        case "tray":
            return texts.say("In the oven pan: {foods}", foods=foods)
        case "pan":
            return texts.say("In the pan: {foods}", foods=foods)
        case "pot":
            return texts.say("In the pot: {foods}", foods=foods)
        case "bowl":
            return texts.say("In the bowl: {foods}", foods=foods)
        case _:
            return texts.say("On the plate: {foods}", foods=foods)
