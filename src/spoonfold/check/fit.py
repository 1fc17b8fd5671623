"""What fits where: every recipe held against a day's kitchen, minutes, needs, helpers and money."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.check import clock, cooked_apart, equipment, kept_out, needs, shopping
from spoonfold.check.rule import Facts, Rule
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.recipe import Recipe, Term
from spoonfold.plan.shop.left import trips_of
from spoonfold.problem import Level, Problem

_RULES: tuple[Rule, ...] = (
    *needs.RULES,
    *kept_out.RULES,
    *cooked_apart.RULES,
    *equipment.RULES,
    *clock.RULES,
    *shopping.RULES,
)
_ONLY_IF = frozenset({"need-label", "need-ask", "kept-out-label"})
"""What a label or a question at the shop decides."""
_LEFT_OUT = frozenset({"package-no-weight", "undescribed-tool", "undescribed-equipment"})
"""Of the class, not of a dish."""


@dataclass(frozen=True, slots=True)
class Fit:
    """One recipe on one day."""

    recipe: Recipe
    minutes: int | None
    """Of cooking, rounded up; None: steps wait for each other in a circle."""
    cost: Fraction | None
    """At the till, a child; None: nothing in it has a price."""
    new_skills: tuple[str, ...]
    """That no earlier session brings, in the order of the steps."""
    against: tuple[Problem, ...]
    """Why it can't be cooked so; each with what would do."""
    only_if: tuple[Problem, ...]
    """What has to be looked at first."""

    @property
    def fits(self) -> bool:
        """Whether nothing is against it."""
        return not self.against


def day_for(classroom: Classroom, number: int | None) -> Session:
    """The session that recipes are tried for: one that is planned, or one more behind the last,
    as the class usually is."""
    if number is not None:
        return next(each for each in classroom.sessions if each.number == number)
    last = classroom.sessions[-1] if classroom.sessions else None
    return Session(
        len(classroom.sessions) + 1,
        last.date if last is not None else classroom.first_day,
        (),
        None,
        None,
        classroom.setting,
        classroom.place,
    )


def fits_of(facts: Facts, classroom: Classroom, day: Session) -> Iterator[Fit]:
    """Every recipe that could be read, as the only dish of that day: first what fits, the
    quickest first."""
    learnt = _skills_before(facts, classroom, day)
    found = [
        _fit(facts, classroom, day, recipe, learnt) for recipe in facts.folder.recipes.values()
    ]
    yield from sorted(
        found,
        key=lambda each: (not each.fits, bool(each.only_if), each.minutes or 0, each.recipe.key),
    )


def _skills_before(facts: Facts, classroom: Classroom, day: Session) -> frozenset[str]:
    return frozenset(
        term.text
        for session in classroom.sessions
        if session.number < day.number
        for dish in session.dishes
        if dish.text in facts.folder.recipes
        for step in facts.folder.recipes[dish.text].steps
        for term in step.skills
    )


def _fit(
    facts: Facts, classroom: Classroom, day: Session, recipe: Recipe, learnt: frozenset[str]
) -> Fit:
    key = recipe.key
    alone = replace(day, dishes=(Term(key, recipe.place),), lesson=None, note=None)
    folder = replace(
        facts.folder,
        classroom=replace(classroom, sessions=(alone,)),
        recipes={key: recipe},
        translations={},
        after=(),
    )
    own = Facts(
        folder,
        {key: facts.uses[key]},
        facts.troubled & {recipe.place.path},
        {key: facts.flows[key]},
        {key: facts.home_flows[key]} if key in facts.home_flows else {},
    )
    problems = [each for rule in _RULES for each in rule.run(own) if each.code not in _LEFT_OUT]
    skills = dict.fromkeys(term.text for step in recipe.steps for term in step.skills)
    return Fit(
        recipe=recipe,
        minutes=next((-(-each.clock.makespan // 60) for each in own.clocks), None),
        cost=_cost(own, alone),
        new_skills=tuple(each for each in skills if each not in learnt),
        against=tuple(
            each for each in problems if each.level is not Level.HINT and each.code not in _ONLY_IF
        ),
        only_if=tuple(each for each in problems if each.code in _ONLY_IF),
    )


def _cost(facts: Facts, session: Session) -> Fraction | None:
    """A child's share of what is bought."""
    folder = facts.folder
    (trip,) = trips_of((session,), folder.recipes, facts.uses, folder.pantry)
    return trip.cost / trip.children if trip.cost and trip.children else None
