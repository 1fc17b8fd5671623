"""Washing up while the pot simmers: who has free hands washes what is finished with.

It fills waits and never moves a step: everything has its time before the first thing goes to the
sink. Each table washes what it used itself, and what was used for all where it has the time. Two
stand at a tap, one who washes and one who dries. Hot pots and pans are left for the clean-up, and
so is what finds no time. What a step's own `wash` names is washed at that step, and isn't counted.

What there is to wash up, and when each piece is finished with."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from spoonfold.knowledge.equipment import Kind, Washed
from spoonfold.knowledge.times import known_time
from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.tasks import Placed, equipment_of, tool


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
        step, until = one.task.step, taken.get(id, end + 1)
        kept = step.named(Kind.VESSEL, Kind.HOLDER)
        by_name = {need.name: need.tool for need in step.needs}
        for name, count in equipment_of(step).items():
            known, holds = by_name[name], name in kept
            if known is None or known.washed is not Washed.CHILDREN:
                continue
            washed = own_wash | (emptied.get(id, frozenset()) if holds else frozenset())
            if known.wash not in washed:
                spans.setdefault(name, {}).setdefault(one.task.table, []).append(
                    (one.start, max(until, one.end) if holds else one.end, count)
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
    """What the step itself has washed."""
    return frozenset(term.text for term in one.task.step.wash)


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


PIECE_SECONDS = int(known_time("wash one piece"))
"""Of a practised pair at the tap; times the class's pace."""

PAIR = 2
"""Children at a tap: one washes, one dries."""

LONGEST = int(known_time("longest at the sink"))
"""Seconds; then another pair takes over, so that nobody spends the class at the sink."""

SHORTEST = 3 * 60
"""Seconds; for less nobody is sent to the sink (common practice)."""


@dataclass(frozen=True, slots=True)
class WashUp:
    """A turn at the sink, in seconds since cooking began."""

    table: int
    hands: int
    start: int
    end: int
    things: tuple[tuple[str, int], ...]
    """Equipment and how many pieces of it, in the order in which to take them."""
    during: tuple[str, int] | None
    """Dish and step that cooks or rests by itself meanwhile."""


@dataclass(frozen=True, slots=True)
class Washing:
    """What is washed up during the steps, and what isn't."""

    turns: tuple[WashUp, ...]
    """By start, then table."""
    left: tuple[tuple[str, int], ...]
    """Pieces for the clean-up at the end; pots and what is eaten from come on top."""
    left_seconds: int
    """How long that takes at all taps together."""


def washing_of(setting: Setting, placed: Sequence[Placed]) -> Washing:
    """The washing up of a session whose steps all have their time."""
    return _Sink(setting, placed).result()


class _Sink:
    def __init__(self, setting: Setting, placed: Sequence[Placed]) -> None:
        self.setting = setting
        self.placed = placed
        self.taps = setting.equipment.get(setting.sink, 0)
        self.each = ceil(PIECE_SECONDS * setting.pace)
        self.end = max((one.end for one in placed), default=0)
        self.waiting = pieces_of(setting, placed, self.end)
        self.at_tap: list[Span] = [
            (one.start + hold.begin, one.start + hold.end, hold.amount)
            for one in placed
            for hold in one.task.activity.holds
            if hold.resource == tool(setting.sink)
        ]
        self.washed: Counter[int] = Counter()
        """Seconds at the sink so far, by table."""
        self.hands: dict[int, list[Span]] = {
            table: [
                (one.start, one.hands_free, one.task.hands[table])
                for one in placed
                if table in one.task.hands
            ]
            for table, children in enumerate(setting.tables, start=1)
            if children
        }

    def result(self) -> Washing:
        turns = []
        while self.taps:
            ready = [turn for turn in map(self.turn, self.hands) if turn is not None]
            if not ready:
                break
            # Whoever can begin first does; of those who begin together, who washed least so far.
            turn = min(
                ready,
                key=lambda one: (one.start, self.washed[one.table], one.start - one.end, one.table),
            )
            self.take(turn)
            turns.append(turn)
        left = Counter(one.name for pieces in self.waiting.values() for one in pieces)
        merged = self.merged(sorted(turns, key=lambda one: (one.table, one.start)))
        return Washing(
            tuple(sorted(merged, key=lambda one: (one.start, one.table))),
            tuple(left.items()),
            -(-left.total() // max(1, self.taps)) * self.each,
        )

    def turn(self, table: int) -> WashUp | None:
        """The earliest turn of a table that is worth going to the sink for."""
        pieces = [
            one
            for group in (table, None)
            for one in self.waiting.get(group, ())
            if one.free is not None
        ]
        hands = min(PAIR, self.setting.tables[table - 1])
        busy = self.hands[table]
        moments = {one.free for one in pieces if one.free is not None}
        moments |= {end for _, end, _ in (*busy, *self.at_tap)}
        for at in sorted(moments):
            ready = [one for one in pieces if one.free is not None and one.free <= at]
            until = min(
                _until(busy, self.setting.tables[table - 1] - hands, at, self.end),
                _until(self.at_tap, self.taps - 1, at, self.end),
            )
            count = min(len(ready), (until - at) // self.each, max(1, LONGEST // self.each))
            if count and count * self.each >= SHORTEST:
                things = Counter(one.name for one in ready[:count])
                end = at + count * self.each
                return WashUp(
                    table,
                    hands,
                    at,
                    end,
                    tuple(things.items()),
                    _during(self.placed, table, at, end),
                )
        return None

    def merged(self, turns: Sequence[WashUp]) -> Sequence[WashUp]:
        """Turns of one table that follow each other at once are one, while it isn't too long and
        nothing of it is in anybody's hands when it begins: food may still lie on the boards, but
        who is sent to wash a whisk must not find it in use."""
        merged: list[WashUp] = []
        for turn in turns:
            last = merged[-1] if merged else None
            if (
                last is not None
                and last.table == turn.table
                and last.end == turn.start
                and turn.end - last.start <= LONGEST
                and not self.are_used(dict(turn.things), last.start, turn.start)
            ):
                things = Counter(dict(last.things)) + Counter(dict(turn.things))
                merged[-1] = WashUp(
                    turn.table,
                    turn.hands,
                    last.start,
                    turn.end,
                    tuple(things.items()),
                    _during(self.placed, turn.table, last.start, turn.end),
                )
            else:
                merged.append(turn)
        return merged

    def are_used(self, names: Iterable[str], start: int, end: int) -> bool:
        """Whether a step needs things of these names meanwhile."""
        return any(
            equipment_of(one.task.step)[name]
            for one in self.placed
            if one.start < end and start < one.end
            for name in names
        )

    def take(self, turn: WashUp) -> None:
        """Books hands and tap, and takes the pieces off the pile."""
        self.washed[turn.table] += turn.end - turn.start
        self.hands[turn.table].append((turn.start, turn.end, turn.hands))
        self.at_tap.append((turn.start, turn.end, 1))
        washed = Counter(dict(turn.things))
        for group in (turn.table, None):
            kept = []
            for one in self.waiting.get(group, ()):
                if one.free is not None and one.free <= turn.start and washed[one.name]:
                    washed[one.name] -= 1
                else:
                    kept.append(one)
            self.waiting[group] = kept


def _until(busy: Sequence[Span], most: int, at: int, end: int) -> int:
    """How long from a moment on no more than so much is in use; the moment itself if not at all."""
    for moment in sorted({at, *(begin for begin, _, _ in busy if begin > at)}):
        if sum(n for begin, until, n in busy if begin <= moment < until) > most:
            return min(moment, end)
    return end


def _during(placed: Sequence[Placed], table: int, start: int, end: int) -> tuple[str, int] | None:
    """The step that goes on by itself for most of a stretch; the table's own and the class's
    rather than another table's."""
    best: tuple[int, bool, tuple[str, int]] | None = None
    for one in placed:
        shared = min(end, one.end) - max(start, one.worked) if one.task.wait else 0
        own = one.task.table in (None, table)
        if shared > 0 and (best is None or (own, shared) > (best[1], best[0])):
            best = shared, own, (one.task.dish, one.task.step.number)
    return None if best is None else best[2]
