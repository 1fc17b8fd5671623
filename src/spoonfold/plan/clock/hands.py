"""Whose hands are free, and for how long."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.tasks import Placed
from spoonfold.plan.clock.washing import Washing

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
