"""The whole class folder: every file that an educator writes, every problem in one run."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from spoonfold.knowledge.equipment import Tool
from spoonfold.knowledge.names import fold
from spoonfold.model.changes import DayChanges
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe, Step
from spoonfold.model.teaching import After, Lesson, Skill, Word
from spoonfold.model.translation import Translation
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.changes import read_changes, with_changes
from spoonfold.read.classroom import read_children, read_classroom
from spoonfold.read.files import (
    Source,
    files_inside,
    private_tracked,
    problems_of_layouts,
    read_source,
    source_of,
)
from spoonfold.read.pantry import read_pantry
from spoonfold.read.recipe import read_recipe
from spoonfold.read.shape import Found, add, nearest
from spoonfold.read.teaching import read_after, read_lesson, read_skills, read_words, with_session
from spoonfold.read.translation import read_translation

CLASS_FILE = "content/class.yaml"
PANTRY_FILE = "content/pantry.yaml"
WORDS_FILE = "content/words.yaml"
SKILLS_FILE = "content/skills.yaml"
CHILDREN_FILE = "content/private/children.yaml"
CHANGES = "content/changes/"
"""The folder of the days' changes."""
_YAML_FILES = (CLASS_FILE, PANTRY_FILE, WORDS_FILE, SKILLS_FILE, CHILDREN_FILE)

_RECIPE = re.compile(r"content/recipes/(?P<name>[^/]+?)(?:\.(?P<language>[a-z]{2,3}(-\w+)*))?\.md")
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LESSON = re.compile(r"content/lessons/(?P<name>[^/]+)\.md")
_AFTER = re.compile(r"content/after/(?P<name>[0-9]{1,3}|[0-9]{4}-[0-9]{2}-[0-9]{2})\.md")
_CHANGES = re.compile(r"content/changes/(?P<name>[0-9]{4}-[0-9]{2}-[0-9]{2})\.txt")

T = TypeVar("T")

Progress = Callable[[str], None]


@dataclass(slots=True)
class Read:
    """A folder and what was found in it."""

    folder: ClassFolder
    problems: list[Problem]
    sources: Mapping[str, Source]
    """Every text that was read, so that a message can show the line."""
    unread: Mapping[str, Source]
    """Texts in which something isn't text, for their lines alone."""
    planned: Classroom | None = None
    """The class as it was planned, without the changes of any day."""


def read_folder(
    folder: Path, progress: Progress = lambda step: None, instead: Mapping[str, str] | None = None
) -> Read:
    """Reads everything below `content/`; never raises for what an author wrote. `instead`: texts
    of files as they would be, by path, to see what follows before anything is written."""
    return _Reader(folder, progress, instead or {}).read()


class _Reader:
    """Holds the files while they are read; each method reads one kind."""

    def __init__(self, folder: Path, progress: Progress, instead: Mapping[str, str]) -> None:
        self.folder = folder
        self.instead = instead
        self.progress = progress
        listed = tuple(files_inside(folder))
        present = {each for each in listed if isinstance(each, str)}
        self.files = tuple(sorted(present | instead.keys()))
        self.found: Found = [each for each in listed if isinstance(each, Problem)]
        self.sources: dict[str, Source] = {}
        self.unread: dict[str, Source] = {}

    def source(self, path: str) -> Source | None:
        """The text of a file, or None after adding why it can't be read."""
        self.progress(f"Reading {path}")
        result = (
            source_of(self.instead[path], path)
            if path in self.instead
            else read_source(self.folder, path, self.unread)
        )
        if isinstance(result, Problem):
            self.found.append(result)
            return None
        self.sources[path] = result
        return result

    def read(self) -> Read:
        present = frozenset(self.files)
        self.misplaced()
        # A file that is there under nearly this name, or can't be followed, was told already.
        told = any(
            CLASS_FILE in each.hint or each.place.path in (CLASS_FILE, "content")
            for each in self.found
        )
        if CLASS_FILE not in present and not told:
            add(
                self.found,
                "no-class-file",
                Place(CLASS_FILE),
                "There is no content/class.yaml here, so nothing is known of the class.",
                "Run the command in the folder that holds content/, or name it with --folder.",
            )
        planned = self.one(CLASS_FILE, read_classroom)
        days = self.changes()
        classroom = planned and with_changes(planned, days, self.found)
        pantry_source = self.source(PANTRY_FILE) if PANTRY_FILE in present else None
        pantry = read_pantry(pantry_source, self.found)
        words: dict[str, Word] = self.one(WORDS_FILE, read_words) or {}
        skills: dict[str, Skill] = self.one(SKILLS_FILE, read_skills) or {}
        recipes, unread = self.recipes()
        if classroom is not None and classroom.setting.tools:
            tools = classroom.setting.tools
            recipes = {name: _with_tools(each, tools) for name, each in recipes.items()}
        folder = ClassFolder(
            classroom=classroom,
            recipes=recipes,
            unread=unread,
            translations=self.translations(recipes, unread),
            pantry=pantry,
            words=words,
            skills=skills,
            lessons=self.lessons(),
            after=self.after(planned.sessions if planned is not None else ()),
            children=self.one(CHILDREN_FILE, read_children) or (),
            files=present,
        )
        self.found.extend(problems_of_layouts(self.folder))
        tracked = private_tracked(self.folder)
        if tracked is not None:
            self.found.append(tracked)
        return Read(folder, self.found, self.sources, self.unread, planned)

    def one(self, path: str, reader: Callable[[Source, Found], T]) -> T | None:
        if path not in self.files:
            return None
        source = self.source(path)
        return None if source is None else reader(source, self.found)

    def matching(self, pattern: re.Pattern[str]) -> list[re.Match[str]]:
        return [match for path in self.files if (match := pattern.fullmatch(path))]

    def recipes(self) -> tuple[dict[str, Recipe], frozenset[str]]:
        recipes: dict[str, Recipe] = {}
        unread = set()
        for match in self.matching(_RECIPE):
            if match["language"]:
                continue
            name, path = match["name"], match[0]
            if not _NAME.fullmatch(name):
                add(
                    self.found,
                    "file-name",
                    Place(path),
                    f"The name “{name}” becomes part of web addresses, so it takes only small "
                    "letters a to z, digits and hyphens.",
                    _suggested(name) + ".md",
                )
            source = self.source(path)
            recipe = None if source is None else read_recipe(source, name, self.found)
            if recipe is None:
                unread.add(name)
            else:
                recipes[name] = recipe
        return recipes, frozenset(unread)

    def translations(
        self, recipes: dict[str, Recipe], unread: frozenset[str]
    ) -> dict[tuple[str, str], Translation]:
        translations = {}
        for match in self.matching(_RECIPE):
            name, language = match["name"], match["language"]
            if not language or name in unread:
                continue
            recipe = recipes.get(name)
            if recipe is None:
                close = nearest(name, recipes)
                add(
                    self.found,
                    "translation-of-nothing",
                    Place(match[0]),
                    f"This translates {name}.md, which isn't there.",
                    f"Rename it {close}.{language}.md?" if close else "Write the original first.",
                )
                continue
            source = self.source(match[0])
            if source is not None:
                translation = read_translation(source, recipe, language, self.found)
                if translation is not None:
                    translations[name, language] = translation
        return translations

    def lessons(self) -> dict[str, Lesson]:
        lessons = {}
        for match in self.matching(_LESSON):
            source = self.source(match[0])
            lesson = None if source is None else read_lesson(source, match["name"], self.found)
            if lesson is not None:
                lessons[lesson.key] = lesson
        return lessons

    def after(self, sessions: Sequence[Session]) -> tuple[After, ...]:
        notes = []
        for match in self.matching(_AFTER):
            source = self.source(match[0])
            note = None if source is None else read_after(source, match["name"], self.found)
            if note is not None:
                notes.append(with_session(note, sessions))
        return tuple(notes)

    def changes(self) -> tuple[DayChanges, ...]:
        days = []
        for match in self.matching(_CHANGES):
            try:
                date = datetime.date.fromisoformat(match["name"])
            except ValueError:
                add(
                    self.found,
                    "not-a-date",
                    Place(match[0]),
                    f"The name of this file, “{match['name']}”, isn't a date of the calendar.",
                    "Name it by year, month and day: 2027-09-18.txt.",
                )
                continue
            source = self.source(match[0])
            if source is not None:
                days.append(read_changes(source, date, self.found))
        return tuple(days)

    def misplaced(self) -> None:
        """Files that nothing reads: a name mistyped, or a file in the wrong folder."""
        for path in self.files:
            if path.startswith(("content/pictures/", "content/private/")) or path in _YAML_FILES:
                continue
            if any(each.fullmatch(path) for each in (_RECIPE, _LESSON, _AFTER, _CHANGES)):
                continue
            name = path.rsplit("/", 1)[-1]
            if not name.lower().endswith(_WRITTEN):
                continue
            yaml = name.lower().endswith((".yaml", ".yml"))
            close = nearest(path, _YAML_FILES) if yaml else None
            # Almost the name of a file that isn't there: what it says would be lost.
            lost = close is not None and close not in self.files
            self.found.append(
                Problem(
                    "unused-file",
                    Level.ERROR if lost else Level.WARNING,
                    Place(path),
                    "Nothing reads this file under this name."
                    if close or _ending_mended(path)
                    else "Nothing reads this file from where it is.",
                    f"Did you mean {close}?" if close else _where_to(path),
                )
            )


def _with_tools(recipe: Recipe, tools: Mapping[str, Tool]) -> Recipe:
    """The recipe with what the class says of its own tools."""

    def told(step: Step) -> Step:
        if not any(fold(need.name) in tools for need in step.needs):
            return step
        needs = (replace(need, tool=tools.get(fold(need.name), need.tool)) for need in step.needs)
        return replace(step, needs=tuple(needs))

    return replace(recipe, steps=tuple(map(told, recipe.steps)))


_WRITTEN = (".md", ".yaml", ".yml", ".markdown", ".txt", ".doc", ".docx", ".odt", ".rtf", ".pages")
"""Endings of what an educator may have written."""
_FOLDERS = ("content/recipes/", "content/lessons/", "content/after/")


def _ending_mended(path: str) -> str | None:
    """The path as it should end, where it stands in a folder of texts and ends otherwise."""
    folder, _, name = path.rpartition("/")
    stem = re.sub(r"(?i)(\.md|\.markdown|\.txt|\.docx?|\.odt|\.rtf|\.pages)+$", "", name)
    mended = f"{folder}/{stem}.md"
    return mended if f"{folder}/" in _FOLDERS and mended != path and stem else None


def _where_to(path: str) -> str:
    """What to do with a file that nothing reads."""
    if path.startswith(CHANGES):
        return "Name it by the day that was planned, and .txt: content/changes/2027-09-18.txt."
    mended = _ending_mended(path)
    if mended is None:
        return (
            "Recipes go into content/recipes/, lessons into content/lessons/, notes after a "
            "session into content/after/, pictures into content/pictures/."
        )
    if path.lower().endswith((".md", ".markdown", ".txt")):
        return f"Name it {mended}."
    return f"Save what it says as plain text (UTF-8) in {mended}."


def _suggested(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "dish"
