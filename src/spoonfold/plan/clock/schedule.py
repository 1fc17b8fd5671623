"""Placing activities in time where they compete for what there is.

The problem is the resource-constrained project scheduling problem with renewable resources,
where an activity may hold a resource for only a part of its time (hands while it is stirred,
the burner until it is done). `schedule_pass` makes one schedule; here several priority rules are
tried and the best of them are improved. The same problem always gives the same schedule.

One scheduling pass, and a schedule pushed together from both ends.

Serial schedule generation (Kolisch 1996, "Serial and parallel resource-constrained project
scheduling methods revisited") and double justification (Valls, Ballestín, Quintanilla 2005,
"Justification and RCPSP: a technique that pays"); both cited from memory. Activities and
resources are numbers here; `schedule` gives them names."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush


@dataclass(frozen=True, slots=True)
class Net:
    """The problem by index, and its mirror image in time."""

    durations: Sequence[int]
    before: Sequence[Sequence[int]]
    following: Sequence[Sequence[int]]
    holds: Sequence[Sequence[tuple[int, int, int, int]]]
    """Resource, amount, begin, end."""
    capacities: Sequence[int]
    order: Sequence[int]
    """Every activity behind its predecessors."""

    def end(self, starts: Sequence[int]) -> int:
        return max((s + d for s, d in zip(starts, self.durations, strict=True)), default=0)

    def mirrored(self) -> Net:
        holds = [
            [(r, a, d - e, d - b) for r, a, b, e in own]
            for own, d in zip(self.holds, self.durations, strict=True)
        ]
        return Net(
            self.durations, self.following, self.before, holds, self.capacities, self.order[::-1]
        )

    def heads(self) -> list[int]:
        """The earliest start of each activity by precedence alone."""
        heads = [0] * len(self.durations)
        for j in self.order:
            end = heads[j] + self.durations[j]
            for k in self.following[j]:
                if heads[k] < end:
                    heads[k] = end
        return heads


def listed(
    before: Sequence[Sequence[int]], following: Sequence[Sequence[int]], keys: Sequence[int]
) -> list[int]:
    """Activities by smallest key first, none ahead of its predecessors."""
    waiting = [len(own) for own in before]
    ready = [(keys[j], j) for j, count in enumerate(waiting) if not count]
    heapify(ready)
    order = []
    while ready:
        _, j = heappop(ready)
        order.append(j)
        for k in following[j]:
            waiting[k] -= 1
            if not waiting[k]:
                heappush(ready, (keys[k], k))
    return order


def serial(net: Net, order: Iterable[int]) -> list[int]:
    """One scheduling pass: each activity in its turn, as early as it can be."""
    times: list[list[int]] = [[0] for _ in net.capacities]
    spare: list[list[int]] = [[capacity] for capacity in net.capacities]
    starts = [0] * len(net.durations)
    for j in order:
        at, holds, fits = starts[j], net.holds[j], False
        while not fits:
            fits = True
            for r, amount, begin, end in holds:
                own, left, until = times[r], spare[r], at + end
                k = bisect_right(own, at + begin) - 1
                while k < len(own) and own[k] < until:
                    if left[k] < amount:
                        # The last stretch is always free, so there is a next one.
                        at, fits = own[k + 1] - begin, False
                        break
                    k += 1
                if not fits:
                    break
        starts[j] = at
        for r, amount, begin, end in holds:
            own, left = times[r], spare[r]
            first, last = _cut(own, left, at + begin), _cut(own, left, at + end)
            for k in range(first, last):
                left[k] -= amount
        done = at + net.durations[j]
        for k in net.following[j]:
            if starts[k] < done:
                starts[k] = done
    return starts


def _cut(times: list[int], spare: list[int], at: int) -> int:
    """The stretch that begins exactly at `at`, cut from a longer one where needed."""
    k = bisect_right(times, at) - 1
    if times[k] != at:
        k += 1
        times.insert(k, at)
        spare.insert(k, spare[k - 1])
    return k


def pushed(net: Net, mirror: Net, starts: Sequence[int]) -> list[int]:
    """Right justification: everything as late as it can be, what ends last first."""
    end = net.end(starts)
    turns = {j: (-starts[j] - net.durations[j], k) for k, j in enumerate(mirror.order)}
    back = serial(mirror, sorted(turns, key=lambda j: turns[j]))
    total = max(end, mirror.end(back))
    return [total - s - d for s, d in zip(back, net.durations, strict=True)]


def by_start(net: Net, starts: Sequence[int]) -> list[int]:
    """The turns in which a schedule's activities start; a serial pass over them keeps it."""
    rank = {j: k for k, j in enumerate(net.order)}
    return sorted(net.order, key=lambda j: (starts[j], rank[j]))


def justified(net: Net, mirror: Net, starts: Sequence[int]) -> list[int]:
    """Double justification: pushed right, then drawn left again. Two passes."""
    return serial(net, by_start(net, pushed(net, mirror, starts)))


def bound_of(net: Net, mirror: Net) -> int:
    """No schedule ends before the longest chain does, nor before any resource has done all its
    work between the first and the last moment at which something can hold it."""
    heads, tails = net.heads(), mirror.heads()
    chain = max((h + d + t for h, d, t in zip(heads, net.durations, tails, strict=True)), default=0)
    loads, first, last = ([start] * len(net.capacities) for start in (0, chain, chain))
    for head, duration, tail, own in zip(heads, net.durations, tails, net.holds, strict=True):
        for r, amount, begin, end in own:
            loads[r] += amount * (end - begin)
            if head + begin < first[r]:
                first[r] = head + begin
            if duration - end + tail < last[r]:
                last[r] = duration - end + tail
    return max(
        [
            chain,
            *(
                first[r] - (-load // net.capacities[r]) + last[r]
                for r, load in enumerate(loads)
                if load
            ),
        ]
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
