"""Pots, pans and bowls stay in use from one step to the next: what is in them waits with them.

A schedule that frees a pan between shaping and baking would give it away with the food on it.
Where a schedule does so and there are too few, those who need one are put in turns. So are those
who need a burner on which water is kept hot from before the class.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.equipment import Kind
from spoonfold.plan.clock.schedule import Activity, Schedule, Unschedulable, solve
from spoonfold.plan.clock.tasks import Task, Tasks, tool


@dataclass(frozen=True, slots=True)
class Placement:
    """The work of a session with its place in time."""

    tasks: Tasks
    activities: Sequence[Activity]
    schedule: Schedule
    crowded: tuple[str, ...]
    """Vessels of which no order of work makes the number on hand enough."""


@dataclass(frozen=True, slots=True)
class _Stay:
    """A vessel in use over several steps at one place."""

    first: str | None
    """None: from before the class."""
    last: str
    count: int


def place(tasks: Tasks, passes: int) -> Placement | Unschedulable:
    """The work of a session in time; `passes` scheduling passes for each vessel that is short."""
    activities = [task.activity for task in tasks.tasks]
    schedule = solve(activities, tasks.capacities, passes)
    if isinstance(schedule, Unschedulable):
        return schedule
    stays, crowded = _stays(tasks), set[str]()
    turned = set[str]()
    while True:
        short = [
            name
            for name, each in stays.items()
            if name not in turned
            and _too_many(each, activities, schedule, tasks.capacities[tool(name)])
        ]
        if not short:
            return Placement(tasks, activities, schedule, tuple(sorted(crowded)))
        name = short[0]
        turned.add(name)
        ordered = _in_turns(stays[name], activities, schedule, tasks.capacities[tool(name)])
        better = solve(ordered, tasks.capacities, passes)
        if isinstance(better, Unschedulable):
            crowded.add(name)
        else:
            activities, schedule = ordered, better


def is_crowded(placement: Placement) -> bool:
    """Whether vessels that were enough no longer are: an order of work was changed by hand."""
    return any(
        _too_many(
            each, placement.activities, placement.schedule, placement.tasks.capacities[tool(name)]
        )
        for name, each in _stays(placement.tasks).items()
        if name not in placement.crowded
    )


def _stays(tasks: Tasks) -> Mapping[str, list[_Stay]]:
    """Every stay of every vessel, and of what is in use from before the class."""
    kept = {each.name for each in tasks.kept}
    needed = {need.name for task in tasks.tasks for need in task.step.needs}
    vessels = {name for task in tasks.tasks for name in task.step.named(Kind.VESSEL)}
    stays = {}
    for name in sorted(needed):
        if tool(name) in tasks.capacities and (name in vessels or name in kept):
            stays[name] = [
                *(_Stay(None, each.until, each.count) for each in tasks.kept if each.name == name),
                *_stays_of(name, tasks.tasks),
            ]
    return stays


def _stays_of(name: str, tasks: Sequence[Task]) -> list[_Stay]:
    """A step by itself is a short stay; what is in a vessel stays for the step that follows."""
    ended: list[_Stay] = []
    lasting: dict[str, _Stay] = {}
    tables = {task.activity.id: task.table for task in tasks}
    for task in tasks:
        count = sum(need.count for need in task.step.needs if need.name == name)
        if not count:
            continue
        id = task.activity.id
        is_vessel = name in task.step.named(Kind.VESSEL)
        before = [
            lasting.pop(each)
            for each in task.activity.after
            if is_vessel and each in lasting and tables[each] == task.table
        ]
        first = before[0].first if before else id
        lasting[id] = _Stay(first, id, max([count, *(each.count for each in before)]))
        ended.extend(replace(each, last=id) for each in before[1:])
    return [*ended, *lasting.values()]


def _spans(
    stays: Sequence[_Stay], activities: Sequence[Activity], schedule: Schedule
) -> list[tuple[int, int, _Stay]]:
    length = {each.id: each.duration for each in activities}
    return sorted(
        (
            (
                0 if stay.first is None else schedule.starts[stay.first],
                schedule.starts[stay.last] + length[stay.last],
                stay,
            )
            for stay in stays
        ),
        key=lambda span: (span[0], span[2].first is not None, span[1]),
    )


def _too_many(
    stays: Sequence[_Stay], activities: Sequence[Activity], schedule: Schedule, capacity: int
) -> bool:
    spans = _spans(stays, activities, schedule)
    return any(
        sum(min(capacity, stay.count) for begin, end, stay in spans if begin <= at < end) > capacity
        for at, _, _ in spans
    )


def _in_turns(
    stays: Sequence[_Stay], activities: Sequence[Activity], schedule: Schedule, capacity: int
) -> list[Activity]:
    """Each vessel goes from hand to hand: who needs it next waits until its last step is over."""
    holders: list[str | None] = [None] * capacity
    ends: list[int] = [0] * capacity
    waits: dict[str, set[str]] = {}
    for begin, end, stay in _spans(stays, activities, schedule):
        count = min(capacity, stay.count)
        for slot in sorted(range(capacity), key=lambda s: (ends[s], s))[:count]:
            holder = holders[slot]
            if holder is not None and stay.first is not None:
                waits.setdefault(stay.first, set()).add(holder)
            holders[slot] = stay.last
            ends[slot] = max(begin, ends[slot]) + end - begin
    return [
        replace(
            each,
            after=tuple(
                dict.fromkeys((*each.after, *sorted(waits.get(each.id, set()) - {each.id})))
            ),
        )
        for each in activities
    ]
