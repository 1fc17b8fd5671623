"""Whether the children can read what is written for them, by a formula."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spoonfold.check.rule import Facts, Rule, advice
from spoonfold.model.classroom import Classroom
from spoonfold.model.prose import Paragraph
from spoonfold.model.recipe import Recipe
from spoonfold.problem import Problem
from spoonfold.teach.reading import LANGUAGE, Sentence, grade_at, grade_of, hardest, sentences_of

_SENTENCE_ABOVE = 4
_TEXT_ABOVE = 2
"""Grades above the youngest child's at which a sentence by itself, and a whole text, are hard.
A sentence swings far more than a text: in texts of the second grade some reach the seventh."""

_LEAST_WORDS = 12
"""In a shorter sentence one long name of a food makes the grade."""
_LEAST_TEXT = 40
"""Words of a text from which its grade means something."""


def _hard_sentences(facts: Facts) -> Iterator[Problem]:
    """A sentence of a headnote or of the steps that is far too hard for the youngest child."""
    classroom = facts.folder.classroom
    if classroom is None or classroom.languages[0].split("-")[0] != LANGUAGE:
        return
    for recipe in facts.folder.recipes.values():
        age = _youngest(recipe, classroom)
        for text in (_headnote(recipe), _steps(recipe)):
            yield from _hard(text, age)


def _youngest(recipe: Recipe, classroom: Classroom) -> int:
    """The youngest age of the sessions that cook it."""
    settings = [
        session.setting
        for session in classroom.sessions
        if any(dish.text == recipe.key for dish in session.dishes)
    ]
    return min(setting.ages[0] for setting in settings or [classroom.setting])


def _headnote(recipe: Recipe) -> list[Sentence]:
    return [
        sentence
        for block in recipe.headnote
        if isinstance(block, Paragraph)
        for sentence in sentences_of(block.children)
    ]


def _steps(recipe: Recipe) -> list[Sentence]:
    """What children read: an adult does the others."""
    return [
        sentence
        for step in recipe.steps
        if step.when is None
        for sentence in sentences_of(step.text)
    ]


def _hard(text: Sequence[Sentence], age: int) -> Iterator[Problem]:
    grade = grade_at(age)
    found = [
        each for each in text if each.words >= _LEAST_WORDS and each.grade > grade + _SENTENCE_ABOVE
    ]
    for each in found:
        yield _hint(each, f"reads like school grade {float(each.grade):.0f}", age)
    words = sum(each.words for each in text)
    if not found and words >= _LEAST_TEXT and grade_of(text) > grade + _TEXT_ABOVE:
        yield _hint(
            hardest(text),
            f"is the hardest of a text that reads like school grade {float(grade_of(text)):.0f}",
            age,
        )


def _hint(sentence: Sentence, what: str, age: int) -> Problem:
    return advice(
        "hard-sentence",
        sentence.place,
        f"“{sentence.text}” {what}; the youngest child is {age} (grade {grade_at(age)}).",
        "Make two sentences of it, or take shorter words. Names of foods may stay.",
    )


RULES = (Rule("hard-sentence", _hard_sentences, of_one=True),)
