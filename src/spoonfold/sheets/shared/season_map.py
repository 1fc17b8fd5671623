"""Where the season's dishes are from: numbers on a map of the world, and the same in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.language.calendar import country_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Position, Recipe
from spoonfold.teach.places import place_of


@dataclass(frozen=True, slots=True)
class MapRow:
    """A dish beside the map."""

    number: str
    """As on the map; empty where nobody knows its place."""
    key: str
    title: str
    place: str
    countries: str
    """Those that the place doesn't name already; mostly empty."""
    sessions: str
    """`Session 2`."""

    @property
    def from_where(self) -> str:
        """The place and its countries."""
        named = f"({self.countries})" if self.place and self.countries else self.countries
        return " ".join(filter(None, (self.place, named)))


@dataclass(frozen=True, slots=True)
class SeasonMap:
    """The map and what stands beside it."""

    pins: tuple[tuple[str, Position], ...]
    """The numbers and where they stand."""
    rows: tuple[MapRow, ...]
    words: str
    """The map for a reader who hears the page."""

    def number_of(self, key: str) -> str:
        """The number of a dish; empty where it has none."""
        return next((row.number for row in self.rows if row.key == key), "")


def season_map(folder: ClassFolder, classroom: Classroom, texts: Texts) -> SeasonMap | None:
    """The dishes of the season in the order in which they are first cooked, less those of which
    nobody says where they are from; None without any."""
    dishes = dict.fromkeys(
        dish.text
        for session in classroom.sessions
        for dish in session.dishes
        if dish.text in folder.recipes
    )
    pins: list[tuple[str, Position]] = []
    rows = []
    for key in dishes:
        recipe = folder.recipes[key]
        place = place_of(recipe)
        if not named_place(recipe, texts):
            continue
        number = "" if place is None else str(len(pins) + 1)
        if place is not None:
            pins.append((number, place))
        rows.append(_row(number, recipe, classroom, texts))
    if not rows:
        return None
    named = "; ".join(f"{row.number} {row.place or row.countries}" for row in rows if row.number)
    return SeasonMap(
        tuple(pins),
        tuple(rows),
        texts.say(
            "A map of the world with a number where each dish is from: {places}.", places=named
        ),
    )


def dish_map(recipe: Recipe, texts: Texts) -> SeasonMap | None:
    """One dish alone, as a dot without a number; None where nobody knows its place."""
    place, named = place_of(recipe), named_place(recipe, texts)
    if place is None or not named:
        return None
    return SeasonMap(
        (("", place),),
        (),
        texts.say(
            "A map of the world with a dot where {dish} is from: {place}.",
            dish=recipe.title,
            place=named,
        ),
    )


def _row(number: str, recipe: Recipe, classroom: Classroom, texts: Texts) -> MapRow:
    sessions = [
        str(each.number)
        for each in classroom.sessions
        if any(dish.text == recipe.key for dish in each.dishes)
    ]
    return MapRow(
        number=number,
        key=recipe.key,
        title=recipe.title,
        place=recipe.origin,
        countries=", ".join(unnamed_countries(recipe, texts)),
        sessions=texts.say("Session {number}", number=sessions[0])
        if len(sessions) == 1
        else texts.say("Sessions {numbers}", numbers=", ".join(sessions)),
    )


def named_place(recipe: Recipe, texts: Texts) -> str:
    """The place as the recipe says it, or else its countries; empty where it says neither."""
    return recipe.origin or ", ".join(unnamed_countries(recipe, texts))


def unnamed_countries(recipe: Recipe, texts: Texts) -> Iterator[str]:
    """The countries by name, less those that the place says itself."""
    for code in recipe.countries:
        name = country_text(code, texts.language)
        if name and name.casefold() not in recipe.origin.casefold():
            yield name
