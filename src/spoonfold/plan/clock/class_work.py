"""The clock of each session out of a class folder, and when each step runs by it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from operator import attrgetter

from spoonfold.model.classroom import Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.clock import BEFORE_COOKING, ClassClock, clock_of
from spoonfold.plan.clock.learned import Noted, learned_of, pace_of
from spoonfold.plan.clock.schedule import Unschedulable
from spoonfold.plan.clock.times import ClassWork, Dish
from spoonfold.plan.safety.dish import class_dishes


@dataclass(frozen=True, slots=True)
class Timed:
    """A session in time."""

    session: Session
    work: ClassWork
    clock: ClassClock
    expected: Expected | None = None
    """None: nothing was noted that tells of it."""


@dataclass(frozen=True, slots=True)
class Expected:
    """How long the cooking of a session should take, by what was noted of earlier days."""

    low: int
    high: int
    """Seconds; the clock itself is the likeliest."""
    times: int
    """Days that were noted."""
    slow: ClassClock
    """When it takes as long as it may."""


def session_work(folder: ClassFolder, session: Session, uses: Mapping[str, Uses]) -> ClassWork:
    """What the clock of a session depends on; a dish that can't be read is left out. Nothing in
    it is learned yet."""
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


def timed(
    folder: ClassFolder,
    session: Session,
    uses: Mapping[str, Uses],
    noted: Sequence[Noted] | None = None,
) -> Timed | Unschedulable:
    """The session in time; Unschedulable where steps wait for each other in a circle. `noted`:
    what was learned of the folder's earlier days, if that is known already."""
    work = session_work(folder, session, uses)
    known = noted_of(folder, uses) if noted is None else noted
    learned = learned_of([dish.recipe.key for dish in work.dishes], session.date, known)
    likely, low, high = (
        replace(work, paces={dish: pick(each) for dish, each in learned.items()})
        for pick in (_PACE, _LOW, _HIGH)
    )
    clock = clock_of(likely)
    if isinstance(clock, Unschedulable) or not learned:
        return clock if isinstance(clock, Unschedulable) else Timed(session, work, clock)
    quick, slow = clock_of(low), clock_of(high)
    assert isinstance(quick, ClassClock) and isinstance(slow, ClassClock)
    times = min(each.times for each in learned.values())
    expected = Expected(quick.makespan, max(slow.makespan, clock.makespan), times, slow)
    return Timed(session, likely, clock, expected)


_PACE, _LOW, _HIGH = attrgetter("pace"), attrgetter("low"), attrgetter("high")


def noted_of(folder: ClassFolder, uses: Mapping[str, Uses]) -> tuple[Noted, ...]:
    """How long the dishes of earlier days took, against how they are planned: on their own day, or
    where that was in an earlier season, on the first of this one that cooks them."""
    sessions = folder.classroom.sessions if folder.classroom is not None else ()
    by_number = {each.number: each for each in sessions}
    found = []
    for note in folder.after:
        for dish, minutes in note.minutes.items():
            own = by_number.get(note.session or 0)
            cooks = next((each for each in sessions if _cooks(each, dish)), None)
            session = own if own is not None and _cooks(own, dish) else cooks
            if session is None or note.date is None or dish not in folder.recipes:
                continue
            if not {each.text for each in session.dishes} <= uses.keys():
                continue
            work = session_work(folder, session, uses)
            pace = pace_of(minutes, partial(_minutes, work, dish))
            if pace is not None:
                found.append(Noted(dish, note.date, pace))
    return tuple(found)


def _cooks(session: Session, dish: str) -> bool:
    return any(each.text == dish for each in session.dishes)


def _minutes(work: ClassWork, dish: str, pace: Fraction) -> Fraction | None:
    """How long a dish of a session takes at that pace, from its first step to its last."""
    clock = clock_of(replace(work, paces={dish: pace}))
    if isinstance(clock, Unschedulable):
        return None
    own = [each for each in clock.placed if each.task.dish == dish]
    begin = min((each.start for each in own), default=0)
    return Fraction(max((each.end for each in own), default=0) - begin, 60)


def timed_sessions(
    folder: ClassFolder, uses: Mapping[str, Uses], without: Collection[str] = ()
) -> Iterator[Timed]:
    """Every session that can be timed. `without` are recipes that weren't read whole: a session
    with one of them is left out, since it would seem shorter than it is."""
    noted = noted_of(folder, uses)
    for session in folder.classroom.sessions if folder.classroom is not None else ():
        names = {dish.text for dish in session.dishes}
        if names <= folder.recipes.keys() and not names & set(without):
            found = timed(folder, session, uses, noted)
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
