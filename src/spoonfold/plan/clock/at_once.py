"""What must be eaten as soon as it is done is planned near the meal.

A schedule does everything as early as it can, so that fried rice “to serve at once” would stand for
an hour where there is time to spare. Such a step, what is cooked for it in the same pot or pan and
the raw food for it move towards the meal as far as hands, adults and tools allow; nothing else
moves.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.recipe import Step
from spoonfold.plan.clock.schedule import Activity
from spoonfold.plan.clock.tasks import Task
from spoonfold.plan.clock.vessels import Placement, is_crowded

_AT_ONCE = re.compile(
    r"\b(?:serv|eat|eaten|dish up|plate)[^.;]*?"
    r"\b(?:at once|right away|straight away|immediately|while (?:it is |it's |they are )?"
    r"(?:still )?(?:hot|crisp|warm))\b",
    re.IGNORECASE,
)


def is_served_at_once(step: Step) -> bool:
    """Whether the words say that it is eaten as soon as it is done."""
    return _AT_ONCE.search(step.words) is not None


def near_the_meal(placement: Placement, meal: int) -> Placement:
    """The placement with what is served at once as late as it can be before `meal`, in seconds
    since cooking began; as it was where that asks for more pots than there are."""
    tasks = {task.activity.id: task for task in placement.tasks.tasks}
    moved = _chain(tasks)
    if not moved:
        return placement
    activities = {each.id: each for each in placement.activities}
    starts = dict(placement.schedule.starts)
    for id in sorted(moved, key=lambda id: -(starts[id] + activities[id].duration)):
        starts[id] = _latest(id, activities, starts, placement.tasks.capacities, meal)
    made = replace(placement, schedule=replace(placement.schedule, starts=starts))
    return placement if is_crowded(made) else made


def _chain(tasks: Mapping[str, Task]) -> frozenset[str]:
    """What is served at once where nothing comes behind it, and all that is done for it alone at
    the same place in the same vessel, or with raw food, which mustn't wait in the warm."""
    behind: dict[str, set[str]] = {id: set() for id in tasks}
    for id, task in tasks.items():
        for before in task.activity.after:
            behind[before].add(id)
    chain = {id for id in tasks if not behind[id] and is_served_at_once(tasks[id].step)}
    todo = list(chain)
    while todo:
        task = tasks[todo.pop()]
        for before in task.activity.after:
            other = tasks[before]
            alone = behind[before] <= chain and other.table == task.table
            together = _vessels(other) & _vessels(task) or _is_raw(other.step)
            if before not in chain and alone and together:
                chain.add(before)
                todo.append(before)
    return frozenset(chain)


def _is_raw(step: Step) -> bool:
    known = (CAUTIONS.get(term.text.casefold()) for term in step.watch)
    return any(caution is not None and caution.icon == "raw" for caution in known)


def _vessels(task: Task) -> frozenset[str]:
    return frozenset(task.step.named(Kind.VESSEL))


def _latest(
    id: str,
    activities: Mapping[str, Activity],
    starts: Mapping[str, int],
    capacities: Mapping[str, int],
    meal: int,
) -> int:
    """The latest start at which all that it holds is free; its own, where nothing later is."""
    own = activities[id]
    others = [each for each in activities.values() if each.id != id]
    ends = [meal, *(starts[each.id] for each in others if id in each.after)]
    last = min(ends) - own.duration
    tries = {last}
    for other in others:
        for hold in other.holds:
            tries |= {
                starts[other.id] + hold.begin - mine.end
                for mine in own.holds
                if mine.resource == hold.resource
            }
    for start in sorted((at for at in tries if starts[id] < at <= last), reverse=True):
        if _is_free(own, start, others, starts, capacities):
            return start
    return starts[id]


def _is_free(
    own: Activity,
    start: int,
    others: Iterable[Activity],
    starts: Mapping[str, int],
    capacities: Mapping[str, int],
) -> bool:
    spans = list(_spans(own, start))
    taken = [span for each in others for span in _spans(each, starts[each.id])]
    return all(
        _most(resource, begin, end, taken) + amount <= capacities.get(resource, 0)
        for resource, amount, begin, end in spans
    )


def _spans(each: Activity, start: int) -> Iterator[tuple[str, int, int, int]]:
    for hold in each.holds:
        if hold.amount > 0 and hold.end > hold.begin:
            yield hold.resource, hold.amount, start + hold.begin, start + hold.end


def _most(resource: str, begin: int, end: int, taken: Sequence[tuple[str, int, int, int]]) -> int:
    """How much of a resource is held at the busiest moment of a stretch."""
    own = [
        (first, last, amount)
        for name, amount, first, last in taken
        if name == resource and first < end and begin < last
    ]
    return max(
        (
            sum(amount for first, last, amount in own if first <= at < last)
            for at in (begin, *(first for first, _, _ in own if first > begin))
        ),
        default=0,
    )
