"""What every kind of question has: its topic, its given numbers and its one answer.

The kinds stand beside those who ask them: `amount_kinds`, `measure_kinds`, `clock_kinds`. An
answer is a tuple of exact numbers, as many as the sheet has blanks. Standards are named by
their codes in the Common Core State Standards for Mathematics (2010).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from spoonfold.teach.fractions.numbers import Food

Numbers = tuple[Fraction, ...]


class Topic(Enum):
    """What a question is about."""

    TIMES = "times"
    MULTIPLY = "multiply"
    SCOOPS = "scoops"
    LOST = "lost"
    RATIO = "ratio"
    CONVERT = "convert"
    HALVE = "halve"
    TIME = "time"
    TEMPERATURE = "temperature"


@dataclass(frozen=True, slots=True)
class Question:
    """One question; its kinds follow."""

    topic: Topic
    standard: str

    @property
    def answer(self) -> Numbers:
        raise NotImplementedError

    @property
    def foods(self) -> tuple[Food, ...]:
        """What it asks about, so that a sheet doesn't ask about one food all the time."""
        return ()


@dataclass(frozen=True, slots=True)
class About(Question):
    """A question about an amount of one food."""

    food: Food

    @property
    def foods(self) -> tuple[Food, ...]:
        return (self.food,)
