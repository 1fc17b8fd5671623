"""What stands at the head of every sheet for the adults of one session."""

from __future__ import annotations

from dataclasses import dataclass

from spoonfold.language.calendar import date_text, time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session
from spoonfold.model.folder import ClassFolder


@dataclass(frozen=True, slots=True)
class Head:
    """Which class, which day, which dishes."""

    language: str
    direction: str
    paper: Paper
    class_name: str
    location: str
    session: str
    """`Session 2`."""
    date: str
    starts: str
    dishes: tuple[str, ...]


def head_of(folder: ClassFolder, classroom: Classroom, session: Session, texts: Texts) -> Head:
    """The head of a session's sheets."""
    return Head(
        language=texts.language,
        direction=texts.direction,
        paper=classroom.paper,
        class_name=classroom.name,
        location=classroom.location,
        session=texts.say("Session {number}", number=session.number),
        date=date_text(session.date, texts.language),
        starts=time_text(session.setting.starts, texts.language),
        dishes=dish_titles(folder, session),
    )


def dish_titles(folder: ClassFolder, session: Session) -> tuple[str, ...]:
    """The titles of what a session cooks."""
    return tuple(
        folder.recipes[dish.text].title for dish in session.dishes if dish.text in folder.recipes
    )


def session_folder(session: Session) -> str:
    """Where a session's sheets lie in the output."""
    return f"class/session-{session.number:02}"
