"""What would make a session shorter, found by solving it again.

One more of what work waits for; one pot for the class where every table has its own; and, when
it runs late, which steps an adult takes over from the children.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from spoonfold.plan.clock import ClassClock, clock_of
from spoonfold.plan.clock_steps import tasks_of
from spoonfold.plan.clock_tasks import LEAD, ROVING, Tasks, equipment_of, tool
from spoonfold.plan.clock_times import ClassWork, Dish
from spoonfold.plan.clock_vessels import Placement, place
from spoonfold.plan.schedule import USUAL_PASSES, Unschedulable

SURE_PASSES = 60
"""Spent on the session as it is before a change is said to save time: a schedule that could
itself be shorter would make every change look good."""

WORTH_SAYING = 2
"""Minutes; less than that is lost in a class."""

LATE = 10
"""Minutes behind for which relief is marked (common practice)."""

MOST_RELIEF = 4
"""Steps that are marked at most: an adult has two hands."""

HELPER = "helper"


@dataclass(frozen=True, slots=True)
class Saving:
    """A change that would shorten the session."""

    name: str
    """Equipment, or `helper`."""
    minutes: int
    dish: str | None = None
    """Where one pot for the class replaces each table's own; None: one more of it."""
    steps: tuple[int, ...] = ()
    """The steps that are then done once for everyone."""


@dataclass(frozen=True, slots=True)
class Relief:
    """A step that an adult does, at an adult's pace, when the class runs late."""

    dish: str
    step: int
    minutes: int
    """Saved beyond what the steps before it in the list save."""


@dataclass(frozen=True, slots=True)
class Advice:
    """What would help, the most first."""

    savings: tuple[Saving, ...]
    relief: tuple[Relief, ...]
    """In the order in which to take the steps over; empty where it saves nothing."""


def advice_of(work: ClassWork, clock: ClassClock) -> Advice:
    """What would make the session of this clock shorter; whole minutes, rounded down."""
    return Advice(savings_of(work, clock), _relief(work, clock))


def savings_of(work: ClassWork, clock: ClassClock) -> tuple[Saving, ...]:
    """The changes alone, the one that saves most first."""
    sure = place(clock.tasks, SURE_PASSES)
    base = clock.makespan
    if isinstance(sure, Placement):
        base = min(base, sure.schedule.makespan)
    found = []
    for saving, tasks in (*_one_more(work, clock.tasks), *_one_pot(work)):
        placement = place(tasks, USUAL_PASSES)
        if isinstance(placement, Placement):
            minutes = (base - placement.schedule.makespan) // 60
            if minutes >= WORTH_SAYING:
                found.append(replace(saving, minutes=minutes))
    return tuple(sorted(found, key=lambda each: (-each.minutes, each.dish or "", each.name)))


def _one_more(work: ClassWork, tasks: Tasks) -> Iterator[tuple[Saving, Tasks]]:
    """The session with one more of everything that isn't enough for all at once."""
    wanted = Counter[str]()
    for task in tasks.tasks:
        for resource, amount in {
                hold.resource: hold.amount for hold in task.activity.holds}.items():
            wanted[resource] += amount
    for each in tasks.kept:
        wanted[tool(each.name)] += each.count
    for name, count in work.setting.equipment.items():
        if wanted[tool(name)] > count:
            more = replace(work.setting, equipment={**work.setting.equipment, name: count + 1})
            yield Saving(name, 0), tasks_of(replace(work, setting=more))
    # A further helper is a pair of hands here, not a further portion: what is cooked stays.
    roving = ROVING if ROVING in tasks.capacities else LEAD
    if any(wanted[name] for name in (ROVING, LEAD)):
        yield Saving(HELPER, 0), replace(tasks, capacities={
            **tasks.capacities, roving: tasks.capacities[roving] + 1})


def _one_pot(work: ClassWork) -> Iterator[tuple[Saving, Tasks]]:
    """The session with a dish's steps at one kind of equipment done once for everyone.

    Never where a table cooks another version of the dish: one pot would bring back what a child
    there must avoid.
    """
    tables = len(work.setting.tables)
    avoided = {term.text.lower() for need in work.setting.needs for term in need.avoid}
    for at, dish in enumerate(work.dishes):
        if any(swap.because.text.lower() in avoided for swap in dish.recipe.swaps):
            continue
        names = {name for step in dish.recipe.steps for name in equipment_of(step)}
        told: set[tuple[int, ...]] = set()
        for name in sorted(names):
            has = work.setting.equipment.get(name)
            steps = tuple(
                step.number for step in dish.recipe.steps if not step.shared
                and has is not None and equipment_of(step)[name] * tables > has)
            if not steps or steps in told or tables < 2:
                continue
            told.add(steps)
            changed = [replace(step, for_class=True) if step.number in steps else step
                       for step in dish.recipe.steps]
            shared = Dish(replace(dish.recipe, steps=tuple(changed)), dish.uses)
            dishes = [*work.dishes[:at], shared, *work.dishes[at + 1:]]
            yield (Saving(name, 0, dish.recipe.key, steps),
                   tasks_of(replace(work, dishes=dishes)))


def _relief(work: ClassWork, clock: ClassClock) -> tuple[Relief, ...]:
    """Steps on the longest chain, the one that saves most first, until enough is saved."""
    chosen: list[Relief] = []
    while sum(each.minutes for each in chosen) < LATE and len(chosen) < MOST_RELIEF:
        best: tuple[Relief, ClassWork, ClassClock] | None = None
        for dish, step in _pressing(clock):
            helped = replace(work, helped=work.helped | {(dish, step)})
            shorter = clock_of(helped)
            if isinstance(shorter, Unschedulable):
                continue
            relief = Relief(dish, step, (clock.makespan - shorter.makespan) // 60)
            if relief.minutes >= 1 and (best is None or relief.minutes > best[0].minutes):
                best = relief, helped, shorter
        if best is None:
            break
        relief, work, clock = best
        chosen.append(relief)
    return tuple(chosen)


def _pressing(clock: ClassClock) -> list[tuple[str, int]]:
    """Steps that children do and that can't begin later without the session ending later.

    What must reach a temperature stays as it is, and so does what no other step waits for:
    putting it together and eating it.
    """
    slack = min((each.latest - each.start for each in clock.placed), default=0)
    awaited = {id for each in clock.placed for id in each.task.activity.after}
    return sorted({
        (each.task.dish, each.task.step.number) for each in clock.placed
        if each.latest - each.start <= slack + 60 and each.task.hands
        and each.task.step.heat is None and each.task.activity.id in awaited})
