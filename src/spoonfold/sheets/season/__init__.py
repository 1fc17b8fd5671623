"""The season on one page, for the adults who run it."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.language.calendar import date_text, day_text, time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.people.packing import HELPERS, HOME, packing_of
from spoonfold.sheets.season.calendar import CALENDAR_NAME, brought_by_helpers, calendar_of
from spoonfold.sheets.season.ours import our_season, our_season_name
from spoonfold.sheets.season.report import report_of, rows_of
from spoonfold.sheets.shared.head import dish_titles, dishes_of
from spoonfold.sheets.shared.season_map import SeasonMap, season_map
from spoonfold.sheets.sheet import BuildContext, File, Layout, Part, Sheet
from spoonfold.teach.vocabulary import SessionWords, session_words


@dataclass(frozen=True, slots=True)
class Meeting:
    """A session in the season."""

    number: int
    date: str
    dishes: tuple[str, ...]
    new_skills: tuple[str, ...]
    """Those that no earlier session has asked for."""
    skills_again: str
    """How many come again."""
    new_words: tuple[str, ...]
    words_again: tuple[str, ...]
    """Earlier ones that come back."""
    lesson: str
    bring: tuple[str, ...]
    """What the lead cook and the helpers bring that isn't in the class's boxes."""
    cooks_before: bool
    """Something is cooked the day before."""
    note: str


@dataclass(frozen=True, slots=True)
class SeasonSheet:
    """The season for the adults who run it."""

    language: str
    direction: str
    paper: Paper
    class_name: str
    location: str
    when: str
    hours: str
    always: tuple[str, ...]
    """What helpers bring every time."""
    meetings: tuple[Meeting, ...]
    map: SeasonMap | None
    """Where the dishes are from; None without any."""


def season_sheet(folder: ClassFolder, classroom: Classroom, texts: Texts) -> SeasonSheet:
    """Dates, dishes, skills, lessons, and what to bring."""
    known: set[str] = set()
    meetings = [
        _meeting(folder, session, known, brought, texts)
        for session, brought in zip(
            classroom.sessions,
            session_words(classroom.sessions, folder.recipes, folder.words),
            strict=True,
        )
    ]
    setting = classroom.setting
    dates = [session.date for session in classroom.sessions]
    return SeasonSheet(
        language=texts.language,
        direction=texts.direction,
        paper=classroom.paper,
        class_name=classroom.name,
        location=classroom.location,
        when=texts.say(
            "{first} to {last}",
            first=day_text(dates[0], texts.language),
            last=day_text(dates[-1], texts.language),
        )
        if dates
        else "",
        hours=_hours(setting, texts),
        always=brought_by_helpers(setting, texts),
        meetings=tuple(meetings),
        map=season_map(folder, classroom, texts),
    )


def _hours(setting: Setting, texts: Texts) -> str:
    # Any date will do: only the clock is asked.
    starts = datetime.datetime.combine(datetime.date(2000, 1, 1), setting.starts)
    ends = starts + datetime.timedelta(minutes=setting.minutes)
    return texts.say(
        "{starts} to {ends}",
        starts=time_text(starts.time(), texts.language),
        ends=time_text(ends.time(), texts.language),
    )


def season_name(language: str) -> str:
    """The file of the season's page."""
    return f"season-{language}.pdf"


def _meeting(
    folder: ClassFolder, session: Session, known: set[str], words: SessionWords, texts: Texts
) -> Meeting:
    recipes = dishes_of(folder, session)
    asked = tuple(
        dict.fromkeys(
            term.text for recipe in recipes for step in recipe.steps for term in step.skills
        )
    )
    new = tuple(skill for skill in asked if skill not in known)
    known.update(asked)
    packing = packing_of(recipes, session.setting)
    lesson = folder.lessons.get(session.lesson.text) if session.lesson else None
    return Meeting(
        number=session.number,
        date=date_text(session.date, texts.language),
        dishes=dish_titles(folder, session),
        new_skills=new,
        skills_again=_again(len(asked) - len(new), bool(new), texts),
        new_words=tuple(folder.words[key].term for key in words.new),
        words_again=tuple(folder.words[key].term for key in words.again),
        lesson=lesson.title if lesson else "",
        bring=tuple(
            each.name for keeper in (HOME, HELPERS) for each in packing.by_keeper.get(keeper, ())
        ),
        cooks_before=any(step.when == "day before" for recipe in recipes for step in recipe.steps),
        note=session.note or "",
    )


def _again(count: int, has_new: bool, texts: Texts) -> str:
    if not count:
        return ""
    if not has_new:
        return texts.count("1 from before", "{number} from before", count)
    return texts.count("and 1 from before", "and {number} from before", count)


def made(context: BuildContext) -> Iterator[File | Sheet]:
    """The season for the adults, its calendar, and what is told of it to families."""
    folder, classroom, texts = context.folder, context.classroom, context.texts
    yield File(f"class/{CALENDAR_NAME}", calendar_of(folder, classroom, texts))
    yield Sheet(
        (f"class/{season_name(texts.language)}",),
        "Laying out the season",
        LAYOUT,
        {"season": season_sheet(folder, classroom, texts)},
        texts.language,
    )
    done = our_season(folder, classroom, texts)
    if done is not None:
        yield Sheet(
            (f"families/{our_season_name(texts.language)}",),
            "Laying out our season",
            OURS,
            {"season": done},
            texts.language,
        )
    report = report_of(folder, classroom, texts)
    if report is not None:
        yield File(f"class/{REPORT}.csv", rows_of(report, texts))
        yield Sheet(
            (f"class/{REPORT}-{texts.language}.pdf",),
            "Laying out the report",
            FIGURES,
            {"report": report},
            texts.language,
        )


_SIZES = ("large", "middle", "small")

LAYOUT = Layout("season-sheet.html", _SIZES, sides=2, holds=(1900, 2200))
"""The season in front, the map behind."""

OURS = Layout("our-season.html", _SIZES, sides=1)

FIGURES = Layout("report.html", _SIZES, sides=2)

REPORT = "report"
"""The files of the season in figures begin so."""

PART = Part(
    made, ("class/season-*", "class/season.ics", "families/our-season-*", f"class/{REPORT}*")
)
