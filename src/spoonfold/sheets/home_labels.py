"""The labels of a session's portions to take home: one a child, by table, and a spare each.

A table that cooks something else has its own title, foods and allergens on its labels. All labels
look alike and name a table, never a child or a reason. Each table has sheets of its own, so that
what is cut out has no other table's label on its back.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from math import ceil

from spoonfold.knowledge.equipment import Kind
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
from spoonfold.plan.safety.ledger import Where
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


MOST_ON_A_PAGE = 6
_SIZES = ("6", "6 tight", "6 small tight", "4")
"""Labels on a page: in smaller type, and then fewer, where a language needs more room, so that no
page breaks in between."""
_SPARE = 1
"""A table, for a label that gets wet or a helper who takes some home."""


class Here(Enum):
    """What becomes of a portion that is warm for too long before the class ends."""

    ON_ICE = "on ice"
    """It is put into the class's own cold."""
    EATEN = "eaten"
    """There is none: it stays here."""


@dataclass(frozen=True, slots=True)
class PortionLabel:
    """What is written on one box."""

    dish: str
    table: str
    """`Table 2`."""
    class_name: str
    date: str
    foods: tuple[str, ...]
    """All that is in it, as that table cooks it."""
    labels: Labels
    """Of what that table cooks."""
    chill_by: str
    """A time of day; empty where nothing in it needs the cold."""
    here: Here | None
    """What to do in class, where that time comes before its end."""
    eaten_cold: tuple[str, ...]
    """What in it was never hot, and isn't made so at home."""
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
    tables: tuple[tuple[PortionLabel, ...], ...]
    """Those of each table: they begin on a sheet of their own."""

    @property
    def labels(self) -> tuple[PortionLabel, ...]:
        return tuple(label for own in self.tables for label in own)

    @property
    def fewest_pages(self) -> int:
        """With as many on a page as there can be. Every back but the last is a blank page: what
        is cut out has no label behind it that would be lost."""
        return 2 * sum(ceil(len(own) / MOST_ON_A_PAGE) for own in self.tables) - 1


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
    found = [
        _of_dish(
            folder.recipes[dish.text],
            uses[dish.text],
            folder.pantry,
            classroom.name,
            session,
            (flows[dish.text], clock),
            texts,
        )
        for dish in session.dishes
        if dish.text in folder.recipes and dish.text in flows
    ]
    tables = tuple(
        tuple(label for own in found for label in [own[table]] * (children + _SPARE))
        for table, children in enumerate(session.setting.tables)
        if children
    )
    return HomeLabels(head_of(folder, classroom, session, texts), tables if found else ())


def _of_dish(
    recipe: Recipe,
    uses: Uses,
    pantry: Pantry,
    class_name: str,
    session: Session,
    plan: tuple[Flow, Timed | None],
    texts: Texts,
) -> tuple[PortionLabel, ...]:
    """The label of each table."""
    flow, clock = plan
    setting = session.setting
    cold = chilled_by(flow, session, clock, texts)
    is_heated_again = any(journey.cooked is not None for journey in flow.leftovers)
    is_hot = is_served_hot(flow.recipe) and not is_heated_again
    labels = []
    for table, dish in enumerate(dishes_at(recipe, uses, pantry, setting, texts.language), start=1):
        eaten = eaten_at(dish)
        items = (pantry.find(each.name) for each in eaten.ingredients)
        labels.append(
            PortionLabel(
                dish=dish.recipe.title,
                table=texts.say("Table {number}", number=table),
                class_name=class_name,
                date=date_text(session.date, texts.language),
                foods=tuple(dict.fromkeys(each.said for each in eaten.ingredients)),
                labels=labels_of(eaten, pantry, texts),
                chill_by="" if cold is None else time_text(cold, texts.language),
                here=None if cold is None else _here(cold, setting),
                eaten_cold=_eaten_cold(dish, flow, pantry) if is_hot else (),
                reheat=temperature_text(REHEATED, texts) if is_hot else "",
                is_heated_again=is_heated_again,
                has_honey=any(item is not None and "honey" in item.tags for item in items),
            )
        )
    return tuple(labels)


def _here(cold: datetime.time, setting: Setting) -> Here | None:
    """Nothing is thrown away at an hour at which it is still in class."""
    ends = setting.starts.hour * 60 + setting.starts.minute + setting.minutes
    if cold.hour * 60 + cold.minute > ends:
        return None
    return Here.ON_ICE if setting.listed(Kind.COLD_PLACE) else Here.EATEN


_WILTS = frozenset({"vegetables", "dairy and eggs"})
"""Sections of the shop: what of them was never hot isn't made so at home. An herb, or the juice of
a lemon, is stirred in."""


def _eaten_cold(dish: Dish, flow: Flow, pantry: Pantry) -> tuple[str, ...]:
    """What no step heats, by the words of the dish as listed: a replacement goes where its
    original went. None where the words can't be read."""
    stays = [stay for each in flow.ledger.stays.values() for stay in each]
    heated = {stay.portion.key for stay in stays if stay.where is Where.HOT}
    swaps = dict(dish.instead_of) | {each.swap.use.key: each for each in dish.perhaps}
    found = []
    for line in eaten_at(dish).ingredients if heated else ():
        originals = swaps[line.key].originals if line.key in swaps else (line,)
        item = pantry.find(line.name)
        wilts = item is not None and (item.section in _WILTS or "cut tcs" in item.tags)
        if wilts and heated.isdisjoint(each.key for each in originals):
            found.append(line.said)
    return tuple(dict.fromkeys(found))


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


def on_ice_by(
    flow: Flow, session: Session, clock: Timed | None, texts: Texts
) -> datetime.time | None:
    """By when the boxes are put on ice in class; None where they needn't be, or can't."""
    cold = chilled_by(flow, session, clock, texts)
    return cold if cold is not None and _here(cold, session.setting) is Here.ON_ICE else None


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
        for session in context.sessions:
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

LAYOUT = Layout("home-labels.html", _SIZES)

PART = Part(made, FILE.owns, in_pack)
