"""The take-home booklet: every dish of the season at one household size."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.language.calendar import date_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.amounts.uses import Uses
from spoonfold.sheets.booklet.at_home import HomeLine, home_lines
from spoonfold.sheets.booklet.folding import fold_slip, folded_name
from spoonfold.sheets.shared.amounts import AmountView
from spoonfold.sheets.shared.head import recipe_address
from spoonfold.sheets.shared.recipe import Household, RecipeSheet
from spoonfold.sheets.shared.season_map import SeasonMap, season_map
from spoonfold.sheets.shared.words import WordView, word_views
from spoonfold.sheets.sheet import BuildContext, Joined, Layout, Part, Piece, Sheet

_SAMPLE_SCOOPS = 3
"""Enough to show that scoops of several sizes are counted, few enough to stand in a row."""


@dataclass(frozen=True, slots=True)
class Sample:
    """An amount of one of the booklet's own recipes, to explain the scoop strip with."""

    name: str
    amount: AmountView


@dataclass(frozen=True, slots=True)
class Meeting:
    """A day of the season and what was cooked."""

    date: str
    dishes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Booklet:
    """A booklet for one household size in one language."""

    language: str
    direction: str
    class_name: str
    location: str
    when: str
    people: int
    for_whom: str
    paper: Paper
    recipes: tuple[RecipeSheet, ...]
    words: tuple[WordView, ...]
    sample: Sample | None
    """None where no recipe has anything to scoop."""
    meetings: tuple[Meeting, ...]
    shopping: Mapping[str, tuple[HomeLine, ...]]
    """What to know of the shopping for each recipe, by its key."""
    addresses: Mapping[str, str]
    """Of each recipe's page on the net; empty texts where the class has no site."""
    reasons: tuple[RecipeSheet, ...]
    """Those that say why they work; told together, so that a dish keeps to its pages."""
    map: SeasonMap | None
    """Where the dishes of the season are from; None without any."""


def booklet_name(language: str, people: int) -> str:
    """The file of the booklet in one language for one household size."""
    return f"booklet-{language}-{people}.pdf"


def booklet_of(
    folder: ClassFolder, classroom: Classroom, uses: Mapping[str, Uses], people: int, texts: Texts
) -> Booklet:
    """The season's dishes in the order in which they are cooked, then any others."""
    order = dict.fromkeys(
        dish.text
        for session in classroom.sessions
        for dish in session.dishes
        if dish.text in folder.recipes
    )
    order.update(dict.fromkeys(folder.recipes))
    household = Household(folder, classroom, uses, people, texts)
    sheets = tuple(household.sheet(key) for key in order)
    said = {word.anchor for sheet in sheets for word in (*sheet.words, *sheet.explained)}
    dates = [session.date for session in classroom.sessions]
    return Booklet(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        when=texts.say(
            "{first} to {last}",
            first=date_text(dates[0], texts.language),
            last=date_text(dates[-1], texts.language),
        )
        if dates
        else "",
        people=people,
        for_whom=texts.count("For 1 person", "For {number} people", people),
        paper=classroom.paper,
        recipes=sheets,
        words=tuple(view for view in word_views(folder.words) if view.anchor in said),
        sample=_sample(sheets),
        meetings=tuple(
            Meeting(
                date_text(session.date, texts.language),
                tuple(
                    folder.recipes[dish.text].title
                    for dish in session.dishes
                    if dish.text in folder.recipes
                ),
            )
            for session in classroom.sessions
        ),
        shopping={key: home_lines(household, key) for key in order},
        addresses={key: recipe_address(classroom, texts.language, key) for key in order},
        reasons=tuple(sheet for sheet in sheets if sheet.sections.get("science")),
        map=season_map(folder, classroom, texts),
    )


def _sample(sheets: Sequence[RecipeSheet]) -> Sample | None:
    """The first amount with several sizes of scoop and few of each, in cups where there is one."""
    scooped = [
        Sample(line.names[0], line.sizes[0])
        for sheet in sheets
        for line in sheet.lines
        if 0 < sum(mark.count for mark in line.sizes[0].scoops) <= _SAMPLE_SCOOPS
    ]
    return max(scooped, key=_teaches, default=None)


def _teaches(sample: Sample) -> tuple[int, int, bool]:
    marks = sample.amount.scoops
    return len(marks), -sum(mark.count for mark in marks), marks[0].kind == "cup"


def to_fold(book: Booklet, texts: Texts) -> Joined:
    """A booklet with two pages on each side of a sheet, and the slip that says how to fold it."""
    name = booklet_name(book.language, book.people)
    source, path = f"families/{name}", f"families/{folded_name(name)}"
    doing = f"Folding the booklet for {book.people} ({book.language})"

    def slip(pages: Mapping[str, int]) -> Sheet:
        value = fold_slip(book.class_name, book.for_whom, book.paper, pages[source], texts)
        return Sheet((path,), doing, FOLD_SLIP, {"slip": value}, texts.language)

    known_by = repr((book.language, book.class_name, book.for_whom, book.paper))
    title = texts.say("How to fold this booklet")
    return Joined(
        path,
        doing,
        (Piece(source, ""),),
        known_by,
        title,
        slip,
        is_folded=True,
        is_rtl=book.direction == "rtl",
    )


def made(context: BuildContext) -> Iterator[Sheet | Joined]:
    """One for each language and household size, page by page and to fold."""
    for edition in context.editions:
        for people in context.households:
            book = booklet_of(
                edition.folder, context.classroom, edition.uses, people, edition.texts
            )
            name = booklet_name(book.language, people)
            yield Sheet(
                (f"families/{name}", f"site/booklets/{name}"),
                f"Printing the booklet for {people} ({book.language})",
                LAYOUT,
                {"book": book},
                edition.texts.language,
            )
            yield to_fold(book, edition.texts)


LAYOUT = Layout("booklet.html")

FOLD_SLIP = Layout("fold-slip.html")

PART = Part(made, ("families/booklet-*", "site/booklets/booklet-*"))
