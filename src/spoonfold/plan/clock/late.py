"""What to do when the class runs late, each way timed by solving the session again with it.

First what can be left out, then what has an easier way, and only then what an adult takes over
from the children. What must reach a temperature, rest, cool or be washed always stays.

Steps that a class can do without, or can do in an easier way, when it runs late.

What is left out must be missed by nothing: no heat, wait, wash, adult's job or caution but for
the blade that goes with it, no food but what is optional or a garnish, and nothing in it that
other food goes through. Where that isn't plain, the step stays."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Text, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.plan.amounts.mentions import Names, mentions_in
from spoonfold.plan.clock.clock import SURE_PASSES, ClassClock, clock_of
from spoonfold.plan.clock.step_order import Order
from spoonfold.plan.clock.steps import tasks_of
from spoonfold.plan.clock.tasks import equipment_of
from spoonfold.plan.clock.times import ClassWork, Dish
from spoonfold.plan.clock.vessels import Placement, place
from spoonfold.plan.safety.words import says_wash, speaks_of_it, speaks_of_mix

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
    recipe, order = dish.recipe, Order(dish.recipe.steps, at_work=True)
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
        if step.easier and step.when is None and step.heat is None and not step.has(Kind.HOT)
    )


def _is_harmless(step: Step) -> bool:
    """Nothing about it keeps anyone safe, or makes the food safe."""
    known = [CAUTIONS.get(term.text.casefold()) for term in step.watch]
    return not (
        step.when is not None
        or step.heat is not None
        or step.wait
        or step.wash
        or step.has(Kind.HOT)
        or any(each is None or each.icon != "knife" for each in known)
        or any(not _SHOWING.search(term.text) for term in step.adult)
    )


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
    vessels = step.named(Kind.VESSEL)
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


LATE = 10
"""Minutes behind for which relief is marked (common practice)."""

MOST_RELIEF = 4
"""Steps that are marked in each way at most: an adult has two hands, and a list is read in a
hurry."""

StepKey = tuple[str, int]


class Way(Enum):
    """How a step is made shorter, in the order in which to try."""

    LEAVE_OUT = "leave out"
    EASIER = "easier"
    ADULT = "adult"


@dataclass(frozen=True, slots=True)
class Relief:
    """A step that is shortened when the class runs late."""

    dish: str
    step: int
    minutes: int
    """Saved beyond what the steps before it in the list save."""
    way: Way = Way.ADULT


@dataclass(frozen=True, slots=True)
class _Option:
    """A step in one way, and the session with it."""

    step: StepKey
    work: ClassWork


def relief_of(work: ClassWork, clock: ClassClock) -> tuple[Relief, ...]:
    """The gentlest ways first; in each the step that saves most first, until enough is saved."""
    chosen: list[Relief] = []
    ways: tuple[tuple[Way, Callable[[ClassWork, ClassClock], Iterator[_Option]]], ...] = (
        (Way.LEAVE_OUT, _left_out),
        (Way.EASIER, _eased),
        (Way.ADULT, _taken_over),
    )
    # A schedule that could itself be shorter would make every change look good.
    end = min(clock.makespan, _sure_end(work))
    for way, options in ways:
        for _ in range(MOST_RELIEF):
            if sum(each.minutes for each in chosen) >= LATE:
                return tuple(chosen)
            best: tuple[Relief, ClassWork, ClassClock] | None = None
            for option in options(work, clock):
                shorter = clock_of(option.work)
                if isinstance(shorter, ClassClock):
                    relief = Relief(*option.step, (end - shorter.makespan) // 60, way)
                    if relief.minutes >= 1 and (best is None or relief.minutes > best[0].minutes):
                        best = relief, option.work, shorter
            if best is None:
                break
            relief, work, clock = best
            end = min(clock.makespan, _sure_end(work))
            chosen.append(relief)
    return tuple(chosen)


def _sure_end(work: ClassWork) -> int:
    """When the session is over, in seconds, by a search that leaves little to gain."""
    tasks = tasks_of(work)
    placement = place(tasks, SURE_PASSES)
    return placement.schedule.makespan if isinstance(placement, Placement) else 0


def _left_out(work: ClassWork, clock: ClassClock) -> Iterator[_Option]:
    for dish in work.dishes:
        for key in _keys(dish.recipe.key, steps_to_leave_out(dish, work.pantry), work.dropped):
            yield _Option(key, replace(work, dropped=work.dropped | {key}))


def _eased(work: ClassWork, clock: ClassClock) -> Iterator[_Option]:
    for dish in work.dishes:
        done = work.dropped | work.eased
        for key in _keys(dish.recipe.key, steps_made_easier(dish.recipe), done):
            yield _Option(key, replace(work, eased=work.eased | {key}))


def _keys(dish: str, numbers: Collection[int], done: Collection[StepKey]) -> Iterator[StepKey]:
    return ((dish, number) for number in numbers if (dish, number) not in done)


def _taken_over(work: ClassWork, clock: ClassClock) -> Iterator[_Option]:
    """Steps that children do and that can't begin later without the session ending later.

    What must reach a temperature stays as it is, and so does what no other step waits for:
    putting it together and eating it. Nobody washes hands in another's place, and what has its
    easier way already stays with the children.
    """
    slack = min((each.latest - each.start for each in clock.placed), default=0)
    awaited = {id for each in clock.placed for id in each.task.activity.after}
    pressing = sorted(
        {
            (each.task.dish, each.task.step.number)
            for each in clock.placed
            if each.latest - each.start <= slack + 60
            and each.task.hands
            and each.task.step.heat is None
            and each.task.activity.id in awaited
            and not says_wash(each.task.step)
        }
    )
    for key in pressing:
        if key not in work.eased:
            yield _Option(key, replace(work, helped=work.helped | {key}))
