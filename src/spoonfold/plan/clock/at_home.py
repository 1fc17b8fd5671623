"""How long a dish takes at home, one step after the other: with hands, and waiting.

What is begun the day before is told apart: eight hours of soaking are no part of an evening, and
an evening's hour isn't all that the dish takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.clock.times import loads_of

DAY_BEFORE = "day before"
LONG_WAIT = Fraction(6 * 60)
"""Minutes: what waits so long is begun the day before."""


@dataclass(frozen=True, slots=True)
class HomeTime:
    """Minutes."""

    hands: Fraction
    """Of the day itself, with hands."""
    waiting: Fraction
    """Of the day itself, without."""
    before: Fraction
    """All of what is done the day before."""
    starts_before: bool
    """Whether anything has to be begun the day before, said or by its length."""

    @property
    def whole(self) -> Fraction:
        """From the first step to the last."""
        return self.hands + self.waiting + self.before


def home_time(recipe: Recipe, portions: Fraction) -> HomeTime:
    """For so many portions: what a pan holds at once goes through it in loads."""
    hands = waiting = before = Fraction(0)
    for step in recipe.steps:
        for is_wait, minutes in stretches_of(recipe, step, portions):
            if step.when == DAY_BEFORE:
                before += minutes
            elif is_wait:
                waiting += minutes
            else:
                hands += minutes
    starts_before = any(
        step.when == DAY_BEFORE or (step.wait or 0) >= LONG_WAIT for step in recipe.steps
    )
    return HomeTime(hands, waiting, before, starts_before)


def stretches_of(recipe: Recipe, step: Step, portions: Fraction) -> Iterator[tuple[bool, Fraction]]:
    """The work of a step and its wait, each with whether it is a wait; all loads together."""
    loads = loads_of(recipe, step, portions) or 1
    if step.time:
        yield False, step.time * loads
    if step.wait:
        yield True, step.wait * loads
