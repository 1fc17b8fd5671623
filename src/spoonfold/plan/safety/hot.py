"""What calls for a caution at the heat (handles, fat, steam, pots, cords), and the adult there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.words import (
    BIG_POTS,
    CORDED,
    GRIDDLES,
    OVENS,
    STOVES,
    VESSELS,
    boils_water,
    drains,
    moves_pot,
    on_heat,
    on_stove,
    steams,
    still_steams,
    tips_pot,
    waits_hot,
)
from spoonfold.quantity.unit import unit_named

_FATS = frozenset({"butter", "salted butter", "ghee", "lard", "margarine", "vegetable shortening"})
_TURNERS = frozenset({"spatula", "tongs"})
_MUCH = Fraction(1, 4)  # cups
BLADES = frozenset({"knife", "paring knife", "chef's knife", "cleaver"})
YOUNG_WITH_BLADES = 8
"""Below it an adult sits beside each blade; common practice."""


@dataclass(frozen=True, slots=True)
class CautionDue:
    """A caution that a step must name."""

    step: int
    caution: str
    because: str
    """What calls for it, after “because of”."""


def items_in(flow: Flow, step: Step) -> list[Item]:
    """What the pantry knows of the ingredients that a step uses."""
    found = (flow.item_of(use.ingredient) for use in flow.uses.by_step.get(step.number, ()))
    return [item for item in found if item is not None]


def _just_before(flow: Flow, step: Step) -> list[Step]:
    return [flow.steps[n] for n in flow.order.direct[step.number]]


def hot_things(flow: Flow, step: Step) -> Iterator[CautionDue]:
    """Handles, fat, griddle, oven, steam, boiling water, food that waits warm."""
    number, tools, items = step.number, step.tools, items_in(flow, step)
    before = _just_before(flow, step)
    in_class = step.when is None
    carried = [each for each in before if on_stove(each) and each.tools & tools & VESSELS]
    hot_before = [each for each in before if on_stove(each) or each.tools & OVENS]
    if in_class and (carried or (on_stove(step) and tools & VESSELS)):
        yield CautionDue(number, "hot handle", "the pot or pan from the heat")
    fat = any("oil" in item.tags or item.name in _FATS for item in items)
    if fat and (on_stove(step) or tools & GRIDDLES):
        yield CautionDue(number, "hot oil", "the fat in the hot pan")
    if tools & GRIDDLES or (tools & _TURNERS and any(each.tools & GRIDDLES for each in before)):
        yield CautionDue(number, "hot griddle", "the griddle")
    if tools & OVENS:
        yield CautionDue(number, "hot oven", "the oven")
    elif in_class and any(each.tools & OVENS for each in before):
        yield CautionDue(number, "hot pan", "the pan from the oven")
    poured = on_stove(step) and any(
        "liquid" in item.tags
        and "oil" not in item.tags
        and item.section != "spices"
        and _is_much(flow, step, item)
        for item in items
    )
    if poured or (on_stove(step) and steams(step)) or (hot_before and still_steams(step)):
        yield CautionDue(number, "steam", "the hot liquid")
    if on_stove(step) and (_water_alone(flow, step) or boils_water(step) or drains(step)):
        yield CautionDue(number, "boiling water", "the water on the stove")
    if waits_hot(step) and any(_controlled(item) for item in _mixture(flow, step)):
        yield CautionDue(number, "keep hot", "food that waits while it is warm")


def _water_alone(flow: Flow, step: Step) -> bool:
    """Whether nothing but water is in the pot."""
    if not items_in(flow, step):
        return False
    return all(item.name == "water" for item in _mixture(flow, step))


def _is_much(flow: Flow, step: Step, item: Item) -> bool:
    """A splash of soy sauce doesn't steam; a quarter of a cup and more does."""
    amounts = (
        use.ingredient.amount
        for use in flow.uses.by_step.get(step.number, ())
        if flow.item_of(use.ingredient) is item
    )
    cup = unit_named("cup")
    return cup is not None and any(
        amount.unit.dimension is cup.dimension and amount.to(cup).low >= _MUCH
        for amount in amounts
        if amount is not None
    )


def _mixture(flow: Flow, step: Step) -> list[Item]:
    numbers = (step.number, *flow.order.before[step.number])
    return [item for n in numbers for item in items_in(flow, flow.steps[n])]


def _controlled(item: Item) -> bool:
    return bool(item.tags & {"cooked tcs", "perishable"})


def big_pots(flow: Flow) -> Iterator[CautionDue]:
    """Where it first comes to the heat, and wherever it is moved."""
    first = next(
        (step for step in flow.recipe.steps if on_stove(step) and step.tools & BIG_POTS), None
    )
    for step in flow.recipe.steps:
        own = step.tools & BIG_POTS
        from_pot = any(
            on_stove(each) and each.tools & BIG_POTS for each in _just_before(flow, step)
        )
        moved = (own and (on_stove(step) or from_pot) and moves_pot(step)) or (
            from_pot and tips_pot(step)
        )
        if step is first or moved:
            yield CautionDue(step.number, "heavy pot", "the big pot")


def cords(flow: Flow, setting: Setting) -> Iterator[CautionDue]:
    """Once a dish for each thing on a cord; a burner has one where class.yaml has its watts."""
    corded = CORDED | GRIDDLES | (STOVES & setting.watts.keys())
    told: set[str] = set()
    for step in flow.recipe.steps:
        if step.when is not None:
            continue
        tools = step.tools & corded
        if on_stove(step):
            tools -= GRIDDLES  # It stands on the burner.
        new = tools - told
        told |= tools
        if new:
            yield CautionDue(step.number, "cord", f"the cord of the {min(new)}")


def adult_due(step: Step, youngest: int) -> str:
    """How close an adult must be, as a whole note; empty where none is asked for.

    Within arm's reach at anything hot, at every age that a class teaches; with blades below
    the age of eight too (common practice).
    """
    if step.when is not None:
        return ""  # Done beforehand, by an adult.
    if step.tools & GRIDDLES:
        return "stays at the griddle"
    if step.tools & OVENS:
        return "opens the oven"
    if on_heat(step):
        return "stays at the burner"
    if youngest < YOUNG_WITH_BLADES and step.tools & (BLADES | {"peeler", "grater"}):
        return "sits beside the cutting board"
    return ""
