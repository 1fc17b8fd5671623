"""The lesson card: one sheet to teach from, the hour on its front and the rest on its back."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.check.accepted import Accepted
from spoonfold.check.rule import warning
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import plain_prose
from spoonfold.model.teaching import Lesson
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.advice import Advice, advice_of
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.clock.late import LATE, Way
from spoonfold.plan.safety.flow import Flow
from spoonfold.problem import Problem
from spoonfold.read.folder import CLASS_FILE
from spoonfold.read.pantry import ALLERGENS
from spoonfold.sheets.home_labels import on_ice_by
from spoonfold.sheets.lesson_card.clock import (
    Names,
    clock_text,
    idle_at_tables,
    lacking,
    left_to_wash,
    names_of,
    relief_text,
    saving_text,
    verdict,
    washing_at_tables,
)
from spoonfold.sheets.lesson_card.day import (
    Role,
    SafetyRow,
    begun_before,
    blades_of,
    cooked_in,
    missing_helper,
    roles_of,
    safety_of,
    set_up_of,
)
from spoonfold.sheets.lesson_card.talk import (
    LessonView,
    LessonWords,
    Notes,
    Questions,
    lesson_view,
    notes_of,
    questions_of,
    words_of,
)
from spoonfold.sheets.lesson_card.wall import Before, Said, Wall, wall_of
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.shared.numbers import numbers_text
from spoonfold.sheets.shared.swaps import guarded, session_swaps
from spoonfold.sheets.sheet import (
    BuildContext,
    Layout,
    Moment,
    PackEntry,
    Part,
    SessionFile,
    Sheet,
    longest,
)

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
    wall: Wall
    last_starts: str
    """`9: 10:53, 10: 11:07`: by when each step that people watch for must have begun."""
    late: Late
    set_up: tuple[str, ...]
    roles: tuple[Role, ...]
    missing: tuple[str, ...]
    washing: tuple[str, ...]
    """Who washes up what meanwhile, a line a table."""
    left_to_wash: str
    free_hands: tuple[str, ...]
    safety: tuple[SafetyRow, ...]
    lesson: LessonView | None
    words: LessonWords
    questions: tuple[Questions, ...]
    notes: Notes | None
    usual: tuple[str, ...]
    """By dish, the steps of which nobody wrote the minutes, and only usual ones are counted."""
    unknown: tuple[str, ...]
    """Foods of its dishes that the pantry doesn't know."""
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
            verdict=verdict(each, texts),
            lacking=lacking(each, names),
            savings=tuple(saving_text(one, names) for one in advice.savings[:_MOST_SAVINGS]),
        ),
        wall=_wall(folder, each, names, lesson, uses),
        last_starts=", ".join(
            f"{names.number(one.dish, one.step)}: {clock_text(one.latest, texts)}"
            for one in each.clock.anchors
        ),
        late=late_of(advice, names),
        set_up=set_up_of(folder, each, uses, names),
        roles=roles_of(each, names),
        missing=missing_helper(each, names),
        washing=washing_at_tables(each, names),
        left_to_wash=left_to_wash(each, names),
        free_hands=idle_at_tables(each, texts),
        safety=safety_of(each, names),
        lesson=lesson_view(lesson, texts),
        words=words_of(folder, classroom, session),
        questions=questions_of(folder, session),
        notes=notes_of(folder, classroom, session, texts),
        usual=_usual(each, names),
        unknown=tuple(name for name in _foods(each) if folder.pantry.find(name) is None),
        accepted=(*_left_out(each, folder.pantry, texts), *_accepted(each, classroom, accepted)),
    )


def _minute(time: datetime.time, setting: Setting) -> int:
    """Since the session began."""
    return (time.hour - setting.starts.hour) * 60 + time.minute - setting.starts.minute


def _wall(
    folder: ClassFolder, each: Timed, names: Names, lesson: Lesson | None, uses: Mapping[str, Uses]
) -> Wall:
    cooked = cooked_in(folder, each, names)
    tables = len(each.session.setting.tables)
    swaps = session_swaps(each.session, folder.recipes, uses, folder.pantry, names.texts)
    before = [
        Before(
            begin, f"{names.number(one.dish, one.step.number)} {names.opening(one.dish, one.step)}"
        )
        for one, begin in begun_before(each)
    ]
    flows = [Flow(dish.recipe, dish.uses, folder.pantry) for dish in each.work.dishes]
    ice = [
        (time, flow.recipe.title)
        for flow in flows
        if (time := on_ice_by(flow, each.session, each, names.texts)) is not None
    ]
    return wall_of(
        each,
        names,
        before,
        [[made[table] for made in cooked.values()] for table in range(tables)],
        Said(
            lesson.title if lesson is not None else "",
            blades_of(folder, each, names),
            bool(guarded(swaps)),
            [(_minute(time, each.session.setting), title) for time, title in ice],
        ),
    )


def _usual(each: Timed, names: Names) -> tuple[str, ...]:
    found = []
    for dish in each.work.dishes:
        numbers = [
            step.number
            for step in dish.recipe.steps
            if any(one.note in ("time", "wait") and not one.is_said for one in step.worked_out)
        ]
        if numbers:
            found.append(names.letters.get(dish.recipe.key, "") + numbers_text(numbers))
    return tuple(found)


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


def _foods(each: Timed) -> Iterable[str]:
    """The foods of the session's dishes and of their swaps, as listed."""
    return dict.fromkeys(
        line.name
        for dish in each.work.dishes
        for line in (*dish.recipe.ingredients, *(swap.use for swap in dish.recipe.swaps))
    )


def _left_out(each: Timed, pantry: Pantry, texts: Texts) -> Iterator[AcceptedView]:
    """What the author's own pantry.yaml takes away from the foods of the session's dishes."""
    for name in _foods(each):
        item = pantry.find(name)
        if item is not None and item.taken_away:
            yield AcceptedView(
                texts.say(
                    "{food} is usually: {what}.",
                    food=name,
                    what=", ".join(
                        texts.say(each) if each in ALLERGENS else each for each in item.taken_away
                    ),
                ),
                texts.say("not by our own list; read its label each time"),
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


def too_long(folder: ClassFolder, session: Session) -> Problem:
    """The lesson card of a session takes a second sheet."""
    recipes = dishes_of(folder, session)
    parts = [
        (len(plain_prose(recipe.sections[_QUESTIONS])), f"“Talk” of {recipe.key}")
        for recipe in recipes
        if _QUESTIONS in recipe.sections
    ]
    lesson = folder.lessons.get(session.lesson.text) if session.lesson is not None else None
    if session.lesson is not None and lesson is not None:
        parts.append((len(plain_prose(lesson.body)), f"the lesson {session.lesson.text}"))
    for recipe in recipes:
        parts.append(
            (
                sum(
                    len(folder.words[term.text].meaning)
                    for term in recipe.words
                    if term.text in folder.words
                ),
                f"the words of {recipe.key}",
            )
        )
    dishes = " and ".join(recipe.key for recipe in recipes)
    return warning(
        "sheet-overflows",
        session.place,
        f"The lesson card of session {session.number} ({dishes}) takes more than two sides, "
        "also in the smallest type: the wall's and its back. A second sheet gets lost.",
        f"Shorten what is longest: {longest(parts)}."
        if any(count for count, _ in parts)
        else "Cook one dish fewer, or set fewer tables.",
    )


def made(context: BuildContext) -> Iterator[Sheet]:
    """The card from which the lead cook teaches, a session."""
    for each in context.examined.facts.clocks:
        if each.session not in context.sessions:
            continue
        card = lesson_card_of(
            context.folder,
            context.classroom,
            each,
            context.uses,
            context.examined.accepted,
            context.texts,
        )
        yield Sheet(
            (FILE.path(each.session, context.texts.language),),
            f"Printing the lesson card of session {each.session.number}",
            LAYOUT,
            {"card": card},
            context.texts.language,
            2 + card.wall.is_long,
            too_long=too_long(context.folder, each.session),
        )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    path = FILE.path(session, context.texts.language)
    yield PackEntry(Moment.LEAD, path, say("Lesson card"), say("on the day, lead cook"))


_QUESTIONS = "talk"

FILE = SessionFile("lesson-card")

LAYOUT = Layout(
    "lesson-card.html",
    ("large", "middle", "small", "smaller tight", "smaller brief tight", "smallest brief tight"),
    sides=2,
    holds=(4300, 4900, 5300, 5600, 6100),
)
"""`brief` keeps the first sentence of each line of the lesson, which stands whole in its own
file."""

PART = Part(made, FILE.owns, in_pack)
