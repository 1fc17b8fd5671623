"""The lesson card: one sheet, two sides, from which the lead cook teaches a session."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.check.accepted import Accepted
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.advice import Advice, advice_of
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.clock.late import LATE, Way
from spoonfold.read.folder import CLASS_FILE
from spoonfold.sheets.cautions import sentence
from spoonfold.sheets.clock_chart import ChartView, chart_of
from spoonfold.sheets.clock_washing import left_to_wash, washing_at_tables
from spoonfold.sheets.clock_words import (
    Names,
    idle_at_tables,
    lacking,
    names_of,
    relief_text,
    saving_text,
    verdict,
)
from spoonfold.sheets.head import Head, head_of
from spoonfold.sheets.lesson_day import (
    DayRow,
    Role,
    SafetyRow,
    day_of,
    missing_helper,
    roles_of,
    safety_of,
    set_up_of,
)
from spoonfold.sheets.lesson_talk import (
    LessonView,
    LessonWords,
    Notes,
    Questions,
    lesson_view,
    notes_of,
    questions_of,
    words_of,
)

SIDES = 2
SIZES = (
    "large",
    "small",
    "small tight",
    "smaller brief tight",
    "smallest brief tight",
    "smallest brief tight last",
)
"""Sizes of type to try until the card fits on its sheet. `tight` runs the cautions of a step on
one line; `brief` keeps the first sentence of each line of the lesson, which stands whole in its
own file; `last` puts the chart, which can't be parted, behind what can."""

_MOST_SAVINGS = 3


@dataclass(frozen=True, slots=True)
class Fit:
    """Whether the session fits, and what to do about it."""

    is_good: bool
    verdict: str
    lacking: tuple[str, ...]
    savings: tuple[str, ...]
    """What would make it shorter, the most first."""


@dataclass(frozen=True, slots=True)
class Late:
    """What to do ten minutes late, the gentlest first, each list in order."""

    leave_out: tuple[str, ...]
    easier: tuple[str, ...]
    adult: tuple[str, ...]
    """What an adult takes over from the children."""
    rest: int
    """Minutes of the ten that all this doesn't save."""

    @property
    def is_any(self) -> bool:
        """Whether any step helps."""
        return bool(self.leave_out or self.easier or self.adult)


@dataclass(frozen=True, slots=True)
class AcceptedView:
    """A warning that the author lives with, and why."""

    message: str
    because: str


@dataclass(frozen=True, slots=True)
class LessonCard:
    """The card of one session."""

    head: Head
    note: str
    letters: tuple[tuple[str, str], ...]
    """With two dishes, the letter of each in front of its steps."""
    fit: Fit
    day: tuple[DayRow, ...]
    late: Late
    set_up: tuple[str, ...]
    roles: tuple[Role, ...]
    missing: tuple[str, ...]
    washing: tuple[str, ...]
    """Who washes up what meanwhile, a line a table."""
    left_to_wash: str
    free_hands: tuple[str, ...]
    chart: ChartView
    safety: tuple[SafetyRow, ...]
    lesson: LessonView | None
    words: LessonWords
    questions: tuple[Questions, ...]
    notes: Notes | None
    accepted: tuple[AcceptedView, ...]


def lesson_card_of(
    folder: ClassFolder,
    classroom: Classroom,
    each: Timed,
    uses: Mapping[str, Uses],
    accepted: Sequence[Accepted],
    texts: Texts,
) -> LessonCard:
    """The card of a session whose clock is known."""
    session, names = each.session, names_of(each, texts)
    advice = advice_of(each.work, each.clock)
    lesson = folder.lessons.get(session.lesson.text) if session.lesson is not None else None
    return LessonCard(
        head=head_of(folder, classroom, session, texts),
        note=session.note or "",
        letters=names.key(),
        fit=Fit(
            is_good=each.clock.fits,
            verdict=verdict(each.clock, texts),
            lacking=lacking(each, names),
            savings=tuple(saving_text(one, names) for one in advice.savings[:_MOST_SAVINGS]),
        ),
        day=day_of(each, names, lesson.title if lesson is not None else ""),
        late=late_of(advice, names),
        set_up=set_up_of(folder, each, uses, names),
        roles=roles_of(each, names),
        missing=missing_helper(each, names),
        washing=washing_at_tables(each, names),
        left_to_wash=left_to_wash(each, names),
        free_hands=idle_at_tables(each, texts),
        chart=chart_of(each, names),
        safety=safety_of(each, names),
        lesson=lesson_view(lesson, texts),
        words=words_of(folder, classroom, session),
        questions=questions_of(folder, session),
        notes=notes_of(folder, classroom, session, texts),
        accepted=tuple(_accepted(each, classroom, accepted)),
    )


def lesson_card_name(language: str) -> str:
    """The file of a session's card."""
    return f"lesson-card-{language}.pdf"


def late_of(advice: Advice, names: Names) -> Late:
    """The list for ten minutes late."""
    told = {
        way: tuple(relief_text(one, names) for one in advice.relief if one.way is way)
        for way in Way
    }
    return Late(
        told[Way.LEAVE_OUT],
        told[Way.EASIER],
        told[Way.ADULT],
        max(0, LATE - sum(one.minutes for one in advice.relief)),
    )


def _accepted(
    each: Timed, classroom: Classroom, accepted: Sequence[Accepted]
) -> Iterator[AcceptedView]:
    """Those of the session's dishes, of the session itself, and of the class as a whole."""
    paths = {dish.recipe.place.path for dish in each.work.dishes}
    lines = sorted(session.place.line for session in classroom.sessions)
    begins = each.session.place.line
    ends = next((line for line in lines if line > begins), None)
    for one in accepted:
        line = one.problem.place.line
        own = line < lines[0] or (begins <= line and (ends is None or line < ends))
        if one.problem.place.path in paths or (one.problem.place.path == CLASS_FILE and own):
            yield AcceptedView(one.problem.message, sentence(one.because))
