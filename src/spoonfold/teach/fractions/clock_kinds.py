"""Every kind of question about time and temperature, its given numbers and its one answer."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from spoonfold.teach.fractions.kinds import Numbers, Question
from spoonfold.teach.fractions.numbers import Heat, StepTime


@dataclass(frozen=True, slots=True)
class EndTime(Question):
    """When a step is done, in minutes after midnight; two steps follow each other."""

    dish: str
    begins: int
    steps: tuple[StepTime, ...]

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.begins + sum(each.minutes for each in self.steps)),)


@dataclass(frozen=True, slots=True)
class HourPart(Question):
    """Minutes as hours; `step` 0 is the whole session."""

    dish: str
    step: int
    minutes: int

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.minutes, 60),)


@dataclass(frozen=True, slots=True)
class SessionMinutes(Question):
    """Hours and minutes as minutes."""

    hours: int
    minutes: int

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.hours * 60 + self.minutes),)


@dataclass(frozen=True, slots=True)
class WashTime(Question):
    """How many minutes it takes when children wash hands one after the other."""

    children: int
    seconds: int

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.children * self.seconds, 60),)


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


@dataclass(frozen=True, slots=True)
class ToGo(Degrees):
    """How many degrees are missing."""

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.way),)


@dataclass(frozen=True, slots=True)
class PartWay(Degrees):
    """What the thermometer shows after a part of the way."""

    part: Fraction

    @property
    def answer(self) -> Numbers:
        return (self.start + self.part * (self.heat.goal - self.start),)


@dataclass(frozen=True, slots=True)
class EachMinute(Degrees):
    """How many degrees a minute, where every minute brings the same."""

    minutes: int

    @property
    def answer(self) -> Numbers:
        return (Fraction(self.way, self.minutes),)
