"""What is said over a session: its talk, its words and questions, and what was noted before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.language.amounts import minutes_text
from spoonfold.language.calendar import day_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Heading, Listing, Paragraph, Prose, plain, plain_prose
from spoonfold.model.teaching import After, Lesson, Word
from spoonfold.sheets.shared.head import dishes_of
from spoonfold.teach.vocabulary import session_words


@dataclass(frozen=True, slots=True)
class LessonWords:
    """The words of a session."""

    new: tuple[Word, ...]
    """To be explained today."""
    again: tuple[str, ...]
    """Explained before: ask what they mean."""


@dataclass(frozen=True, slots=True)
class TalkPart:
    """One part of a lesson: say, show, ask."""

    title: str
    lines: tuple[str, ...]
    brief: tuple[str, ...]
    """The first sentence of each line."""


@dataclass(frozen=True, slots=True)
class LessonView:
    """The session's talk."""

    title: str
    minutes: str
    aims: tuple[str, ...]
    parts: tuple[TalkPart, ...]


@dataclass(frozen=True, slots=True)
class Notes:
    """What was noted when a dish was cooked before; no names."""

    when: str
    came: str
    minutes: tuple[str, ...]
    keep: tuple[str, ...]
    change: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Questions:
    """What to ask over a dish."""

    dish: str
    prose: Prose


def lesson_view(lesson: Lesson | None, texts: Texts) -> LessonView | None:
    """A lesson with everything that is said, shown and asked, in short lines."""
    if lesson is None:
        return None
    minutes = "" if lesson.minutes is None else texts.say("{minutes} min", minutes=lesson.minutes)
    return LessonView(lesson.title, minutes, lesson.aims, tuple(_parts(lesson.body)))


def _parts(body: Prose) -> Iterator[TalkPart]:
    title, lines = "", list[str]()
    for block in body:
        if isinstance(block, Heading):
            if lines:
                yield _part(title, lines)
            title, lines = plain(block.children), []
        elif isinstance(block, Listing):
            lines += [plain_prose(item) for item in block.items]
        elif isinstance(block, Paragraph):
            lines.append(plain(block.children))
        else:
            lines.append(plain_prose(block.blocks))
    if lines:
        yield _part(title, lines)


def _part(title: str, lines: list[str]) -> TalkPart:
    return TalkPart(title, tuple(lines), tuple(_first_sentence(line) for line in lines))


def _first_sentence(line: str) -> str:
    ends = [at for at in (line.find(f"{mark} ") for mark in ".?!") if at > 0]
    return line[: min(ends) + 1] if ends else line


def words_of(folder: ClassFolder, classroom: Classroom, session: Session) -> LessonWords:
    """The words that a session brings, and those that come back."""
    season = session_words(classroom.sessions, folder.recipes, folder.words)
    found = next(each for each in season if each.session == session.number)
    return LessonWords(
        tuple(folder.words[key] for key in found.new),
        tuple(folder.words[key].term for key in found.again),
    )


def questions_of(folder: ClassFolder, session: Session) -> tuple[Questions, ...]:
    """The questions of each dish."""
    recipes = dishes_of(folder, session)
    return tuple(
        Questions(recipe.title, recipe.sections["talk"])
        for recipe in recipes
        if recipe.sections.get("talk")
    )


def notes_of(
    folder: ClassFolder, classroom: Classroom, session: Session, texts: Texts
) -> Notes | None:
    """What was noted the last time that one of the session's dishes was cooked.

    A note of an earlier season counts too.
    """
    own = {dish.text for dish in session.dishes}
    earlier = [
        (note.date, note)
        for note in folder.after
        if note.date is not None
        and note.date < session.date
        and own & note.cooked(classroom.sessions)
    ]
    if not earlier:
        return None
    _, last = max(earlier, key=lambda each: each[0])
    return _notes(last, folder, own, texts)


def _notes(note: After, folder: ClassFolder, own: set[str], texts: Texts) -> Notes:
    return Notes(
        when=day_text(note.date, texts.language) if note.date is not None else "",
        came=""
        if note.came is None
        else texts.count("{number} child came", "{number} children came", note.came),
        minutes=tuple(
            texts.say(
                "{dish} took {minutes}",
                dish=folder.recipes[key].title,
                minutes=minutes_text(minutes, texts),
            )
            for key, minutes in note.minutes.items()
            if key in own and key in folder.recipes
        ),
        keep=note.keep,
        change=note.change,
    )
