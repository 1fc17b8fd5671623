"""What every kind of question is: its given numbers, its one answer, and how both are shown."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Figure
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import Food, Numbers

Answer = tuple[Fraction, ...]
"""Exact numbers, as many as the sheet has blanks."""


class Topic(Enum):
    """What a question is about. A long sheet has one of each, a short one one of each row."""

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
class Asked:
    """The words of a question, and what is filled in."""

    text: str
    blanks: tuple[str, ...] = ()
    """What stands behind each blank: `cups`; empty for a number alone."""
    answer: str = ""
    hint: str = ""
    """A fact that is needed: `1 cup = 16 tbsp`."""
    choices: tuple[str, ...] = ()
    """One of these is circled; then there are no blanks."""
    rows: tuple[tuple[str, ...], ...] = ()
    """A table with one empty cell, each row after its name."""
    between: str = ""
    """What stands between two blanks: the colon of a ratio."""


@dataclass(frozen=True, slots=True)
class Question(ABC):
    """One question; its kinds follow."""

    standard: str
    """Its code in the Common Core State Standards for Mathematics (2010), the grade first."""

    @property
    @abstractmethod
    def answer(self) -> Answer:
        """The only one that is right."""

    @property
    def foods(self) -> tuple[Food, ...]:
        """What it asks about, so that a sheet doesn't ask about one food all the time."""
        return ()

    @abstractmethod
    def asked(self, names: Names) -> Asked:
        """The question and its answer in words."""

    @abstractmethod
    def work(self, names: Names) -> tuple[str, ...]:
        """How it is worked out, for the key: formulas and short words, each line one step."""

    def figure(self, names: Names) -> Figure | None:
        """The picture that helps; None where it needs none."""
        return None


@dataclass(frozen=True, slots=True)
class AboutFood(Question):
    """A question about an amount of one food."""

    food: Food

    @property
    def foods(self) -> tuple[Food, ...]:
        return (self.food,)

    def asked_amount(self, text: str, names: Names) -> Asked:
        """A question whose one answer is an amount of the food, in its own unit."""
        (value,) = self.answer
        return Asked(text, (names.measure(self.food),), names.food(self.food, value))


Ask = Callable[[Numbers, int, Draws], Iterable[Question]]
"""Every question of a kind that a session's numbers give in a grade, in the order of its dishes."""
