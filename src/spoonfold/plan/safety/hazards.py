"""Which cautions a step calls for: by its equipment, what goes in, and its words.

What calls for a caution at the heat (handles, fat, steam, pots, cords), and the adult there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.cautions import RAW_CAUTIONS
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.avoid import Match
from spoonfold.plan.safety.flow import Flow, Hazard
from spoonfold.plan.safety.limits import (
    UNDER_AGE_FOR_CHOKING_FOODS,
    UNDER_AGE_FOR_ROUND_FOODS,
    fahrenheit,
)
from spoonfold.plan.safety.needs import answers_of
from spoonfold.plan.safety.words import (
    boils_water,
    cuts,
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

_MUCH = Fraction(1, 4)  # cups
YOUNG_WITH_BLADES = 8
"""Below it an adult sits beside each blade; common practice."""


OF_A_NEED = "allergen swap"
"""The one caution that follows from what a child of the class avoids."""


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
    number, items = step.number, items_in(flow, step)
    before = _just_before(flow, step)
    in_class = step.when is None
    pots = step.named(Kind.POT)
    carried = [each for each in before if on_stove(each) and each.named(Kind.POT) & pots]
    hot_before = [each for each in before if on_stove(each) or each.has(Kind.OVEN)]
    if in_class and (carried or (on_stove(step) and pots)):
        yield CautionDue(number, "hot handle", "the pot or pan from the heat")
    fat = any(item.tags & {"oil", "solid fat"} for item in items)
    if fat and (on_stove(step) or step.has(Kind.GRIDDLE)):
        yield CautionDue(number, "hot oil", "the fat in the hot pan")
    turned = step.has(Kind.TURNER) and any(each.has(Kind.GRIDDLE) for each in before)
    if step.has(Kind.GRIDDLE) or turned:
        yield CautionDue(number, "hot griddle", f"the {_called(Kind.GRIDDLE, step, *before)}")
    if step.has(Kind.OVEN):
        yield CautionDue(number, "hot oven", f"the {_called(Kind.OVEN, step)}")
    elif in_class and any(each.has(Kind.OVEN) for each in before):
        yield CautionDue(number, "hot pan", "the pan from the oven")
    wet = on_stove(step) or (step.has(Kind.HEAT_SOURCE) and not step.has(Kind.OVEN, Kind.GRIDDLE))
    poured = wet and any(
        "liquid" in item.tags and "oil" not in item.tags and _is_much(flow, step, item)
        for item in items
    )
    if poured or (wet and steams(step)) or (hot_before and still_steams(step)):
        yield CautionDue(number, "steam", "the hot liquid")
    if on_stove(step) and (_water_alone(flow, step) or boils_water(step) or drains(step)):
        yield CautionDue(number, "boiling water", "the water on the stove")
    if waits_hot(step) and any(_controlled(item) for item in _mixture(flow, step)):
        yield CautionDue(number, "keep hot", "food that waits while it is warm")


def _called(kind: Kind, *steps: Step) -> str:
    """What the first thing of a kind is, among the equipment of steps."""
    tools = (need.tool for step in steps for need in step.needs)
    return next(each.name for each in tools if each is not None and kind in each.kinds)


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
        (step for step in flow.recipe.steps if on_stove(step) and step.has(Kind.BIG_POT)), None
    )
    for step in flow.recipe.steps:
        own = step.has(Kind.BIG_POT)
        from_pot = any(
            on_stove(each) and each.has(Kind.BIG_POT) for each in _just_before(flow, step)
        )
        moved = (own and (on_stove(step) or from_pot) and moves_pot(step)) or (
            from_pot and tips_pot(step)
        )
        if step is first or moved:
            yield CautionDue(step.number, "heavy pot", "the big pot")


def cords(flow: Flow, setting: Setting) -> Iterator[CautionDue]:
    """Once a dish for each thing on a cord; a burner has one where class.yaml has its watts."""
    told: set[str] = set()
    for step in flow.recipe.steps:
        if step.when is not None:
            continue
        corded = {name.casefold() for name in step.named(Kind.CORD)}
        corded |= {name.casefold() for name in step.named(Kind.HOT) if name in setting.watts}
        if step.has(Kind.STOVE):
            # It stands on the burner.
            corded -= {name.casefold() for name in step.named(Kind.GRIDDLE)}
        new = corded - told
        told |= corded
        if new:
            yield CautionDue(step.number, "cord", f"the cord of the {min(new)}")


def adult_due(step: Step, youngest: int) -> str:
    """How close an adult must be, as a whole note; empty where none is asked for.

    Within arm's reach at anything hot, at every age that a class teaches; with blades below
    the age of eight too (common practice).
    """
    if step.when is not None:
        return ""  # Done beforehand, by an adult.
    if step.has(Kind.GRIDDLE):
        return "stays at the griddle"
    if step.has(Kind.OVEN):
        return "opens the oven"
    if step.has(Kind.HOT):
        return "stays at the burner"
    if youngest < YOUNG_WITH_BLADES and step.has(Kind.BLADE, Kind.MOVING_BLADE):
        return "sits beside the cutting board"
    return ""


_FINE = (
    "grated",
    "shredded",
    "mashed",
    "pureed",
    "ground",
    "minced",
    "chopped fine",
    "finely chopped",
)
# Below it pork and steaks need their three minutes: the chart's single step above 145 °F.
_NO_REST_FROM = fahrenheit(160)


def cautions_due(flow: Flow, settings: Sequence[Setting]) -> Iterator[CautionDue]:
    """Every caution, for all the sessions that cook the dish; the same one once a step."""
    told: set[tuple[int, str]] = set()
    for due in _all(flow, settings):
        if (due.step, due.caution) not in told:
            told.add((due.step, due.caution))
            yield due


def _all(flow: Flow, settings: Sequence[Setting]) -> Iterator[CautionDue]:
    for step in flow.recipe.steps:
        yield from (
            CautionDue(step.number, caution, f"the {need.tool.name}")
            for need in step.needs
            if need.tool is not None
            for caution in need.tool.cautions
        )
        yield from hot_things(flow, step)
        yield from _ingredients(flow, step)
    yield from big_pots(flow)
    yield from _raw(flow)
    yield from _cooled(flow)
    yield from _cut(flow)
    for setting in settings:
        yield from cords(flow, setting)
        yield from _choking(flow, setting)
        yield from _swapped(flow, setting)


def _raw(flow: Flow) -> Iterator[CautionDue]:
    for journey in flow.raw:
        name = journey.hazard.name
        for number in journey.handled:
            yield CautionDue(number, RAW_CAUTIONS[journey.hazard.kind], name)
        if journey.cooked is not None and journey.hazard.kind in ("whole meat", "pork"):
            heat = flow.steps[journey.cooked].heat
            if heat is not None and heat.fahrenheit < _NO_REST_FROM.fahrenheit:
                yield CautionDue(journey.cooked, "rest", f"the three minutes' rest of {name}")
    for journey in flow.leftovers:
        if journey.cooked is not None and flow.steps[journey.cooked].when != "day before":
            yield CautionDue(journey.cooked, "reheat", f"{journey.hazard.name} of the day before")


def _cooled(flow: Flow) -> Iterator[CautionDue]:
    """What is cooked the day before is cooled in two stages."""
    for ingredient, last in flow.cooked_before:
        item = flow.item_of(ingredient)
        grain = item is not None and "cools like rice" in item.tags
        yield CautionDue(
            last,
            "rice cooling" if grain else "cool quickly",
            f"{ingredient.name} cooked the day before",
        )


def _cut(flow: Flow) -> Iterator[CautionDue]:
    """Melon, tomato and leaves that are cut and eaten as they are; fruit cut beforehand."""
    for step in flow.recipe.steps:
        if not (step.has(Kind.BLADE, Kind.KNIFE) or cuts(step)):
            continue
        for use in flow.uses.by_step.get(step.number, ()):
            item = flow.item_of(use.ingredient)
            early = step.when is not None and item is not None and "cut cold" in item.tags
            if item is None or not ("cut tcs" in item.tags or early):
                continue
            hazard = Hazard(
                item.name, "cut", use.ingredient, step.number, None, use.ingredient.place
            )
            hot = any(on_heat(flow.steps[n]) for n in flow.journey(hazard).touched)
            # A step that nobody says to wait for another may have nothing to do with its heat.
            if not hot or (not flow.is_ordered and use.ingredient.key not in flow.heated):
                yield CautionDue(step.number, "cut fruit cold", f"cut {use.ingredient.name}")


def _ingredients(flow: Flow, step: Step) -> Iterator[CautionDue]:
    for item in items_in(flow, step):
        if "burns skin" in item.tags:
            yield CautionDue(step.number, "chili hands", item.name)
        if "honey" in item.tags:
            yield CautionDue(step.number, "honey and babies", item.name)


def _choking(flow: Flow, setting: Setting) -> Iterator[CautionDue]:
    youngest = setting.ages[0]
    if youngest >= UNDER_AGE_FOR_ROUND_FOODS:
        return
    for step in flow.recipe.steps:
        for use in flow.uses.by_step.get(step.number, ()):
            item = flow.item_of(use.ingredient)
            if item is None or "choking" not in item.tags:
                continue
            if youngest >= UNDER_AGE_FOR_CHOKING_FOODS and "round bite" not in item.tags:
                continue
            if any(word in (use.ingredient.preparation or "") for word in _FINE):
                continue
            yield CautionDue(step.number, "choking shape", f"{use.ingredient.name} and the ages")


def _swapped(flow: Flow, setting: Setting) -> Iterator[CautionDue]:
    """Where one table cooks with something else."""
    for answer in answers_of(flow.recipe, setting.needs, flow.pantry):
        if answer.swap is not None and answer.match is Match.CERTAIN and not answer.need.is_taste:
            for use in flow.uses.of(answer.ingredient):
                yield CautionDue(use.step, OF_A_NEED, f"the swap for {use.ingredient.name}")
