"""Which errors concern a day, and which stand in what it doesn't read.

A slip in a dish of next month mustn't keep this week's sheets from being made."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from dataclasses import replace

from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.problem import Level, Problem
from spoonfold.read.folder import CHANGES

_DISH = re.compile(r"content/recipes/(?P<name>[^/]+?)(?:\.[a-z]{2,3}(-\w+)*)?\.md")
_LESSON = re.compile(r"content/lessons/(?P<name>[^/]+)\.md")
_OTHERS = "content/after/"
"""Notes are looked back at; no sheet of a day waits for them."""


def stopping(
    problems: Iterable[Problem], planned: Classroom | None, numbers: Collection[int]
) -> tuple[Problem, ...]:
    """The errors for which the sheets of these sessions can't be made; of all sessions, where no
    number is given. Everything counts but what surely belongs to another day alone."""
    errors = tuple(each for each in problems if each.level is Level.ERROR)
    if planned is None or not numbers:
        return errors
    sessions = [each for each in planned.sessions if each.number in numbers]
    dishes = {dish.text for each in sessions for dish in each.dishes}
    lessons = {each.lesson.text for each in sessions if each.lesson is not None}
    days = {f"{CHANGES}{each.date}.txt" for each in sessions}

    def is_elsewhere(path: str) -> bool:
        if match := _DISH.fullmatch(path):
            return match["name"] not in dishes
        if match := _LESSON.fullmatch(path):
            return match["name"] not in lessons
        return path.startswith(_OTHERS) or (path.startswith(CHANGES) and path not in days)

    return tuple(each for each in errors if not is_elsewhere(each.place.path))


def without_broken(folder: ClassFolder, problems: Iterable[Problem]) -> ClassFolder:
    """The folder without the dishes and lessons in which an error stands: nothing is made of
    them, and nothing counted."""
    broken = {each.place.path for each in problems if each.level is Level.ERROR}
    names = {match["name"] for path in broken if (match := _DISH.fullmatch(path))}
    return replace(
        folder,
        recipes={name: each for name, each in folder.recipes.items() if name not in names},
        translations={
            key: each for key, each in folder.translations.items() if key[0] not in names
        },
        lessons={
            name: each
            for name, each in folder.lessons.items()
            if f"content/lessons/{name}.md" not in broken
        },
    )
