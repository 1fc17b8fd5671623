"""Degrees on the way to a temperature that the recipe asks for: how many are missing, where it
stands after a part of the way, how many a minute brings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws, pick
from spoonfold.sheets.worksheet.figures import Line, Mark
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import DENOMINATORS, Dish, Heat, Numbers
from spoonfold.sheets.worksheet.question import Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import divided, multiplied

_PARTS = (Fraction(1, 2), Fraction(1, 3), Fraction(2, 3), Fraction(1, 4), Fraction(3, 4))
_ROOM = range(60, 81, 5)
"""How warm a room may be, °F (common practice)."""
_REFRIGERATED = range(35, 42)
"""How cold food is as it comes out of the refrigerator, °F: 41 °F or colder (FDA Food Code 2022,
3-501.16)."""
_FREEZING = 32
_PACES = {"food": (range(4, 16), 30), "oven": (range(8, 21), 30), "cold": (range(10, 31), 3)}
"""Minutes that it takes, and the most degrees a minute (common practice)."""


def heated(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Differences up to grade 4, parts of them in grade 5, rates in grade 6."""
    for dish in numbers.dishes:
        for heat in dish.heats:
            match grade:
                case 3 | 4:
                    standard = "3.NBT.A.2" if grade == 3 else "4.NBT.B.4"
                    yield ToGo(standard, dish.key, heat, _short_of(heat, draws))
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
            yield PartWay("5.NF.B.6", dish.key, heat, pick(draws, starts), part)


def _each_minute(dish: Dish, heat: Heat) -> Iterator[Question]:
    minutes, fastest = _PACES[heat.kind]
    for start in _starts(heat):
        for each in minutes:
            made = EachMinute("6.RP.A.3.b", dish.key, heat, start, each)
            if made.answer[0].denominator == 1 and 1 < made.answer[0] <= fastest:
                yield made


def _starts(heat: Heat) -> range:
    """Food comes out of the refrigerator; an oven, and what must be chilled, from the room."""
    return _REFRIGERATED if heat.kind == "food" else _ROOM


@dataclass(frozen=True, slots=True)
class Degrees(Question):
    """A question about a temperature that is to be reached."""

    dish: str
    heat: Heat
    start: int
    """What the thermometer shows, or showed."""

    @property
    def way(self) -> int:
        """Degrees between start and goal, whichever is warmer."""
        return abs(self.heat.goal - self.start)

    def told(self, names: Names) -> str:
        """What must be reached; the food, the oven and the cooler each have their own words."""
        say, dish, goal = names.texts.say, names.titles[self.dish], self.heat.goal
        match self.heat.kind:
            case "food":
                return say(
                    "{dish}: in step {step} the middle must reach {goal} °F.",
                    dish=dish,
                    step=self.heat.step,
                    goal=goal,
                )
            case "oven":
                return say("{dish}: the oven must reach {goal} °F.", dish=dish, goal=goal)
            case _:
                return say("The cooler must be at {goal} °F or colder.", goal=goal)

    def in_degrees(self, text: str, names: Names) -> Asked:
        """The question after what it tells, answered in degrees."""
        return Asked(f"{self.told(names)} {text}", ("°F",), f"{n(self.answer[0])} °F")

    def work(self, names: Names) -> tuple[str, ...]:
        goal, start = self.heat.goal, self.start
        return (f"{max(goal, start)} − {min(goal, start)} = {self.way}",)

    def figure(self, names: Names) -> Line:
        return self.thermometer(names.texts.say("start"), names)

    def thermometer(self, start: str, names: Names) -> Line:
        """A scale with both temperatures that the question tells, the first under this word."""
        goal = self.heat.goal
        low = min(goal, self.start) // 20 * 20
        high = -(-max(goal, self.start) // 20) * 20
        every = 20 if high - low <= 160 else 50 if high - low <= 400 else 100
        step = 2 if high - low <= 60 else 5 if high - low <= 160 else 10
        return Line(
            low=Fraction(low),
            high=Fraction(high),
            step=Fraction(step),
            above=tuple(
                Mark(Fraction(at), str(at)) for at in range(low, high + 1) if at % every == 0
            ),
            below=(),
            points=(
                Mark(Fraction(self.start), start),
                Mark(Fraction(goal), names.texts.say("goal")),
            ),
            words=names.texts.say(
                "A thermometer from {low} to {high} °F, with dots at {start} and {goal}.",
                low=low,
                high=high,
                start=self.start,
                goal=goal,
            ),
        )


@dataclass(frozen=True, slots=True)
class ToGo(Degrees):
    """How many degrees are missing."""

    @property
    def answer(self) -> Answer:
        return (Fraction(self.way),)

    def asked(self, names: Names) -> Asked:
        say, start = names.texts.say, self.start
        text = (
            say("The thermometer shows {start} °F. How many degrees too warm is that?", start=start)
            if self.heat.kind == "cold"
            else say("The thermometer shows {start} °F. How many degrees are missing?", start=start)
        )
        return self.in_degrees(text, names)

    def figure(self, names: Names) -> Line:
        return self.thermometer(names.texts.say("now"), names)


@dataclass(frozen=True, slots=True)
class PartWay(Degrees):
    """What the thermometer shows after a part of the way."""

    part: Fraction

    @property
    def answer(self) -> Answer:
        return (self.start + self.part * (self.heat.goal - self.start),)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "It was {start} °F and has gone {part} of the way. What does the thermometer show?",
            start=self.start,
            part=n(self.part),
        )
        return self.in_degrees(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        gone, sign = self.way * self.part, "+" if self.heat.goal > self.start else "−"
        return (
            *Degrees.work(self, names),
            *multiplied(Fraction(self.way), self.part),
            f"{self.start} {sign} {n(gone)} = {n(self.answer[0])}",
        )


@dataclass(frozen=True, slots=True)
class EachMinute(Degrees):
    """How many degrees a minute, where every minute brings the same."""

    minutes: int

    @property
    def answer(self) -> Answer:
        return (Fraction(self.way, self.minutes),)

    def asked(self, names: Names) -> Asked:
        text = names.texts.say(
            "It starts at {start} °F and takes {minutes} minutes. Suppose every "
            "minute brings equally many degrees. How many is that each minute?",
            start=self.start,
            minutes=self.minutes,
        )
        return self.in_degrees(text, names)

    def work(self, names: Names) -> tuple[str, ...]:
        return (*Degrees.work(self, names), divided(self.way, self.minutes))


ASKS = {Topic.TEMPERATURE: heated}
