"""Worksheets on fractions, each with its key."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.paper.worksheet import grade_for, worksheet_key_name, worksheet_name, worksheet_of
from spoonfold.sheets.head import session_folder
from spoonfold.sheets.sheet import Sheet, Work


def worksheets(work: Work) -> Iterator[Sheet]:
    """The short form a session, at the grade of the class, with the session's number as seed."""
    for session in work.classroom.sessions:
        yield from worksheet_pair(
            work.folder,
            work.classroom,
            session,
            grade_for(session.setting),
            session.number,
            False,
            work.texts,
        )


def worksheet_pair(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    grade: int,
    seed: int,
    is_long: bool,
    texts: Texts,
) -> Iterator[Sheet]:
    """The children's sheet and the key; nothing where the dishes have no numbers to ask about."""
    sheet = worksheet_of(folder, classroom, session, grade, seed, is_long, texts)
    if sheet is None:
        return
    place, language = session_folder(session), texts.language
    doing = f"Setting the worksheet of session {session.number}"
    for name, template in (
        (worksheet_name(language, grade), "worksheet.html"),
        (worksheet_key_name(language, grade), "worksheet-key.html"),
    ):
        yield Sheet((f"{place}/{name}",), doing, template, {"sheet": sheet}, language)
