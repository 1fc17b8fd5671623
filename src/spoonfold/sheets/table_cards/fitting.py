"""Where the steps of a card stand, so that one side holds them in large type.

A side is bands from above. With a lane for each child, a band is parted into the lanes that work
together, and what they do one after the other stands one below the other. Where that takes too
much room, or there are more children than lanes, a band holds up to four steps side by side. What
one side can't hold in either way goes on two, parted at the longest wait. The type is never
smaller, nothing is left out but the drawings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate, pairwise
from math import inf

from spoonfold.model.classroom import Paper
from spoonfold.model.prose import plain
from spoonfold.sheets.booklet.opening import ALIKE
from spoonfold.sheets.shared.amounts import ScoopMark
from spoonfold.sheets.shared.lettering import TITLE, length_of, lines_of, text_lines, width_of
from spoonfold.sheets.table_cards.front import MOST_LANES, Danger, FrontStep, Moments, Place
from spoonfold.sheets.table_cards.steps import Elsewhere
from spoonfold.sheets.table_cards.uses import CardUse

# As `layouts/pages/table-card.html` has them, in points.
SIDES, ENDS = 0.84 * 72, 0.53 * 72
_TEXT, _LINE, _VERB = 14.0, 16.5, 16.0
_PADDING, _AROUND = 12.0, 4.8
"""At the sides; above and below, with the rule there."""
_FIRST = 0.9
"""By which the number and the verb make a step's first line higher."""
_GAP = 4.0
_DRAWING_WIDE, _DRAWING_HIGH = 62.0, 43.0
_NUMBER, _SEAT, _TAG = 22.0, 19.0, 10.0
_ICON = 18.5
_BETWEEN_MARKS = 8.0
_SCOOP = 11.5 / 16
SCOOP_ROW = 225
"""Units of the drawing: what is more goes below."""
_TITLE, _TITLE_LINE = 22.0, 24.0
_TOP = 9.0
_LANE = 4.0
_STRIP_LINE, _STRIP = 17.5, 4.0
_SPARE, _SPARE_BESIDE = 0.0, 18.0
"""What is kept in hand: nothing beside what lines, rules and the head are reckoned too high by; for
a line that was misjudged, where a drawing takes the rest."""
_WIDER = 1.015
"""A line that nearly fits is taken as one that does not."""
_UNITS, _NARROWEST = 12, 3
"""Of a side: so many parts a column may be wide, and has to be."""
_MOST_IN_BAND = 6
"""Steps that stand in one band where there are no lanes."""
_MOST_LOOSE = 1 / 3
"""Of all steps: more in lanes of others would mislead."""
_LEAST_USED = 0.62
"""Of the room of all lanes: where more of it stands empty, steps side by side are larger."""
_LOOSE = 15.0
"""Points of height that are given for a lane that is left to its own child."""
_PAUSE = 60
"""Seconds that make one pause longer than another."""
LONG_MARK = 18
"""Letters: a longer word of a sign may be broken over two lines."""
_WORD = 36.0
"""A word of a fixed text."""


@dataclass(frozen=True, slots=True)
class Room:
    """What a side holds, in points."""

    wide: float
    high: float


def room_on(paper: Paper) -> Room:
    """A sheet that lies on its long side, without its margins."""
    return Room(length_of(paper.height) - SIDES, length_of(paper.width) - ENDS)


@dataclass(frozen=True, slots=True)
class Stack:
    """What stands one below the other in a band; nothing where a lane has no work."""

    percent: str
    places: tuple[Place, ...]


Band = tuple[Stack, ...]


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a card."""

    bands: tuple[Band, ...]
    dangers: tuple[Danger, ...]
    """Of its steps."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """Where everything of a card stands."""

    sides: tuple[Side, ...]
    has_lanes: bool
    is_tight: bool
    """What goes in and what can hurt follow each other on a line."""
    drawn: frozenset[int]
    """The steps whose drawing has room."""


@dataclass(frozen=True, slots=True)
class Head:
    """What stands above the steps and below them, as far as it takes room."""

    title: str
    lines: tuple[str, ...]
    """Of 14 points, over the whole width."""
    jobs: tuple[str, ...]
    """What each lane says."""
    dangers: Callable[[Sequence[Place]], Sequence[Danger]]


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to lay a card out."""

    lanes: tuple[str, ...]
    """Empty where steps stand side by side in the order of time."""
    is_tight: bool


def fitted(
    places: Sequence[Place], letters: Sequence[str], head: Head, moments: Moments, room: Room
) -> Fitted:
    """One side if it can be, with lanes if they can be, and as many drawings as have room."""
    lanes = tuple(letters) if 1 < len(letters) <= MOST_LANES else ()
    ways = [_Way(own, tight) for own in dict.fromkeys((lanes, ())) for tight in (False, True)]
    for way in ways:
        laid = _laid(places, way, head, room)
        if laid.left >= 0 and not _is_loose(laid, way, room.wide):
            return _drawn((laid,), way, head, room)
    for way in ways:
        two = _two(places, way, head, moments, room)
        if two:
            return _drawn(two, way, head, room)
    return _drawn(tuple(_many(places, ways[-1], head, room)), ways[-1], head, room)


@dataclass(frozen=True, slots=True)
class _Laid:
    """Bands of one side, and how much room is left below them."""

    places: Sequence[Place]
    bands: tuple[Band, ...]
    left: float


def _laid(places: Sequence[Place], way: _Way, head: Head, room: Room) -> _Laid:
    bands, high = _bands(places, way, room.wide)
    return _Laid(places, bands, room.high - _around(head, places, room.wide, way) - high)


def _is_loose(laid: _Laid, way: _Way, wide: float) -> bool:
    """Whether lanes say nothing, since many steps stand in lanes of others, or stand empty."""
    if not way.lanes:
        return False
    steps = [each for each in laid.places if isinstance(each, FrontStep)]
    loose, used, whole = 0, 0.0, 0.0
    for band in laid.bands:
        if _has_elsewhere(band[0].places):
            continue
        whole += _band_high(band, wide, way, frozenset())
        for stack in band:
            part = float(stack.percent) / 100
            loose += sum(_strays(len(way.lanes) * part, each) > 0 for each in stack.places)
            used += part * _band_high((stack,), wide, way, frozenset())
    return loose > _MOST_LOOSE * len(steps) or used < _LEAST_USED * whole


def _strays(lanes: float, place: Place) -> int:
    """Over how many lanes a step stands whose children have no part in it."""
    return round(lanes) - len(place.who) if isinstance(place, FrontStep) and place.who else 0


def _drawn(sides: Sequence[_Laid], way: _Way, head: Head, room: Room) -> Fitted:
    drawn = frozenset[int]().union(*(_drawings(side, room.wide, way) for side in sides))
    return Fitted(
        tuple(Side(side.bands, tuple(head.dangers(side.places))) for side in sides),
        bool(way.lanes),
        way.is_tight,
        drawn,
    )


def _drawings(side: _Laid, wide: float, way: _Way) -> frozenset[int]:
    """The steps that are drawn: those first whose drawing takes the least room."""
    left, drawn = side.left, frozenset[int]()
    while True:
        found = [
            (
                _band_high(band, wide, way, drawn | {step.number})
                - _band_high(band, wide, way, drawn),
                step,
            )
            for band in side.bands
            for stack in band
            for step in stack.places
            if isinstance(step, FrontStep) and step.drawing and step.number not in drawn
        ]
        grown, step = min(found, key=lambda each: each[0], default=(left + 1, None))
        if step is None or (grown > 0 and grown > left - _SPARE_BESIDE):
            return drawn
        left -= grown
        drawn |= {step.number}


def _band_high(band: Band, wide: float, way: _Way, drawn: frozenset[int]) -> float:
    return max(
        sum(
            _place_high(each, wide * float(stack.percent) / 100, way, drawn)
            for each in stack.places
        )
        for stack in band
    )


def _two(
    places: Sequence[Place], way: _Way, head: Head, moments: Moments, room: Room
) -> tuple[_Laid, ...]:
    """Both sides, parted where the longest pause is; nothing where two don't hold it."""
    found = []
    for at in range(1, len(places)):
        before, after = places[:at], places[at:]
        two = tuple(_laid(each, way, head, room) for each in (before, after))
        if all(side.left >= 0 for side in two):
            uneven = abs(two[0].left - two[1].left)
            found.append((-(_pause(before, after, moments) // _PAUSE), uneven, at, two))
    return min(found, key=lambda each: each[:3])[-1] if found else ()


def _pause(before: Sequence[Place], after: Sequence[Place], moments: Moments) -> int:
    """Seconds in which nobody here has anything to do."""
    free = [moments.free[number] for number in _numbers(before) if number in moments.free]
    starts = [moments.starts[number] for number in _numbers(after) if number in moments.starts]
    return max(0, min(starts) - max(free)) if free and starts else 0


def _numbers(places: Sequence[Place]) -> Iterator[int]:
    for each in places:
        if isinstance(each, FrontStep):
            yield each.number
        else:
            yield from (step.number for step in each.steps)


def _many(places: Sequence[Place], way: _Way, head: Head, room: Room) -> Iterator[_Laid]:
    """As many sides as it takes, each as full as can be."""
    start = 0
    for end in range(1, len(places) + 1):
        if end == len(places) or _laid(places[start : end + 1], way, head, room).left < 0:
            yield _laid(places[start:end], way, head, room)
            start = end


def _around(head: Head, places: Sequence[Place], wide: float, way: _Way) -> float:
    """What title, allergens, lanes and dangers take."""
    total = _TOP + text_lines(head.title, _TITLE * TITLE, wide - 140) * _TITLE_LINE
    total += sum(text_lines(line, _TEXT * 1.03, wide) * _LINE for line in head.lines)
    if way.lanes:
        each = wide / len(head.jobs)
        lines = max(text_lines(f"nnn {jobs}", _TEXT, each - _PADDING) for jobs in head.jobs)
        total += lines * (_LINE + 1) + _LANE
    elif head.jobs:
        jobs_wide = [width_of(f"nnn {jobs}", _TEXT) + 14 for jobs in head.jobs]
        total += lines_of(jobs_wide, _GAP, wide) * (_LINE + 3) + _LANE
    pieces = [
        width_of(f"{danger.name}: ", _TEXT, True) + width_of(danger.few, _TEXT) + _ICON + 8
        for danger in head.dangers(places)
    ]
    if pieces:
        total += lines_of(pieces, _GAP, wide) * _STRIP_LINE + _STRIP
    return total + _SPARE


def _bands(places: Sequence[Place], way: _Way, wide: float) -> tuple[tuple[Band, ...], float]:
    """The bands that take the least room together, and how much they take."""

    @cache
    def high(at: int, units: int, of: int) -> float:
        return _place_high(places[at], wide * units / of, way, frozenset())

    @cache
    def band(start: int, end: int) -> tuple[float, _Stacks]:
        if way.lanes:
            return _in_lanes(places, range(start, end), way.lanes, high)
        return _side_by_side(start, end, high)

    @cache
    def price(start: int, end: int) -> float:
        high, stacks = band(start, end)
        if not way.lanes:
            return high
        return high + _LOOSE * sum(
            max(0, _strays(len(way.lanes) * units / of, places[at]))
            for units, of, own in stacks
            for at in own
        )

    best: list[tuple[float, int]] = [(0.0, 0)]
    for end in range(1, len(places) + 1):
        best.append(
            min(
                (best[start][0] + price(start, end), start)
                for start in range(end)
                if end - start == 1 or not _has_elsewhere(places[start:end])
            )
        )
    cuts = [len(places)]
    while cuts[0]:
        cuts.insert(0, best[cuts[0]][1])
    found = tuple(
        tuple(
            Stack(f"{100 * units / of:.3f}", tuple(places[at] for at in stack))
            for units, of, stack in band(start, end)[1]
        )
        for start, end in pairwise(cuts)
    )
    return found, sum(band(start, end)[0] for start, end in pairwise(cuts))


def _has_elsewhere(places: Sequence[Place]) -> bool:
    return any(isinstance(each, Elsewhere) for each in places)


_High = Callable[[int, int, int], float]
_Stacks = tuple[tuple[int, int, tuple[int, ...]], ...]
"""Of each stack of a band how many units of how many it is wide, and its places."""


def _in_lanes(
    places: Sequence[Place], indices: Sequence[int], lanes: Sequence[str], high: _High
) -> tuple[float, _Stacks]:
    """Lanes that share a step stand together; the others have a stack each."""
    count = len(lanes)
    spans = {at: _span(places[at], lanes) for at in indices}
    if set(spans.values()) == {(0, count - 1)} and len(indices) > 1:
        # What all do together needs no lane.
        return _side_by_side(indices[0], indices[-1] + 1, high)
    groups: list[tuple[int, int]] = []
    for first, last in sorted(spans.values()):
        if groups and first <= groups[-1][1]:
            groups[-1] = groups[-1][0], max(groups[-1][1], last)
        else:
            groups.append((first, last))
    stacks: list[tuple[int, int, tuple[int, ...]]] = []
    at_lane = 0
    for first, last in groups:
        stacks += [(1, count, ()) for _ in range(at_lane, first)]
        own = tuple(at for at in indices if first <= spans[at][0] <= last)
        stacks.append((last - first + 1, count, own))
        at_lane = last + 1
    stacks += [(1, count, ()) for _ in range(at_lane, count)]
    return _tallest(stacks, high), tuple(stacks)


def _span(place: Place, lanes: Sequence[str]) -> tuple[int, int]:
    who = place.who if isinstance(place, FrontStep) else ()
    at = [lanes.index(letter) for letter in who if letter in lanes]
    return (min(at), max(at)) if at else (0, len(lanes) - 1)


def _side_by_side(start: int, end: int, high: _High) -> tuple[float, _Stacks]:
    """One, two or more columns, as wide and as long as makes the band lowest."""
    if end - start > _MOST_IN_BAND:
        return inf, ()

    @cache
    def column(first: int, last: int, units: int) -> float:
        return sum(high(at, units, _UNITS) for at in range(first, last))

    best = inf
    chosen: tuple[tuple[int, ...], tuple[int, ...]] = ((end - start,), (_UNITS,))
    for columns in range(1, min(end - start, _UNITS // _NARROWEST) + 1):
        for lengths in _parted(end - start, columns, 1):
            cuts = [*accumulate(lengths, initial=start)]
            for widths in _parted(_UNITS, columns, _NARROWEST):
                tallest = max(map(column, cuts, cuts[1:], widths))
                if tallest < best:
                    best, chosen = tallest, (lengths, widths)
    lengths, widths = chosen
    cuts = [*accumulate(lengths, initial=start)]
    return best, tuple(
        (units, _UNITS, tuple(range(first, last)))
        for (first, last), units in zip(pairwise(cuts), widths, strict=True)
    )


@cache
def _parted(whole: int, count: int, least: int) -> tuple[tuple[int, ...], ...]:
    """Every way to deal out so many, at least the least to each."""
    if count == 1:
        return ((whole,),)
    return tuple(
        (first, *rest)
        for first in range(least, whole - least * (count - 1) + 1)
        for rest in _parted(whole - first, count - 1, least)
    )


def _tallest(stacks: Sequence[tuple[int, int, tuple[int, ...]]], high: _High) -> float:
    return max(sum(high(at, units, of) for at in own) for units, of, own in stacks)


def _place_high(place: Place, wide: float, way: _Way, drawn: frozenset[int]) -> float:
    if isinstance(place, Elsewhere):
        return _elsewhere_high(place, wide - _PADDING)
    return _step_high(place, wide - _PADDING, way.is_tight, place.number in drawn)


def _elsewhere_high(place: Elsewhere, wide: float) -> float:
    """Title, note and steps follow each other like the sentences of a text."""
    words = f"nn {place.title} {place.note} " + " ".join(
        f"nnn {'nnn ' * len(step.who)} {step.text}" for step in place.steps
    )
    return _AROUND + _FIRST + text_lines(words, _TEXT * 1.04, wide) * _LINE


@dataclass(slots=True)
class _Pen:
    """Where the next piece of a step goes; a drawing stands at the right of the first lines."""

    wide: float
    is_drawn: bool
    at: float = 0.0
    line: float = 0.0
    """How high the line is that is begun."""
    high: float = 0.0

    def put(self, piece: float, line: float = _LINE) -> None:
        """A piece that stays whole and needs a line of such a height."""
        piece *= _WIDER
        if self.at and self.at + _GAP + piece > self.room:
            self.end()
        if piece > self.room and self.room < self.wide:
            self.high = max(self.high, _DRAWING_HIGH)
        self.at += piece + (_GAP if self.at else 0)
        self.line = max(self.line, line)

    def end(self) -> None:
        """The line is full."""
        self.high += self.line
        self.at = self.line = 0.0

    @property
    def room(self) -> float:
        is_beside = self.is_drawn and self.high < _DRAWING_HIGH
        return self.wide - _DRAWING_WIDE if is_beside else self.wide


@cache
def _step_high(step: FrontStep, wide: float, is_tight: bool, is_drawn: bool) -> float:
    pen = _Pen(wide, is_drawn)
    for piece in _words_widths(step):
        pen.put(piece)
    pen.end()
    for use in step.uses:
        for piece, line in _use_widths(use):
            pen.put(piece, line)
        pen.at += _BETWEEN_MARKS
    if not is_tight:
        pen.end()
    for piece in _mark_widths(step):
        pen.put(piece)
    pen.end()
    return max(pen.high + _FIRST, _DRAWING_HIGH if is_drawn else 0.0) + _AROUND


def _words_widths(step: FrontStep) -> list[float]:
    pieces = [_NUMBER]
    if step.everyone:
        pieces.append(width_of("everyone", _TEXT, True) + _TAG)
    else:
        pieces += [_SEAT] * len(step.who)
    if step.time:
        pieces.append(width_of(step.time, _TEXT, True))
    if step.board:
        pieces.append(width_of("READY", _TEXT, True) + _TAG)
    if step.verb:
        pieces.append(width_of(step.verb, _VERB * TITLE))
    return pieces + [width_of(word, _TEXT) for word in plain(step.words).split()]


def _use_widths(use: CardUse) -> Iterator[tuple[float, float]]:
    """The pieces of what goes in, the scoops last, and how high a line each needs."""
    amount = width_of(f"{use.amount.text} {use.amount.joint}".rstrip(), _TEXT, True)
    yield amount + (15 if not use.amount.scoops or use.is_either else 0), _LINE
    for word in use.name.split():
        yield width_of(word, _TEXT, True), _LINE
    notes = (*(f"({note})" for note in (use.instead, use.note) if note), use.each)
    for note in notes:
        for word in note.split():
            yield width_of(word, _TEXT), _LINE
    if use.is_either and use.instead:
        yield from ((_WORD, _LINE) for _ in range(4))
    if use.amount.scoops:
        wide, deep = _scoops(use.amount.scoops)
        yield wide, max(_LINE, deep + 3)


def _scoops(marks: Sequence[ScoopMark]) -> tuple[float, float]:
    """How wide and how deep a row of drawn scoops is, as `press/figures/scoops.py` draws it."""
    rows = [[0.0, 0.0]]
    for mark in marks:
        wide, deep = _scoop(mark)
        for _ in range(mark.count if mark.count < ALIKE else 1):
            if rows[-1][0] and rows[-1][0] + wide > SCOOP_ROW:
                rows.append([0.0, 0.0])
            rows[-1][0] += wide
            rows[-1][1] = max(rows[-1][1], deep)
    high = sum(deep for _, deep in rows) + 6 * (len(rows) - 1) + 3
    return max(wide for wide, _ in rows) * _SCOOP, high * _SCOOP


def _scoop(mark: ScoopMark) -> tuple[float, float]:
    """One scoop with its boxes, or one of many alike, in units of the drawing."""
    root = float(mark.tsp) ** (1 / 3)
    boxes = min(mark.count, 10) if mark.count >= ALIKE else 1
    radius, of = {"cup": (5.55 * root, 1.2), "jug": (4.62 * root, 2.0)}.get(
        mark.kind, (6.26 * root, 1.0)
    )
    return 2 * radius + 13 + (3 if mark.kind == "jug" else 0) + 15 * boxes, max(11, of * radius)


def _mark_widths(step: FrontStep) -> Iterator[float]:
    marks = [(fact.text, True) for fact in step.facts]
    for text, is_strong in (*marks, *((sign.text, sign.is_strong) for sign in step.signs)):
        if len(text) <= LONG_MARK:
            yield width_of(text, _TEXT, is_strong) + _ICON + _BETWEEN_MARKS
            continue
        first, *words = [width_of(word, _TEXT, is_strong) for word in text.split()]
        yield first + _ICON
        yield from words
        yield _BETWEEN_MARKS
