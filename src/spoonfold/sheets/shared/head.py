"""What stands at the head of a session's sheets, and where sheets and pages lie."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

from spoonfold.language.calendar import date_text, time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe


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
        location=session.room or classroom.location,
        session=texts.say("Session {number}", number=session.number),
        date=dated(session, texts),
        starts=time_text(session.setting.starts, texts.language),
        dishes=dish_titles(folder, session),
    )


def dated(session: Session, texts: Texts) -> str:
    """The date; on a day that has changed, since when the sheets say so, in the author's words:
    a sheet of before must not be mistaken for it."""
    date = date_text(session.date, texts.language)
    if session.changed is None:
        return date
    if not session.changed.as_of:
        return texts.say("{date} (changed)", date=date)
    return texts.say("{date} (changed {when})", date=date, when=session.changed.as_of)


def dish_titles(folder: ClassFolder, session: Session) -> tuple[str, ...]:
    """The titles of what a session cooks."""
    return tuple(recipe.title for recipe in dishes_of(folder, session))


def dishes_of(folder: ClassFolder, session: Session) -> tuple[Recipe, ...]:
    """What a session cooks, as far as there is a recipe."""
    return tuple(
        folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes
    )


def session_folder(session: Session) -> str:
    """Where a session's sheets lie in the output."""
    return f"class/session-{session.number:02}"


def site_folder(language: str, classroom: Classroom) -> str:
    """Where the pages of a language lie, from the site's top: the first language's at the top
    itself, another's in a folder of its own."""
    return "" if language == classroom.languages[0] else f"{language}/"


def site_address(classroom: Classroom, language: str) -> str:
    """Where the list of dishes is on the net; empty where class.yaml has no `site`."""
    if not classroom.site:
        return ""
    return f"{classroom.site.rstrip('/')}/{site_folder(language, classroom)}"


def recipe_address(classroom: Classroom, language: str, key: str) -> str:
    """Where a recipe's page is on the net; empty where class.yaml has no `site`."""
    top = site_address(classroom, language)
    return f"{top}recipes/{quote(key)}.html" if top else ""
