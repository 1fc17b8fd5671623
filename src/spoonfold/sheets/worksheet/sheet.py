"""A worksheet of a session, from its dishes' own numbers, and its key with worked steps.

Both belong into `class/`: the key is for the adults alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.sheets.shared.head import Head, head_of, session_folder
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, Sheet
from spoonfold.sheets.worksheet.choice import questions_of
from spoonfold.sheets.worksheet.figures import Figure
from spoonfold.sheets.worksheet.names import names_of
from spoonfold.sheets.worksheet.numbers import GRADES, has_numbers, numbers_of
from spoonfold.sheets.worksheet.question import Asked

AGE_LESS_GRADE = 5
"""A child of ten is mostly in grade 5 by the end of the school year (common practice in the
United States)."""


@dataclass(frozen=True, slots=True)
class QuestionView:
    """One question as it stands on the sheet and in the key."""

    number: int
    standard: str
    asked: Asked
    figure: Figure | None
    work: tuple[str, ...]
    """Worked steps, line by line."""


@dataclass(frozen=True, slots=True)
class Worksheet:
    """The questions of one session."""

    head: Head
    grade: int
    seed: int
    is_long: bool
    questions: tuple[QuestionView, ...]


def worksheet_name(language: str, grade: int) -> str:
    """The file of the children's sheet, in the session's folder."""
    return f"worksheet-grade-{grade}-{language}.pdf"


def worksheet_key_name(language: str, grade: int) -> str:
    """The file of its key, for the adults."""
    return f"worksheet-grade-{grade}-key-{language}.pdf"


def grade_for(setting: Setting) -> int:
    """The grade of a child of the middle age, within those that there are sheets for."""
    middle = sum(setting.ages) // 2
    return min(max(middle - AGE_LESS_GRADE, GRADES[0]), GRADES[-1])


def worksheet_of(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    grade: int,
    seed: int,
    is_long: bool,
    texts: Texts,
) -> Worksheet | None:
    """The sheet of a session; None where its dishes have no numbers to ask about.

    Grades 3 to 6. The same seed gives the same sheet.
    """
    if not has_numbers(folder, session):
        return None
    numbers = numbers_of(folder, session, classroom.households)
    names = names_of(folder, session, texts)
    questions = tuple(
        QuestionView(
            number,
            question.standard,
            question.asked(names),
            question.figure(names),
            question.work(names),
        )
        for number, question in enumerate(questions_of(numbers, grade, seed, is_long), start=1)
    )
    return Worksheet(head_of(folder, classroom, session, texts), grade, seed, is_long, questions)


def made(context: BuildContext) -> Iterator[Sheet]:
    """The short form a session, at the grade of the class, with the session's number as seed."""
    for session in context.sessions:
        yield from worksheet_pair(
            context.folder,
            context.classroom,
            session,
            grade_for(session.setting),
            session.number,
            False,
            context.texts,
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
    for name, layout in (
        (worksheet_name(language, grade), LAYOUT),
        (worksheet_key_name(language, grade), KEY),
    ):
        yield Sheet((f"{place}/{name}",), doing, layout, {"sheet": sheet}, language)


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    """For each child while the pot simmers, with the answers for the lead cook."""
    say, language = context.texts.say, context.texts.language
    if not has_numbers(context.folder, session):
        return
    place, grade = session_folder(session), grade_for(session.setting)
    yield PackEntry(
        Moment.LEAD,
        f"{place}/{worksheet_key_name(language, grade)}",
        say("Key to the worksheet"),
        say("on the day, lead cook"),
    )
    yield PackEntry(
        Moment.DAY,
        f"{place}/{worksheet_name(language, grade)}",
        say("Kitchen fractions"),
        say("on the day: one for each child"),
        sum(session.setting.tables),
    )


LAYOUT, KEY = Layout("worksheet.html"), Layout("worksheet-key.html")

PART = Part(made, ("class/session-*/worksheet*",), in_pack)
