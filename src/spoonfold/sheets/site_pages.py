"""The values of the class site's pages."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol, TypeVar

from spoonfold.model.prose import Picture, Prose
from spoonfold.sheets.amounts import AmountView
from spoonfold.sheets.groups import Plate
from spoonfold.sheets.linked_data import Json
from spoonfold.sheets.recipe import RecipeSheet
from spoonfold.sheets.season_map import SeasonMap
from spoonfold.sheets.site_filters import Filters, Traits
from spoonfold.sheets.site_frame import Frame
from spoonfold.sheets.steps import Fact
from spoonfold.sheets.words import WordView

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Dish:
    """A dish in a list."""

    key: str
    title: str
    language: str
    """Of the title and the lede."""
    direction: str
    mark: str
    """`in English`, where that isn't the reader's language; mostly empty."""
    draft: str
    """That no fluent speaker has read the translation; mostly empty."""
    origin: str
    lede: Prose
    photo: Picture | None
    """The first picture of its headnote."""
    sessions: tuple[int, ...]
    contains: tuple[str, ...]
    check: tuple[str, ...]
    """Allergens to look for on the labels."""
    unknown: tuple[str, ...]
    """Ingredients that the pantry doesn't know."""
    words: tuple[WordView, ...]
    traits: Traits


@dataclass(frozen=True, slots=True)
class SessionRow:
    """One meeting in the season."""

    number: int
    date: str
    machine_date: str
    plate: tuple[str, str]
    """Month and day, short."""
    dishes: tuple[Dish, ...]
    lesson: str
    words: tuple[WordView, ...]
    """New ones."""
    again: tuple[WordView, ...]
    """Earlier ones that come back."""


@dataclass(frozen=True, slots=True)
class HomePage:
    """The front page."""

    frame: Frame
    facts: tuple[Fact, ...]
    description: str
    sessions: tuple[SessionRow, ...]
    others: tuple[Dish, ...]
    """Dishes that no session cooks."""
    filters: Filters


class Sized(Protocol):
    """An amount at every size."""

    @property
    def names(self) -> tuple[str, ...]: ...

    @property
    def sizes(self) -> tuple[AmountView, ...]: ...


@dataclass(frozen=True, slots=True)
class Alike:
    """Sizes with the same amount."""

    view: AmountView
    name: str
    sizes: str
    """Their numbers on the switch: `3 4`."""
    label: str
    """`3 people, 4 people`."""


@dataclass(frozen=True, slots=True)
class RecipePage:
    """One dish."""

    frame: Frame
    sheet: RecipeSheet
    sessions: tuple[SessionRow, ...]
    data: Json
    plate: Plate
    """Its colours."""
    numbers: tuple[str, ...]
    """What each size is called on the switch."""
    usual: int
    """The size to begin with, as an index."""
    households: tuple[int, ...]
    """Sizes of the class's households, as indexes."""

    def at_home(self, columns: Sequence[_T]) -> tuple[_T, ...]:
        """Of what there is for every size, that for the class's households."""
        return tuple(columns[index] for index in self.households)

    def alike(self, row: Sized) -> tuple[Alike, ...]:
        """The sizes of one amount, those that read the same together."""
        found: dict[tuple[AmountView, str], list[int]] = {}
        for index, pair in enumerate(zip(row.sizes, row.names, strict=True)):
            found.setdefault(pair, []).append(index)
        return tuple(
            Alike(
                view,
                name,
                " ".join(str(index + 1) for index in indexes),
                ", ".join(self.sheet.columns[index].label for index in indexes),
            )
            for (view, name), indexes in found.items()
        )


@dataclass(frozen=True, slots=True)
class WordsPage:
    """Every word that the class teaches."""

    frame: Frame
    words: tuple[WordView, ...]
    taught: Mapping[str, tuple[Dish, ...]]
    """By anchor: the dishes that teach it."""

    @property
    def is_from_memory(self) -> bool:
        """Whether anything of it was told from memory."""
        return any(word.is_from_memory for word in self.words)


@dataclass(frozen=True, slots=True)
class SeasonPage:
    """Dates, dishes, lessons."""

    frame: Frame
    facts: tuple[Fact, ...]
    sessions: tuple[SessionRow, ...]
    map: SeasonMap | None
    plate: Plate | None
    """The season's colours; None where nothing is cooked."""


@dataclass(frozen=True, slots=True)
class Site:
    """The site in one language, but for the pages of its dishes."""

    home: HomePage
    below: Frame
    """What stands round the pages of its dishes."""
    words: WordsPage
    season: SeasonPage
