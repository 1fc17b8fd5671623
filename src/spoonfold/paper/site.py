"""The pages of the class site."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from spoonfold.language.calendar import date_text, time_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Prose
from spoonfold.paper.linked_data import Json, recipe_data
from spoonfold.paper.recipe import RecipeSheet, WordView, recipe_sheet, total_minutes, word_view
from spoonfold.plan.uses import Uses


@dataclass(frozen=True, slots=True)
class Dish:
    """A dish in a list."""

    key: str
    title: str
    origin: str
    lede: Prose
    sessions: tuple[int, ...]
    contains: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SessionRow:
    """One meeting in the season."""

    number: int
    date: str
    machine_date: str
    dishes: tuple[Dish, ...]
    lesson: str


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page."""

    class_name: str
    location: str
    language: str
    direction: str
    root: str
    """The way back to the site's top: empty or `../`."""
    booklets: tuple[tuple[str, str], ...]
    """File and label of each booklet."""


@dataclass(frozen=True, slots=True)
class HomePage:
    """The front page."""

    frame: Frame
    meets: str
    next_sessions: tuple[SessionRow, ...]
    dishes: tuple[Dish, ...]


@dataclass(frozen=True, slots=True)
class RecipePage:
    """One dish."""

    frame: Frame
    sheet: RecipeSheet
    sessions: tuple[SessionRow, ...]
    data: Json


@dataclass(frozen=True, slots=True)
class WordsPage:
    """Every word that the class teaches."""

    frame: Frame
    words: tuple[WordView, ...]
    taught: Mapping[str, tuple[Dish, ...]]
    """By anchor: the dishes that teach it."""


@dataclass(frozen=True, slots=True)
class SeasonPage:
    """Dates, dishes, lessons."""

    frame: Frame
    sessions: tuple[SessionRow, ...]


@dataclass(frozen=True, slots=True)
class Site:
    """The whole site in one language."""

    home: HomePage
    recipes: tuple[RecipePage, ...]
    words: WordsPage
    season: SeasonPage


def site_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    texts: Texts,
    booklets: bool = True,
) -> Site:
    """Every page of the site; `booklets` says whether there are booklets to link to."""
    frame = _frame(classroom, texts, "", booklets)
    below = _frame(classroom, texts, "../", booklets)
    recipe_pages = tuple(
        _recipe_page(key, folder, classroom, uses, below, texts) for key in folder.recipes)
    dishes = {page.sheet.key: _dish(page.sheet, classroom) for page in recipe_pages}
    sessions = _sessions(folder, classroom, dishes, texts)
    used = [dish for dish in dishes.values() if dish.sessions]
    spare = [dish for dish in dishes.values() if not dish.sessions]
    in_order = (*sorted(used, key=lambda dish: (dish.sessions, dish.title)), *spare)
    words = sorted(folder.words.values(), key=lambda word: word.term.casefold())
    views = tuple(word_view(word) for word in words)
    return Site(
        home=HomePage(frame, _meets(classroom, texts), sessions, in_order),
        recipes=tuple(
            RecipePage(page.frame, page.sheet,
                       tuple(each for each in sessions if any(
                           dish.key == page.sheet.key for dish in each.dishes)), page.data)
            for page in recipe_pages),
        words=WordsPage(frame, views, {
            view.anchor: tuple(
                dishes[page.sheet.key] for page in recipe_pages
                if any(word.anchor == view.anchor for word in page.sheet.words))
            for view in views}),
        season=SeasonPage(frame, sessions),
    )


def _frame(classroom: Classroom, texts: Texts, root: str, booklets: bool) -> Frame:
    files = tuple(
        (booklet_name(texts.language, people),
         texts.count("Booklet for 1 person", "Booklet for {number} people", people))
        for people in classroom.households if booklets)
    return Frame(classroom.name, classroom.location, texts.language, texts.direction, root,
                 files)


def booklet_name(language: str, people: int) -> str:
    """The file of the booklet in one language for one household size."""
    return f"booklet-{language}-{people}.pdf"


def _recipe_page(
    key: str,
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    frame: Frame,
    texts: Texts,
) -> RecipePage:
    recipe = folder.recipes[key]
    session = next(
        (each for each in classroom.sessions if any(dish.text == key for dish in each.dishes)),
        None)
    sheet = recipe_sheet(
        recipe, uses[key], folder.pantry, folder.words, classroom.households,
        session.setting if session else classroom.setting, texts)
    data = recipe_data(recipe, texts.language, sheet.description, sheet.countries,
                       total_minutes(recipe))
    return RecipePage(frame, sheet, (), data)


def _dish(sheet: RecipeSheet, classroom: Classroom) -> Dish:
    return Dish(
        key=sheet.key,
        title=sheet.title,
        origin=sheet.origin,
        lede=sheet.lede,
        sessions=tuple(
            session.number for session in classroom.sessions
            if any(dish.text == sheet.key for dish in session.dishes)),
        contains=tuple(label.allergen for label in sheet.labels.contains),
    )


def _sessions(
    folder: ClassFolder, classroom: Classroom, dishes: Mapping[str, Dish], texts: Texts
) -> tuple[SessionRow, ...]:
    return tuple(
        SessionRow(
            number=session.number,
            date=date_text(session.date, texts.language),
            machine_date=session.date.isoformat(),
            dishes=tuple(dishes[dish.text] for dish in session.dishes if dish.text in dishes),
            lesson=folder.lessons[session.lesson.text].title
            if session.lesson and session.lesson.text in folder.lessons else "",
        )
        for session in classroom.sessions
    )


def _meets(classroom: Classroom, texts: Texts) -> str:
    dates: Sequence[str] = [date_text(each.date, texts.language) for each in classroom.sessions]
    if not dates:
        return classroom.location
    return texts.say(
        "{place}, at {time}, from {first} to {last}",
        place=classroom.location,
        time=time_text(classroom.setting.starts, texts.language),
        first=dates[0], last=dates[-1])
