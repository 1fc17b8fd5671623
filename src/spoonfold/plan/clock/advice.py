"""What would make a session shorter, found by solving it again.

One more of what work waits for, and one pot for the class where every table has its own; what to
do when it runs late is in `clock_late`.

The session on a morning when one helper doesn't come."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from spoonfold.plan.clock.clock import SURE_PASSES, ClassClock
from spoonfold.plan.clock.late import Relief, relief_of
from spoonfold.plan.clock.schedule import USUAL_PASSES
from spoonfold.plan.clock.steps import tasks_of
from spoonfold.plan.clock.tasks import LEAD, ROVING, Task, Tasks, equipment_of, tool
from spoonfold.plan.clock.times import ClassWork, Dish
from spoonfold.plan.clock.vessels import Placement, place

WORTH_SAYING = 2
"""Minutes; less than that is lost in a class."""

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
class Advice:
    """What would help, the most first."""

    savings: tuple[Saving, ...]
    relief: tuple[Relief, ...]
    """For when it runs late, in the order in which to do it; empty where nothing helps."""


def advice_of(work: ClassWork, clock: ClassClock) -> Advice:
    """What would make the session of this clock shorter; whole minutes, rounded down."""
    return Advice(savings_of(work, clock), relief_of(work, clock))


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
            hold.resource: hold.amount for hold in task.activity.holds
        }.items():
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
        yield (
            Saving(HELPER, 0),
            replace(tasks, capacities={**tasks.capacities, roving: tasks.capacities[roving] + 1}),
        )


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
                step.number
                for step in dish.recipe.steps
                if not step.shared and has is not None and equipment_of(step)[name] * tables > has
            )
            if not steps or steps in told or tables < 2:
                continue
            told.add(steps)
            changed = [
                replace(step, for_class=True) if step.number in steps else step
                for step in dish.recipe.steps
            ]
            shared = Dish(replace(dish.recipe, steps=tuple(changed)), dish.uses)
            dishes = [*work.dishes[:at], shared, *work.dishes[at + 1 :]]
            yield (Saving(name, 0, dish.recipe.key, steps), tasks_of(replace(work, dishes=dishes)))


def without_a_helper(work: ClassWork) -> int | None:
    """Seconds that cooking takes with one helper fewer; None where there is none to miss.

    What was bought is cooked: only the pair of hands is gone, not the portion.
    """
    helpers, tables = work.setting.helpers, len(work.setting.tables)
    if not helpers:
        return None
    tasks = tasks_of(work)
    capacities = {
        name: count
        for name, count in tasks.capacities.items()
        if not name.startswith(f"{ROVING} ") or name == LEAD
    }
    moved = {name: name for name in tasks.capacities}
    if helpers > tables:
        # Each table keeps its own; one fewer stands by the lead cook.
        capacities = {**tasks.capacities, LEAD: tasks.capacities[LEAD] - 1}
    elif helpers == 1:
        # The lead cook is the only adult.
        capacities.pop(ROVING, None)
        moved |= {
            name: LEAD
            for name in tasks.capacities
            if name == ROVING or name.startswith(f"{ROVING} ")
        }
    else:
        capacities[ROVING] = helpers - 1
        moved |= {
            name: ROVING
            for name in tasks.capacities
            if name.startswith(f"{ROVING} ") and name != LEAD
        }
    changed = tuple(_moved(task, moved) for task in tasks.tasks)
    placement = place(replace(tasks, tasks=changed, capacities=capacities), USUAL_PASSES)
    return placement.schedule.makespan if isinstance(placement, Placement) else None


def _moved(task: Task, names: Mapping[str, str]) -> Task:
    holds = tuple(
        replace(hold, resource=names.get(hold.resource, hold.resource))
        for hold in task.activity.holds
    )
    return replace(task, activity=replace(task.activity, holds=holds))
