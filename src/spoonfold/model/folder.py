"""Everything that was read from one class folder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spoonfold.model.classroom import Classroom
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import After, Lesson, Skill, Word
from spoonfold.model.translation import Translation


@dataclass(frozen=True, slots=True)
class ClassFolder:
    """The whole of `content/`, as far as it could be read."""

    classroom: Classroom | None
    recipes: Mapping[str, Recipe]
    """By file name without its ending, in order."""
    unread: frozenset[str]
    """Recipes whose file is there but could not be read: no use to say that they are missing."""
    translations: Mapping[tuple[str, str], Translation]
    """By recipe and language."""
    pantry: Pantry
    words: Mapping[str, Word]
    skills: Mapping[str, Skill]
    lessons: Mapping[str, Lesson]
    after: tuple[After, ...]
    children: tuple[str, ...]
    """First names or initials, private: they may reach `build/class/` alone."""
    files: frozenset[str]
    """Every file in `content/` that is really inside it, relative to the class folder."""
