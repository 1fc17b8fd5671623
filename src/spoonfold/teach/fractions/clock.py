"""Questions on time and temperature."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from spoonfold.teach.fractions.chance import Draws, pick
from spoonfold.teach.fractions.clock_kinds import (
    EachMinute,
    EndTime,
    HourPart,
    PartWay,
    SessionMinutes,
    ToGo,
    WashTime,
)
from spoonfold.teach.fractions.kinds import Question, Topic
from spoonfold.teach.fractions.numbers import DENOMINATORS, Dish, Heat, Numbers

_SHORTEST, _LONGEST = 8, 45
"""Minutes of one step that make a question."""
_HOUR_PARTS = frozenset({2, 3, 4, 6})
_PARTS = (Fraction(1, 2), Fraction(1, 3), Fraction(2, 3), Fraction(1, 4), Fraction(3, 4))
_ROOM = range(60, 81, 5)
"""How warm a room may be, °F (common practice)."""
_REFRIGERATED = range(35, 42)
"""How cold food is as it comes out of the refrigerator, °F: 41 °F or colder (FDA Food Code 2022,
3-501.16)."""
_FREEZING = 32
_PACES = {"food": (range(4, 16), 30), "oven": (range(8, 21), 30), "cold": (range(10, 31), 3)}
"""Minutes that it takes, and the most degrees a minute (common practice)."""


def timed(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """When a step is done; how long in other units."""
    room = numbers.room
    for dish in numbers.dishes:
        steps = [each for each in dish.steps if _SHORTEST <= each.minutes <= _LONGEST]
        if grade == 3:
            for each in steps:
                yield EndTime(Topic.TIME, "3.MD.A.1", dish.key, _begin(numbers, draws), (each,))
        if grade == 4:
            for one, two in pairwise(steps):
                if one.minutes + two.minutes <= 60:
                    yield EndTime(
                        Topic.TIME, "4.MD.A.2", dish.key, _begin(numbers, draws), (one, two)
                    )
        if grade == 5:
            for each in steps:
                if Fraction(each.minutes, 60).denominator in _HOUR_PARTS:
                    yield HourPart(Topic.TIME, "5.MD.A.1", dish.key, each.step, each.minutes)
    hours, rest = divmod(room.minutes, 60)
    if grade == 4 and hours and rest:
        yield SessionMinutes(Topic.TIME, "4.MD.A.1", hours, rest)
    if grade == 5 and Fraction(room.minutes, 60).denominator in _HOUR_PARTS:
        yield HourPart(Topic.TIME, "5.MD.A.1", numbers.dishes[0].key, 0, room.minutes)
    if grade > 4:
        standard = "5.MD.A.1" if grade == 5 else "6.RP.A.3.d"
        for children in range(2, room.children + 1):
            made = WashTime(Topic.TIME, standard, children, room.wash_seconds)
            if made.answer[0].denominator in (1, 2, 3) and made.answer[0] > 1:
                yield made


def _begin(numbers: Numbers, draws: Draws) -> int:
    """A time of day while the class cooks, to the minute."""
    room = numbers.room
    return room.starts + pick(draws, range(room.minutes // 5, room.minutes * 3 // 5 + 1))


def heated(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Degrees on the way to a temperature that the recipe asks for."""
    for dish in numbers.dishes:
        for heat in dish.heats:
            match grade:
                case 3 | 4:
                    standard = "3.NBT.A.2" if grade == 3 else "4.NBT.B.4"
                    start = _short_of(heat, draws)
                    yield ToGo(Topic.TEMPERATURE, standard, dish.key, heat, start)
                case 5:
                    yield from _part_ways(dish, heat, draws)
                case _:
                    yield from _each_minute(dish, heat)


def _short_of(heat: Heat, draws: Draws) -> int:
    """What a thermometer shows some way before the goal."""
    if heat.kind == "cold":
        return heat.goal + pick(draws, range(12, 30))
    # Never frozen, however low the goal.
    return heat.goal - pick(draws, range(1, max(2, heat.goal - _FREEZING))[16:85] or (1,))


def _part_ways(dish: Dish, heat: Heat, draws: Draws) -> Iterator[Question]:
    for part in _PARTS:
        starts = [start for start in _starts(heat) if ((heat.goal - start) * part).denominator == 1]
        if starts and part.denominator in DENOMINATORS[5]:
            yield PartWay(Topic.TEMPERATURE, "5.NF.B.6", dish.key, heat, pick(draws, starts), part)


def _each_minute(dish: Dish, heat: Heat) -> Iterator[Question]:
    minutes, fastest = _PACES[heat.kind]
    for start in _starts(heat):
        for each in minutes:
            made = EachMinute(Topic.TEMPERATURE, "6.RP.A.3.b", dish.key, heat, start, each)
            if made.answer[0].denominator == 1 and 1 < made.answer[0] <= fastest:
                yield made


def _starts(heat: Heat) -> range:
    """Food comes out of the refrigerator; an oven, and what must be chilled, from the room."""
    return _REFRIGERATED if heat.kind == "food" else _ROOM
