"""The colours and kinds of food of a dish, a session and the season, as bars to look at.

A teaching device: it shows what is there by weight, and says nothing about health.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.produce import taken_in_part
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.amounts.weights import Weighed, weights_of
from spoonfold.plan.safety.needs import avoids
from spoonfold.sheets.shared.head import dish_titles
from spoonfold.sheets.sheet import BuildContext, Layout, Sheet
from spoonfold.sheets.sheet import Part as Row
from spoonfold.teach.groups import (
    Eaten,
    Part,
    Shares,
    colours_of,
    fillers,
    origins_of,
    processing_of,
    vegetables_of,
)

_MOST_FILLERS = 3
"""More than so many things to try is a shopping list."""

_PATTERNS: Mapping[Part, str] = {
    "red": "rising",
    "yellow-orange": "dotted",
    "green": "level",
    "blue-purple": "crossed",
    "white-brown": "blank",
    "dark green": "level",
    "red and orange": "rising",
    "beans peas lentils": "dotted",
    "starchy": "blank",
    "other vegetable": "crossed",
    "plants": "level",
    "animals": "blank",
    1: "blank",
    2: "dotted",
    3: "rising",
    4: "crossed",
}


@dataclass(frozen=True, slots=True)
class Segment:
    """One part of a bar."""

    name: str
    percent: str
    """What stands on it where it is wide enough: `37 %`."""
    share: Fraction
    pattern: str
    """A name of those that `press/figures/shares` draws."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A whole in its parts; the shares sum to one, or there are none."""

    segments: tuple[Segment, ...]
    """Every part there could be, also those of which there is nothing."""
    words: str
    """All of it in words."""

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to show."""
        return not any(each.share for each in self.segments)


@dataclass(frozen=True, slots=True)
class Plate:
    """What one dish, one session or the season has on the plate."""

    colours: Bar
    vegetables: Bar
    origins: Bar
    processing: Bar
    missing: tuple[str, ...]
    """Colours, then kinds of vegetables."""
    to_try: tuple[str, ...]
    """Everyday produce that brings some of what is missing."""
    unweighed: tuple[str, ...]
    """Ingredients that have an amount but no published weight."""


@dataclass(frozen=True, slots=True)
class SessionPlate:
    """A session's plate and what it is called."""

    number: int
    dishes: tuple[str, ...]
    plate: Plate


@dataclass(frozen=True, slots=True)
class ColoursSheet:
    """The season's plates on one page."""

    language: str
    direction: str
    paper: Paper
    class_name: str
    location: str
    season: Plate
    sessions: tuple[SessionPlate, ...]


def colours_sheet(
    folder: ClassFolder, classroom: Classroom, uses: Mapping[str, Uses], texts: Texts
) -> ColoursSheet | None:
    """The whole season; None where no session cooks anything."""
    sessions = []
    everything: list[Weighed] = []
    portions: list[Eaten] = []
    for session in classroom.sessions:
        cooked = [
            folder.recipes[dish.text] for dish in session.dishes if dish.text in folder.recipes
        ]
        if not cooked:
            continue
        by_dish = [
            (recipe, weights_of(recipe, uses[recipe.key], folder.pantry)) for recipe in cooked
        ]
        weighed = [each for _, own in by_dish for each in own]
        eaten = tuple(each for recipe, own in by_dish for each in _portion(recipe, own))
        everything += weighed
        portions += eaten
        sessions.append(
            SessionPlate(
                session.number,
                dish_titles(folder, session),
                _plate(eaten, weighed, folder.pantry, avoided_in([session.setting]), texts),
            )
        )
    if not sessions:
        return None
    return ColoursSheet(
        language=texts.language,
        direction=texts.direction,
        paper=classroom.paper,
        class_name=classroom.name,
        location=classroom.location,
        season=_plate(
            tuple(portions),
            everything,
            folder.pantry,
            avoided_in(_settings(classroom.sessions)),
            texts,
        ),
        sessions=tuple(sessions),
    )


def season_plate(
    folder: ClassFolder, classroom: Classroom, uses: Mapping[str, Uses], texts: Texts
) -> Plate | None:
    """The season alone; None where no session cooks anything."""
    sheet = colours_sheet(folder, classroom, uses, texts)
    return None if sheet is None else sheet.season


def colours_name(language: str) -> str:
    """The file of the season's colours."""
    return f"colours-{language}.pdf"


def plate_of(recipe: Recipe, uses: Uses, pantry: Pantry, setting: Setting, texts: Texts) -> Plate:
    """One dish alone."""
    weighed = weights_of(recipe, uses, pantry)
    return _plate(_portion(recipe, weighed), weighed, pantry, avoided_in([setting]), texts)


def dish_colours(recipe: Recipe, uses: Uses, pantry: Pantry, texts: Texts) -> Bar:
    """Of one dish the colours alone."""
    eaten = _portion(recipe, weights_of(recipe, uses, pantry))
    return _bar(colours_of(eaten), _names(texts), texts)


def avoided_in(settings: Iterable[Setting]) -> frozenset[str]:
    """Everything that somebody avoids."""
    return frozenset(
        word for setting in settings for need in setting.needs for word in avoids(need)
    )


def _settings(sessions: Sequence[Session]) -> list[Setting]:
    return [session.setting for session in sessions]


def _portion(recipe: Recipe, weighed: Iterable[Weighed]) -> tuple[Eaten, ...]:
    """One portion, so that a dish for four counts as much as the same dish for eight."""
    return tuple(
        (each.item, each.grams / recipe.serves)
        for each in weighed
        if each.item is not None and each.grams is not None
    )


def _plate(
    eaten: tuple[Eaten, ...],
    weighed: Sequence[Weighed],
    pantry: Pantry,
    avoided: frozenset[str],
    texts: Texts,
) -> Plate:
    colours, vegetables, origins, processing = (
        way(eaten) for way in (colours_of, vegetables_of, origins_of, processing_of)
    )
    # A dish of fruit lacks no vegetable.
    fruit = not vegetables.total and any(item.group == "fruit" for item, _ in eaten)
    kinds = () if fruit else vegetables.missing
    names = _names(texts)
    found = fillers(colours.missing, kinds, pantry, avoided, fruit)
    return Plate(
        colours=_bar(colours, names, texts),
        vegetables=_bar(vegetables, names, texts),
        origins=_bar(origins, names, texts),
        processing=_bar(processing, names, texts),
        missing=tuple(names[part] for part in (*colours.missing, *kinds)),
        to_try=tuple(_called(item, texts) for item in found[:_MOST_FILLERS]),
        unweighed=tuple(
            dict.fromkeys(
                each.ingredient.said
                for each in weighed
                if each.grams is None and each.ingredient.amount is not None
            )
        ),
    )


def _called(item: Item, texts: Texts) -> str:
    return item.called(texts.language, many=item.name not in taken_in_part()) or item.name


def _bar(shares: Shares, names: Mapping[Part, str], texts: Texts) -> Bar:
    percents = shares.percents
    segments = tuple(
        Segment(names[part], _percent(share, percents[part], texts), share, _PATTERNS[part])
        for part, share in shares.parts.items()
    )
    return Bar(
        segments,
        texts.say(
            "{parts}, by weight.",
            parts=", ".join(f"{each.name} {each.percent}" for each in segments if each.share),
        ),
    )


def _percent(share: Fraction, whole: int, texts: Texts) -> str:
    if share and not whole:
        return texts.say("under 1 %")
    return texts.say("{percent} %", percent=whole)


def _names(texts: Texts) -> Mapping[Part, str]:
    return {
        "red": texts.say("red"),
        "yellow-orange": texts.say("yellow and orange"),
        "green": texts.say("green"),
        "blue-purple": texts.say("blue and purple"),
        "white-brown": texts.say("white and brown"),
        "dark green": texts.say("dark green leaves"),
        "red and orange": texts.say("red and orange vegetables"),
        "beans peas lentils": texts.say("beans and lentils"),
        "starchy": texts.say("starchy vegetables"),
        "other vegetable": texts.say("other vegetables"),
        "plants": texts.say("from plants"),
        "animals": texts.say("from animals"),
        1: texts.say("as it grew, or only cleaned, cut, dried or frozen"),
        2: texts.say("kitchen helpers: oil, sugar, salt"),
        3: texts.say("made with salt, sugar or oil: cans, cheese, plain bread"),
        4: texts.say("factory mixtures"),
    }


def made(context: BuildContext) -> Iterator[Sheet]:
    """The colours of the season on one page."""
    sheet = colours_sheet(context.folder, context.classroom, context.uses, context.texts)
    if sheet is not None:
        yield Sheet(
            (f"class/{colours_name(context.texts.language)}",),
            "Painting the season's colours",
            LAYOUT,
            {"sheet": sheet},
            context.texts.language,
        )


LAYOUT = Layout("groups.html", ("largest", "large", "middle", "small"), sides=1)

PART = Row(made, ("class/colours-*",))
