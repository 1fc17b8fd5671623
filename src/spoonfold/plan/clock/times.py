"""How long a step takes in class, and in how many loads it goes.

`class time` where it is given. Otherwise `time` x the class's pace and, for skills that go by the
piece (cutting, peeling, grating, shaping), x the table's factor over the hands at work. A step
with `holds` goes in loads, and its times are those of one load.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil

from spoonfold.knowledge.times import known_time
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe, Step
from spoonfold.model.teaching import Skill
from spoonfold.plan.amounts.convert import known_unit
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.boil import minutes_to_boil
from spoonfold.quantity.number import Number, scan_number, starts_number
from spoonfold.quantity.unit import Dimension

EASIER = known_time("easier way")
"""Of a step's time that its easier way takes."""

_LITRE = known_unit("l")


@dataclass(frozen=True, slots=True)
class Dish:
    """A recipe and which of its steps uses what."""

    recipe: Recipe
    uses: Uses
    at_tables: tuple[Dish, ...] = ()
    """What each table cooks of it, in their order; empty where all cook it as it stands here. What
    a table does apart isn't `for_class` there."""

    def at(self, table: int) -> Dish:
        """What a table cooks, counted from 1."""
        return self.at_tables[table - 1] if self.at_tables else self

    def apart(self, step: Step) -> tuple[int, ...]:
        """The tables that do a step for themselves which is otherwise done once for everyone."""
        return tuple(
            table
            for table, own in enumerate(self.at_tables, start=1)
            if step.for_class and not own.step(step.number).for_class
        )

    def step(self, number: int) -> Step:
        """One of its steps."""
        return next(each for each in self.recipe.steps if each.number == number)


@dataclass(frozen=True, slots=True)
class ClassWork:
    """All that the clock of a session depends on."""

    dishes: Sequence[Dish]
    setting: Setting
    skills: Mapping[str, Skill]
    pantry: Pantry
    helped: frozenset[tuple[str, int]] = frozenset()
    """Recipe and step number of what an adult does in the children's place."""
    eased: frozenset[tuple[str, int]] = frozenset()
    """What is done in its easier way."""
    dropped: frozenset[tuple[str, int]] = frozenset()
    """What is left out."""
    paces: Mapping[str, Fraction] = field(default_factory=dict)
    """By dish, how many times as long as planned its work took before; waits stay as they are."""


@dataclass(frozen=True, slots=True)
class Boil:
    """An estimate: how long the water of a step takes to boil."""

    dish: str
    step: Step
    litres: Fraction
    minutes: Fraction
    more: Fraction
    """Minutes beyond what it takes at the recipe's own size; added to the step's wait."""


def work_seconds(work: ClassWork, dish: Dish, step: Step, portions: Fraction, hands: int) -> int:
    """Whole seconds of one load: children at their pace, an adult alone as at home.

    `portions` is what is made at this place; `hands` the children at work, 0 for an adult.
    """
    pace, key = work.setting.pace, (dish.recipe.key, step.number)
    share = EASIER if key in work.eased else Fraction(1)
    minutes = (step.time or Fraction(0)) * (pace if hands else 1)
    if step.holds is None and _goes_by_the_piece(work, step):
        minutes = minutes * portions / dish.recipe.serves / max(1, hands)
    if step.class_time is not None:
        # An adult is as fast as at home, but at the heat never faster than that.
        alone = minutes if step.time is not None else step.class_time / pace
        helped = key in work.helped
        minutes = min(step.class_time, alone) if helped else step.class_time
    return ceil(minutes * share * work.paces.get(dish.recipe.key, 1) * 60)


def _goes_by_the_piece(work: ClassWork, step: Step) -> bool:
    return any(
        skill.text in work.skills and work.skills[skill.text].by_the_piece for skill in step.skills
    )


def loads_of(recipe: Recipe, step: Step, portions: Fraction) -> int | None:
    """How often the step is done to make so many portions; None where `holds` counts something
    that can't be told from the recipe's `portion`."""
    if step.holds is None:
        return 1
    each = _in_one_portion(recipe, step.holds.of_what)
    if each is None or step.holds.count <= 0:
        return None
    return max(1, ceil(portions * each / step.holds.count))


def _in_one_portion(recipe: Recipe, what: str) -> Fraction | None:
    """How many of what a pan holds make one portion: 2, where a portion is `2 pancakes`."""
    name = _singular(what)
    if name == "portion":
        return Fraction(1)
    portion = recipe.portion or ""
    number = scan_number(portion, 0) if starts_number(portion, 0) else None
    if not isinstance(number, Number) or _singular(portion[number.end :]) != name:
        return None
    return number.low


def _singular(words: str) -> str:
    return words.strip().lower().removesuffix("s")


def boil_of(work: ClassWork, dish: Dish, step: Step, portions: Fraction) -> Boil | None:
    """The estimate for a step that uses water on a cooker whose watts are known."""
    draws = [
        work.setting.watts[need.name] for need in step.needs if work.setting.watts.get(need.name)
    ]
    home = sum(_litres(work.pantry, dish, step), Fraction(0))
    if not draws or not home:
        return None
    litres = home * portions / dish.recipe.serves
    minutes, usual = (minutes_to_boil(each, max(draws)) for each in (litres, home))
    return Boil(dish.recipe.key, step, litres, minutes, max(Fraction(0), minutes - usual))


def _litres(pantry: Pantry, dish: Dish, step: Step) -> Iterator[Fraction]:
    """Water that goes into the step at the recipe's own size."""
    water = pantry.find("water")
    for use in dish.uses.by_step.get(step.number, ()):
        amount = use.ingredient.amount
        if (
            amount is not None
            and use.share is not None
            and water is not None
            and amount.unit.dimension is Dimension.VOLUME
            and pantry.find(use.ingredient.name) is water
        ):
            yield amount.to(_LITRE).middle * use.share
