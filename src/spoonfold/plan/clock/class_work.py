"""The clock of each session out of a class folder, and when each step runs by it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.classroom import Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.clock import BEFORE_COOKING, ClassClock, clock_of
from spoonfold.plan.clock.schedule import Unschedulable
from spoonfold.plan.clock.times import ClassWork, Dish
from spoonfold.plan.safety.dish import class_dishes


@dataclass(frozen=True, slots=True)
class Timed:
    """A session in time."""

    session: Session
    work: ClassWork
    clock: ClassClock


def session_work(folder: ClassFolder, session: Session, uses: Mapping[str, Uses]) -> ClassWork:
    """What the clock of a session depends on; a dish that can't be read is left out."""
    dishes = [
        dish_at_work(folder, folder.recipes[each.text], uses[each.text], session.setting)
        for each in session.dishes
        if each.text in folder.recipes
    ]
    return ClassWork(dishes, session.setting, folder.skills, folder.pantry)


def dish_at_work(folder: ClassFolder, recipe: Recipe, uses: Uses, setting: Setting) -> Dish:
    """A dish with what each table cooks of it."""
    language = folder.classroom.languages[0] if folder.classroom else "en"
    made = class_dishes(recipe, uses, folder.pantry, setting, language)
    pot = made.for_all
    if all(each is pot for each in made.tables):
        return Dish(pot.recipe, pot.uses)
    return Dish(pot.recipe, pot.uses, tuple(Dish(each.recipe, each.uses) for each in made.tables))


def timed(folder: ClassFolder, session: Session, uses: Mapping[str, Uses]) -> Timed | Unschedulable:
    """The session in time; Unschedulable where steps wait for each other in a circle."""
    work = session_work(folder, session, uses)
    clock = clock_of(work)
    return clock if isinstance(clock, Unschedulable) else Timed(session, work, clock)


def timed_sessions(
    folder: ClassFolder, uses: Mapping[str, Uses], without: Collection[str] = ()
) -> Iterator[Timed]:
    """Every session that can be timed. `without` are recipes that weren't read whole: a session
    with one of them is left out, since it would seem shorter than it is."""
    for session in folder.classroom.sessions if folder.classroom is not None else ():
        names = {dish.text for dish in session.dishes}
        if names <= folder.recipes.keys() and not names & set(without):
            found = timed(folder, session, uses)
            if isinstance(found, Timed):
                yield found


def cooking_begins(setting: Setting) -> int:
    """Minutes from the start of the session until cooking begins."""
    return sum(setting.fixed.get(name, 0) for name in BEFORE_COOKING)


def times_at(each: Timed, dish: str, table: int) -> dict[int, tuple[Fraction, Fraction]]:
    """Start and end of every step of a dish that concerns a table, in minutes since the session
    began: the first of its loads to the last."""
    begin = cooking_begins(each.session.setting)
    own = {
        placed.task.step.number
        for placed in each.clock.placed
        if placed.task.dish == dish and placed.task.table == table
    }
    times: dict[int, tuple[Fraction, Fraction]] = {}
    for placed in each.clock.placed:
        number = placed.task.step.number
        if placed.task.dish == dish and placed.task.table == (table if number in own else None):
            start, end = (begin + Fraction(at, 60) for at in (placed.start, placed.end))
            low, high = times.get(number, (start, end))
            times[number] = (min(low, start), max(high, end))
    return times
