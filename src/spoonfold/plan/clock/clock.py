"""The class clock: whether a session fits, what happens when, and who stands idle.

Steps are placed to the second, but people read anchors: clock times on five minutes, with a
buffer kept before everyone sits down to eat. Nothing here warns; it only says what is.

Whose hands are free, and for how long."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.at_once import near_the_meal
from spoonfold.plan.clock.boil import Circuits, circuits_for
from spoonfold.plan.clock.schedule import USUAL_PASSES, Unschedulable, latest_starts
from spoonfold.plan.clock.steps import WASH_SECONDS, tasks_of
from spoonfold.plan.clock.tasks import Placed, Tasks, tool
from spoonfold.plan.clock.times import ClassWork
from spoonfold.plan.clock.vessels import Placement, place
from spoonfold.plan.clock.washing import Washing, washing_of

IDLE = 10
"""Minutes without work that are worth a word (common practice)."""


@dataclass(frozen=True, slots=True)
class Idle:
    """So many children of a table without work, in seconds since cooking began."""

    table: int
    hands: int
    start: int
    end: int


def idle_of(
    setting: Setting, placed: Sequence[Placed], washing: Washing, end: int
) -> tuple[Idle, ...]:
    """Long stretches in which at least so many children of a table have nothing to do.

    `end` is when the last step is over, in seconds. Who washes up isn't idle.
    """
    found: list[Idle] = []
    for table, children in enumerate(setting.tables, 1):
        own = [
            (each.start, each.hands_free, each.task.hands[table])
            for each in placed
            if table in each.task.hands
        ]
        own += [(each.start, each.end, each.hands) for each in washing.turns if each.table == table]
        found += _stretches(table, children, own, end)
    return tuple(sorted(found, key=lambda each: (each.start, each.table, -each.hands)))


def _stretches(
    table: int, children: int, busy: Sequence[tuple[int, int, int]], end: int
) -> list[Idle]:
    """Of one table; `busy` is from when to when how many hands work."""
    moments = sorted({0, end, *(at for span in busy for at in span[:2])})
    free = [
        children - sum(n for begin, until, n in busy if begin <= at < until) for at in moments[:-1]
    ]
    found: list[Idle] = []
    told: set[tuple[int, int]] = set()
    for hands in range(children, 0, -1):
        start = None
        for at, count in zip(moments, [*free, 0], strict=True):
            if count >= hands and start is None:
                start = at
            elif count < hands and start is not None:
                if at - start >= IDLE * 60 and (start, at) not in told:
                    told.add((start, at))
                    found.append(Idle(table, hands, start, at))
                start = None
    return found


MORE_PASSES = 200
"""Spent before saying that a session doesn't fit."""

SURE_PASSES = 60
"""Spent on a session as it is before a change is said to save time: a schedule that could itself
be shorter would make every change look good."""

BUFFER = 5
"""Minutes kept free before the meal (common practice)."""

ANCHOR = 5
"""Minutes that times for people are rounded to."""

BEFORE_COOKING = ("arrive", "talk")


@dataclass(frozen=True, slots=True)
class Part:
    """A fixed part of the session, or `cook`, in minutes since its start."""

    name: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Anchor:
    """A clock time to look out for: a step of the whole class, at the heat, or with a wait."""

    dish: str
    step: int
    at: datetime.time
    """When the first table begins, to the nearest five minutes."""
    latest: datetime.time
    """When the last table must have begun, rounded down: to five minutes where that isn't before
    the last table's turn."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """The queue at the sink when everyone comes in."""

    people: int
    """Children and helpers; the lead cook has washed before."""
    taps: int
    seconds: int
    given: int
    """Seconds that `arrive` leaves for it."""


@dataclass(frozen=True, slots=True)
class ClassClock:
    """A session in time."""

    cooking: int
    """Minutes between the fixed parts."""
    makespan: int
    """Seconds from the start of cooking until the last step can be over; what is served at once
    waits for the meal, and is over later."""
    placed: tuple[Placed, ...]
    """By start, then in the order of dishes, steps and tables."""
    parts: tuple[Part, ...]
    anchors: tuple[Anchor, ...]
    washing: Washing
    """What is washed up meanwhile, and what is left for the clean-up."""
    idle: tuple[Idle, ...]
    arrival: Arrival
    circuits: Circuits | None
    """Cookers that run together; None where no watts are known."""
    tasks: Tasks
    """With what is done beforehand, what is short, and times to boil."""
    crowded: tuple[str, ...]
    """Pots and bowls of which no order of work makes the number on hand enough."""

    @property
    def fits(self) -> bool:
        """Whether all of it can be done, and in time."""
        return not (self.over or self.tasks.shortages or self.crowded)

    @property
    def over(self) -> int:
        """Minutes too long, rounded up; 0 where the time is enough."""
        return max(0, -(-(self.makespan - self.cooking * 60) // 60))

    @property
    def spare(self) -> int:
        """Whole minutes left over."""
        return max(0, (self.cooking * 60 - self.makespan) // 60)


def cooking_minutes(setting: Setting) -> int:
    """What the fixed parts leave; never below 0."""
    return max(0, setting.minutes - sum(setting.fixed.values()))


def clock_of(work: ClassWork) -> ClassClock | Unschedulable:
    """The clock of a session; Unschedulable where steps wait for each other in a circle."""
    tasks, cooking = tasks_of(work), cooking_minutes(work.setting)
    placement = place(tasks, USUAL_PASSES)
    if isinstance(placement, Placement) and placement.schedule.makespan > cooking * 60:
        placement = place(tasks, MORE_PASSES)
    if isinstance(placement, Unschedulable):
        return placement
    makespan = placement.schedule.makespan
    placement = near_the_meal(placement, (cooking - BUFFER) * 60)
    schedule = placement.schedule
    latest = latest_starts(
        placement.activities, tasks.capacities, schedule, (cooking - BUFFER) * 60
    )
    order = sorted(
        range(len(tasks.tasks)), key=lambda k: (schedule.starts[tasks.tasks[k].activity.id], k)
    )
    placed = tuple(
        Placed(task, schedule.starts[task.activity.id], latest[task.activity.id])
        for task in map(tasks.tasks.__getitem__, order)
    )
    washing = washing_of(work.setting, placed)
    last = max((each.end for each in placed), default=0)
    return ClassClock(
        cooking=cooking,
        makespan=makespan,
        placed=placed,
        parts=_parts(work.setting, cooking),
        anchors=_anchors(work, placed),
        washing=washing,
        idle=idle_of(work.setting, placed, washing, last),
        arrival=_arrival(work.setting),
        circuits=_circuits(work.setting, placed, tasks),
        tasks=tasks,
        crowded=placement.crowded,
    )


def _parts(setting: Setting, cooking: int) -> tuple[Part, ...]:
    before = [name for name in BEFORE_COOKING if name in setting.fixed]
    behind = [name for name in setting.fixed if name not in BEFORE_COOKING]
    parts, at = [], 0
    for name in (*before, "cook", *behind):
        minutes = cooking if name == "cook" else setting.fixed[name]
        parts.append(Part(name, at, at + minutes))
        at += minutes
    return tuple(parts)


def _anchors(work: ClassWork, placed: Sequence[Placed]) -> tuple[Anchor, ...]:
    """One for each step that people watch the clock for, in the order of their times."""
    setting = work.setting
    begin = (
        setting.starts.hour * 60
        + setting.starts.minute
        + sum(setting.fixed.get(name, 0) for name in BEFORE_COOKING)
    )
    last = {
        dish.recipe.key: dish.recipe.steps[-1].number for dish in work.dishes if dish.recipe.steps
    }
    steps: dict[tuple[str, int], list[Placed]] = {}
    for each in placed:
        step = each.task.step
        if step.for_class or step.wait or step.heat or step.number == last[each.task.dish]:
            steps.setdefault((each.task.dish, step.number), []).append(each)
    anchors = []
    for (dish, number), own in steps.items():
        end = begin * 60 + max(each.latest for each in own)
        latest = _to_five(end)
        at = min(_to_five(begin * 60 + own[0].start + ANCHOR * 30), latest)
        turn = max(each.start for each in own)
        if turn - own[0].start >= ANCHOR * 60 and latest < begin + turn // 60:
            # Rounded, it would be before the last table's turn by this very plan.
            latest = end // 60
        anchors.append(Anchor(dish, number, _clock(at), _clock(latest)))
    return tuple(anchors)


def _to_five(seconds: int) -> int:
    """Minutes, rounded down to a full five."""
    return seconds // 60 // ANCHOR * ANCHOR


def _clock(minutes: int) -> datetime.time:
    return datetime.time(minutes // 60 % 24, minutes % 60)


def _arrival(setting: Setting) -> Arrival:
    people = sum(setting.tables) + setting.helpers
    taps = max(1, setting.equipment.get(setting.sink, 0))
    return Arrival(
        people, taps, -(-people // taps) * WASH_SECONDS, setting.fixed.get("arrive", 0) * 60
    )


def _circuits(setting: Setting, placed: Sequence[Placed], tasks: Tasks) -> Circuits | None:
    """Cookers at the moment when they draw most."""
    if not setting.watts:
        return None
    spans = [
        (each.start + hold.begin, each.start + hold.end, name, hold.amount)
        for each in placed
        for hold in each.task.activity.holds
        for name in setting.watts
        if hold.resource == tool(name)
    ]
    starts = {each.task.activity.id: each.start for each in placed}
    spans += [
        (0, starts[each.until], each.name, each.count)
        for each in tasks.kept
        if each.name in setting.watts
    ]
    together = [
        Counter(
            {
                name: sum(
                    n for begin, end, other, n in spans if other == name and begin <= at < end
                )
                for name in setting.watts
            }
        )
        for at, _, _, _ in spans
    ]
    return max(
        (
            circuits_for({name: n for name, n in each.items() if n}, setting.watts)
            for each in together
        ),
        key=lambda each: (each.circuits, each.watts),
        default=circuits_for({}, setting.watts),
    )
