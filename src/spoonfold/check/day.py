"""What a day's changes ask for: that what isn't there is replaced or wasn't needed; and that the
days of the season follow each other, each dish once a day."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.known import did_you_mean
from spoonfold.check.needs import swap_line
from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.model.classroom import DietNeed, Session
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.safety.needs import answers_of
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE


def _sessions(facts: Facts) -> tuple[Session, ...]:
    classroom = facts.folder.classroom
    return () if classroom is None or CLASS_FILE in facts.troubled else classroom.sessions


def _missing(facts: Facts) -> Iterator[tuple[Session, DietNeed, tuple[Recipe, ...]]]:
    """Each food that isn't there, with the dishes of its day; none where one couldn't be read."""
    recipes = facts.folder.recipes
    for session in _sessions(facts):
        dishes = [recipes[dish.text] for dish in session.dishes if dish.text in recipes]
        whole = len(dishes) == len(session.dishes)
        for need in session.setting.needs:
            if need.is_missing and whole:
                yield session, need, tuple(dishes)


def missing_not_replaced(facts: Facts) -> Iterator[Problem]:
    """A dish takes what isn't there, and has no swap for it."""
    pantry = facts.folder.pantry
    for session, need, dishes in _missing(facts):
        for recipe in dishes:
            for answer in answers_of(recipe, session.setting.needs, pantry):
                if answer.need is need and answer.swap is None:
                    words = (answer.findings[0].avoided, *_avoided(session))
                    line = swap_line(answer.ingredient, "shop", words, pantry)
                    yield error(
                        "missing-not-replaced",
                        need.place,
                        f"“{answer.ingredient.name}” isn't there, and {recipe.key} takes it (line "
                        f"{answer.ingredient.place.line}); no swap says what is taken instead, so "
                        "every sheet would still name it.",
                        f"Under `swaps:` of {recipe.place.path} write for example\n{line}",
                    )


def _avoided(session: Session) -> tuple[str, ...]:
    """All that somebody avoids on that day."""
    return tuple(term.text for need in session.setting.needs for term in need.avoid)


def missing_not_needed(facts: Facts) -> Iterator[Problem]:
    """Nothing of the day takes what isn't there."""
    pantry = facts.folder.pantry
    for session, need, dishes in _missing(facts):
        answers = [
            answer
            for recipe in dishes
            for answer in answers_of(recipe, session.setting.needs, pantry)
            if answer.need is need
        ]
        met = {finding.avoided for answer in answers for finding in answer.findings}
        for term in need.avoid:
            if term.text not in met:
                yield warning(
                    "missing-not-needed",
                    term.place,
                    f"No dish of session {session.number} takes “{term.text}”, so nothing changes "
                    "without it.",
                    did_you_mean(term.text, _names(dishes), "Leave the line out."),
                )


def _names(dishes: tuple[Recipe, ...]) -> list[str]:
    listed: list[Ingredient] = [each for recipe in dishes for each in recipe.ingredients]
    return [each.name for each in listed]


def dish_twice(facts: Facts) -> Iterator[Problem]:
    """A session cooks the same dish twice."""
    for session in _sessions(facts):
        seen: set[str] = set()
        for dish in session.dishes:
            if dish.text in seen:
                yield error(
                    "dish-twice",
                    dish.place,
                    f"Session {session.number} lists {dish.text} twice, so all of it would be "
                    "bought, planned and printed twice.",
                    "Name it once. For larger helpings say `portion`.",
                )
            seen.add(dish.text)


def dates_out_of_order(facts: Facts) -> Iterator[Problem]:
    """A session that is before the one that is listed above it."""
    before: Session | None = None
    for session in _sessions(facts):
        if before is not None and session.date < before.date:
            yield warning(
                "dates-out-of-order",
                session.place,
                f"Session {session.number} is on {session.date}, before session {before.number} "
                f"on {before.date}: skills, words and what is left over would be counted the wrong "
                "way round.",
                "List the sessions in the order of their dates, or mend the `date`.",
            )
        before = session


RULES = (
    Rule("missing-not-replaced", missing_not_replaced),
    Rule("missing-not-needed", missing_not_needed),
    Rule("dish-twice", dish_twice),
    Rule("dates-out-of-order", dates_out_of_order),
)
