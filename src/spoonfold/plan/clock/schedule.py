"""Placing activities in time where they compete for what there is.

The problem is the resource-constrained project scheduling problem with renewable resources,
where an activity may hold a resource for only a part of its time (hands while it is stirred,
the burner until it is done). `schedule_pass` makes one schedule; here several priority rules are
tried and the best of them are improved. The same problem always gives the same schedule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.plan.clock.schedule_pass import (
    Net,
    bound_of,
    by_start,
    justified,
    listed,
    pushed,
    serial,
)

USUAL_PASSES = 5
"""Scheduling passes that are spent unless more are asked for."""

_NEAR, _WALKED = 5, 1
"""Per cent beyond the best at which a schedule is worth justifying, and worth walking on from;
both found by trial on published instances."""

_PARTS = 1000
"""A resource's load is counted in thousandths of all there is of it, to stay in whole numbers."""


@dataclass(frozen=True, slots=True)
class Hold:
    """So much of a resource, from one moment of an activity to another."""

    resource: str
    amount: int
    begin: int
    """Counted from the activity's start."""
    end: int


@dataclass(frozen=True, slots=True)
class Activity:
    """Something that takes time and holds resources. Times are whole numbers of one unit."""

    id: str
    duration: int
    holds: tuple[Hold, ...] = ()
    after: tuple[str, ...] = ()
    """Activities that must have ended."""


@dataclass(frozen=True, slots=True)
class Schedule:
    """When everything starts."""

    starts: Mapping[str, int]
    makespan: int
    """When the last activity ends."""
    bound: int
    """No schedule can end before this: the longest chain, or the work of the busiest resource."""


@dataclass(frozen=True, slots=True)
class Unschedulable:
    """Why there is no schedule at all."""

    reason: str
    """`circle`, `too little` of a resource, `unknown` predecessor, `twice` the same id."""
    ids: tuple[str, ...]
    """The activities concerned."""


def activity(
    id: str, duration: int, needs: Mapping[str, int] | None = None, after: Iterable[str] = ()
) -> Activity:
    """An activity that holds what it needs from its start to its end."""
    holds = tuple(Hold(name, amount, 0, duration) for name, amount in (needs or {}).items())
    return Activity(id, duration, holds, tuple(after))


def solve(
    activities: Sequence[Activity], capacities: Mapping[str, int], passes: int = USUAL_PASSES
) -> Schedule | Unschedulable:
    """A short schedule, found in at most `passes` scheduling passes (at least one is made).

    A resource that `capacities` doesn't name has a capacity of 0.
    """
    net = _net(activities, capacities)
    if isinstance(net, Unschedulable):
        return net
    mirror = net.mirrored()
    bound = bound_of(net, mirror)
    best = _search(net, mirror, passes, bound)
    starts = {each.id: start for each, start in zip(activities, best, strict=True)}
    return Schedule(starts, net.end(best), bound)


def latest_starts(
    activities: Sequence[Activity], capacities: Mapping[str, int], schedule: Schedule, end: int
) -> Mapping[str, int]:
    """The schedule pushed towards `end`: about how late everything may start.

    Nothing starts earlier than in `schedule`. Where that ends after `end`, what it delays keeps
    its own start.
    """
    net = _net(activities, capacities)
    if isinstance(net, Unschedulable):
        return schedule.starts
    starts = [schedule.starts[each.id] for each in activities]
    right = pushed(net, net.mirrored(), starts)
    shift = end - net.end(right)
    return {
        each.id: max(start, late + shift)
        for each, start, late in zip(activities, starts, right, strict=True)
    }


def _net(activities: Sequence[Activity], capacities: Mapping[str, int]) -> Net | Unschedulable:
    index = {each.id: j for j, each in enumerate(activities)}
    if len(index) < len(activities):
        return Unschedulable(
            "twice", tuple(each.id for j, each in enumerate(activities) if index[each.id] != j)
        )
    unknown = tuple(each.id for each in activities if any(i not in index for i in each.after))
    if unknown:
        return Unschedulable("unknown", unknown)
    short = tuple(each.id for each in activities if _asks_too_much(each, capacities))
    if short:
        return Unschedulable("too little", short)
    names = {name: r for r, name in enumerate(capacities)}
    before = [sorted({index[i] for i in each.after}) for each in activities]
    following: list[list[int]] = [[] for _ in activities]
    for j, own in enumerate(before):
        for i in own:
            following[i].append(j)
    order = listed(before, following, range(len(activities)))
    if len(order) < len(activities):
        free = set(order)
        return Unschedulable(
            "circle", tuple(each.id for j, each in enumerate(activities) if j not in free)
        )
    holds = [
        [
            (names[h.resource], h.amount, h.begin, h.end)
            for h in each.holds
            if h.amount > 0 and h.end > h.begin
        ]
        for each in activities
    ]
    return Net(
        [each.duration for each in activities],
        before,
        following,
        holds,
        list(capacities.values()),
        order,
    )


def _asks_too_much(each: Activity, capacities: Mapping[str, int]) -> bool:
    """Whether an activity alone holds more of something at one moment than there is."""
    wanted: dict[str, int] = {}
    for hold in each.holds:
        if hold.amount > 0 and hold.end > hold.begin:
            wanted[hold.resource] = wanted.get(hold.resource, 0) + hold.amount
    return any(
        total > capacities.get(name, 0)
        and any(
            sum(
                other.amount
                for other in each.holds
                if other.resource == name and other.begin <= hold.begin < other.end
            )
            > capacities.get(name, 0)
            for hold in each.holds
            if hold.resource == name
        )
        for name, total in wanted.items()
    )


def _rules(net: Net, mirror: Net) -> tuple[Callable[[int], int], ...]:
    """Priority rules, smallest first: latest start (and of those that are equal, what weighs most
    on scarce resources), latest finish, and the weight of all that waits for it."""
    tails = mirror.heads()
    behind: list[set[int]] = [set() for _ in net.durations]
    for j in reversed(net.order):
        behind[j] = {*net.following[j], *(k for i in net.following[j] for k in behind[i])}
    load = [0] * len(net.capacities)
    for own in net.holds:
        for r, amount, begin, end in own:
            load[r] += _PARTS * amount * (end - begin) // net.capacities[r]
    weight = [
        sum(amount * (end - begin) * load[r] // net.capacities[r] for r, amount, begin, end in own)
        for own in net.holds
    ]
    more = max(weight, default=0) + 1
    return (
        lambda j: -(tails[j] + net.durations[j]) * more - weight[j],
        lambda j: -tails[j],
        lambda j: -weight[j] - sum(weight[k] for k in behind[j]),
    )


def _search(net: Net, mirror: Net, passes: int, bound: int) -> list[int]:
    count = range(len(net.durations))
    found: list[list[int]] = []
    for rule in _rules(net, mirror)[: max(1, passes)]:
        order = listed(net.before, net.following, [rule(j) for j in count])
        found.append(serial(net, order))
        passes -= 1
        if net.end(found[-1]) == bound:
            return found[-1]
    found.sort(key=net.end)
    best = found[0]
    for starts in found:
        if passes >= 2 and net.end(best) > bound:
            best = min(best, justified(net, mirror, starts), key=net.end)
            passes -= 2
    return _moved(net, mirror, best, passes, bound)


def _moved(net: Net, mirror: Net, best: list[int], passes: int, bound: int) -> list[int]:
    """Spends the remaining passes on moving two activities at a time to other turns.

    A schedule that is a little longer than the best is walked on from (record-to-record travel,
    Dueck 1993, from memory): a search that only ever takes what is shorter stands still early.
    """
    picks, order = _picks(), by_start(net, best)
    while passes > 0 and len(order) > 1 and net.end(best) > bound:
        moved = _one_moved(net, order, next(picks), next(picks))
        moved = _one_moved(net, moved, next(picks), next(picks))
        starts = serial(net, moved)
        passes -= 1
        if passes >= 2 and net.end(starts) * 100 <= net.end(best) * (100 + _NEAR):
            starts = min(starts, justified(net, mirror, starts), key=net.end)
            passes -= 2
        if net.end(starts) * 100 <= net.end(best) * (100 + _WALKED):
            order = by_start(net, starts)
            best = min(best, starts, key=net.end)
    return best


def _one_moved(net: Net, order: Sequence[int], which: int, where: int) -> list[int]:
    moved = list(order)
    j = moved.pop(which % len(order))
    place = {i: k for k, i in enumerate(moved)}
    low = max((place[i] + 1 for i in net.before[j]), default=0)
    high = min((place[i] for i in net.following[j]), default=len(moved))
    moved.insert(low + where % (high - low + 1), j)
    return moved


def _picks() -> Iterator[int]:
    """A fixed sequence without a pattern (linear congruential, constants of Knuth and Lewis as
    given in Numerical Recipes), so that the same problem is always solved in the same way."""
    state = 1
    while True:
        state = (1664525 * state + 1013904223) % 2**32
        yield state >> 8
