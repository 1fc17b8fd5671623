"""Grades 3 and 4: when a step is done, or two that follow each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from spoonfold.sheets.worksheet.chance import Draws, pick
from spoonfold.sheets.worksheet.figures import Line, Mark
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Numbers, StepTime
from spoonfold.sheets.worksheet.question import Answer, Asked, Question, Topic

_TOGETHER = 60
"""Two steps take no longer than an hour."""


def ends(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """One step in grade 3, two in grade 4, begun while the class cooks."""
    for dish in numbers.dishes:
        steps = dish.timed_steps
        if grade == 3:
            for each in steps:
                yield EndTime("3.MD.A.1", dish.key, _begin(numbers, draws), (each,))
        if grade == 4:
            for one, two in pairwise(steps):
                if one.minutes + two.minutes <= _TOGETHER:
                    yield EndTime("4.MD.A.2", dish.key, _begin(numbers, draws), (one, two))


def _begin(numbers: Numbers, draws: Draws) -> int:
    """A time of day while the class cooks, to the minute."""
    room = numbers.room
    return room.starts + pick(draws, range(room.minutes // 5, room.minutes * 3 // 5 + 1))


@dataclass(frozen=True, slots=True)
class EndTime(Question):
    """When a step is done, in minutes after midnight; two steps follow each other."""

    dish: str
    begins: int
    steps: tuple[StepTime] | tuple[StepTime, StepTime]

    @property
    def _minutes(self) -> int:
        return sum(each.minutes for each in self.steps)

    @property
    def answer(self) -> Answer:
        return (Fraction(self.begins + self._minutes),)

    def asked(self, names: Names) -> Asked:
        say, dish, time = names.texts.say, names.titles[self.dish], names.clock(self.begins)
        match self.steps:
            case (one,):
                text = say(
                    "{dish}: step {step} takes {minutes} minutes. You begin it at {time}. "
                    "When is it done?",
                    dish=dish,
                    step=one.step,
                    minutes=one.minutes,
                    time=time,
                )
            case (one, two):
                text = say(
                    "{dish}: step {step} takes {minutes} minutes. Right after it, step {next} "
                    "takes {more} minutes. You begin at {time}. When are both done?",
                    dish=dish,
                    step=one.step,
                    minutes=one.minutes,
                    next=two.step,
                    more=two.minutes,
                    time=time,
                )
        return Asked(text, ("", ""), names.clock(int(self.answer[0])), between=":")

    def work(self, names: Names) -> tuple[str, ...]:
        """To the full hour first, where the end lies beyond it."""
        say, minutes = names.texts.say, self._minutes
        each = [str(step.minutes) for step in self.steps]
        total = [f"{' + '.join(each)} = {minutes}"] if len(each) > 1 else []
        hour = (self.begins // 60 + 1) * 60
        to_hour = hour - self.begins
        if to_hour >= minutes:
            return (*total, self._last(self.begins, minutes, names))
        return (
            *total,
            say("{minutes} minutes to {time}", minutes=to_hour, time=names.clock(hour)),
            f"{minutes} − {to_hour} = {minutes - to_hour}",
            self._last(hour, minutes - to_hour, names),
        )

    def _last(self, start: int, minutes: int, names: Names) -> str:
        return names.texts.say(
            "{time} and {minutes} minutes: {end}",
            time=names.clock(start),
            minutes=minutes,
            end=names.clock(start + minutes),
        )

    def figure(self, names: Names) -> Line:
        """Five-minute ticks from before the start to after the end, an hour at least."""
        low = self.begins // 15 * 15
        high = max((int(self.answer[0]) // 15 + 1) * 15, low + 60)
        every = 15 if high - low <= 60 else 30
        return Line(
            low=Fraction(low),
            high=Fraction(high),
            step=Fraction(5),
            above=tuple(
                Mark(Fraction(at), names.clock(at))
                for at in range(low, high + 1)
                if at % every == 0
            ),
            below=(),
            points=(Mark(Fraction(self.begins), names.texts.say("start")),),
            words=names.texts.say(
                "A line of time from {low} to {high} with a tick every 5 minutes, and a dot "
                "at {start}.",
                low=names.clock(low),
                high=names.clock(high),
                start=names.clock(self.begins),
            ),
        )


ASKS = {Topic.TIME: ends}
