"""Which cautions a step calls for: by its equipment, what goes in, and its words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Step
from spoonfold.plan.safety.avoid import Match
from spoonfold.plan.safety.flow import Flow, Hazard
from spoonfold.plan.safety.hot import BLADES, CautionDue, big_pots, cords, hot_things, items_in
from spoonfold.plan.safety.limits import (
    UNDER_AGE_FOR_CHOKING_FOODS,
    UNDER_AGE_FOR_ROUND_FOODS,
    fahrenheit,
)
from spoonfold.plan.safety.needs import answers_of
from spoonfold.plan.safety.words import cuts, on_heat

_TOOLS: Mapping[str, tuple[str, frozenset[str]]] = {
    "sharp edge": ("the knife", BLADES),
    "peeler edge": ("the peeler", frozenset({"peeler"})),
    "grater edge": (
        "the grater",
        frozenset({"grater", "box grater", "zester", "mandoline", "microplane"}),
    ),
    "can lid edge": ("the can opener", frozenset({"can opener"})),
    "scissor points": ("the scissors", frozenset({"scissors", "kitchen scissors"})),
    "blender blade": ("the blade", frozenset({"blender", "food processor"})),
}
_RAW_CAUTIONS: Mapping[str, str] = {
    "poultry": "raw poultry",
    "ground poultry": "raw poultry",
    "ground meat": "raw meat",
    "whole meat": "raw meat",
    "pork": "raw meat",
    "fish": "raw fish",
    "shellfish": "raw shellfish",
    "egg": "raw egg",
    "flour": "raw flour",
    "sprouts": "raw sprouts",
}
_GRAINS = frozenset({"grain", "whole grain"})
_ROUND = frozenset(
    {
        "grape",
        "cherry",
        "cherry tomato",
        "lychee",
        "chicken sausage",
        "peanut",
        "hazelnut",
        "almond",
        "macadamia nut",
        "popcorn kernel",
        "marshmallow",
    }
)
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
_CUT_BY = frozenset({"knife", "grater", "scissors"})
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
            CautionDue(step.number, name, why)
            for name, (why, tools) in _TOOLS.items()
            if step.tools & tools
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
            yield CautionDue(number, _RAW_CAUTIONS[journey.hazard.kind], name)
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
        grain = item is not None and item.group in _GRAINS
        yield CautionDue(
            last,
            "rice cooling" if grain else "cool quickly",
            f"{ingredient.name} cooked the day before",
        )


def _cut(flow: Flow) -> Iterator[CautionDue]:
    """Melon, tomato and leaves that are cut and eaten as they are; fruit cut beforehand."""
    for step in flow.recipe.steps:
        if not (step.tools & _CUT_BY or cuts(step)):
            continue
        for use in flow.uses.by_step.get(step.number, ()):
            item = flow.item_of(use.ingredient)
            early = step.when is not None and item is not None and item.section == "fruit"
            if item is None or not ("cut tcs" in item.tags or early):
                continue
            hazard = Hazard(
                item.name, "cut", use.ingredient, step.number, None, use.ingredient.place
            )
            if not any(on_heat(flow.steps[n]) for n in flow.journey(hazard).touched):
                yield CautionDue(step.number, "cut fruit cold", f"cut {use.ingredient.name}")


def _ingredients(flow: Flow, step: Step) -> Iterator[CautionDue]:
    for item in items_in(flow, step):
        if "hot spice" in item.tags and item.section in ("spices", "vegetables"):
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
            if youngest >= UNDER_AGE_FOR_CHOKING_FOODS and item.name not in _ROUND:
                continue
            if any(word in (use.ingredient.preparation or "") for word in _FINE):
                continue
            yield CautionDue(step.number, "choking shape", f"{use.ingredient.name} and the ages")


def _swapped(flow: Flow, setting: Setting) -> Iterator[CautionDue]:
    """Where one table cooks with something else."""
    for answer in answers_of(flow.recipe, setting.needs, flow.pantry):
        if answer.swap is not None and answer.match is Match.CERTAIN:
            for use in flow.uses.of(answer.ingredient):
                yield CautionDue(use.step, "allergen swap", f"the swap for {use.ingredient.name}")
