"""The season as helpers and families keep it in their own calendars: one event a session."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Sequence
from dataclasses import replace

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import slug
from spoonfold.plan.people.packing import HELPERS
from spoonfold.sheets.shared.head import dish_titles
from spoonfold.sheets.sheet import Calendar, Event

CALENDAR_NAME = "season.ics"
"""The file of the calendar."""


def calendar_of(folder: ClassFolder, classroom: Classroom, texts: Texts) -> Calendar:
    """The calendar for the helpers; no child and no child's need is in it."""
    midnight = datetime.datetime.combine(classroom.first_day, datetime.time())
    return Calendar(
        name=classroom.name,
        language=texts.language,
        stamp=midnight,
        events=tuple(
            _event(folder, classroom, session, texts)
            for session in sorted(
                (*classroom.sessions, *classroom.called_off), key=lambda each: each.number
            )
        ),
    )


def public_calendar(
    folder: ClassFolder, classroom: Classroom, sessions: Sequence[Session], texts: Texts
) -> Calendar:
    """The calendar of some sessions for everyone, as it is published: no note, and of no child."""
    calendar = calendar_of(folder, replace(classroom, sessions=tuple(sessions)), texts)
    events = (
        replace(
            event,
            # Whoever keeps the helpers' calendar too has two entries, and loses neither.
            uid=f"family-{event.uid}",
            description="\n".join(said_to_families(session, texts)),
        )
        for event, session in zip(calendar.events, sessions, strict=True)
    )
    return replace(calendar, events=tuple(events))


def said_to_families(session: Session, texts: Texts) -> tuple[str, ...]:
    """What to bring, and whether others eat with the class."""
    said = [texts.say("What to bring: {things}.", things=", ".join(worn(texts)))]
    if session.setting.guests:
        said.append(
            str(
                texts.count(
                    "A guest is invited to eat with us.",
                    "Guests are invited to eat with us: there are {number} places.",
                    session.setting.guests,
                )
            )
        )
    return tuple(said)


def _event(folder: ClassFolder, classroom: Classroom, session: Session, texts: Texts) -> Event:
    setting = session.setting
    starts = datetime.datetime.combine(session.date, setting.starts)
    dishes = ", ".join(dish_titles(folder, session))
    return Event(
        uid=_uid(classroom, session),
        starts=starts,
        ends=starts + datetime.timedelta(minutes=setting.minutes),
        summary=texts.say(
            "{class_name} {number}: {dishes}",
            class_name=classroom.name,
            number=session.number,
            dishes=dishes,
        ),
        location=session.room or classroom.location,
        is_called_off=session in classroom.called_off,
        description=_description(folder, session, texts),
    )


def _uid(classroom: Classroom, session: Session) -> str:
    """Unique in the world by the class, its place and its season (RFC 5545, 3.8.4.7)."""
    parts = (
        classroom.name,
        classroom.location,
        classroom.first_day.isoformat(),
        str(session.number),
    )
    digest = hashlib.sha256("\n".join(parts).encode()).hexdigest()[:24]
    host = slug(classroom.name).encode("ascii", "ignore").decode().strip("-")
    return f"session-{session.number}-{digest}@{host or 'class'}"


def _description(folder: ClassFolder, session: Session, texts: Texts) -> str:
    lines = [
        texts.say(
            "What to bring: {things}.", things=", ".join(brought_by_helpers(session.setting, texts))
        )
    ]
    lesson = folder.lessons.get(session.lesson.text) if session.lesson else None
    if lesson is not None:
        lines.append(texts.say("We talk about: {lesson}", lesson=lesson.title))
    if session.note:
        lines.append(texts.say("Note: {note}", note=session.note))
    lines.append(texts.say("If you can't come, please tell the lead cook as soon as you know."))
    return "\n".join(lines)


def brought_by_helpers(setting: Setting, texts: Texts) -> tuple[str, ...]:
    """What is worn, then what class.yaml says."""
    return (*worn(texts), *(term.text for term in setting.kept.get(HELPERS, ())))


def worn(texts: Texts) -> tuple[str, ...]:
    """What anybody wears in a kitchen (common practice)."""
    return texts.say("an apron"), texts.say("closed shoes"), texts.say("a tie for long hair")
