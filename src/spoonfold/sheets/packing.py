"""The packing list as it is ticked: what, how many, counted out and counted back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Measuring, Setting
from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock.step_order import StepKey
from spoonfold.plan.people.packing import BOXES, HELPERS, HOME, SITE, packing_of
from spoonfold.quantity.show import show_number

SPOONS_EACH = 2
"""Clean spoons for a taste: one takes from the pot, the other goes to the mouth (common
practice)."""

OVEN_GLOVES = 2
"""Pairs: for the adult at the oven, and dry ones when those are wet (common practice)."""


@dataclass(frozen=True, slots=True)
class PackRow:
    """One thing and how many of it; a count of 0: enough of it, not counted."""

    name: str
    count: int


@dataclass(frozen=True, slots=True)
class PackList:
    """What comes from one place."""

    title: str
    rows: tuple[PackRow, ...]
    is_counted: bool
    """False: it stays where it is, and is only looked for."""


@dataclass(frozen=True, slots=True)
class PackingView:
    """The packing list of a session."""

    sharp: tuple[PackRow, ...]
    """Counted first, and the last to be put away."""
    lists: tuple[PackList, ...]
    towels: str
    tasting: str


def packing_view(
    recipes: Sequence[Recipe],
    setting: Setting,
    apart: Mapping[StepKey, int],
    has_food_from_home: bool,
    texts: Texts,
) -> PackingView:
    """The list for a session that cooks these dishes, some portions of them `apart`."""
    packing = packing_of(recipes, setting, apart)
    sharp = [each for things in packing.by_keeper.values() for each in things if each.is_sharp]
    boards = sum(
        each.count for things in packing.by_keeper.values() for each in things if each.is_board
    )
    own = {
        keeper: tuple(PackRow(each.name, each.count) for each in things if not each.is_sharp)
        for keeper, things in packing.by_keeper.items()
    }
    boxes = (
        *own.get(BOXES, ()),
        *_measures(setting.measuring, texts),
        *_towels(packing.towels, texts),
    )
    everyone = sum(setting.tables) + setting.helpers + 1
    supplies = _supplies(everyone, has_food_from_home, _is_oven_used(recipes), texts)
    if not packing.is_parted:
        lists = [PackList(texts.say("To pack"), (*boxes, *supplies), True)]
    else:
        lists = [
            PackList(texts.say("From home"), (*own.get(HOME, ()), *supplies), True),
            PackList(texts.say("From the class's boxes"), boxes, True),
            PackList(texts.say("Helpers bring"), own.get(HELPERS, ()), True),
            PackList(texts.say("Look for it on site"), own.get(SITE, ()), False),
        ]
    return PackingView(
        sharp=tuple(PackRow(each.name, each.count) for each in sharp),
        lists=tuple(each for each in lists if each.rows),
        towels=""
        if not boards
        else texts.count(
            "Under the board lies a damp towel.",
            "Under each of the {number} boards lies a damp towel: a board that slides cuts.",
            boards,
        ),
        tasting=texts.say(
            "For tasting: {number} clean spoons, two for each of us. One takes from the pot, the "
            "other goes to the mouth. Trying is invited, never forced.",
            number=SPOONS_EACH * everyone,
        ),
    )


def _measures(measuring: Measuring, texts: Texts) -> tuple[PackRow, ...]:
    """The cups and spoons of class.yaml: one set is on one ring."""

    def sizes(numbers: Sequence[object]) -> str:
        return ", ".join(map(str, numbers))

    tablespoons = [
        texts.say("{size} tbsp", size=show_number(each)) for each in measuring.tablespoons
    ]
    teaspoons = [texts.say("{size} tsp", size=show_number(each)) for each in measuring.teaspoons]
    rows = [
        PackRow(
            texts.say(
                "set of cups ({sizes})", sizes=sizes([show_number(each) for each in measuring.cups])
            ),
            measuring.sets,
        ),
        PackRow(
            texts.say("set of spoons ({sizes})", sizes=sizes([*tablespoons, *teaspoons])),
            measuring.sets,
        ),
    ]
    if measuring.jug is not None:
        rows.append(PackRow(texts.say("{cups}-cup jug", cups=show_number(measuring.jug)), 1))
    return tuple(rows)


def _towels(count: int, texts: Texts) -> tuple[PackRow, ...]:
    return (PackRow(texts.say("towel to lay under a board"), count),) if count else ()


def _is_oven_used(recipes: Sequence[Recipe]) -> bool:
    """In class: what was baked the day before is carried cold."""
    return any(
        step.when != "day before" and step.has(Kind.OVEN)
        for recipe in recipes
        for step in recipe.steps
    )


def _supplies(
    people: int, has_food_from_home: bool, is_oven_used: bool, texts: Texts
) -> tuple[PackRow, ...]:
    """What every session needs and no recipe names (common practice)."""
    rows = [
        PackRow(texts.say("what was bought, cold things in the cooler with ice"), 0),
        PackRow(texts.say("tasting spoon"), SPOONS_EACH * people),
        PackRow(texts.say("plate or bowl, fork, cup"), people),
        PackRow(texts.say("hair tie"), 0),
        PackRow(texts.say("soap, paper towels, cloths, bin bags"), 0),
        PackRow(texts.say("first-aid kit"), 1),
        PackRow(texts.say("the sheets of this session"), 0),
    ]
    if is_oven_used:
        rows.insert(5, PackRow(texts.say("dry oven gloves, pairs"), OVEN_GLOVES))
    if has_food_from_home:
        rows.insert(0, PackRow(texts.say("what was cooked the day before, cold"), 0))
    return tuple(rows)
