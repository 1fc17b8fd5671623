"""The numbers of a session's dishes and of its class that questions are made of, and which of
them are sensible."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.model.classroom import Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Item
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.convert import CUP
from spoonfold.plan.amounts.eaters import eaters_at_tables
from spoonfold.plan.amounts.measure import parts_of
from spoonfold.plan.amounts.tools import household
from spoonfold.plan.safety.limits import COLD_BY_CODE, HANDWASH_SECONDS
from spoonfold.quantity.unit import Dimension

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

BATCHES = (2, 3, 4, 5)
"""Times that a class or a party makes of a recipe (common practice: more is made in batches)."""

TSP_IN_TBSP, TBSP_IN_CUP = 3, 16
"""NIST Handbook 44, appendix C: 1 tablespoon is 3 teaspoons, 1 cup is 16 tablespoons."""

_UNIT_PARTS: Mapping[str, frozenset[int]] = {
    # Sixths are made with a half and a third, eighths with two tablespoons.
    "cup": frozenset({1, 2, 3, 4, 6, 8}),
    "tbsp": frozenset({1, 2, 3}),
    "tsp": frozenset({1, 2, 4, 8}),
    "oz": frozenset({1, 2}),
    "lb": frozenset({1, 2, 4}),
}
"""Units of the questions that are measured, and into how many parts (common practice)."""
_MOST: Mapping[str, int] = {"cup": 24, "tbsp": 24, "tsp": 24, "oz": 96, "lb": 8, "": 60}
_MOST_ELSE = 12
"""No more of a unit than a class would measure in this unit (common practice)."""
_SHORTEST, _LONGEST = 8, 45
"""Minutes of one step that make a question."""
_MOST_CUPS = {3: 2, 4: 6, 5: 6, 6: 6}
"""Where scoops are counted or drawn."""


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
    is_liquid: bool = False

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

    @property
    def timed_steps(self) -> list[StepTime]:
        """Steps that take long enough to ask about, and not too long."""
        return [each for each in self.steps if _SHORTEST <= each.minutes <= _LONGEST]


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

    def factors(self, food: Food) -> tuple[Fraction, ...]:
        """How many times its recipe is made for each of those."""
        dish = next(each for each in self.dishes if each.key == food.dish)
        return tuple(Fraction(people, dish.serves) for people in self.people(dish))

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


def a_few_cups(foods: tuple[Food, ...], grade: int) -> list[Food]:
    """Those that are measured in cups, as many as a child of that grade fills one by one."""
    return [food for food in foods if food.unit == "cup" and food.amount <= _MOST_CUPS[grade]]


def has_numbers(folder: ClassFolder, session: Session) -> bool:
    """Whether there is anything in a session's dishes to ask about."""
    return any(_dish(recipe, folder).foods for recipe in _recipes(folder, session))


def numbers_of(folder: ClassFolder, session: Session, households: tuple[int, ...]) -> Numbers:
    """The numbers of a session's dishes, as the recipes list them, and of who comes."""
    setting = session.setting
    eaters = eaters_at_tables(setting)
    children = sum(setting.tables)
    # Where each only tastes, people aren't portions: then the families' sizes alone are used.
    here = (children, sum(eaters), *eaters) if setting.portion == 1 else ()
    room = Room(
        children=children,
        cooks_for=tuple(sorted({number for number in (*here, *households) if number > 1})),
        cups=tuple(
            sorted(
                (
                    known
                    for each in setting.measuring.cups
                    if (known := household(each, CUP)) is not None
                ),
                reverse=True,
            )
        ),
        starts=setting.starts.hour * 60 + setting.starts.minute,
        minutes=setting.minutes,
        wash_seconds=HANDWASH_SECONDS,
    )
    return Numbers(tuple(_dish(recipe, folder) for recipe in _recipes(folder, session)), room)


def _recipes(folder: ClassFolder, session: Session) -> Iterator[Recipe]:
    """The dishes that serve a whole number."""
    for dish in session.dishes:
        recipe = folder.recipes.get(dish.text)
        if recipe is not None and recipe.serves.denominator == 1:
            yield recipe


def _dish(recipe: Recipe, folder: ClassFolder) -> Dish:
    serves = int(recipe.serves)
    foods = []
    for ingredient in recipe.ingredients:
        amount = ingredient.amount
        item = folder.pantry.find(ingredient.name)
        parts, is_liquid = _parts(ingredient, item), item is not None and item.liquid
        if amount is not None and amount.high is None and not ingredient.optional and parts:
            foods.append(
                Food(
                    recipe.key,
                    ingredient.key,
                    amount.low,
                    amount.unit.name,
                    serves,
                    parts,
                    is_liquid,
                )
            )
    steps = []
    for step in recipe.steps:
        minutes = (step.class_time or step.time or Fraction(0)) + (step.wait or 0)
        if step.when is None and minutes.denominator == 1 and not step.wait_aside:
            steps.append(StepTime(step.number, int(minutes)))
    heats = [
        Heat(step.heat.whole_fahrenheit, step.number, "food")
        for step in recipe.steps
        if step.heat is not None and step.when is None
    ]
    if recipe.oven is not None:
        heats.append(Heat(recipe.oven.whole_fahrenheit, None, "oven"))
    cold = Heat(COLD_BY_CODE.whole_fahrenheit, None, "cold")
    return Dish(recipe.key, serves, tuple(foods), tuple(steps), tuple(heats) or (cold,))


def _parts(ingredient: Ingredient, item: Item | None) -> frozenset[int]:
    """Into how many parts it is measured or cut; none where it makes no question."""
    amount = ingredient.amount
    if amount is None:
        return frozenset()
    if amount.unit.dimension is Dimension.COUNT:
        return frozenset(parts_of(amount.unit, item))
    return _UNIT_PARTS.get(amount.unit.name, frozenset())
