"""The take-home booklet: every dish of the season at one household size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.language.calendar import date_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Listing, Prose
from spoonfold.plan.amounts.uses import Uses
from spoonfold.sheets.booklet.at_home import HomeShopping, home_shopping
from spoonfold.sheets.booklet.fitting import Spread, room_on, spread_of
from spoonfold.sheets.booklet.folding import fold_slip, folded_name
from spoonfold.sheets.booklet.opening import Opening, opening_of
from spoonfold.sheets.shared.amounts import AmountView
from spoonfold.sheets.shared.cautions import sentence
from spoonfold.sheets.shared.head import site_address
from spoonfold.sheets.shared.recipe import Household, RecipeSheet
from spoonfold.sheets.shared.season_map import SeasonMap, season_map
from spoonfold.sheets.shared.words import WordView, word_views
from spoonfold.sheets.sheet import BuildContext, Joined, Layout, Part, Piece, Sheet

_QUESTIONS = 2
"""To talk about at one meal."""
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
class Story:
    """What a family reads and talks about at the table."""

    sheet: RecipeSheet
    talk: tuple[Prose, ...]
    """The first questions."""
    tells_ways: bool
    """Whether its swaps stand here."""
    tells_home: bool
    """Whether how it is cooked at home stands here too."""


@dataclass(frozen=True, slots=True)
class FullCaution:
    """A danger in full, to look up."""

    icon: str
    title: str
    text: str


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
    draft: str
    """That no fluent speaker has read any of it; mostly empty."""
    spreads: tuple[Spread, ...]
    stories: tuple[Story, ...]
    words: tuple[WordView, ...]
    cautions: tuple[FullCaution, ...]
    """Every named one of the dishes, by the alphabet."""
    sample: Sample | None
    """None where no recipe has anything to scoop."""
    meetings: tuple[Meeting, ...]
    shopping: Mapping[str, HomeShopping]
    """What to know of the shopping for each recipe, by its key; without those of which nothing
    is known."""
    address: str
    """Of the class's page on the net; empty where it has none."""
    map: SeasonMap | None
    """Where the dishes of the season are from; None without any."""

    @property
    def recipes(self) -> tuple[RecipeSheet, ...]:
        """The dishes in order."""
        return tuple(spread.opening.sheet for spread in self.spreads)

    @property
    def is_from_memory(self) -> bool:
        """Whether anything that is told was told from memory."""
        told = any(story.sheet.is_from_memory("culture", "science") for story in self.stories)
        return told or any(word.is_from_memory for word in self.words)


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
    sheets = {key: household.sheet(key) for key in order}
    draft = ""
    if sheets and all(sheet.draft for sheet in sheets.values()):
        # Said once for all of them.
        draft = next(iter(sheets.values())).draft
        sheets = {key: replace(sheet, draft="") for key, sheet in sheets.items()}
    openings = {key: opening_of(household, key, sheet) for key, sheet in sheets.items()}
    room = room_on(classroom.paper)
    spreads = tuple(spread_of(opening, room) for opening in openings.values())
    said = {word.anchor for sheet in sheets.values() for word in (*sheet.words, *sheet.explained)}
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
        draft=draft,
        spreads=spreads,
        stories=tuple(_stories(spreads)),
        words=tuple(view for view in word_views(folder.words) if view.anchor in said),
        cautions=tuple(_in_full(openings.values(), texts)),
        sample=_sample([*sheets.values()]),
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
        shopping={
            key: found for key in order if not (found := home_shopping(household, key)).is_empty
        },
        address=site_address(classroom, texts.language),
        map=season_map(folder, classroom, texts),
    )


def _stories(spreads: Sequence[Spread]) -> Iterator[Story]:
    """Those of which there is anything to tell."""
    for spread in spreads:
        sheet = spread.opening.sheet
        tells_home = "at home" in sheet.sections and not spread.home_first
        tells_ways = bool(sheet.swaps or sheet.notes) and not spread.ways_first
        talk = tuple(_questions(sheet.sections.get("talk", ())))[:_QUESTIONS]
        if (
            talk
            or tells_ways
            or tells_home
            or not sheet.sections.keys().isdisjoint(("culture", "science"))
        ):
            yield Story(sheet, talk, tells_ways, tells_home)


def _questions(prose: Prose) -> Iterator[Prose]:
    for block in prose:
        if isinstance(block, Listing):
            yield from block.items
        else:
            yield (block,)


def _in_full(openings: Iterable[Opening], texts: Texts) -> Iterator[FullCaution]:
    names = dict.fromkeys(name for opening in openings for name in opening.cautions)
    titled = sorted((sentence(texts.say(name)), name) for name in names)
    for title, name in titled:
        yield FullCaution(CAUTIONS[name].icon, title, texts.say(CAUTIONS[name].text))


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
