"""Sheets that are too long for their paper also in the smallest type: only printing can tell."""

from __future__ import annotations

from collections.abc import Sequence

from spoonfold.check.rule import advice, warning
from spoonfold.model.classroom import Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import plain, plain_prose
from spoonfold.model.recipe import Recipe, Step
from spoonfold.problem import Place, Problem

_NAMED = 2
"""Parts that are named as the ones to shorten."""

_QUESTIONS = "talk"


def lesson_card_overflows(folder: ClassFolder, session: Session) -> Problem:
    """The lesson card of a session takes a second sheet."""
    recipes = _recipes(folder, session)
    parts = [
        (len(plain_prose(recipe.sections[_QUESTIONS])), f"“Talk” of {recipe.key}")
        for recipe in recipes
        if _QUESTIONS in recipe.sections
    ]
    lesson = folder.lessons.get(session.lesson.text) if session.lesson is not None else None
    if session.lesson is not None and lesson is not None:
        parts.append((len(plain_prose(lesson.body)), f"the lesson {session.lesson.text}"))
    for recipe in recipes:
        parts.append(
            (
                sum(
                    len(folder.words[term.text].meaning)
                    for term in recipe.words
                    if term.text in folder.words
                ),
                f"the words of {recipe.key}",
            )
        )
    dishes = " and ".join(recipe.key for recipe in recipes)
    return warning(
        "sheet-overflows",
        session.place,
        f"The lesson card of session {session.number} ({dishes}) takes more than one sheet, also "
        "in the smallest type. The third side gets lost.",
        f"Shorten what is longest: {_longest(parts)}."
        if any(count for count, _ in parts)
        else "Cook one dish fewer, or set fewer tables.",
    )


def table_card_overflows(folder: ClassFolder, session: Session, language: str) -> Problem | None:
    """A table card of a session takes a second sheet; told of its longest dish.

    `folder` is the class folder in the card's language. None where the session has no dish.
    """
    recipes = _recipes(folder, session)
    if not recipes:
        return None
    recipe = max(recipes, key=lambda each: sum(map(_letters, each.steps)))
    parts = [(_letters(step), f"step {step.number}") for step in recipe.steps if step.when is None]
    return warning(
        "sheet-overflows",
        recipe.place,
        f"The table card of {recipe.key} ({language}) takes a second sheet in session "
        f"{session.number}, also in the smallest type that can be read at arm's length. One sheet "
        "lies on the table; a second one lies under it.",
        f"Shorten the longest steps: {_longest(parts)}. Or do a step `for: class`, which has a "
        "card of its own, or `when: before class`.",
    )


def mini_book_overflows(recipes: Sequence[Recipe]) -> Problem:
    """There is no book from one sheet of these dishes: it would have to be printed too small."""
    keys = ", ".join(recipe.key for recipe in recipes)
    return advice(
        "no-mini-book",
        Place("content/class.yaml"),
        "With steps and cautions in readable type there is no book of eight pages from one sheet "
        f"of: {keys}.",
        "Nothing has to be done: the card has it all. A dish of few and short steps has one.",
    )


def _recipes(folder: ClassFolder, session: Session) -> list[Recipe]:
    return [folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes]


def _letters(step: Step) -> int:
    """How long a step's own words are on a table card. Cautions aren't there to be shortened."""
    return len(plain(step.text)) + len(step.easier or "")


def _longest(parts: Sequence[tuple[int, str]]) -> str:
    chosen = sorted(parts, key=lambda part: -part[0])[:_NAMED]
    return " and ".join(f"{name} ({count} letters)" for count, name in chosen if count)
