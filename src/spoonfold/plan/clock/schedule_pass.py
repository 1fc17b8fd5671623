"""One scheduling pass, and a schedule pushed together from both ends.

Serial schedule generation (Kolisch 1996, "Serial and parallel resource-constrained project
scheduling methods revisited") and double justification (Valls, Ballestín, Quintanilla 2005,
"Justification and RCPSP: a technique that pays"); both cited from memory. Activities and
resources are numbers here; `schedule` gives them names.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
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
