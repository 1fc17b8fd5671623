"""What to do when the class runs late, each way timed by solving the session again with it.

First what can be left out, then what has an easier way, and only then what an adult takes over
from the children. What must reach a temperature, rest, cool or be washed always stays.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from spoonfold.plan.clock.clock import SURE_PASSES, ClassClock, clock_of
from spoonfold.plan.clock.drops import steps_made_easier, steps_to_leave_out
from spoonfold.plan.clock.steps import tasks_of
from spoonfold.plan.clock.times import ClassWork
from spoonfold.plan.clock.vessels import Placement, place
from spoonfold.plan.safety.words import says_wash

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
