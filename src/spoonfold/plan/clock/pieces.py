"""What there is to wash up, and when each piece is finished with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.tasks import Placed, equipment_of, is_vessel

WASHABLE = frozenset(
    {
        "board",
        "bowl",
        "colander",
        "cup",
        "fork",
        "grater",
        "jug",
        "juicer",
        "knife",
        "ladle",
        "masher",
        "opener",
        "peeler",
        "pin",
        "scissors",
        "sieve",
        "spatula",
        "spoon",
        "strainer",
        "tongs",
        "tray",
        "whisk",
    }
)
"""What children wash, by the last word of its name."""

HOLDING = frozenset({"board", "colander", "cup", "jug", "sieve", "strainer"})
"""What food waits in or on until a later step takes it, besides the vessels."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing to wash."""

    name: str
    free: int | None
    """When it is finished with; None: not before everyone eats."""


Span = tuple[int, int, int]
"""From when to when how much is in use."""


def pieces_of(
    setting: Setting, placed: Sequence[Placed], end: int
) -> dict[int | None, list[Piece]]:
    """Everything to wash, by table (None: used for all), what is finished with first in front."""
    taken, emptied = _taken(placed)
    spans: dict[str, dict[int | None, list[Span]]] = {}
    for one in placed:
        id, own_wash = one.task.activity.id, _washed(one)
        for name, count in equipment_of(one.task.step).items():
            word, until = _last_word(name), one.end
            holds = is_vessel(name) or word in HOLDING
            if holds:
                until = taken.get(id, end + 1)
            washed = own_wash | (emptied.get(id, frozenset()) if holds else frozenset())
            if word in WASHABLE and word not in washed:
                spans.setdefault(name, {}).setdefault(one.task.table, []).append(
                    (one.start, max(until, one.end), count)
                )
    pieces: dict[int | None, list[Piece]] = {}
    for name, groups in spans.items():
        has = setting.equipment.get(name)
        if has is not None and sum(map(_peak, groups.values())) > has:
            # It goes from table to table, so nobody is finished with it before all are.
            groups = {None: [span for own in groups.values() for span in own]}
        for group, own in groups.items():
            for free in _freed(own, has):
                pieces.setdefault(group, []).append(Piece(name, free if free <= end else None))
    return {
        group: sorted(own, key=lambda one: (one.free is None, one.free or 0))
        for group, own in pieces.items()
    }


def _taken(placed: Sequence[Placed]) -> tuple[Mapping[str, int], Mapping[str, frozenset[str]]]:
    """When all that waits for a piece of work has taken its food, and what is washed there.

    What nothing waits for is in neither.
    """
    taken: dict[str, int] = {}
    emptied: dict[str, frozenset[str]] = {}
    for one in placed:
        for id in one.task.activity.after:
            taken[id] = max(taken.get(id, 0), one.worked)
            emptied[id] = emptied.get(id, frozenset()) | _washed(one)
    return taken, emptied


def _washed(one: Placed) -> frozenset[str]:
    """What the step itself has washed, by the last word."""
    return frozenset(_last_word(term.text) for term in one.task.step.wash)


def _peak(spans: Sequence[Span]) -> int:
    return max((_used(spans, begin) for begin, _, _ in spans), default=0)


def _used(spans: Sequence[Span], at: int) -> int:
    return sum(count for begin, end, count in spans if begin <= at < end)


def _freed(spans: Sequence[Span], has: int | None) -> Iterator[int]:
    """When each piece is finished with: it is in use no more, nor needed later."""
    total = _peak(spans) if has is None else min(has, _peak(spans))
    free = 0
    for at in sorted({end for _, end, _ in spans}):
        later = max(
            (
                _used(spans, moment)
                for moment in (at, *(begin for begin, _, _ in spans if begin > at))
            ),
            default=0,
        )
        done = total - min(total, later)
        yield from [at] * max(0, done - free)
        free = max(free, done)


def _last_word(name: str) -> str:
    return name.casefold().rpartition(" ")[2]
