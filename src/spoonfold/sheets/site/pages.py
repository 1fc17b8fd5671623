"""The pages of the class site, as values, and what frames each."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Protocol, TypeVar

from spoonfold.language.amounts import amount_of
from spoonfold.language.calendar import date_text
from spoonfold.language.cldr import own_name
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Picture, Prose, plain
from spoonfold.model.recipe import Recipe, Step, Swap
from spoonfold.plan.clock.at_home import home_time
from spoonfold.quantity.show import show_number
from spoonfold.sheets.booklet import booklet_name
from spoonfold.sheets.colours import Plate
from spoonfold.sheets.notice import Notice
from spoonfold.sheets.shared.amounts import AmountView
from spoonfold.sheets.shared.head import site_folder
from spoonfold.sheets.shared.labels import Labels
from spoonfold.sheets.shared.recipe import RecipeSheet
from spoonfold.sheets.shared.season_map import SeasonMap
from spoonfold.sheets.shared.steps import Fact
from spoonfold.sheets.shared.words import WordView
from spoonfold.sheets.site.filters import Filters, Traits


@dataclass(frozen=True, slots=True)
class LanguageLink:
    """The site in one language."""

    language: str
    direction: str
    name: str
    """In that language: `Español`."""
    folder: str
    """Where its pages lie, from the site's top: empty or `es/`."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page."""

    class_name: str
    location: str
    language: str
    direction: str
    root: str
    """The way back to the site's top: empty or `../`. Looks, pictures and booklets lie there."""
    home: str
    """The way back to the front page of this language."""
    address: str
    """Of the site's top on the net; empty where class.yaml has no `site`."""
    folder: str
    """Where the pages of this language lie, from the site's top: empty or `es/`."""
    languages: tuple[LanguageLink, ...]
    """Every language of the site, this one too; empty where there is one alone."""
    booklets: tuple[tuple[str, str], ...]
    """File and label of each booklet."""
    has_words: bool
    as_of: tuple[str, str] | None
    """The day that the class's own words are from, for readers and for machines."""


def frame_of(
    folder: ClassFolder, classroom: Classroom, texts: Texts, home: str, booklets: Collection[str]
) -> Frame:
    """The frame of pages that have so far to go back to their front page."""
    files = tuple(
        (
            booklet_name(texts.language, people),
            texts.count("For 1 person", "For {number} people", people),
        )
        for people in classroom.households
        if booklet_name(texts.language, people) in booklets
    )
    own = site_folder(texts.language, classroom)
    return Frame(
        class_name=classroom.name,
        location=classroom.location,
        language=texts.language,
        direction=texts.direction,
        root=f"{home}../" if own else home,
        home=home,
        address=f"{classroom.site.rstrip('/')}/" if classroom.site else "",
        folder=own,
        languages=_language_links(classroom),
        booklets=files,
        has_words=bool(folder.words),
        as_of=(date_text(classroom.as_of, texts.language), classroom.as_of.isoformat())
        if classroom.as_of
        else None,
    )


def _language_links(classroom: Classroom) -> tuple[LanguageLink, ...]:
    if len(classroom.languages) == 1:
        return ()
    return tuple(
        LanguageLink(
            language,
            direction_of(language),
            _capital(own_name(language)),
            site_folder(language, classroom),
        )
        for language in classroom.languages
    )


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]


Json = Mapping[str, object]


def recipe_data(
    recipe: Recipe, pantry: Pantry, texts: Texts, description: str, countries: tuple[str, ...]
) -> Json:
    """The recipe at its household yield. A food that the pantry doesn't know is called so."""
    data: dict[str, object] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": recipe.title,
        "description": description,
        "inLanguage": recipe.language or texts.language,
        "recipeYield": show_number(recipe.serves),
        "recipeIngredient": [
            _line(
                each.said if each.amount is None else amount_of((each.amount,), each.said, texts),
                each.said_preparation,
                "" if pantry.find(each.name) else texts.say("unknown: read its label"),
            )
            for each in recipe.ingredients
        ],
        "recipeInstructions": [_step(step, texts) for step in recipe.steps],
    }
    if recipe.origin:
        data["locationCreated"] = {"@type": "Place", "name": recipe.origin}
    if recipe.swaps:
        data["hasPart"] = [
            {"@type": "HowToTip", "text": _swap(each, texts)} for each in recipe.swaps
        ]
    if countries:
        data["recipeCuisine"] = ", ".join(countries)
    time = home_time(recipe, recipe.serves)
    if time.whole:
        data["totalTime"] = _duration(time.whole)
        # Hands-on alone; schema.org's `performTime` of a HowTo, from memory.
        data["performTime"] = _duration(time.hands)
    return data


def _step(step: Step, texts: Texts) -> Json:
    """Its words for home, its minutes, and what to look out for: whoever brings the page in has
    all of it."""
    said = step.home or plain(step.said)
    data: dict[str, object] = {"@type": "HowToStep", "position": step.number, "text": said}
    minutes = (step.time or 0) + (step.wait or 0)
    if minutes:
        data["timeRequired"] = _duration(Fraction(minutes))
    cautions = [texts.say(each.text) for each in (*step.watch, *step.adult)]
    if cautions:
        data["itemListElement"] = [
            {"@type": "HowToDirection", "text": said},
            *({"@type": "HowToTip", "text": each} for each in cautions),
        ]
    return data


def _swap(swap: Swap, texts: Texts) -> str:
    """`olive oil: 2 tbsp sunflower oil (price)`."""
    use = swap.use
    said = use.said if use.amount is None else amount_of((use.amount,), use.said, texts)
    line = _line(said, use.said_preparation, "")
    return f"{swap.said_instead_of}: {line} ({texts.say(swap.because.text)})"


def published_data(data: Json, labels: Labels, class_name: str, texts: Texts) -> Json:
    """The same with who publishes it, and with what is known of allergens as plain words: the
    vocabulary's own word for diets says that a dish suits one, and nothing here does."""
    told = [str(data["description"])]
    for heading, found in (
        (texts.say("Contains:"), labels.contains),
        (texts.say("Check the label:"), labels.check),
    ):
        if found:
            told.append(f"{heading} {', '.join(each.allergen for each in found)}.")
    if labels.unknown:
        told.append(f"{', '.join(labels.unknown)} ({texts.say('unknown: read its label')}).")
    return {
        **data,
        "description": " ".join(filter(None, told)),
        "author": {"@type": "Organization", "name": class_name},
    }


def _duration(minutes: Fraction) -> str:
    """By ISO 8601."""
    return f"PT{math.ceil(minutes)}M"


def _line(food: str, preparation: str, doubt: str) -> str:
    named = f"{food} ({doubt})" if doubt else food
    return f"{named}, {preparation}" if preparation else named


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
    times: tuple[str, ...]
    """With hands, waiting, and whether it is begun the day before."""
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
    hours: str
    """From when to when."""
    said: tuple[str, ...]
    """What to bring, and whether others eat with the class."""
    calendar: str
    """The file with this meeting alone, beside the front page."""


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
class IngredientsPage:
    """The same on the site."""

    frame: Frame
    notice: Notice


@dataclass(frozen=True, slots=True)
class Site:
    """The site in one language, but for the pages of its dishes."""

    home: HomePage
    below: Frame
    """What stands round the pages of its dishes."""
    words: WordsPage
    season: SeasonPage
