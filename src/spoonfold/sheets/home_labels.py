"""The labels of a session's portions to take home: one a child, by table, and a spare each.

A table that cooks something else has its own allergens on its labels. All labels look alike and
name a table, never a child or a reason.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from spoonfold.language.amounts import temperature_text
from spoonfold.language.calendar import date_text, time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.class_work import Timed, times_at
from spoonfold.plan.safety.cold import Times, chill_by, sums
from spoonfold.plan.safety.dish import Dish, dishes_at
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.limits import REHEATED
from spoonfold.plan.safety.words import is_chilled, on_heat
from spoonfold.sheets.shared.head import Head, head_of
from spoonfold.sheets.shared.labels import Labels, labels_of
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet

_LATEST = 24 * 60 - 1
_ROUND = 5


@dataclass(frozen=True, slots=True)
class HomeLabel:
    """What is written on one box."""

    dish: str
    labels: Labels
    """Of the dish as listed; what a table cooks has its own words on its boxes."""
    chill_by: datetime.time | None
    """None: nothing in it needs the cold."""


def home_label(flow: Flow, setting: Setting, times: Times, texts: Texts) -> HomeLabel:
    """The label of a dish in a session with that setting, by these times of its steps."""
    minutes = chill_by(flow, setting, times)
    return HomeLabel(
        dish=flow.recipe.title,
        labels=labels_of(flow.recipe, flow.pantry, texts),
        chill_by=None if minutes is None else _clock(setting.starts, int(minutes)),
    )


def _clock(starts: datetime.time, minutes: int) -> datetime.time:
    """The time of day, rounded down to five minutes as people say it: never later than is safe."""
    at = min(starts.hour * 60 + starts.minute + minutes, _LATEST) // _ROUND * _ROUND
    return datetime.time(at // 60, at % 60)


ON_A_PAGE = ("6", "4")
"""Labels on a page: fewer where a language needs more room, so that no page breaks in between."""
_SPARE = 1
"""A table, for a label that gets wet or a helper who takes some home."""


@dataclass(frozen=True, slots=True)
class PortionLabel:
    """What is written on one box."""

    dish: str
    table: str
    """`Table 2`."""
    class_name: str
    date: str
    labels: Labels
    """Of what that table cooks."""
    chill_by: str
    """A time of day; empty where nothing in it needs the cold."""
    reheat: str
    """How hot, for what was heated in class; empty for what is eaten cold."""
    is_heated_again: bool
    """Part of it was cooked the day before: it had its one reheating in class."""
    has_honey: bool
    """A box may be opened by a family with a baby."""


@dataclass(frozen=True, slots=True)
class HomeLabels:
    """All labels of a session, in the order in which they are cut."""

    head: Head
    labels: tuple[PortionLabel, ...]

    @property
    def fewest_pages(self) -> int:
        """With as many on a page as there can be."""
        return ceil(len(self.labels) / int(ON_A_PAGE[0]))


def home_labels_of(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    uses: Mapping[str, Uses],
    plan: tuple[Mapping[str, Flow], Timed | None],
    texts: Texts,
) -> HomeLabels:
    """The labels of a session. `plan` says where food goes in each recipe and when, by the clock;
    without a clock the steps' own minutes count."""
    flows, clock = plan
    labels = [
        label
        for dish in session.dishes
        if dish.text in folder.recipes and dish.text in flows
        for label in _of_dish(
            folder.recipes[dish.text],
            uses[dish.text],
            folder.pantry,
            classroom.name,
            session,
            (flows[dish.text], clock),
            texts,
        )
    ]
    return HomeLabels(head_of(folder, classroom, session, texts), tuple(labels))


def _of_dish(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    class_name: str,
    session: Session,
    plan: tuple[Flow, Timed | None],
    texts: Texts,
) -> Iterator[PortionLabel]:
    flow, clock = plan
    tables = session.setting.tables
    cold = chilled_by(flow, session, clock, texts)
    is_heated_again = any(journey.cooked is not None for journey in flow.leftovers)
    dishes = dishes_at(recipe, uses, pantry, session.setting, texts.language)
    for table, (children, dish) in enumerate(zip(tables, dishes, strict=True), start=1):
        eaten = eaten_at(dish)
        items = (pantry.find(each.name) for each in eaten.ingredients)
        label = PortionLabel(
            dish=dish.recipe.title,
            table=texts.say("Table {number}", number=table),
            class_name=class_name,
            date=date_text(session.date, texts.language),
            labels=labels_of(eaten, pantry, texts),
            chill_by="" if cold is None else time_text(cold, texts.language),
            reheat=temperature_text(REHEATED, texts)
            if is_served_hot(flow.recipe) and not is_heated_again
            else "",
            is_heated_again=is_heated_again,
            has_honey=any(item is not None and "honey" in item.tags for item in items),
        )
        yield from [label] * (children + _SPARE)


def is_served_hot(recipe: Recipe) -> bool:
    """Whether anything is at the heat that isn't chilled again before anyone comes."""
    return any(
        on_heat(step) and not (step.when is not None and is_chilled(step)) for step in recipe.steps
    )


def chilled_by(
    flow: Flow, session: Session, clock: Timed | None, texts: Texts
) -> datetime.time | None:
    """By when the first table's portions must be in the cold: it holds for all of them."""
    setting = session.setting
    if clock is None:
        return home_label(flow, setting, sums(flow, setting), texts).chill_by
    found = (
        home_label(flow, setting, times_at(clock, flow.recipe.key, table), texts).chill_by
        for table in range(1, len(setting.tables) + 1)
    )
    return min((time for time in found if time is not None), default=None)


def eaten_at(dish: Dish) -> Recipe:
    """The recipe with all that may be in a table's boxes: where the original may stay if its
    label allows it, both are listed."""
    perhaps = {each.swap.use.name: each.swap.use for each in dish.perhaps}
    return replace(dish.recipe, ingredients=(*dish.recipe.ingredients, *perhaps.values()))


def clock_of(clocks: Sequence[Timed], session: Session) -> Timed | None:
    """The session in time, where it could be timed."""
    return next((each for each in clocks if each.session == session), None)


def made(context: BuildContext) -> Iterator[Sheet]:
    """Labels for what is taken home, a file a session and language."""
    facts = context.examined.facts
    for edition in context.editions:
        for session in context.classroom.sessions:
            labels = home_labels_of(
                edition.folder,
                context.classroom,
                session,
                edition.uses,
                (facts.flows, clock_of(facts.clocks, session)),
                edition.texts,
            )
            language = edition.texts.language
            if labels.labels:
                yield Sheet(
                    (FILE.path(session, language),),
                    f"Printing the labels to take home of session {session.number} ({language})",
                    LAYOUT,
                    {"sheet": labels},
                    language,
                    labels.fewest_pages,
                )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.DAY,
        FILE.path(session, context.texts.language),
        say("Labels to take home"),
        say("on the day: cut them out, one for each box"),
    )


FILE = SessionFile("home-labels")

LAYOUT = Layout("home-labels.html", ON_A_PAGE)

PART = Part(made, FILE.owns, in_pack)
