"""The numbers of a dish and of the class that questions are made of, and which are sensible."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

GRADES = (3, 4, 5, 6)

DENOMINATORS: Mapping[int, frozenset[int]] = {
    3: frozenset({1, 2, 3, 4, 6, 8}),
    4: frozenset({1, 2, 3, 4, 5, 6, 8, 10, 12, 100}),
    5: frozenset({1, 2, 3, 4, 5, 6, 8, 10, 12}),
    6: frozenset({1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 100}),
}
"""Common Core State Standards for Mathematics (2010): the notes under 3.NF and 4.NF limit the
denominators of grades 3 and 4. The standards leave grades 5 and 6 open: there it is our choice,
the parts that a kitchen measures."""

_MOST: Mapping[str, int] = {"cup": 24, "tbsp": 24, "tsp": 24, "oz": 96, "lb": 8, "": 60}
_MOST_ELSE = 12
"""No more of a unit than a class would measure in this unit (common practice)."""


@dataclass(frozen=True, slots=True)
class Food:
    """So much of one ingredient, for so many people."""

    dish: str
    """The recipe's key."""
    key: str
    """The ingredient's key in it."""
    amount: Fraction
    unit: str
    """The unit's name; empty where the food itself is counted."""
    people: int
    parts: frozenset[int]
    """Into how many parts one may be measured or cut: denominators that make sense."""

    def times(self, factor: Fraction) -> Food:
        """The same food for other people; `people` times the factor is whole."""
        return replace(self, amount=self.amount * factor, people=int(self.people * factor))

    @property
    def whole(self) -> bool:
        return self.amount.denominator == 1

    def is_sensible(self, grade: int) -> bool:
        """Whether a cook would measure it so, in numbers of that grade."""
        below = self.amount.denominator
        most = _MOST.get(self.unit, _MOST_ELSE)
        return below in self.parts and below in DENOMINATORS[grade] and self.amount <= most


@dataclass(frozen=True, slots=True)
class StepTime:
    """How long one step takes in class, in whole minutes."""

    step: int
    minutes: int


@dataclass(frozen=True, slots=True)
class Heat:
    """A temperature that must be reached, in whole degrees Fahrenheit."""

    goal: int
    step: int | None
    """The step that says so; None for the oven and the cold."""
    kind: str
    """`food`, `oven` or `cold`."""


@dataclass(frozen=True, slots=True)
class Dish:
    """One recipe as it is listed."""

    key: str
    serves: int
    foods: tuple[Food, ...]
    steps: tuple[StepTime, ...]
    heats: tuple[Heat, ...]


@dataclass(frozen=True, slots=True)
class Room:
    """Who comes, and what there is."""

    children: int
    cooks_for: tuple[int, ...]
    """Numbers of people for whom this class, its tables and its families cook."""
    cups: tuple[Fraction, ...]
    """Cup measures on hand, the largest first."""
    starts: int
    """Minutes after midnight."""
    minutes: int
    wash_seconds: int


@dataclass(frozen=True, slots=True)
class Numbers:
    """Everything that a session's questions may ask about."""

    dishes: tuple[Dish, ...]
    room: Room

    def people(self, dish: Dish) -> tuple[int, ...]:
        """Other numbers of people than the recipe's for whom somebody here cooks."""
        return tuple(sorted({*self.room.cooks_for} - {dish.serves}))

    def foods(self, grade: int) -> tuple[Food, ...]:
        """What the recipes list, as far as it is sensible."""
        return tuple(food for dish in self.dishes for food in dish.foods if food.is_sensible(grade))

    def scaled_foods(self, grade: int) -> tuple[Food, ...]:
        """The same for all who may come, the listed amounts among them."""
        found = []
        for dish in self.dishes:
            for people in (dish.serves, *self.people(dish)):
                found += [food.times(Fraction(people, dish.serves)) for food in dish.foods]
        return tuple(food for food in found if food.is_sensible(grade))
