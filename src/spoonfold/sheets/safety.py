"""The safety sheet for the wall: one page that is read from across the room.

What to do is kept to what any adult may say: stop, tell, call. What a burn, a cut or a
reaction needs is for trained people and the child's own plan; the sheet leaves blanks for
who and where they are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session
from spoonfold.plan.safety.limits import HANDS_SOURCE, HANDWASH_SECONDS
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, Sheet


@dataclass(frozen=True, slots=True)
class SafetySheet:
    """The sheet in one language."""

    language: str
    direction: str
    class_name: str
    location: str
    paper: Paper
    seconds: int
    """How long hands are washed."""
    source: str
    """Where that is published."""


def safety_sheet(classroom: Classroom, texts: Texts) -> SafetySheet:
    """The sheet of a class."""
    return SafetySheet(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        paper=classroom.paper,
        seconds=HANDWASH_SECONDS,
        source=HANDS_SOURCE.name,
    )


def safety_name(language: str) -> str:
    """The file of the sheet."""
    return f"safety-sheet-{language}.pdf"


def made(context: BuildContext) -> Iterator[Sheet]:
    """The sheet on the wall."""
    yield Sheet(
        (f"class/{safety_name(context.texts.language)}",),
        "Printing the safety sheet",
        LAYOUT,
        {"sheet": safety_sheet(context.classroom, context.texts)},
        context.texts.language,
    )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.DAY,
        f"class/{safety_name(context.texts.language)}",
        say("Safe in the kitchen"),
        say("on the wall, unless it still hangs there"),
    )


LAYOUT = Layout("safety.html", sides=1)

PART = Part(made, ("class/safety-sheet-*",), in_pack)
