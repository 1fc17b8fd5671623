"""The session on a morning when one helper doesn't come."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from spoonfold.plan.clock.schedule import USUAL_PASSES
from spoonfold.plan.clock.steps import tasks_of
from spoonfold.plan.clock.tasks import LEAD, ROVING, Task
from spoonfold.plan.clock.times import ClassWork
from spoonfold.plan.clock.vessels import Placement, place


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
